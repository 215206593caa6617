"""The rows of a shop's own table: each cell read, and what must hold between the cells of a row."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from marshmallow import ValidationError

from schemas.faults import fault
from schemas.numbers import NotANumber, split_number
from schemas.quantity import LONGEST
from schemas.shop_table_columns import STATED, Column
from schemas.shop_table_parts import Faults, TableRow
from schemas.shop_table_saved import check_number
from schemas.shop_table_text import BLANKS, check_cell, found_in
from schemas.shop_table_window import check_window
from schemas.units import UNITS, Unit, fold

_NOT_GIVEN: dict[str, Any] = {
    "minimum": None,
    "maximum": None,
    "torsional_yield": None,
    "status": STATED,
    "effective_from": None,
    "effective_to": None,
    "note": None,
}
"""What a row holds where a cell is empty or there is no such column."""
_SPELLINGS = {
    fold(spelling)
    for unit in UNITS.values()
    if "temperature" not in unit.kinds
    for spelling in (unit.code, *unit.spellings)
}


def read_row(number: int, cells: Sequence[str], columns: Sequence[Column], faults: Faults) -> dict[str, Any]:
    """The values of a row by column; one that is not read is left out and its fault added.

    Faults: ``empty_row``, ``wrong_cell_count``, ``missing_cell``, ``formula_text``, ``error_cell``,
    ``not_text``, ``not_a_choice``, ``not_a_date``, ``not_a_number``, ``decimal_comma``,
    ``thousands_in_doubt``, ``unit_not_expected``, ``out_of_range``, ``contradiction``, and those of
    `check_window`.
    """
    texts = [cell.strip(BLANKS) for cell in cells]
    if not any(texts):
        faults.add(number, None, "empty_row", "an empty row stands among the others")
        return {}
    if len(texts) != len(columns):
        detail = f"the row has {len(texts)} cells, the header {len(columns)}"
        faults.add(number, None, "wrong_cell_count", detail, ",".join(texts), f"{len(columns)} cells")
        return {}
    values = dict(_NOT_GIVEN)
    for column, text in zip(columns, texts, strict=True):
        if column.field is None:
            values.pop(column.name, None)
            continue
        if not text and not column.required:
            continue
        if not text:
            values.pop(column.name, None)
            faults.add(number, column.name, "missing_cell", "every row must fill it", None, column.accepted)
            continue
        try:
            values[column.name] = _value(column, text)
        except ValidationError as error:
            found = found_in(error)
            values.pop(column.name, None)
            faults.add(number, column.name, found.code, found.detail, text, found.accepted or column.accepted)
    given = {column.name: (text, column) for column, text in zip(columns, texts, strict=True) if column.unit}
    check_window(number, values, given, faults)
    _check_days(number, values, faults)
    return values


def row_of(number: int, values: dict[str, Any], columns: Sequence[Column]) -> TableRow:
    """The row that values without a fault make."""
    keys = {column.name: values[column.name] for column in columns if column.key}
    rest = {name: value for name, value in values.items() if name not in keys}
    return TableRow(number=number, key=keys, **rest)


@lru_cache(4096)  # cells of a table repeat
def _value(column: Column, text: str) -> Any:
    check_cell(text, number=column.unit is not None)
    if column.field is None or column.unit is None:
        return column.field.deserialize(text) if column.field else None
    if len(text) > LONGEST:
        raise fault("not_a_number", f"longer than {LONGEST} characters")
    check_number(text, column.thousands)
    given = _with_unit(text, column.unit)
    try:
        return column.field.deserialize(given)
    except ValidationError as error:  # what the field accepts has a unit, which a cell has not
        found = found_in(error)
        raise fault(found.code, found.detail) from None


def _with_unit(text: str, unit: Unit) -> dict[str, Any]:
    """A bare number and the unit of its header as one quantity."""
    try:
        number, rest = split_number(text)
    except NotANumber as error:
        raise fault(error.code, str(error)) from None
    if fold(rest) in _SPELLINGS:
        raise fault("unit_not_expected", "the header gives the unit, so that no cell can contradict it")
    if rest:
        raise fault("not_a_number", "more than a number stands in the cell")
    return {"value": number, "unit": unit.code}


def _check_days(number: int, values: dict[str, Any], faults: Faults) -> None:
    first, last = values.get("effective_from"), values.get("effective_to")
    if first and last and first > last:
        detail = "the row ends before it begins"
        faults.add(number, "effective_to", "contradiction", detail, str(last), f"{first} or later")
        del values["effective_from"], values["effective_to"]
