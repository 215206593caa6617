"""Cross patterns and shares of torque for the passes of a flange."""

from collections.abc import Sequence
from typing import NamedTuple

from api.engineering.checks import NOISE
from api.engineering.flanges.cross_pattern import CrossPattern, pattern_from_text
from api.engineering.provenance import Source
from api.reference.table import Row, read_table


class PublishedPattern(NamedTuple):
    """A cross pattern and where it stands."""

    pattern: CrossPattern
    source: Source


def _published(row: Row) -> PublishedPattern:
    what = f"cross pattern of {row.text['bolt_count']} bolts"
    source = Source(what, row.text["status"], row.text["source"])
    return PublishedPattern(pattern_from_text(row.text["order"]), source)


CROSS_PATTERNS = {int(row.text["bolt_count"]): _published(row) for row in read_table("cross_patterns.csv")}
"""Every published pattern by its number of bolts."""


class Practice(NamedTuple):
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
