"""The rows of a table: each with its window of torque, source, status and dates."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from marshmallow import ValidationError

from api.shop_tables.columns import STATED, Column, check_number
from api.shop_tables.names import TORQUES
from api.shop_tables.parts import Faults, TableRow
from api.shop_tables.revisions import SAME
from api.shop_tables.text import check_cell, found_in
from schemas.core.faults import fault
from schemas.core.quantity import BLANKS, LONGEST, NotANumber, split_number
from schemas.core.units import UNITS, Unit, fold

LOWEST_MINIMUM, HIGHEST_MAXIMUM, HIGHEST_TORSIONAL_YIELD = 0.5, 2.0, 5.0
"""Multiples of the target beyond which a torque of its row is rather a digit lost or doubled (own judgement).

A slip of one digit is often a factor of ten, and windows are usually within a tenth of the target (*common
practice, no source*). A row cannot state that a torque beyond them is meant: it can only leave its cell
empty.
"""
_PROPORTIONS = {
    "minimum": (LOWEST_MINIMUM, "at least half"),
    "maximum": (HIGHEST_MAXIMUM, "at most twice"),
    "torsional_yield": (HIGHEST_TORSIONAL_YIELD, "at most five times"),
}

Given = Mapping[str, tuple[str, Column]]
"""The text of each cell with a unit, and its column."""


def check_window(number: int, values: Mapping[str, Any], given: Given, faults: Faults) -> None:
    """Minimum, target and maximum in this order, the last of them below the torsional yield, none far off.

    Faults: ``window_out_of_order``, ``torsional_yield_exceeded``, ``out_of_proportion``.

    Args:
        number: the line of the row.
        values: torques in N.m, those that were read.
        given: the cells as written.
        faults: what the faults are added to.
    """

    def tell(name: str, code: str, relation: str, other: str) -> None:
        detail = f"{relation} the {other.replace('_', ' ')} of {_written(*given[other])}"
        faults.add(number, name, code, detail, given[name][0])

    low, target, high, yields = (values.get(name) for name in TORQUES)
    if low is not None and target is not None and low > target:
        tell("minimum", "window_out_of_order", "above", "target")
    if high is not None and target is not None and high < target:
        tell("maximum", "window_out_of_order", "below", "target")
    if low is not None and high is not None and target is None and low > high:
        tell("minimum", "window_out_of_order", "above", "maximum")
    for name, torque in (("target", target), ("maximum", high)):
        if yields is not None and torque is not None and torque >= yields:
            tell(name, "torsional_yield_exceeded", "not below", "torsional_yield")
    if target is not None:
        _check_proportions(number, values, given, faults)


def _check_proportions(number: int, values: Mapping[str, Any], given: Given, faults: Faults) -> None:
    target = values["target"]
    for name, (multiple, words) in _PROPORTIONS.items():
        torque, limit = values.get(name), multiple * target
        if torque is None:
            continue
        if torque < limit * (1 - SAME) if name == "minimum" else torque > limit * (1 + SAME):
            text, column = given[name]
            shown = f", {column.unit.from_si(limit):.10g} {column.unit.code}" if column.unit else ""
            times = f"{torque / target:.3g} times the target of {_written(*given['target'])}"
            detail = f"{times}: it looks like a wrong digit"
            accepted = f"{words} the target{shown}; leave the cell empty if the torque is right"
            faults.add(number, name, "out_of_proportion", detail, text, accepted)


def _written(text: str, column: Column) -> str:
    return f"{text} {column.unit.code}" if column.unit else text


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
        faults.add(number, None, "empty_row", "an empty row lies among the others")
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
        raise fault("unit_not_expected", "the header gives the unit: write the number alone")
    if rest:
        raise fault("not_a_number", "the cell contains more than a number")
    return {"value": number, "unit": unit.code}


def _check_days(number: int, values: dict[str, Any], faults: Faults) -> None:
    first, last = values.get("effective_from"), values.get("effective_to")
    if first and last and first > last:
        detail = "the row ends before it begins"
        faults.add(number, "effective_to", "contradiction", detail, str(last), f"{first} or later")
        del values["effective_from"], values["effective_to"]
