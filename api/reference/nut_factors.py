"""Nut factors as they are published: to compare with, never taken as an input."""

from dataclasses import dataclass

from api.engineering.provenance import Source
from api.reference.table import read_table


@dataclass(frozen=True)
class PublishedNutFactor:
    """Lowest and highest nut factor named for a condition."""

    low: float
    high: float
    source: Source


NUT_FACTORS = tuple(
    PublishedNutFactor(
        float(row.text["low"]),
        float(row.text["high"]),
        Source(row.text["condition"], row.text["status"], row.text["source"]),
    )
    for row in read_table("nut_factors.csv")
)
