"""What a shop's table has near a joint that it does not have."""

from collections.abc import Iterator
from difflib import get_close_matches
from itertools import islice

from api.answers.table_index import Key, TableIndex, agrees
from api.engineering.faults import Fault, NoAnswer
from schemas.shop_table import KeyColumn, TableRow, folded

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
