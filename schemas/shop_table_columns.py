"""The header of a shop's own table: which columns hold values and which are keys."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from marshmallow import ValidationError, fields

from schemas.faults import fault
from schemas.fields import Choice, Day, Text
from schemas.quantity import LONGEST
from schemas.quantity_fields import REASONABLE, Quantity
from schemas.shop_table_names import PLAIN, REQUIRED, RESERVED, TORQUES, nearly
from schemas.shop_table_parts import LONGEST_SHOWN, Faults, KeyColumn
from schemas.shop_table_text import BLANKS, KeyText, found_in
from schemas.units import UNITS, Unit, UnknownUnit, codes_of, unit_named

STATED = "stated"
"""The status of a row that gives none: the shop's own word."""
STATUSES = ("read", "reprint", "fitted", "from memory", STATED)
LONGEST_KEY = 100
LIMITS = REASONABLE | {
    "volume": ("0.001 cm3", "1000 m3"),
    "flow": ("0.001 L/min", "100000 L/min"),
    "kinematic_viscosity": ("0.001 cSt", "10000000 cSt"),
    "dynamic_viscosity": ("0.001 cP", "10000000 cP"),
}
"""Limits of every kind a key can have: the reasonable ones, and wide ones for the kinds no field has."""

_BRACKETS = re.compile(r"(?P<name>[^\[\]]*)\[(?P<inside>[^\[\]]*)\]")
_NAME = re.compile("[a-z][a-z0-9_]{0,39}")
_NAME_ACCEPTED = (
    "a small letter, then up to 39 of a-z, 0-9 and underscore, then [unit] or [unit, linear] for a quantity"
)
_KEY_UNITS = "text, or one of: " + ", ".join(
    code for code, unit in UNITS.items() if "temperature" not in unit.kinds
)
_PLAIN_FIELDS: dict[str, fields.Field[Any]] = {
    "source": Text(200),
    "revision": Text(40),
    "status": Choice(STATUSES),
    "effective_from": Day(),
    "effective_to": Day(),
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
    def accepted(self) -> str | None:
        """What a cell may hold."""
        if isinstance(self.field, Quantity) and self.unit:
            return f"a number without its unit, {self.unit.code}; {self.field.range_text}"
        return getattr(self.field, "accepted", None)


@cache
def quantity_field(kind: str) -> Quantity:
    """What reads a quantity of a kind, in a cell or in a request."""
    return Quantity(kind, limits=LIMITS[kind])


def read_header(cells: Sequence[str], faults: Faults) -> list[Column]:
    """The columns, in their order; what is wrong with them is added to ``faults``.

    Faults: ``malformed_table``, ``duplicate_column``, ``column_in_doubt``, ``bad_column_name``,
    ``unit_required``, ``unknown_unit``, ``wrong_kind``, ``unit_not_applicable``, ``not_a_choice``,
    ``contradiction``, ``too_many_linear``, ``no_key_column``, ``missing_field``.
    """
    columns: list[Column] = []
    for place, cell in enumerate(cells, 1):
        header = cell.strip(BLANKS)
        match = _BRACKETS.fullmatch(header)
        name = match["name"].strip(BLANKS) if match else header
        inside = match["inside"].strip(BLANKS) if match else None
        if not name:
            faults.add(1, None, "malformed_table", f"column {place} has no name", header or None)
        try:
            column = _column(name, inside) if name else Column(name)
        except ValidationError as error:
            found = found_in(error)
            faults.add(1, name, found.code, found.detail, header, found.accepted)
            column = Column(name)
        twice = any(other.name == name for other in columns)
        columns.append(Column(name) if twice else column)
    _check_together(columns, faults)
    return columns


def _column(name: str, inside: str | None) -> Column:
    if name in TORQUES:
        return _torque_column(name, inside)
    if name in PLAIN:
        if inside is not None:
            raise fault("unit_not_applicable", "this column has no unit", name)
        return Column(name, _PLAIN_FIELDS[name])
    near = nearly(name[:LONGEST_SHOWN])
    if near:
        raise fault("column_in_doubt", f"is no column known here, but nearly {near}", _header_of(near))
    if not _NAME.fullmatch(name):
        raise fault("bad_column_name", "no key column can have this name", _NAME_ACCEPTED)
    key = _key_column(name, inside)
    return Column(name, KeyText(LONGEST_KEY) if key.kind is None else quantity_field(key.kind), key.unit, key)


def _torque_column(name: str, inside: str | None) -> Column:
    accepted = f"{name} [unit], one of: {', '.join(codes_of('torque'))}"
    if not inside:
        raise fault("unit_required", "the header must give the unit of the torques below it", accepted)
    unit = _unit(inside, accepted)
    if "torque" not in unit.kinds:
        raise fault("wrong_kind", f"{inside!r} is a unit of {unit.kinds[0]}, not of torque", accepted)
    return Column(name, quantity_field("torque"), unit)


def _key_column(name: str, inside: str | None) -> KeyColumn:
    if inside is None or inside == "text":
        return KeyColumn(name, None, None, False)
    spelling, comma, option = (part.strip(BLANKS) for part in inside.partition(","))
    if comma and option != "linear":
        raise fault("not_a_choice", "after the unit stands another word than linear", "[unit, linear]")
    if spelling == "text":
        raise fault("contradiction", "nothing lies between two texts that could be linear", f"{name} [text]")
    unit = _unit(spelling, _KEY_UNITS)
    kind = unit.kinds[-1]
    if kind == "temperature":
        raise fault("wrong_kind", "a temperature cannot be a key", _KEY_UNITS)
    return KeyColumn(name, unit, kind, bool(comma))


def _unit(spelling: str, accepted: str) -> Unit:
    if len(spelling) > LONGEST:
        raise fault("unknown_unit", f"a unit has at most {LONGEST} characters", accepted)
    try:
        return unit_named(spelling)
    except UnknownUnit as error:
        raise fault("unknown_unit", str(error), accepted) from None


def _header_of(reserved: str) -> str:
    return f"{reserved} [unit]" if reserved in TORQUES else reserved


def _check_together(columns: Sequence[Column], faults: Faults) -> None:
    """What is wrong with the columns as a whole; a column in doubt is not also told to be missing."""
    names = Counter(column.name for column in columns if column.name)
    meant = {name: name if name in RESERVED else nearly(name[:LONGEST_SHOWN]) for name in names}
    for name, count in names.items():
        if count > 1:
            faults.add(1, name, "duplicate_column", "the column stands twice", name)
    for name in REQUIRED:
        if name not in meant.values():
            faults.add(1, name, "missing_field", "this column is required", None, _header_of(name))
    linear = [column.name for column in columns if column.key and column.key.linear]
    for name in linear[1:]:
        detail = f"{linear[0]} is linear already; only one column can be"
        faults.add(1, name, "too_many_linear", detail, name, f"{name} without linear")
    if None not in meant.values():
        accepted = "a column such as model, or box_outside_diameter [in]"
        faults.add(1, None, "no_key_column", "nothing tells one row from another", None, accepted)
