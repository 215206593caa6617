"""The header of a shop's own table: its columns, and what is wrong with them together."""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from marshmallow import ValidationError

from api.shop_tables.columns import Column, column_of
from api.shop_tables.names import REQUIRED, RESERVED, header_of, nearly
from api.shop_tables.parts import LONGEST_SHOWN, Faults
from api.shop_tables.text import found_in
from schemas.core.quantity import BLANKS

_BRACKETS = re.compile(r"(?P<name>[^\[\]]*)\[(?P<inside>[^\[\]]*)\]")


def read_header(cells: Sequence[str], faults: Faults) -> list[Column]:
    """The columns, in their order; what is wrong with them is added to ``faults``.

    Faults: ``malformed_table``, ``duplicate_column``, ``column_in_doubt``, ``bad_column_name``,
    ``unit_required``, ``unknown_unit``, ``wrong_kind``, ``unit_not_applicable``, ``not_a_choice``,
    ``contradiction``, ``too_many_linear``, ``no_key_column``, ``missing_field``.

    Raises:
        FaultyTable: at once, where a comma in brackets split a header.
    """
    _check_split(cells, faults)
    columns: list[Column] = []
    for place, cell in enumerate(cells, 1):
        header = cell.strip(BLANKS)
        match = _BRACKETS.fullmatch(header)
        name = match["name"].strip(BLANKS) if match else header
        inside = match["inside"].strip(BLANKS) if match else None
        if not name:
            faults.add(1, None, "malformed_table", f"column {place} has no name", header or None)
        try:
            column = column_of(name, inside, header) if name else Column(name)
        except ValidationError as error:
            found = found_in(error)
            faults.add(1, name, found.code, found.detail, header, found.accepted)
            column = Column(name)
        twice = any(other.name == name for other in columns)
        columns.append(Column(name) if twice else column)
    _check_together(columns, faults)
    return columns


def _check_split(cells: Sequence[str], faults: Faults) -> None:
    """Refuse a header that a comma in its brackets made two of: no row would fit what is left.

    Raises:
        FaultyTable: ``bad_column_name`` alone, for each such header.
    """
    for cell, after in pairwise(cell.strip(BLANKS) for cell in cells):
        name, opened, inside = cell.partition("[")
        rest, closed, _ = after.partition("]")
        whole = f"{cell}, {after}"
        if opened and closed and "]" not in inside and "[" not in rest and len(whole) <= LONGEST_SHOWN:
            detail = "the comma inside the brackets splits the header: put it in quotes"
            accepted = f'"{whole}" with the quotes, or {cell} {after}'
            faults.add(1, name.strip(BLANKS) or None, "bad_column_name", detail, whole, accepted)
    faults.refuse()


def _check_together(columns: Sequence[Column], faults: Faults) -> None:
    """What is wrong with the columns as a whole; a column in doubt is not also told to be missing."""
    names = Counter(column.name for column in columns if column.name)
    meant = {name: name if name in RESERVED else nearly(name[:LONGEST_SHOWN]) for name in names}
    for name, count in names.items():
        if count > 1:
            faults.add(1, name, "duplicate_column", "the column occurs twice", name)
    for name in REQUIRED:
        if name not in meant.values():
            faults.add(1, name, "missing_field", "this column is required", None, header_of(name))
    linear = [column.name for column in columns if column.key and column.key.linear]
    for name in linear[1:]:
        detail = f"{linear[0]} is linear already; only one column can be"
        faults.add(1, name, "too_many_linear", detail, name, f"{name} without linear")
    if None not in meant.values():
        accepted = "a column such as model, or box_outside_diameter [in]"
        faults.add(1, None, "no_key_column", "no column tells one row from another", None, accepted)
