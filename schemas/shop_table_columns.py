"""A column of a shop's own table: what its header says, and how its cells are read."""

from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from marshmallow import fields

from schemas.faults import fault
from schemas.fields import Choice, Text
from schemas.quantity import LONGEST
from schemas.quantity_fields import REASONABLE, Quantity
from schemas.shop_table_names import (
    NAME,
    PLAIN,
    REQUIRED,
    TORQUES,
    header_of,
    nearly,
    suggested,
    unit_and_option,
)
from schemas.shop_table_parts import LONGEST_SHOWN, KeyColumn
from schemas.shop_table_saved import SavedDay
from schemas.shop_table_text import KeyText
from schemas.units import UNITS, Unit, UnknownUnit, codes_of, unit_named

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
        raise fault("column_in_doubt", f"is no column known here, but nearly {near}", header_of(near))
    if not NAME.fullmatch(name):
        example = suggested(header)
        accepted = f"for example {example}: {_NAME_ACCEPTED}" if example else _NAME_ACCEPTED
        raise fault("bad_column_name", "no key column can have this name", accepted)
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
    spelling, option = unit_and_option(inside)
    if option not in (None, "linear"):
        raise fault("not_a_choice", "after the unit stands another word than linear", "[unit linear]")
    if spelling == "text":
        raise fault("contradiction", "nothing lies between two texts that could be linear", f"{name} [text]")
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
