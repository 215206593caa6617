"""Finding the row of a shop's table for a joint: exactly, or between two rows where the table allows it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from api.answers.shop_tables import Table
from api.answers.table_misses import in_words, no_such_row
from api.engineering.faults import Amount, NoAnswer, refuse
from schemas.shop_table import KeyColumn, TableRow

Key = Mapping[str, str | float]


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


def find_row(table: Table, key: Key, as_of: date | None) -> Found:
    """The row in force for a key.

    Raises:
        NoAnswer: ``no_such_row``, ``as_of_required``, ``row_not_in_force``, ``outside_table``.
    """
    exact = table.rows_of(key)
    if exact:
        return Found((_in_force(exact, as_of),))
    column = next((each for each in table.content.columns if each.linear), None)
    if column is not None:
        rows = [row for row in table.rows_of_texts(key) if table.same_quantities(row, key, column.name)]
        if rows:
            return _between(rows, column, float(key[column.name]), as_of)
    raise no_such_row(table, key)


def _in_force(rows: Sequence[TableRow], as_of: date | None) -> TableRow:
    """The one of several revisions of a row that holds on a day."""
    _check_day(rows, as_of)
    for row in rows:
        if row.in_force(as_of):
            return row
    raise refuse(
        "row_not_in_force",
        f"the table has this joint, but not for {as_of}: {_periods(rows)}",
        "as_of",
        "a day on which a row is in force",
    )


def _check_day(rows: Iterable[TableRow], as_of: date | None) -> None:
    if as_of is None and any(row.dated for row in rows):
        text = f"rows for this joint hold from or to a day ({_periods(rows)}); give the day of the job"
        raise refuse("as_of_required", text, "as_of", "a day such as 2026-11-24")


def _between(rows: Sequence[TableRow], column: KeyColumn, wanted: float, as_of: date | None) -> Found:
    _check_day(rows, as_of)
    held = sorted((row for row in rows if row.in_force(as_of)), key=lambda row: row.key[column.name])
    lower = [row for row in held if row.key[column.name] < wanted]  # type: ignore[operator]
    higher = [row for row in held if row.key[column.name] > wanted]  # type: ignore[operator]
    if not lower or not higher:
        raise _outside(held, column)
    low, high = lower[-1], higher[0]
    start, end = float(low.key[column.name]), float(high.key[column.name])
    return Found((low, high), column, (wanted - start) / (end - start))


def _outside(held: Sequence[TableRow], column: KeyColumn) -> NoAnswer:
    field = f"table_key.{column.name}"
    if not held:
        return refuse("row_not_in_force", "no row for the rest of this key is in force on this day", "as_of")
    ends = (held[0], held[-1])
    first, last = (Amount(column.kind or "", float(row.key[column.name])) for row in ends)
    if len(held) == 1:
        text = f"for the rest of this key row {ends[0].number} stands alone, with {{first}}, none to go to"
    else:
        numbers = f"{ends[0].number} to {ends[1].number}"
        text = f"for the rest of this key rows {numbers} go from {{first}} to {{last}}; never extrapolated"
    accepted = " to ".join(in_words(column, row.key[column.name]) for row in ends)
    return refuse("outside_table", text, field, accepted, first=first, last=last)


def _periods(rows: Iterable[TableRow]) -> str:
    return "; ".join(f"row {row.number} {_period(row)}" for row in rows)


def _period(row: TableRow) -> str:
    start = f"from {row.effective_from}" if row.effective_from else ""
    end = f"to {row.effective_to}" if row.effective_to else ""
    return " ".join(filter(None, (start, end))) or "always"
