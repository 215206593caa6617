"""The tables of a shop: a folder of CSV files, each whole or not at all."""

import hashlib
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from api.answers.table_contradictions import contradiction
from schemas.fields import SLUG
from schemas.shop_table import (
    FaultyTable,
    KeyColumn,
    ShopTable,
    TableFault,
    TableRow,
    folded,
    read_shop_table,
)

LARGEST_FILE = 2 * 1024 * 1024
"""Bytes of a file; more is no table of a shop."""
LONGEST_ID = 60
"""Characters of the id of a table, as requests take it."""
SPREADSHEETS = (".xlsx", ".xls", ".xlsm", ".ods", ".tsv")
"""Endings of files that somebody took for tables: told, never passed over."""
SAME = 1e-9
"""Share by which two quantities may differ and be one: the rounding of conversions between units."""

Key = Mapping[str, str | float]


@dataclass(frozen=True)
class Table:
    """A table as it is served.

    Attributes:
        id: the name of its file without the ending.
        hash: the first 12 hex digits of the SHA-256 of the file.
        content: its columns and rows.
        contradictions: by the number of a row, how it differs from the formula of a known connection.
    """

    id: str
    hash: str
    content: ShopTable
    contradictions: Mapping[int, str]

    @cached_property
    def texts(self) -> tuple[KeyColumn, ...]:
        """Key columns that hold text."""
        return tuple(column for column in self.content.columns if column.unit is None)

    @cached_property
    def quantities(self) -> tuple[KeyColumn, ...]:
        """Key columns that hold quantities."""
        return tuple(column for column in self.content.columns if column.unit is not None)

    @cached_property
    def texts_held(self) -> Mapping[str, Mapping[str, str]]:
        """By text column every value that it holds, as compared and as written."""
        return {
            column.name: {
                folded(str(row.key[column.name])): str(row.key[column.name]) for row in self.content.rows
            }
            for column in self.texts
        }

    @cached_property
    def quantities_held(self) -> Mapping[str, list[float]]:
        """By quantity column every value that it holds, rising."""
        return {
            column.name: sorted({float(row.key[column.name]) for row in self.content.rows})
            for column in self.quantities
        }

    def rows_of_texts(self, key: Key) -> list[TableRow]:
        """The rows whose texts are those of a key, in the order of their first quantity."""
        return self._by_texts.get(self._texts_of(key), [])

    def rows_of(self, key: Key) -> list[TableRow]:
        """The rows with exactly this key, of whatever date."""
        rows = self.rows_of_texts(key)
        if not self.quantities:
            return rows
        first = self.quantities[0].name
        wanted = float(key[first])
        low = bisect_left(rows, wanted - SAME * abs(wanted), key=lambda row: float(row.key[first]))
        high = bisect_right(rows, wanted + SAME * abs(wanted), key=lambda row: float(row.key[first]))
        return [row for row in rows[low:high] if self.same_quantities(row, key)]

    def same_quantities(self, row: TableRow, key: Key, but: str | None = None) -> bool:
        """Whether the quantities of a row are those of a key, one column left out if it is named."""
        names = [column.name for column in self.quantities if column.name != but]
        return all(same(float(row.key[name]), float(key[name])) for name in names)

    def _texts_of(self, key: Key) -> tuple[str, ...]:
        return tuple(folded(str(key[column.name])) for column in self.texts)

    @cached_property
    def _by_texts(self) -> dict[tuple[str, ...], list[TableRow]]:
        found: dict[tuple[str, ...], list[TableRow]] = {}
        for row in self.content.rows:
            found.setdefault(self._texts_of(row.key), []).append(row)
        if self.quantities:
            first = self.quantities[0].name
            for rows in found.values():
                rows.sort(key=lambda row: float(row.key[first]))
        return found


def same(one: float, other: float) -> bool:
    """Whether two quantities are one."""
    return abs(one - other) <= SAME * max(abs(one), abs(other))


@dataclass(frozen=True)
class TableFolder:
    """The tables of a folder by id, and by file what is wrong with those that are not served."""

    tables: Mapping[str, Table]
    faults: Mapping[str, FaultyTable]

    @cached_property
    def refused_ids(self) -> Mapping[str, str]:
        """The file of each id that is not served."""
        return {Path(name).stem: name for name in self.faults}


def table_from(table_id: str, data: bytes) -> Table:
    """The table of a file.

    Raises:
        FaultyTable: with every fault.
    """
    content = read_shop_table(data)
    found = {row.number: text for row in content.rows if (text := contradiction(content.columns, row))}
    return Table(table_id, hashlib.sha256(data).hexdigest()[:12], content, found)


def read_tables(folder: Path | None) -> TableFolder:
    """Every CSV file of a folder as a table. A file with any fault is no table: none of its rows is served.

    A half-served table would answer some joints and refuse their neighbours, and nobody would look for why.
    """
    tables: dict[str, Table] = {}
    faults: dict[str, FaultyTable] = {}
    for path in _files(folder):
        try:
            table = table_from(_id_of(path), _bytes_of(path))
        except FaultyTable as faulty:
            faults[path.name] = faulty
        else:
            tables[table.id] = table
    return TableFolder(tables, faults)


def _files(folder: Path | None) -> Iterable[Path]:
    wanted = (".csv", *SPREADSHEETS)
    files = sorted(folder.iterdir()) if folder else ()
    return [each for each in files if each.suffix.lower() in wanted and not each.name.startswith((".", "~"))]


def _id_of(path: Path) -> str:
    if path.suffix != ".csv":
        raise _no_table("malformed_table", "is no CSV file by its name", path.suffix, "a name ending in .csv")
    if len(path.stem) > LONGEST_ID or not SLUG.fullmatch(path.stem):
        accepted = f"1 to {LONGEST_ID} of a-z, 0-9, dot, hyphen, underscore, beginning with a-z or 0-9"
        raise _no_table("bad_table_name", "no table can have the name of the file", path.name, accepted)
    return path.stem


def _bytes_of(path: Path) -> bytes:
    if path.is_symlink() or not path.is_file():
        raise _no_table("malformed_table", "is not a regular file")
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise _no_table("table_too_large", "the file is too large", None, f"at most {LARGEST_FILE} bytes")
        return path.read_bytes()
    except OSError as error:
        raise _no_table("malformed_table", f"the file cannot be read: {error.strerror}") from None


def _no_table(code: str, detail: str, value: str | None = None, accepted: str | None = None) -> FaultyTable:
    return FaultyTable([TableFault(None, None, code, detail, value, accepted)])
