"""The tables of a shop: a folder of CSV files, each whole or not at all.

A table with any fault is served not at all. Half a table would answer some joints and refuse their
neighbours, and the file would stay as it is. Rows are compared with the formula of a connection that is
known; what differs is told, and served, since the shop may know better.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from api.answers.shop_tables.contradictions import BEFORE_USE, compared_with, contradiction, formula_torques
from api.answers.shop_tables.index import TableIndex
from api.engineering.checks import Finding
from api.shop_tables.reader import MOST_BYTES, FaultyTable, ShopTable, TableFault, read_shop_table
from schemas.core.fields import SLUG

LONGEST_ID = 60
"""Characters of the id of a table, as requests take it."""
TAKEN_FOR_TABLES = (".csv", ".xlsx", ".xls", ".xlsm", ".ods", ".tsv", ".txt")
"""Endings of files that somebody may take for tables: told where they are none, never passed over."""


@dataclass(frozen=True)
class Table:
    """A table as it is served.

    Attributes:
        id: the name of its file without the ending.
        hash: the first 12 hex digits of the SHA-256 of the file.
        content: its columns and rows.
        rows_compared: how many rows could be compared with the formula of a known connection.
        contradictions: by the number of a row, how it differs from that formula.
    """

    id: str
    hash: str
    content: ShopTable
    rows_compared: int
    contradictions: Mapping[int, str]

    def finding(self, row: int) -> Finding | None:
        """How a row contradicts the formula, and what to do about it; None where it does not."""
        if row not in self.contradictions:
            return None
        return Finding(
            level="look",
            code="row_contradicts_formula",
            text=self.contradictions[row],
            step="identify",
            remedy=BEFORE_USE,
        )

    @cached_property
    def index(self) -> TableIndex:
        """Its rows, ready to be found."""
        return TableIndex(self.content)


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
    return table_of(table_id, hashlib.sha256(data).hexdigest()[:12], read_shop_table(data))


def table_of(table_id: str, content_hash: str, content: ShopTable) -> Table:
    """A table that was read, compared with the formula of its connections."""
    compared, contradictions = 0, {}
    if standard := compared_with(content.columns):
        for row in content.rows:
            torques = formula_torques(standard, row)
            compared += bool(torques)
            if text := contradiction(standard, row, torques):
                contradictions[row.number] = text
    return Table(table_id, content_hash, content, compared, contradictions)


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
    files = sorted(folder.iterdir()) if folder else ()
    hidden = (".", "~")
    return [each for each in files if each.suffix.lower() in TAKEN_FOR_TABLES and each.name[0] not in hidden]


def _id_of(path: Path) -> str:
    if path.suffix != ".csv":
        raise _no_table(
            "malformed_table", "its name does not end in .csv", path.suffix, "a name ending in .csv"
        )
    if len(path.stem) > LONGEST_ID or not SLUG.fullmatch(path.stem):
        accepted = f"1 to {LONGEST_ID} of a-z, 0-9, dot, hyphen, underscore, beginning with a-z or 0-9"
        raise _no_table("bad_table_name", "no table can have the name of the file", path.name, accepted)
    return path.stem


def _bytes_of(path: Path) -> bytes:
    if path.is_symlink() or not path.is_file():
        raise _no_table("malformed_table", "is not a regular file")
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _no_table("table_too_large", "the file is too large", None, f"at most {MOST_BYTES} bytes")
        return path.read_bytes()
    except OSError as error:
        raise _no_table("malformed_table", f"the file cannot be read: {error.strerror}") from None


def _no_table(code: str, detail: str, value: str | None = None, accepted: str | None = None) -> FaultyTable:
    return FaultyTable([TableFault(None, None, code, detail, value, accepted)])
