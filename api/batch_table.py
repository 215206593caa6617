"""A batch as a table: CSV or TSV in and out, safe to open in a spreadsheet."""

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema, fields

from api.batch import Line, LineAnswer, known_fields
from api.calculation import PRESENTATION, Calculation
from schemas.conversion import ConvertedQuantity
from schemas.faults import InputFault, InvalidInput
from schemas.fields import from_text
from schemas.numbers import NotANumber, plain_number
from schemas.quantity_fields import AmountField, DialReading, Quantity
from schemas.record import Record
from schemas.units import UnknownUnit, unit_named

HEADER = re.compile(r"(?P<name>[^\[\]]*?)\s*\[(?P<unit>[^\[\]]+)\]")
FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with where a spreadsheet would take it for a formula (CWE-1236)."""


@dataclass(frozen=True)
class Column:
    """A column: its header as given, the field it holds if it is one, and the unit of bare numbers in it."""

    header: str
    field: str | None
    unit: str | None


def refuse_table(code: str, detail: str, accepted: str | None = None) -> InvalidInput:
    """The refusal of a whole table."""
    return InvalidInput([InputFault((), code, detail, None, accepted)])


def read_table(text: str, separator: str) -> tuple[list[str], list[list[str]]]:
    """Header and rows of a table; rows that are empty to the end are none.

    Raises:
        InvalidInput: ``malformed_table``, ``wrong_separator``, ``empty_table``, ``duplicate_column``.
    """
    text = text.removeprefix("\ufeff")
    if "\0" in text:
        raise refuse_table("malformed_table", "a NUL character stands in the table")
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise refuse_table("malformed_table", f"the table cannot be read: {error}") from None
    while rows and not any(rows[-1]):
        rows.pop()
    if not rows:
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
            "the header is one cell with another separator in it",
            "commas for text/csv, tabs for text/tab-separated-values",
        )
    if not all(header):
        raise refuse_table("malformed_table", f"column {header.index('') + 1} has no name")
    twice = [name for name in header if header.count(name) > 1]
    if twice:
        raise refuse_table("duplicate_column", f"the column {twice[0]!r} stands twice")


def columns_of(header: Sequence[str], calculation: Calculation, carry: Sequence[str]) -> list[Column]:
    """What each column holds; ``pin_bore [in]`` gives the bare numbers below it their unit.

    Raises:
        InvalidInput: ``unknown_unit``, ``wrong_kind``, ``unit_not_applicable``, ``duplicate_column``.
    """
    known = known_fields(calculation)
    columns = []
    for text in header:
        match = HEADER.fullmatch(text)
        name, unit = (match["name"], match["unit"].strip()) if match else (text, None)
        if name not in known or text in carry or name in carry:
            columns.append(Column(text, None, None))
            continue
        if unit is not None:
            _check_unit(name, unit, known[name])
        columns.append(Column(text, name, unit))
    fields = [column.field for column in columns if column.field]
    twice = [name for name in fields if fields.count(name) > 1]
    if twice:
        raise refuse_table("duplicate_column", f"two columns hold {twice[0]}")
    return columns


def _check_unit(name: str, spelling: str, field: Any) -> None:
    kind = getattr(field, "kind", None) if isinstance(field, Quantity) else None
    if kind is None:
        raise refuse_table("unit_not_applicable", f"{name} has no unit, yet its header names {spelling!r}")
    try:
        unit = unit_named(spelling)
    except UnknownUnit as error:
        raise refuse_table("unknown_unit", f"in the header of {name}: {error}") from None
    if kind not in unit.kinds:
        raise refuse_table("wrong_kind", f"{name} is a {kind}, yet its header names {spelling!r}")


def line_of(cells: Sequence[str], columns: Sequence[Column], calculation: Calculation) -> Line:
    """One row as a line; an empty cell is a field not given, never a zero."""
    carried = {column.header: cell for column, cell in zip(columns, cells, strict=False)}
    if len(cells) != len(columns):
        detail = f"the row has {len(cells)} cells, the header {len(columns)}"
        return Line({}, carried, refuse_table("wrong_cell_count", detail))
    given = {
        column.field: _with_unit(cell.strip(), column.unit)
        for column, cell in zip(columns, cells, strict=True)
        if column.field and cell.strip()
    }
    try:
        return Line(_typed(given, calculation), carried)
    except InvalidInput as refusal:
        return Line(given, carried, refusal)


def _typed(given: dict[str, str], calculation: Calculation) -> dict[str, Any]:
    """Text as the JSON values it stands for; the family decides by which fields, and may be a default."""
    typed: dict[str, Any] = dict(given)
    for schema in calculation.requests.values():
        own = {name: text for name, text in given.items() if name in schema.fields}
        typed |= from_text(schema, own)
    return from_text(PRESENTATION, typed)


def _with_unit(cell: str, unit: str | None) -> str:
    if unit is None:
        return cell
    try:
        plain_number(cell)
    except NotANumber:
        return cell
    return f"{cell} {unit}"


RECORD = Record(exclude=("inputs", "steps"))
WITH_UNIT = (Quantity, DialReading, AmountField, ConvertedQuantity)
"""Fields that are written as value and unit."""
STATUS_COLUMNS = ("line", "line_status", "problem_code", "problem_detail")


def flat(result: Mapping[str, Any]) -> dict[str, Any]:
    """A result as one row: dotted names, a quantity as value and unit, lists as text."""
    return dict(_flat(result, ""))


def _flat(part: Mapping[str, Any], path: str) -> Iterator[tuple[str, Any]]:
    for name, value in part.items():
        if isinstance(value, Mapping) and set(value) == {"value", "unit"}:
            yield f"{path}{name}", value["value"]
            yield f"{path}{name}.unit", value["unit"]
        elif isinstance(value, Mapping):
            if path or name != "inputs":
                yield from _flat(value, f"{path}{name}.")
        elif isinstance(value, list):
            yield f"{path}{name}", "; ".join(_in_words(each) for each in value)
        else:
            yield f"{path}{name}", value


def _in_words(entry: Any) -> str:
    """An entry of a list as a cell shows it."""
    if not isinstance(entry, Mapping):
        return str(entry)
    if "verdict" in entry:
        return f"{entry['name']} {entry['verdict']}"
    if "field" in entry:
        return f"{entry['field']} {entry['value']} ({entry['reason']})"
    if "what" in entry:
        return f"{entry['what']} ({entry['status']}): {entry['source']}"
    return " ".join(str(value) for value in entry.values() if isinstance(value, str))


def result_columns(calculation: Calculation) -> list[str]:
    """The columns of a result, the same whatever the lines hold; a quantity has one for its unit."""
    return [*_schema_columns(calculation.response, ""), *_schema_columns(RECORD, "")]


def _schema_columns(schema: Schema, path: str) -> Iterator[str]:
    for name, field in schema.fields.items():
        if isinstance(field, fields.Nested) and not field.many:
            yield from _schema_columns(field.schema, f"{path}{name}.")
            continue
        yield f"{path}{name}"
        if isinstance(field, WITH_UNIT):
            yield f"{path}{name}.unit"


def write_table(
    header: Sequence[str], answers: Sequence[LineAnswer], calculation: Calculation, separator: str
) -> str:
    """The table of a batch: the columns given, the status of the line, then its result (RFC 4180)."""
    names = result_columns(calculation)
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    writer.writerow([harmless(name) for name in header] + [*STATUS_COLUMNS, *names])
    for answer in answers:
        row = flat(answer.result) if answer.result else {}
        carried = [harmless(str(answer.carried.get(name, ""))) for name in header]
        detail = "; ".join(str(error["detail"]) for error in answer.errors)
        status = [answer.number, answer.status, answer.code or "", harmless(detail)]
        writer.writerow(carried + status + [_cell(row.get(name)) for name in names])
    return out.getvalue()


def _cell(value: Any) -> Any:
    if value is None:
        return ""
    return harmless(value) if isinstance(value, str) else value


def harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula; a number stays as it is."""
    if not text.startswith(FORMULA):
        return text
    try:
        plain_number(text)
    except NotANumber:
        return "'" + text
    return text if text[0] in "+-" else "'" + text
