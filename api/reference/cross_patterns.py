"""Cross-pattern orders as they are published, by the number of bolts; no other is made up."""

from dataclasses import dataclass

from api.engineering.cross_pattern import CrossPattern, pattern_from_text
from api.engineering.provenance import Source
from api.reference.table import Row, read_table


@dataclass(frozen=True)
class PublishedPattern:
    """A cross pattern and where it stands."""

    pattern: CrossPattern
    source: Source


def _published(row: Row) -> PublishedPattern:
    what = f"cross pattern of {row.text['bolt_count']} bolts"
    source = Source(what, row.text["status"], row.text["source"])
    return PublishedPattern(pattern_from_text(row.text["order"]), source)


CROSS_PATTERNS = {int(row.text["bolt_count"]): _published(row) for row in read_table("cross_patterns.csv")}
"""Every published pattern by its number of bolts."""
