"""The key columns of a table, and the values in them as a spreadsheet may have spoilt them."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from functools import cache, cached_property
from typing import Any

from marshmallow import ValidationError, fields

from api.shop_tables.names import (
    NAME,
    PLAIN,
    REQUIRED,
    TORQUES,
    header_of,
    nearly,
    suggested,
    unit_and_option,
)
from api.shop_tables.parts import LONGEST_SHOWN, MEMBER, KeyColumn
from api.shop_tables.text import KeyText, found_in
from schemas.core.faults import InputFault, InvalidInput, fault
from schemas.core.fields import Choice, Day, Text
from schemas.core.quantity import LONGEST
from schemas.core.quantity_fields import REASONABLE, Quantity
from schemas.core.units import UNITS, Unit, UnknownUnit, codes_of, unit_named

_MADE_A_DATE = (
    "the spreadsheet made a date of a fraction or a decimal: format the column as text and type it again"
)
_DAY_OF_A_LOCALE = (
    "a spreadsheet saves a day in the form of its locale: format the column as text or as YYYY-MM-DD"
)
_SURE = re.compile(r"[0-9]+(?:\.(?:[0-9]{1,2}|[0-9]{4,}))?")
_EXPONENT = re.compile(r"[0-9.,]+[eE][-+]?[0-9]+")
_THOUSANDS = re.compile(r"(?!0+\.)0*[0-9]{1,3}(?:\.[0-9]{3})+")
_MONTH = (
    "(?:jan|ene|gen|feb|fev|fév|mar|mär|mrt|apr|avr|abr|may|mai|maj|mei|mag|jun|jui|giu|jul|lug|aug|ago|aoû|"
    r"sep|set|oct|okt|out|ott|nov|dec|déc|dez|dic|des)[^\W\d_]*\.?"
)
"""A month or its short form, as spreadsheets write it in some languages of Europe (from memory)."""
_DATE = re.compile(
    rf"(?:[0-9]{{1,2}}(?P<sign>[-./])[0-9]{{1,2}}(?P=sign)(?:[0-9]{{2}}|[0-9]{{4}})"
    rf"|[0-9]{{4}}(?P<mark>[-./])[0-9]{{1,2}}(?P=mark)[0-9]{{1,2}}"
    rf"|[0-9]{{1,2}}[-./ ]{{1,2}}{_MONTH}(?:[-./ ][0-9]{{2,4}})?"
    rf"|{_MONTH}[-./ ][0-9]{{1,4}})(?:[ T][0-9:.]+)?",
    re.IGNORECASE,
)


def check_number(text: str, thousands: bool) -> None:
    """Refuse what may be another number than was typed.

    Args:
        text: the cell.
        thousands: whether a point may part thousands in it: a torque of 20.000 N.m is rather 20000.

    Raises:
        ValidationError: ``thousands_in_doubt``; ``not_a_number`` for an exponent, which stands for a number
            that a spreadsheet rounded to show it, and for a date, which it makes of ``11/2``.
    """
    if _SURE.fullmatch(text):  # most cells: the rest takes longer
        return
    number = text.strip().lstrip("+-").lstrip()
    if thousands and _THOUSANDS.fullmatch(number):
        whole = number.replace(".", "")
        decimal = number[:-1] if number.endswith("0") else f"{number}0"
        accepted = whole if number.count(".") > 1 else f"{whole} or {decimal}"
        detail = "a point before exactly three digits could part thousands"
        raise fault("thousands_in_doubt", detail, accepted)
    if _EXPONENT.fullmatch(number):
        detail = "a spreadsheet shows rounded numbers this way: format the column as a number and save again"
        raise fault("not_a_number", detail)
    if _DATE.fullmatch(number):
        raise fault("not_a_number", _MADE_A_DATE)


class SavedDay(Day):
    """A day in a cell; one in the form of a locale is never guessed, since 1/2 is two days."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> date:
        if _DATE.fullmatch(value) and not re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
            raise fault("not_a_date", _DAY_OF_A_LOCALE, self.accepted)
        return super()._deserialize(value, attr, data, **kwargs)


STATED = "stated"
"""The status of a row that gives none: the shop's own word."""
STATUSES = ("read", "reprint", "fitted", "from memory", STATED)
LONGEST_KEY = 100
LARGE_UNIT = 1000.0
"""N.m in a unit of torque from which three decimals are usual: 12.345 kN.m."""
LIMITS = REASONABLE | {
    "volume": ("0.001 cm3", "1000 m3"),
    "flow": ("0.001 L/min", "100000 L/min"),
    "kinematic_viscosity": ("0.001 cSt", "10000000 cSt"),
    "dynamic_viscosity": ("0.001 cP", "10000000 cP"),
}
"""Limits of every kind a key can have: the reasonable ones, and wide ones for the kinds no field has."""

_NAME_ACCEPTED = (
    "a small letter, then up to 39 of a-z, 0-9 and underscore, then [unit] or [unit linear] for a quantity"
)
_KEY_UNITS = "text, or one of: " + ", ".join(
    code for code, unit in UNITS.items() if "temperature" not in unit.kinds
)
_PLAIN_FIELDS: dict[str, fields.Field[Any]] = {
    "source": Text(200),
    "revision": Text(40),
    "status": Choice(STATUSES),
    "effective_from": SavedDay(),
    "effective_to": SavedDay(),
    "note": Text(300),
}


@dataclass(frozen=True, eq=False)
class Column:
    """A column and how its cells are read.

    Args:
        name: its name without the unit.
        field: what reads a cell; None where the header is faulty, so that no cell can be read.
        unit: the unit of its numbers; None for text.
        key: the key column it is, if it is one.
    """

    name: str
    field: fields.Field[Any] | None = None
    unit: Unit | None = None
    key: KeyColumn | None = None

    @cached_property
    def required(self) -> bool:
        """Whether no cell may be empty: an empty key would match nothing or everything."""
        return self.key is not None or self.name in REQUIRED

    @cached_property
    def thousands(self) -> bool:
        """Whether a point before three digits may part thousands in its cells.

        In a torque it may, unless the unit is so large that thousands of it are none: kN.m, klbf.ft, short
        ton-force.ft. Three decimals are usual in the dimensions of a key.
        """
        return self.key is None and self.unit is not None and self.unit.factor < LARGE_UNIT

    @cached_property
    def accepted(self) -> str | None:
        """What a cell may hold."""
        if isinstance(self.field, Quantity) and self.unit:
            return f"a number without its unit, {self.unit.code}; {self.field.range_text}"
        return getattr(self.field, "accepted", None)


@cache
def quantity_field(kind: str) -> Quantity:
    """What reads a quantity of a kind, in a cell or in a request."""
    return Quantity(kind, limits=LIMITS[kind])


def column_of(name: str, inside: str | None, header: str) -> Column:
    """The column that a header stands for.

    Args:
        name: what stands before the brackets.
        inside: what stands in them; None where there are none.
        header: the whole.

    Raises:
        ValidationError: ``column_in_doubt``, ``bad_column_name``, ``unit_required``, ``unknown_unit``,
            ``wrong_kind``, ``unit_not_applicable``, ``not_a_choice``, ``contradiction``.
    """
    if name in TORQUES:
        return _torque_column(name, inside)
    if name in PLAIN:
        if inside is not None:
            raise fault("unit_not_applicable", "this column has no unit", name)
        return Column(name, _PLAIN_FIELDS[name])
    near = nearly(name[:LONGEST_SHOWN])
    if near:
        raise fault(
            "column_in_doubt", f"is no column known here, but its name is close to {near}", header_of(near)
        )
    if not NAME.fullmatch(name):
        example = suggested(header)
        accepted = f"for example {example}: {_NAME_ACCEPTED}" if example else _NAME_ACCEPTED
        raise fault("bad_column_name", "no key column can have this name", accepted)
    key = _key_column(name, inside)
    return Column(name, KeyText(LONGEST_KEY) if key.kind is None else quantity_field(key.kind), key.unit, key)


def _torque_column(name: str, inside: str | None) -> Column:
    accepted = f"{name} [unit], one of: {', '.join(codes_of('torque'))}"
    if not inside:
        raise fault("unit_required", "the header must give the unit of its torques", accepted)
    unit = _unit(inside, accepted)
    if "torque" not in unit.kinds:
        raise fault("wrong_kind", f"{inside!r} is a unit of {unit.kinds[0]}, not of torque", accepted)
    return Column(name, quantity_field("torque"), unit)


def _key_column(name: str, inside: str | None) -> KeyColumn:
    if inside is None or inside == "text":
        return KeyColumn(name, None, None, False)
    spelling, option = unit_and_option(inside)
    if option not in (None, "linear"):
        raise fault("not_a_choice", "only the word linear may follow the unit", "[unit linear]")
    if spelling == "text":
        raise fault("contradiction", "a text column cannot be linear", f"{name} [text]")
    unit = _unit(spelling, _KEY_UNITS)
    kind = unit.kinds[-1]
    if kind == "temperature":
        raise fault("wrong_kind", "a temperature cannot be a key", _KEY_UNITS)
    return KeyColumn(name, unit, kind, option is not None)


def _unit(spelling: str, accepted: str) -> Unit:
    if len(spelling) > LONGEST:
        raise fault("unknown_unit", f"a unit has at most {LONGEST} characters", accepted)
    try:
        return unit_named(spelling)
    except UnknownUnit as error:
        raise fault("unknown_unit", str(error), accepted) from None


def read_table_key(columns: Sequence[KeyColumn], given: Mapping[str, Any]) -> dict[str, str | float]:
    """The key a request gives: text as given, quantities in SI.

    Args:
        columns: the key columns of the table.
        given: one member for each column: text, ``"6 1/2 in"`` or ``{"value": 6.5, "unit": "in"}``.

    Raises:
        InvalidInput: with every fault below ``table_key``: ``not_an_object``, ``missing_field``,
            ``unknown_field``, ``not_null``, ``not_text``, and those of a quantity.
    """
    if not isinstance(given, Mapping):
        raise InvalidInput([InputFault((MEMBER,), "not_an_object", "a JSON object is expected", given)])
    key: dict[str, str | float] = {}
    faults: list[InputFault] = []
    for column in columns:
        field = KeyText(LONGEST_KEY) if column.kind is None else quantity_field(column.kind)
        path = (MEMBER, column.name)
        if column.name not in given:
            faults.append(InputFault(path, "missing_field", "this field is required", None, field.accepted))
            continue
        try:
            key[column.name] = field.deserialize(given[column.name])
        except ValidationError as error:
            found = found_in(error)
            accepted = found.accepted or field.accepted
            faults.append(InputFault(path, found.code, found.detail, given[column.name], accepted))
    faults += _unknown(columns, given)
    if faults:
        raise InvalidInput(faults)
    return key


def _unknown(columns: Sequence[KeyColumn], given: Mapping[str, Any]) -> Iterator[InputFault]:
    names = [column.name for column in columns]
    for name, value in given.items():
        if name not in names:
            near = get_close_matches(name[:40], names, 3)
            accepted = f"did you mean {' or '.join(near)}?" if near else f"columns: {', '.join(names)}"
            detail = "the table has no such key column"
            yield InputFault((MEMBER, name), "unknown_field", detail, value, accepted)
