"""A shop's own torque table: one CSV file, read whole or refused with every fault it has."""

import csv
import io

from api.shop_tables.columns import read_table_key
from api.shop_tables.header import read_header
from api.shop_tables.parts import MEMBER, Faults, FaultyTable, KeyColumn, ShopTable, TableFault, TableRow
from api.shop_tables.revisions import SAME, check_revisions
from api.shop_tables.rows import read_row, row_of
from api.shop_tables.text import MOST_BYTES, folded, text_of
from schemas.core.quantity import BLANKS

__all__ = [
    "MEMBER",
    "MOST_BYTES",
    "SAME",
    "FaultyTable",
    "KeyColumn",
    "ShopTable",
    "TableFault",
    "TableRow",
    "folded",
    "read_shop_table",
    "read_table_key",
]

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
    ``box_outside_diameter [in]`` or ``box_outside_diameter [in linear]``; in quotes a comma may stand
    before ``linear``.

    Raises:
        FaultyTable: with every fault. One that leaves nothing to read stands alone: ``table_too_large``,
            ``not_utf8``, ``malformed_table``, ``too_many_rows``, ``too_many_columns``,
            ``wrong_separator``, ``empty_table``, ``bad_column_name`` where a comma split a header; for the
            others see `read_header`, `read_row` and
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
    records = _split(text_of(data, faults), faults)
    header = records[0][1] if records else []
    if _empty(header):
        accepted = "a first row with the names of the columns"
        faults.add(None, None, "empty_table", "the table has no header", None, accepted)
    elif len(records) - 1 > MOST_ROWS:
        faults.add(None, None, "too_many_rows", "the table has too many rows", None, f"at most {MOST_ROWS}")
    elif len(header) > MOST_COLUMNS:
        detail = f"the table has {len(header)} columns"
        faults.add(None, None, "too_many_columns", detail, None, f"at most {MOST_COLUMNS}")
    faults.refuse()
    return records


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
