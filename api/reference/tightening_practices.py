"""Steps of the target torque as they are published: to compare with, never taken as an input."""

from collections.abc import Sequence
from dataclasses import dataclass

from api.engineering.noise import NOISE
from api.engineering.provenance import Source
from api.reference.table import Row, read_table


@dataclass(frozen=True)
class Practice:
    """Lowest and highest share of the target torque for each cross pass of a published practice."""

    lowest: tuple[float, ...]
    highest: tuple[float, ...]
    source: Source

    def has(self, shares: Sequence[float]) -> bool:
        """Whether cross passes at these shares are of this practice."""
        return len(shares) == len(self.lowest) and all(
            low * (1 - NOISE) <= share <= high * (1 + NOISE)
            for low, share, high in zip(self.lowest, shares, self.highest, strict=True)
        )


def _steps(text: str) -> tuple[float, ...]:
    return tuple(float(percent) / 100 for percent in text.split("/"))


def _practice(row: Row) -> Practice:
    source = Source(f"steps {row.text['practice']}", row.text["status"], row.text["source"])
    return Practice(_steps(row.text["lowest_steps"]), _steps(row.text["highest_steps"]), source)


PRACTICES = tuple(_practice(row) for row in read_table("tightening_practices.csv"))
"""Every published practice held."""
