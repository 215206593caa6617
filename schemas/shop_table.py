"""A shop's own torque table: one CSV file, read whole or refused with every fault it has."""

import csv
import io

from schemas.shop_table_columns import read_header
from schemas.shop_table_key import read_table_key
from schemas.shop_table_parts import Faults, FaultyTable, KeyColumn, ShopTable, TableFault, TableRow
from schemas.shop_table_revisions import check_revisions
from schemas.shop_table_rows import read_row, row_of
from schemas.shop_table_text import BLANKS, folded

__all__ = [
    "FaultyTable",
    "KeyColumn",
    "ShopTable",
    "TableFault",
    "TableRow",
    "folded",
    "read_shop_table",
    "read_table_key",
]

MOST_BYTES = 2 * 1024 * 1024
MOST_ROWS = 20_000
MOST_COLUMNS = 60

Record = tuple[int, list[str]]
"""A row and the line of the file on which it begins."""


def read_shop_table(data: bytes) -> ShopTable:
    """Read a table from the bytes of its file.

    The file is UTF-8, comma separated, quoted as in RFC 4180, with a header. The columns ``minimum``,
    ``target``, ``maximum`` and ``torsional_yield`` hold torques in the unit of their header, as in
    ``target [ft-lb]``; ``source``, ``revision``, ``status``, ``effective_from``, ``effective_to`` and
    ``note`` hold text. Every other column is a key: text, or a quantity such as
    ``box_outside_diameter [in]`` or ``box_outside_diameter [in, linear]``.

    Raises:
        FaultyTable: with every fault. One that leaves nothing to read stands alone: ``table_too_large``,
            ``not_utf8``, ``malformed_table``, ``too_many_rows``, ``too_many_columns``,
            ``wrong_separator``, ``empty_table``; for the others see `read_header`, `read_row` and
            `check_revisions`.

    >>> table = read_shop_table(b"model,target [kN.m],source,revision\\nA,20.5,drawing 7,2\\n")
    >>> table.rows[0].key, table.rows[0].target
    ({'model': 'A'}, 20500.0)
    """
    faults = Faults()
    (_, header), *records = _records(data, faults)
    columns = read_header(header, faults)
    sound = faults.count == 0
    if not records:
        faults.add(None, None, "empty_table", "the table has no rows")
    rows = [(number, read_row(number, cells, columns, faults)) for number, cells in records]
    if sound:
        check_revisions(rows, columns, faults)
    faults.refuse()
    keys = tuple(column.key for column in columns if column.key)
    return ShopTable(keys, tuple(row_of(number, values, columns) for number, values in rows))


def _records(data: bytes, faults: Faults) -> list[Record]:
    """Header and rows."""
    records = _split(_text(data, faults), faults)
    header = records[0][1] if records else []
    if _empty(header):
        accepted = "a first row with the names of the columns"
        faults.add(None, None, "empty_table", "the table has no header", None, accepted)
    elif len(records) - 1 > MOST_ROWS:
        faults.add(None, None, "too_many_rows", "the table has too many rows", None, f"at most {MOST_ROWS}")
    elif len(header) > MOST_COLUMNS:
        detail = f"the table has {len(header)} columns"
        faults.add(None, None, "too_many_columns", detail, None, f"at most {MOST_COLUMNS}")
    elif len(header) == 1 and any(mark in header[0] for mark in ";\t"):
        detail = "the header is one cell with another separator in it"
        faults.add(None, None, "wrong_separator", detail, header[0], "commas")
    faults.refuse()
    return records


def _text(data: bytes, faults: Faults) -> str:
    text = ""
    if len(data) > MOST_BYTES:
        detail = f"the file has {len(data)} bytes"
        faults.add(None, None, "table_too_large", detail, None, f"at most {MOST_BYTES} bytes")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = data.count(b"\n", 0, error.start) + 1
            faults.add(None, None, "not_utf8", f"line {line} is not UTF-8", None, "UTF-8")
    if "\0" in text:
        faults.add(None, None, "malformed_table", "a NUL character stands in the table")
    faults.refuse()
    return text


def _split(text: str, faults: Faults) -> list[Record]:
    """The records of the text, no further than one row too many; those empty to its end are none."""
    reader = csv.reader(io.StringIO(text.rstrip("\r\n"), newline=""), strict=True)
    records: list[Record] = []
    empty: list[int] = []
    begins = 1
    try:
        for cells in reader:
            if _empty(cells):
                empty.append(begins)
            else:
                records += [*((line, []) for line in empty[: MOST_ROWS + 1]), (begins, cells)]
                empty.clear()
            if len(records) > MOST_ROWS + 1:
                break
            begins = reader.line_num + 1
    except csv.Error as error:
        detail = f"the row that begins on line {begins} cannot be read: {error}"
        faults.add(None, None, "malformed_table", detail)
        faults.refuse()
    return records


def _empty(cells: list[str]) -> bool:
    return not any(cell.strip(BLANKS) for cell in cells)
