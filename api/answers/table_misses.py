"""What a shop's table has near a joint that it does not have."""

from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from api.answers.shop_tables import Table, same
from api.engineering.faults import Fault, NoAnswer
from schemas.shop_table import KeyColumn, TableRow, folded

Key = Mapping[str, str | float]
MOST = 5
"""Near values or rows that a refusal names."""
MOST_LOOKED_AT = 2000
"""Rows among which near ones are looked for, so that a long batch of misses on a long table stays quick."""


def no_such_row(table: Table, key: Key) -> NoAnswer:
    """The refusal of a key that no row has: each value that no row has by itself, else the near rows.

    Raises nothing; the code is ``no_such_row``.
    """
    faults = [
        Fault(
            "no_such_row",
            f"no row of the table {table.id} has this {column.name}",
            f"table_key.{column.name}",
            accepted=f"near it: {', '.join(_near(table, column, key[column.name]))}",
        )
        for column in table.content.columns
        if not column.linear and not _is_held(table, column, key[column.name])
    ]
    return NoAnswer(faults or [_no_combination(table, key)])


def _is_held(table: Table, column: KeyColumn, wanted: str | float) -> bool:
    if column.unit is None:
        return folded(str(wanted)) in table.texts_held[column.name]
    return any(same(value, float(wanted)) for value in table.quantities_held[column.name])


def _near(table: Table, column: KeyColumn, wanted: str | float) -> Iterator[str]:
    """The values of a column that are nearest, quantities in the unit of its header."""
    if column.unit is not None:
        held = table.quantities_held[column.name]
        for value in sorted(held, key=lambda value: abs(value - float(wanted)))[:MOST]:
            yield in_words(column, value)
        return
    texts = table.texts_held[column.name]
    near = get_close_matches(folded(str(wanted)), texts, MOST, 0.3) or list(texts)[:MOST]
    yield from (texts[each] for each in near)


def _no_combination(table: Table, key: Key) -> Fault:
    columns = table.content.columns
    some = [row for row in table.content.rows if _agrees(row, columns[0], key)] or table.content.rows
    some = sorted(some[:MOST_LOOKED_AT], key=lambda row: -sum(_agrees(row, each, key) for each in columns))
    return Fault(
        "no_such_row",
        f"no row of the table {table.id} has all of these values",
        "table_key",
        accepted=f"near it: {'; '.join(_row_in_words(table, row) for row in some[:MOST])}",
    )


def _agrees(row: TableRow, column: KeyColumn, key: Key) -> bool:
    theirs, wanted = row.key[column.name], key[column.name]
    if isinstance(theirs, str) or isinstance(wanted, str):
        return theirs == wanted or folded(str(theirs)) == folded(str(wanted))
    return same(theirs, wanted)


def _row_in_words(table: Table, row: TableRow) -> str:
    key = ", ".join(f"{each.name} {in_words(each, row.key[each.name])}" for each in table.content.columns)
    return f"row {row.number}: {key}"


def in_words(column: KeyColumn, value: str | float) -> str:
    """A value of a key column as text, a quantity in the unit of its column."""
    if column.unit is None or isinstance(value, str):
        return str(value)
    return f"{column.unit.from_si(value):.7g} {column.unit.code}"
