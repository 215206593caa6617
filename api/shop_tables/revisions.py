"""Rows of a shop's own table with the same keys: revisions in turn, never two at once."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, NamedTuple

from api.shop_tables.columns import Column
from api.shop_tables.parts import Faults
from api.shop_tables.text import folded

SAME = 1e-9
"""Relative difference up to which two quantities are the same: 165.1 mm and 6.5 in."""


class Span(NamedTuple):
    """The days on which a row holds, both included."""

    first: date
    last: date
    number: int


def check_revisions(rows: Sequence[tuple[int, Any]], columns: Sequence[Column], faults: Faults) -> None:
    """Add ``duplicate_row`` for each row that holds on a day on which another with its keys holds.

    Args:
        rows: line and values of each; those without all keys and days are passed over.
        columns: those of the table.
        faults: what the faults are added to.
    """
    keys = [column for column in columns if column.key]
    needed = [*(column.name for column in keys), "effective_from", "effective_to"]
    whole = [(number, values) for number, values in rows if all(name in values for name in needed)]
    folds = {column.name: _folds(column, (values[column.name] for _, values in whole)) for column in keys}
    spans: dict[tuple[Any, ...], list[Span]] = defaultdict(list)
    for number, values in whole:
        first, last = values["effective_from"] or date.min, values["effective_to"] or date.max
        key = tuple(fold[values[name]] for name, fold in folds.items())
        spans[key].append(Span(first, last, number))
    for group in spans.values():
        for number, others in _overlaps(group).items():
            more = f" and {len(others) - 3} more" if len(others) > 3 else ""
            lines = f"line{'s' if len(others) > 1 else ''} {', '.join(map(str, others[:3]))}{more}"
            detail = f"holds on some of the days of {lines}, with the same keys"
            faults.add(number, None, "duplicate_row", detail, None, "days that do not overlap")


def _folds(column: Column, values: Iterable[Any]) -> dict[Any, Any]:
    """One word for each value of a key column, the same for values that are the same."""
    if column.unit is None:
        return {text: folded(text) for text in values}
    classes: dict[float, float] = {}
    before = first = -1.0
    for value in sorted(set(values)):
        if value > before * (1 + SAME):
            first = value
        classes[value] = first
        before = value
    return classes


def _overlaps(group: list[Span]) -> dict[int, list[int]]:
    """Pairs each overlapping row with numbers of others; one pass, so not with all of them."""
    found: dict[int, list[int]] = defaultdict(list)
    ordered = sorted(group)
    longest = ordered[0]
    for span in ordered[1:]:
        if span.first <= longest.last:
            found[span.number].append(longest.number)
            found[longest.number].append(span.number)
        longest = max(longest, span, key=lambda each: each.last)
    return found
