"""The fields our schemas are made of. Each says in ``accepted`` what it takes."""

from collections.abc import Sequence
from contextvars import ContextVar
from difflib import get_close_matches
from math import isfinite
from typing import Any

from marshmallow import Schema, fields

from schemas.faults import fault
from schemas.numbers import NotANumber, plain_number
from schemas.output_units import OutputUnits
from schemas.quantity import LONGEST, NotAQuantity, how_to_write, read_quantity
from schemas.quantity import Quantity as ReadQuantity
from schemas.units import UNITS, Unit, UnknownUnit, codes_of, unit_named

output_units: ContextVar[OutputUnits] = ContextVar("output_units")
"""The units in which the answer being written shows its quantities; set around each dump."""

REASONABLE = {
    "torque": ("0.001 N.m", "100000 kN.m"),
    "pressure": ("100 Pa", "10000 bar"),
    "stress": ("1 kPa", "100000 MPa"),
    "force": ("0.001 N", "1000000 kN"),
    "length": ("0.01 mm", "100 m"),
    "area": ("0.001 mm2", "100 m2"),
}
"""Limits of each kind beyond which a value is a slip of the keyboard, whatever field it is in."""


class Quantity(fields.Field[float]):
    """A quantity of one kind; loads to SI, dumps to ``{"value", "unit"}`` in the asked units.

    Args:
        kind: one of `schemas.units.SI_UNITS`.
        limits: lowest and highest accepted, as text with unit; the reasonable ones of the kind by default.
        zero: whether exactly 0 is accepted below the lowest.
    """

    def __init__(
        self, kind: str, *, limits: tuple[str, str] | None = None, zero: bool = False, **options: Any
    ) -> None:
        super().__init__(**options)
        self.kind = kind
        self.limits = limits or REASONABLE[kind]
        self.zero = zero
        self.low, self.high = (read_quantity(limit, kind).si for limit in self.limits)
        self.accepted = f"{how_to_write(kind)}; {self.range_text}"

    @property
    def range_text(self) -> str:
        """The limits in words."""
        either = "0 or " if self.zero else ""
        return f"{either}{self.limits[0]} to {self.limits[1]}"

    def read(self, value: Any) -> ReadQuantity:
        """The quantity given, within the limits."""
        try:
            quantity = read_quantity(value, self.kind)
        except NotAQuantity as error:
            raise fault(error.code, str(error), self.accepted) from None
        if not (self.low <= quantity.si <= self.high or (self.zero and quantity.si == 0)):
            low, high = (f"{quantity.unit.from_si(si):.7g}" for si in (self.low, self.high))
            raise fault(
                "out_of_range",
                f"{quantity.value:.10g} {quantity.unit.code} is not between {low} and {high} "
                f"{quantity.unit.code}",
                self.accepted,
            )
        return quantity

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        return self.read(value).si

    def _serialize(self, value: float | None, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else output_units.get().show(self.kind, value)


class DialQuantity(Quantity):
    """A pressure on a dial: loads with the unit it was typed in, since that is the unit of the dial."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        return self.read(value)


class DialReading(fields.Field[Any]):
    """A reading of a dial in the unit of that dial, which ``units`` never changes."""

    kind = "pressure"

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else {"value": ten_digits(value.value), "unit": value.unit}


class Number(fields.Field[float]):
    """A number without unit, within limits that are themselves accepted unless excluded."""

    def __init__(
        self,
        low: float | None = None,
        high: float | None = None,
        *,
        exclude_low: bool = False,
        exclude_high: bool = False,
        **options: Any,
    ) -> None:
        super().__init__(**options)
        self.low, self.high = low, high
        self.exclude_low, self.exclude_high = exclude_low, exclude_high
        bounds = []
        if low is not None:
            bounds.append(f"{'greater than' if exclude_low else 'at least'} {low:.10g}")
        if high is not None:
            bounds.append(f"{'less than' if exclude_high else 'at most'} {high:.10g}")
        self.accepted = "a number with a decimal point" + "".join(f", {bound}" for bound in bounds)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        if isinstance(value, str):
            raise fault("not_a_number", why_not_a_number(value), self.accepted)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise fault("not_a_number", "not a JSON number", self.accepted)
        try:
            number = float(value)
        except OverflowError:
            number = float("inf")
        if not isfinite(number):
            raise fault("not_finite", "the number is too large to be represented", self.accepted)
        if not self._within(number):
            raise fault("out_of_range", f"{number:.17g} is out of range", self.accepted)
        return number + 0.0

    def _within(self, number: float) -> bool:
        above = self.low is None or number > self.low or (number == self.low and not self.exclude_low)
        below = self.high is None or number < self.high or (number == self.high and not self.exclude_high)
        return above and below

    def _serialize(self, value: float | None, attr: str | None, obj: Any, **kwargs: Any) -> float | None:
        return None if value is None else ten_digits(value)


class Choice(fields.Field[str]):
    """One of a few words."""

    def __init__(self, choices: Sequence[str], **options: Any) -> None:
        super().__init__(**options)
        self.choices = tuple(choices)
        self.accepted = f"one of: {', '.join(self.choices)}"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        if not isinstance(value, str) or value not in self.choices:
            near = get_close_matches(str(value)[:40], self.choices, 1)
            hint = f"; did you mean {near[0]}?" if near else ""
            raise fault("not_a_choice", f"not one of the words known here{hint}", self.accepted)
        return value


class Text(fields.Field[str]):
    """Printable text of limited length."""

    def __init__(self, longest: int = 100, **options: Any) -> None:
        super().__init__(**options)
        self.longest = longest
        self.accepted = f"printable text of 1 to {longest} characters"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        if not isinstance(value, str) or not 0 < len(value) <= self.longest or not value.isprintable():
            raise fault("not_text", "not printable text of that length", self.accepted)
        return value


class Flag(fields.Field[bool]):
    """true or false; in a query or a cell also yes and no."""

    words = {"true": True, "yes": True, "false": False, "no": False}
    accepted = "true or false (in a query also yes or no)"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> bool:
        if not isinstance(value, bool):
            raise fault("not_a_flag", "neither true nor false", self.accepted)
        return value


class UnitName(fields.Field[Unit]):
    """A unit in any spelling; of one kind, or of any."""

    def __init__(self, kind: str | None = None, **options: Any) -> None:
        super().__init__(**options)
        self.kind = kind
        self.accepted = f"a unit: {', '.join(codes_of(kind) if kind else UNITS)}"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Unit:
        if not isinstance(value, str) or len(value) > LONGEST:
            raise fault("unknown_unit", f"a unit is text of at most {LONGEST} characters", self.accepted)
        try:
            unit = unit_named(value.strip())
        except UnknownUnit as error:
            raise fault("unknown_unit", str(error), self.accepted) from None
        if self.kind is not None and self.kind not in unit.kinds:
            raise fault("wrong_kind", f"{value!r} is a unit of {unit.kinds[0]}", self.accepted)
        return unit


class Words(fields.Field[Any]):
    """Text of our own, written only."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return value


def ten_digits(value: float) -> float:
    """A number rounded to 10 significant digits, as all answers are; never ``-0.0``."""
    return float(f"{value:.10g}") + 0.0


def why_not_a_number(text: str) -> str:
    """The reason why ``text`` is not taken for a number."""
    try:
        plain_number(text)
    except NotANumber as error:
        return str(error)
    return "a JSON number is expected, not text"


def from_text(schema: Schema, raw: dict[str, str]) -> dict[str, Any]:
    """Text of a query or a CSV row as the JSON values it stands for; what cannot be is left as it is."""
    values: dict[str, Any] = dict(raw)
    for name, text in raw.items():
        field = schema.fields.get(name)
        if isinstance(field, Number):
            try:
                values[name] = plain_number(text)
            except NotANumber:
                continue
        elif isinstance(field, Flag):
            values[name] = Flag.words.get(text, text)
    return values
