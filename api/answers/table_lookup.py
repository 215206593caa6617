"""Finding the row of a shop's table for a joint: exactly, or between two rows where the table allows it."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from api.answers.table_index import Group, Key, TableIndex
from api.answers.table_misses import in_words, no_such_row
from api.engineering.faults import Amount, NoAnswer, refuse
from schemas.shop_table import KeyColumn, TableRow


@dataclass(frozen=True)
class Found:
    """One row that is exactly for the joint, or the two between which it lies.

    Attributes:
        rows: the row, or the lower and the higher one.
        column: the column between whose values was interpolated, if it was.
        share: of the way from the lower to the higher row; 0 for one row.
    """

    rows: tuple[TableRow, ...]
    column: KeyColumn | None = None
    share: float = 0.0


def find_row(index: TableIndex, key: Key, as_of: date | None) -> Found:
    """The row in force for a key, or the two around it.

    Raises:
        NoAnswer: ``no_such_row``, ``as_of_required``, ``row_not_in_force``, ``outside_table``.
    """
    group, wanted = index.group(key), index.along(key)
    if group is None:
        raise no_such_row(index, key)
    if exact := group.at(wanted):
        return Found((_in_force(exact, as_of),))
    if index.linear is None:
        raise no_such_row(index, key)
    return _between(group, index.linear, wanted, as_of)


def _in_force(rows: Sequence[TableRow], as_of: date | None) -> TableRow:
    """The one of several revisions of a row that holds on a day."""
    _check_day([row for row in rows if row.dated], as_of)
    for row in rows:
        if row.in_force(as_of):
            return row
    raise _none_in_force("the table has this joint", rows, as_of)


def _check_day(dated: Sequence[TableRow], as_of: date | None) -> None:
    if as_of is None and dated:
        text = f"rows for this joint hold from or to a day ({_periods(dated)}); give the day of the job"
        raise refuse("as_of_required", text, "as_of", "a day such as 2026-11-24")


def _between(group: Group, column: KeyColumn, wanted: float, as_of: date | None) -> Found:
    """The rows in force around a value, with none between them that is withdrawn or not yet in force."""
    _check_day(group.dated, as_of)
    rows, values = group.rows, group.values
    above = bisect_right(values, wanted)
    low = next((at for at in range(above - 1, -1, -1) if rows[at].in_force(as_of)), None)
    high = next((at for at in range(above, len(rows)) if rows[at].in_force(as_of)), None)
    if low is None or high is None:
        raise _outside(group, column, as_of)
    start, end = values[low], values[high]
    if passed_over := [rows[at] for at in range(low + 1, high) if start < values[at] < end]:
        text = f"the table has rows between rows {rows[low].number} and {rows[high].number}"
        raise _none_in_force(text, passed_over, as_of)
    return Found((rows[low], rows[high]), column, (wanted - start) / (end - start))


def _outside(group: Group, column: KeyColumn, as_of: date | None) -> NoAnswer:
    held = [row for row in group.rows if row.in_force(as_of)]
    if not held:
        return _none_in_force("the table has rows for the rest of this key", group.rows, as_of)
    first, last = (Amount(column.kind or "", float(row.key[column.name])) for row in (held[0], held[-1]))
    if len(held) == 1:
        text = f"for the rest of this key row {held[0].number} stands alone, with {{first}}, none to go to"
        accepted = in_words(column, first.value)
    else:
        numbers = f"{held[0].number} to {held[-1].number}"
        text = f"for the rest of this key rows {numbers} go from {{first}} to {{last}}; never extrapolated"
        accepted = f"{in_words(column, first.value)} to {in_words(column, last.value)}"
    if others := [row for row in group.rows if not row.in_force(as_of)]:
        text += f" (not in force on {as_of}: {_periods(others)})"
    return refuse("outside_table", text, f"table_key.{column.name}", accepted, first=first, last=last)


def _none_in_force(what: str, rows: Sequence[TableRow], as_of: date | None) -> NoAnswer:
    text = f"{what}, but not for {as_of}: {_periods(rows)}"
    return refuse("row_not_in_force", text, "as_of", "a day on which they are in force")


MOST_PERIODS = 10
"""Rows whose periods a refusal tells."""


def _periods(rows: Sequence[TableRow]) -> str:
    told = [f"row {row.number} {_period(row)}" for row in rows[:MOST_PERIODS]]
    return "; ".join(told + ["and others"] * (len(rows) > MOST_PERIODS))


def _period(row: TableRow) -> str:
    start = f"from {row.effective_from}" if row.effective_from else ""
    end = f"to {row.effective_to}" if row.effective_to else ""
    return " ".join(filter(None, (start, end))) or "always"
