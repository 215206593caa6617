"""A quantity on the wire: read from text or from an object, written with its unit."""

from collections.abc import Mapping
from math import isfinite
from typing import Any, NamedTuple

from schemas.numbers import NotANumber, split_number
from schemas.units import Unit, UnknownUnit, codes_of, unit_named

LONGEST = 64
"""Characters of a quantity as text; more is refused."""


class Quantity(NamedTuple):
    """A value in a unit, as given, and the same in SI."""

    value: float
    unit: Unit
    si: float


class NotAQuantity(ValueError):
    """What was given is not read as a quantity of the kind wanted; ``code`` is stable."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        super().__init__(message)


def how_to_write(kind: str) -> str:
    """What would be accepted for a quantity of a kind, in one sentence."""
    codes = codes_of(kind)
    return f'a number and a unit, as in "1 {codes[0]}"; units of {kind}: {", ".join(codes)}'


def read_quantity(given: Any, kind: str | None) -> Quantity:
    """Read ``"6 1/2 in"`` or ``{"value": 6.5, "unit": "in"}``.

    Args:
        given: the value as it came.
        kind: the kind wanted; None takes any.

    Raises:
        NotAQuantity: ``bare_number``, ``not_a_quantity``, ``unknown_unit``, ``wrong_kind``,
            ``out_of_range`` (a temperature below absolute zero), and those of `NotANumber`.

    >>> read_quantity("6-1/2 in", "length").si
    0.1651
    """
    if isinstance(given, Mapping):
        value, spelling = _from_object(given)
    elif isinstance(given, str):
        value, spelling = _from_text(given)
    elif isinstance(given, (int, float)) and not isinstance(given, bool):
        raise NotAQuantity("bare_number", "a bare number has no unit")
    else:
        raise NotAQuantity("not_a_quantity", 'neither text such as "6 1/2 in" nor an object with a unit')
    if not spelling:
        raise NotAQuantity("bare_number", "a bare number has no unit")
    try:
        unit = unit_named(spelling)
    except UnknownUnit as error:
        raise NotAQuantity("unknown_unit", str(error)) from None
    if kind is not None and kind not in unit.kinds:
        raise NotAQuantity("wrong_kind", f"{spelling!r} is a unit of {unit.kinds[0]}, not of {kind}")
    si = unit.to_si(value)
    if not isfinite(si):
        raise NotAQuantity("not_finite", "the value is too large to be represented")
    if unit.kinds == ("temperature",) and si < 0:
        raise NotAQuantity("out_of_range", "no temperature lies below absolute zero")
    return Quantity(value, unit, si)


def _from_text(text: str) -> tuple[float, str]:
    if len(text) > LONGEST:
        raise NotAQuantity("not_a_quantity", f"longer than {LONGEST} characters")
    try:
        value, spelling = split_number(text)
    except NotANumber as error:
        raise NotAQuantity(error.code, str(error)) from None
    if spelling[:1].isdigit() or spelling[:1] in ("_", ".", ",", "-", "/"):
        raise NotAQuantity("not_a_number", f"{text!r} is not read as one number and its unit")
    return value, spelling


def _from_object(given: Mapping[str, Any]) -> tuple[float, str]:
    if set(given) != {"value", "unit"}:
        raise NotAQuantity("not_a_quantity", 'an object must have exactly "value" and "unit"')
    value, spelling = given["value"], given["unit"]
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise NotAQuantity("not_a_number", '"value" must be a JSON number')
    if not isinstance(spelling, str) or len(spelling) > LONGEST:
        raise NotAQuantity("unknown_unit", f'"unit" must be text of at most {LONGEST} characters')
    try:
        number = float(value)
    except OverflowError:
        number = float("inf")
    if not isfinite(number):
        raise NotAQuantity("not_finite", '"value" must be finite')
    return number, spelling.strip()
