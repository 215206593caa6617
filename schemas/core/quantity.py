"""A number and a quantity, read from text or an object, or refused with what would be accepted.

`27/8 in` is refused: it may be 2 7/8 that lost its space, and both are bores. So is `41/2 IF`.

`10,000 psi` is refused, although most would read it rightly: `2,500 bar` is a thousandth of it in half the
world.
"""

import re
import unicodedata
from collections.abc import Mapping
from math import isfinite
from typing import Any, NamedTuple

from schemas.core.units import Unit, UnknownUnit, codes_of, unit_named

_DIGITS = r"[0-9]{1,17}"
_SPACE = "[ \u00a0\u2009\u202f]"
_HYPHEN = "[-\u2010\u2011\u2013]"
_VULGAR = "[¼½¾⅛⅜⅝⅞]"
_OVER, _UNDER = "(?P<over>[1-9][0-9]{0,2})", "(?P<under>[0-9]{1,3})"

_MIXED = re.compile(
    rf"(?P<whole>{_DIGITS})(?:{_SPACE}+|{_SPACE}*{_HYPHEN}{_SPACE}*){_OVER}[/⁄]{_UNDER}(?![0-9])"
)
_FRACTION = re.compile(rf"{_OVER}[/⁄]{_UNDER}(?![0-9])")
_MIXED_VULGAR = re.compile(rf"(?P<whole>{_DIGITS}){_SPACE}*(?:{_HYPHEN}{_SPACE}*)?(?P<vulgar>{_VULGAR})")
_LONE_VULGAR = re.compile(rf"(?P<vulgar>{_VULGAR})")
_SPACED = re.compile(rf"[1-9][0-9]{{0,2}}(?:{_SPACE}[0-9]{{3}})+(?:\.[0-9]{{1,17}})?(?![0-9.,/⁄])")
_COMMAS = re.compile(
    r"[1-9][0-9]{0,2}(?:(?:,[0-9]{3}){2,6}(?:\.[0-9]{1,17})?|(?:,[0-9]{3})+\.[0-9]{1,17})(?![0-9.,/⁄])"
)
_DECIMAL = re.compile(
    r"(?:[0-9]{1,40}(?:\.[0-9]{0,40})?|\.[0-9]{1,40})(?:[eE][+-]?[0-9]{1,4})?(?![0-9.,/⁄_])"
)
_COMMA_NUMBER = re.compile(r"[0-9.]*[0-9],[0-9]")


DENOMINATORS = (2, 4, 8, 16, 32, 64, 128)
"""Denominators of the fractions of an inch that are in use."""


class NotANumber(ValueError):
    """Text that is not read as a number; ``code`` says which way it fails, the message what to write."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        super().__init__(message)


def split_number(text: str) -> tuple[float, str]:
    """The number that ``text`` begins with, and the rest of it, stripped.

    Understood: ``6.5``, ``6 1/2``, ``6-1/2``, ``6½``, ``1.5e4``, ``10 000``, ``1,234,567``, ``10,000.5``.
    Not understood, since a lost space would make another size of it: ``27/8``.

    Raises:
        NotANumber: ``decimal_comma`` where a comma may be a decimal sign, ``not_finite``,
            ``not_a_number``.

    >>> split_number("2-13/16 in")
    (2.8125, 'in')
    >>> split_number("10 000 psi")
    (10000.0, 'psi')
    >>> split_number("10,000 psi")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    ...
    schemas.core.quantity.NotANumber: a comma could be a decimal sign or part thousands: ...
    """
    text = text.strip()
    sign = -1.0 if text.startswith("-") else 1.0
    body = text[1:].lstrip() if text[:1] in ("-", "+") else text
    number, end = _leading_number(body)
    if not isfinite(number):
        raise NotANumber("not_finite", "the number is too large to be represented")
    return sign * number + 0.0, body[end:].strip()


def _leading_number(body: str) -> tuple[float, int]:
    for pattern in (_MIXED, _FRACTION, _MIXED_VULGAR, _LONE_VULGAR):
        if match := pattern.match(body):
            return _from_fraction(match.groupdict()), match.end()
    for pattern in (_SPACED, _COMMAS, _DECIMAL):
        if match := pattern.match(body):
            return float(re.sub(rf"{_SPACE}|,", "", match.group())), match.end()
    if _COMMA_NUMBER.match(body):
        raise NotANumber(
            "decimal_comma",
            "a comma could be a decimal sign or part thousands: write the decimal point, as in 2.5, "
            "and thousands as 10000 or 10 000",
        )
    raise NotANumber(
        "not_a_number",
        "it does not begin with a number in the digits 0 to 9: write for example 6.5, 6 1/2 or 6-1/2",
    )


def _from_fraction(parts: dict[str, str]) -> float:
    whole = float(parts.get("whole", 0))
    if "vulgar" in parts:
        return whole + unicodedata.numeric(parts["vulgar"])
    over, under = int(parts["over"]), int(parts["under"])
    if under not in DENOMINATORS:
        raise NotANumber("not_a_number", "a fraction here is of halves, quarters and so on to 128ths")
    if not over < under:
        # 27/8 may be 2 7/8 that lost its space: a slip that makes another size of it.
        raise NotANumber(
            "not_a_number",
            f"{over}/{under} could be {over / under:g} or a mixed number that lost its space; write it as a "
            "decimal or with a space, as in 2 7/8",
        )
    return whole + over / under


def plain_number(text: str) -> float:
    """The number that is all of ``text``, as in a query or a CSV cell.

    Raises:
        NotANumber: as `split_number`, or if anything follows the number.
    """
    number, rest = split_number(text)
    if rest:
        raise NotANumber("not_a_number", "a number without a unit is expected here")
    return number


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
        raise NotAQuantity("bare_number", "a number alone has no unit")
    else:
        raise NotAQuantity("not_a_quantity", 'neither text such as "6 1/2 in" nor an object with a unit')
    if not spelling:
        raise NotAQuantity("bare_number", "a number alone has no unit")
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
        raise NotAQuantity("not_a_number", f"{text!r} is not one number and its unit")
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
