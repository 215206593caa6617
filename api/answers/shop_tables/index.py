"""The rows of a shop's table, in groups, so that a batch finds them fast."""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from api.shop_tables.reader import SAME, KeyColumn, ShopTable, TableRow, folded

Key = Mapping[str, str | float]


@dataclass(frozen=True)
class Group:
    """Rows with one key in every column but the linear one.

    Attributes:
        rows: rising in the linear column.
        values: of each row in the linear column, SI; 0 where the table has none.
        dated: those that hold from or to a day.
    """

    rows: Sequence[TableRow]
    values: Sequence[float]
    dated: Sequence[TableRow]

    def at(self, value: float) -> Sequence[TableRow]:
        """The rows with this value in the linear column, of whatever date."""
        low = bisect_left(self.values, value - SAME * abs(value))
        return self.rows[low : bisect_right(self.values, value + SAME * abs(value))]


class TableIndex:
    """Finds rows by their keys: text as it is compared, quantities but for the rounding between units.

    Attributes:
        columns: key columns of the table.
        rows: its rows.
        linear: the column that may be interpolated in, if there is one.
        texts_held: by text column every value that it holds, as compared and as written.
        quantities_held: by quantity column every value that it holds, rising.
    """

    def __init__(self, table: ShopTable) -> None:
        self.columns, self.rows = table.columns, table.rows
        self.linear = next((column for column in table.columns if column.linear), None)
        self.texts_held = {
            column.name: {folded(str(row.key[column.name])): str(row.key[column.name]) for row in table.rows}
            for column in table.columns
            if column.unit is None
        }
        self.quantities_held = {
            column.name: sorted({float(row.key[column.name]) for row in table.rows})
            for column in table.columns
            if column.unit is not None
        }
        self._numbers = {name: _numbered(held) for name, held in self.quantities_held.items()}
        groups: dict[tuple[str | int | None, ...], list[TableRow]] = {}
        self._by_first: dict[str | int | None, list[TableRow]] = {}
        for row in table.rows:
            groups.setdefault(self._group_of(row.key), []).append(row)
            self._by_first.setdefault(self._place(self.columns[0], row.key), []).append(row)
        self._groups = {place: self._group(rows) for place, rows in groups.items()}

    def group(self, key: Key) -> Group | None:
        """The rows with this key in every column but the linear one, if there are any."""
        return self._groups.get(self._group_of(key))

    def along(self, key: Key) -> float:
        """The value of a key in the linear column; 0 where the table has none."""
        return float(key[self.linear.name]) if self.linear else 0.0

    def _group(self, rows: Sequence[TableRow]) -> Group:
        rising = sorted(rows, key=lambda row: self.along(row.key))
        values = [self.along(row.key) for row in rising]
        return Group(rising, values, [row for row in rising if row.dated])

    def holds(self, column: KeyColumn, key: Key) -> bool:
        """Whether any row has the value of a key in a column."""
        place = self._place(column, key)
        return place in self.texts_held[column.name] if isinstance(place, str) else place is not None

    def alike(self, key: Key) -> Sequence[TableRow]:
        """The rows with the value of a key in the first column; all rows where none has it."""
        return self._by_first.get(self._place(self.columns[0], key), self.rows)

    def _group_of(self, key: Key) -> tuple[str | int | None, ...]:
        return tuple(self._place(column, key) for column in self.columns if not column.linear)

    def _place(self, column: KeyColumn, key: Key) -> str | int | None:
        """A text as it is compared; for a quantity which of the values of its column, None if none."""
        value = key[column.name]
        if isinstance(value, str):
            return folded(value)
        held = self.quantities_held[column.name]
        at = bisect_left(held, value - SAME * abs(value))
        return self._numbers[column.name][at] if at < len(held) and same(held[at], value) else None


def _numbered(held: Sequence[float]) -> list[int]:
    """A number for every value of a rising list; those that are one have one."""
    numbers = [0]
    for one, other in pairwise(held):
        numbers.append(numbers[-1] + (not same(one, other)))
    return numbers


def same(one: float, other: float) -> bool:
    """Whether two quantities are one."""
    return abs(one - other) <= SAME * max(abs(one), abs(other))


def agrees(row: TableRow, column: KeyColumn, key: Key) -> bool:
    """Whether a row has the value of a key in a column."""
    theirs, wanted = row.key[column.name], key[column.name]
    if isinstance(theirs, str) or isinstance(wanted, str):
        return theirs == wanted or folded(str(theirs)) == folded(str(wanted))
    return same(theirs, wanted)
