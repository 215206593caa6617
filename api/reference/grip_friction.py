"""Friction between a grip and a pipe as it is published: to compare with, never taken as an input."""

from typing import NamedTuple

from api.engineering.provenance import Source
from api.reference.table import read_table


class FrictionRange(NamedTuple):
    """Lowest and highest friction named for a surface."""

    low: float
    high: float
    source: Source


def _read() -> tuple[FrictionRange, ...]:
    rows = [row.text for row in read_table("grip_friction.csv")]
    return tuple(
        FrictionRange(
            float(row["low"]), float(row["high"]), Source(row["surface"], row["status"], row["source"])
        )
        for row in rows
    )


FRICTION = _read()
