"""A batch that comes as a table, CSV or TSV."""

import csv
import io
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from api.batch.lines import Line, known_fields
from api.registry.calculation import Calculation
from schemas.core.faults import InputFault, InvalidInput
from schemas.core.fields import Members, field_named
from schemas.core.quantity import NotANumber, number_rule, plain_number
from schemas.core.quantity_fields import EitherDial, Quantity
from schemas.core.units import UNITS, UnknownUnit, codes_of, unit_named

HEADER = re.compile(r"(?P<name>[^\[\]]*)\[(?P<unit>[^\[\]]+)\]")


@dataclass(frozen=True)
class Column:
    """A column: its header as given, the field it holds if it is one, and the unit of bare numbers in it."""

    header: str
    field: str | None
    unit: str | None


def refuse_table(code: str, detail: str, accepted: str | None = None, value: Any = None) -> InvalidInput:
    """The refusal of a whole table or a row."""
    return InvalidInput([InputFault((), code, detail, value, accepted)])


def read_table(text: str, separator: str) -> tuple[list[str], list[list[str]]]:
    """Header and rows of a table; rows that are empty to the end are none.

    Raises:
        InvalidInput: ``malformed_table``, ``wrong_separator``, ``empty_table``, ``duplicate_column``.
    """
    text = text.removeprefix("\ufeff")
    if "\0" in text:
        raise refuse_table("malformed_table", "the table contains a NUL character")
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise refuse_table("malformed_table", f"the table cannot be read: {error}") from None
    while rows and not any(rows[-1]):
        rows.pop()
    if not rows or not any(rows[0]):
        raise refuse_table(
            "empty_table", "the table has no header", "a first row with the names of the columns"
        )
    header = [name.strip() for name in rows[0]]
    _check_header(header, separator)
    return header, rows[1:]


def _check_header(header: list[str], separator: str) -> None:
    other = {",": ";", "\t": ";"}[separator]
    if len(header) == 1 and any(mark in header[0] for mark in (other, "\t", ",")):
        raise refuse_table(
            "wrong_separator",
            "the header is one cell that contains another separator",
            "commas for text/csv, tabs for text/tab-separated-values",
        )
    if not all(header):
        raise refuse_table("malformed_table", f"column {header.index('') + 1} has no name")
    _refuse_twice(header, "the column occurs twice")


def _refuse_twice(names: Sequence[str], detail: str) -> None:
    twice = [name for name, count in Counter(names).items() if count > 1]
    if twice:
        raise InvalidInput([InputFault((name,), "duplicate_column", detail, name) for name in twice])


def columns_of(header: Sequence[str], calculation: Calculation, carry: Sequence[str]) -> list[Column]:
    """What each column holds; ``pin_bore [in]`` gives the bare numbers below it their unit.

    Raises:
        InvalidInput: ``unknown_unit``, ``wrong_kind``, ``unit_not_applicable``, ``duplicate_column``.
    """
    known = known_fields(calculation)
    columns: list[Column] = []
    faults: list[InputFault] = []
    for text in header:
        match = HEADER.fullmatch(text)
        name, unit = (match["name"].rstrip(), match["unit"].strip()) if match else (text, None)
        field = field_named(known, name)
        if field is None or text in carry or name in carry:
            columns.append(Column(text, None, None))
            continue
        if unit is not None:
            faults += _unit_faults(text, unit, field)
        columns.append(Column(text, name, unit))
    if faults:
        raise InvalidInput(faults)
    _refuse_twice([column.field for column in columns if column.field], "two columns hold this field")
    return columns


def _unit_faults(header: str, spelling: str, field: Any) -> list[InputFault]:
    kinds = _kinds(field)
    if not kinds and not isinstance(field, Members):
        return [InputFault((header,), "unit_not_applicable", "this field has no unit", spelling)]
    codes = [code for kind in kinds for code in codes_of(kind)] or UNITS
    accepted = f"one of: {', '.join(codes)}"
    try:
        unit = unit_named(spelling)
    except UnknownUnit as error:
        return [InputFault((header,), "unknown_unit", str(error), spelling, accepted)]
    if kinds and not set(kinds) & set(unit.kinds):
        return [
            InputFault((header,), "wrong_kind", f"the field is a {' or '.join(kinds)}", spelling, accepted)
        ]
    return []


def _kinds(field: Any) -> tuple[str, ...]:
    """The kinds of quantity that a field takes; none for one without a unit."""
    if isinstance(field, Quantity):
        return (field.kind,)
    return tuple(field.dials) if isinstance(field, EitherDial) else ()


def line_of(cells: Sequence[str], columns: Sequence[Column]) -> Line:
    """One row as a line; an empty cell is a field not given, never a zero."""
    given = {column.header: cell for column, cell in zip(columns, cells, strict=False)}
    carried = {column.header: given[column.header] for column in columns[: len(cells)] if not column.field}
    if len(cells) != len(columns):
        detail = f"the row has {len(cells)} cells, the header {len(columns)}"
        accepted = f"{len(columns)} cells"
        return Line({}, given, carried, refuse_table("wrong_cell_count", detail, accepted, "; ".join(cells)))
    fields = {
        column.field: _with_unit(cell, column.unit)
        for column, cell in zip(columns, cells, strict=True)
        if column.field and cell.strip()
    }
    return Line(fields, given, carried)


def _with_unit(cell: str, unit: str | None) -> str:
    if unit is None:
        return cell
    try:
        plain_number(cell, number_rule())
    except NotANumber:
        return cell
    return f"{cell} {unit}"
