"""The row of a shop's table for one joint, or what stands near it.

A withdrawn row is not replaced by a line through its neighbours, neither for exactly its joint nor beside
it. To have two rows joined, the shop takes the old row between them out of the file.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from itertools import islice

from api.answers.shop_tables.index import Group, Key, TableIndex, agrees
from api.engineering.checks import Amount, Fault, NoAnswer, refuse
from api.shop_tables.reader import KeyColumn, TableRow, folded

MOST = 5
"""Near values or rows that a refusal names."""
MOST_LOOKED_AT = 200
"""Texts or rows among which near ones are looked for: a long batch of misses on a long table stays quick."""


def no_such_row(index: TableIndex, key: Key) -> NoAnswer:
    """The refusal of a key that no row has: each value that no row has by itself, else the near rows.

    The code is ``no_such_row``. A value of the linear column needs no row of its own.
    """
    faults = [
        Fault(
            "no_such_row",
            f"no row of the table has this {column.name}",
            f"table_key.{column.name}",
            accepted=f"near it: {', '.join(_near(index, column, key[column.name]))}",
        )
        for column in index.columns
        if not column.linear and not index.holds(column, key)
    ]
    return NoAnswer(faults or [_no_combination(index, key)])


def _near(index: TableIndex, column: KeyColumn, wanted: str | float) -> Iterator[str]:
    """The values of a column that are nearest, quantities in the unit of its header."""
    if not isinstance(wanted, str):
        held = index.quantities_held[column.name]
        for value in sorted(held, key=lambda value: abs(value - wanted))[:MOST]:
            yield in_words(column, value)
        return
    texts = index.texts_held[column.name]
    some = list(islice(texts, MOST_LOOKED_AT))
    near = get_close_matches(folded(wanted), some, MOST, 0.3) or some[:MOST]
    yield from (texts[each] for each in near)


def _no_combination(index: TableIndex, key: Key) -> Fault:
    some = sorted(
        index.alike(key)[:MOST_LOOKED_AT],
        key=lambda row: -sum(agrees(row, column, key) for column in index.columns),
    )
    return Fault(
        "no_such_row",
        "no row of the table has all of these values",
        "table_key",
        accepted=f"near it: {'; '.join(_row_in_words(index, row) for row in some[:MOST])}",
    )


def _row_in_words(index: TableIndex, row: TableRow) -> str:
    key = ", ".join(f"{each.name} {in_words(each, row.key[each.name])}" for each in index.columns)
    return f"row {row.number}: {key}"


def in_words(column: KeyColumn, value: str | float) -> str:
    """A value of a key column as text, a quantity in the unit of its column."""
    if column.unit is None or isinstance(value, str):
        return str(value)
    return f"{column.unit.from_si(value):.10g} {column.unit.code}"


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
        text = f"rows for this joint hold for certain days only ({_periods(dated)}): give the day of the job"
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
        text = (
            f"for the rest of this key there is only row {held[0].number}, with {{first}}: no "
            "second row to interpolate to"
        )
        accepted = in_words(column, first.value)
    else:
        numbers = f"{held[0].number} to {held[-1].number}"
        text = (
            f"for the rest of this key rows {numbers} go from {{first}} to {{last}}; Dialset never "
            "extrapolates"
        )
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
