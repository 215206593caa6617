"""A number and a quantity, read from text or an object, or refused with what would be accepted.

`27/8 in` is refused: it may be 2 7/8 that lost its space, and both are bores. So is `41/2 IF`.

`10,000 psi` is refused, although most would read it rightly: `2,500 bar` is a thousandth of it in half the
world. A shop may say what its commas mean, and every use of that rule is noted. Where a comma is the decimal
sign, `10.000` is refused: a point may part thousands there.
"""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from math import inf, isfinite
from typing import Any, Literal, NamedTuple, get_args

from schemas.core.units import Unit, UnknownUnit, codes_of, unit_named

NumberRule = Literal["strict", "comma_thousands", "comma_decimal"]
"""*strict*: a comma that could be a decimal sign or part thousands is refused; *comma_thousands*: it parts
thousands; *comma_decimal*: it is the decimal sign."""
NUMBER_RULES: tuple[NumberRule, ...] = get_args(NumberRule)

_rule: ContextVar[NumberRule] = ContextVar("number_rule", default="strict")
_noted: ContextVar[dict[str, None] | None] = ContextVar("noted_commas", default=None)


def number_rule() -> NumberRule:
    """The rule for text of a user that is being read; text of our own is always read strictly."""
    return _rule.get()


@contextmanager
def numbers_read(rule: NumberRule) -> Iterator[dict[str, None]]:
    """Text that is read inside follows this rule; yields what is noted, each reading once, in order."""
    noted: dict[str, None] = {}
    rule_before, noted_before = _rule.set(rule), _noted.set(noted)
    try:
        yield noted
    finally:
        _rule.reset(rule_before)
        _noted.reset(noted_before)


def note_comma(text: str, value: float, unit: str = "") -> None:
    """Note how text with a comma was read: ``10,000 psi read as 10000 psi``."""
    noted = _noted.get()
    if noted is not None and "," in text and number_rule() != "strict":
        noted[f"{text.strip()} read as {value:.10g} {unit}".rstrip()] = None


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
_END = r"(?![0-9.,/⁄_])"
_THOUSANDS = re.compile(rf"[1-9][0-9]{{0,2}}(?:,[0-9]{{3}}){{1,6}}(?:\.[0-9]{{1,17}})?{_END}")
_DECIMAL_COMMA = re.compile(
    rf"(?:[1-9][0-9]{{0,2}}(?:(?:\.[0-9]{{3}}){{1,6}}|(?:{_SPACE}[0-9]{{3}}){{1,6}})|[0-9]{{1,40}})"
    rf",[0-9]{{1,40}}(?:[eE][+-]?[0-9]{{1,4}})?{_END}"
)
_POINT_IN_DOUBT = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}(?![0-9.,eE])")

_BY_RULE = {
    "strict": (_SPACED, _COMMAS, _DECIMAL),
    "comma_thousands": (_SPACED, _THOUSANDS, _DECIMAL),
    "comma_decimal": (_DECIMAL_COMMA, _SPACED, _DECIMAL),
}
_COMMA_ADVICE = {
    "strict": "a comma could be a decimal sign or part thousands. Write the decimal point, as in 2.5, "
    "and thousands as 10000 or 10 000",
    "comma_thousands": "in this shop a comma parts thousands, as in 10,000. Write a decimal sign as a point",
    "comma_decimal": "in this shop a comma is the decimal sign, as in 2,5. Write thousands as 10000",
}
_POINT_ADVICE = (
    "in this shop a comma is the decimal sign, so this point could part thousands. Write 10000 or 10 000, "
    "or another number of decimals, as in 10.00"
)


DENOMINATORS = (2, 4, 8, 16, 32, 64, 128)
"""Denominators of the fractions of an inch that are in use."""


class NotANumber(ValueError):
    """Text that is not read as a number; ``code`` says which way it fails, the message what to write."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        super().__init__(message)


def split_number(text: str, rule: NumberRule = "strict") -> tuple[float, str]:
    """The number that ``text`` begins with, and the rest of it, stripped; a comma is read by ``rule``.

    Understood: ``6.5``, ``6 1/2``, ``6-1/2``, ``6½``, ``1.5e4``, ``10 000``, ``1,234,567``, ``10,000.5``.
    Not understood, since a lost space would make another size of it: ``27/8``.

    Raises:
        NotANumber: ``decimal_comma`` where a comma may be a decimal sign, ``point_in_doubt`` where a point
            may part thousands, ``not_finite``, ``not_a_number``.

    >>> split_number("2-13/16 in")
    (2.8125, 'in')
    >>> split_number("10 000 psi")
    (10000.0, 'psi')
    >>> split_number("10,000 psi", "comma_thousands"), split_number("2,5 bar", "comma_decimal")
    ((10000.0, 'psi'), (2.5, 'bar'))
    >>> split_number("10,000 psi")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    ...
    schemas.core.quantity.NotANumber: a comma could be a decimal sign or part thousands. ...
    """
    text = text.strip()
    sign = -1.0 if text.startswith("-") else 1.0
    body = text[1:].lstrip() if text[:1] in ("-", "+") else text
    number, end = _leading_number(body, rule)
    if not isfinite(number):
        raise NotANumber("not_finite", "the number is too large to be represented")
    return sign * number + 0.0, body[end:].strip()


def _leading_number(body: str, rule: NumberRule) -> tuple[float, int]:
    for pattern in (_MIXED, _FRACTION, _MIXED_VULGAR, _LONE_VULGAR):
        if match := pattern.match(body):
            return _from_fraction(match.groupdict()), match.end()
    if rule == "comma_decimal" and _POINT_IN_DOUBT.match(body):
        raise NotANumber("point_in_doubt", _POINT_ADVICE)
    for pattern in _BY_RULE[rule]:
        if match := pattern.match(body):
            return _from_digits(match.group(), pattern is _DECIMAL_COMMA), match.end()
    if _COMMA_NUMBER.match(body):
        raise NotANumber("decimal_comma", _COMMA_ADVICE[rule])
    raise NotANumber(
        "not_a_number",
        "it does not begin with a number in the digits 0 to 9: write for example 6.5, 6 1/2 or 6-1/2",
    )


def _from_digits(written: str, comma_is_decimal: bool) -> float:
    if comma_is_decimal:
        return float(re.sub(rf"{_SPACE}|\.", "", written).replace(",", "."))
    return float(re.sub(rf"{_SPACE}|,", "", written))


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


def plain_number(text: str, rule: NumberRule = "strict") -> float:
    """The number that is all of ``text``, as in a query or a CSV cell; a comma is read by ``rule``.

    Raises:
        NotANumber: as `split_number`, or if anything follows the number.
    """
    number, rest = split_number(text, rule)
    if rest:
        raise NotANumber("not_a_number", "a number without a unit is expected here")
    return number


BLANKS = " \t\u00a0"
"""What may stand around text and is no part of it, in JSON, in a query and in a cell of a table."""


def bare(value: Any) -> Any:
    """Text without the blanks around it; anything else as it is."""
    return value.strip(BLANKS) if isinstance(value, str) else value


LONGEST = 64
"""Characters of a number or a quantity as text; more is refused."""


def read_number(given: Any, rule: NumberRule = "strict") -> float:
    """Read ``6.5``, or its text, such as ``"6.5"`` or ``"6 1/2"``; a comma in text is read by ``rule``.

    Raises:
        NotANumber: as `plain_number`, for what is neither, and for a number that is too large.
    """
    if isinstance(given, str):
        if len(given) > LONGEST:
            raise NotANumber("not_a_number", f"longer than {LONGEST} characters")
        return plain_number(given, rule)
    if isinstance(given, bool) or not isinstance(given, (int, float)):
        raise NotANumber("not_a_number", "neither a number nor its text")
    try:
        number = float(given)
    except OverflowError:
        number = inf
    if not isfinite(number):
        raise NotANumber("not_finite", "the number is too large to be represented")
    return number + 0.0


def given_number(given: Any) -> float:
    """What a user gave as `read_number` reads it by the rule of the shop; a comma is noted.

    Raises:
        NotANumber: as `read_number`.
    """
    number = read_number(given, number_rule())
    if isinstance(given, str):
        note_comma(given, number)
    return number


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


def read_quantity(given: Any, kind: str | None, rule: NumberRule = "strict") -> Quantity:
    """Read ``"6 1/2 in"`` or ``{"value": 6.5, "unit": "in"}``, where the value may be text too.

    Args:
        given: the value as it came.
        kind: the kind wanted; None takes any.
        rule: how a comma in text is read.

    Raises:
        NotAQuantity: ``bare_number``, ``not_a_quantity``, ``unknown_unit``, ``wrong_kind``,
            ``out_of_range`` (a temperature below absolute zero), and those of `NotANumber`.

    >>> read_quantity("6-1/2 in", "length").si
    0.1651
    """
    if isinstance(given, Mapping):
        value, spelling = _from_object(given, rule)
    elif isinstance(given, str):
        value, spelling = _from_text(given, rule)
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


def given_quantity(given: Any, kind: str | None) -> Quantity:
    """What a user gave as `read_quantity` reads it by the rule of the shop; a comma is noted.

    Raises:
        NotAQuantity: as `read_quantity`.
    """
    quantity = read_quantity(given, kind, number_rule())
    text = given["value"] if isinstance(given, Mapping) else given
    if isinstance(text, str):
        note_comma(text, quantity.value, quantity.unit.code)
    return quantity


def _from_text(text: str, rule: NumberRule) -> tuple[float, str]:
    if len(text) > LONGEST:
        raise NotAQuantity("not_a_quantity", f"longer than {LONGEST} characters")
    try:
        value, spelling = split_number(text, rule)
    except NotANumber as error:
        raise NotAQuantity(error.code, str(error)) from None
    if spelling[:1].isdigit() or spelling[:1] in ("_", ".", ",", "-", "/"):
        raise NotAQuantity("not_a_number", f"{text!r} is not one number and its unit")
    return value, spelling


def _from_object(given: Mapping[str, Any], rule: NumberRule) -> tuple[float, str]:
    if set(given) != {"value", "unit"}:
        raise NotAQuantity("not_a_quantity", 'an object must have exactly "value" and "unit"')
    try:
        value, spelling = read_number(given["value"], rule), given["unit"]
    except NotANumber as error:
        raise NotAQuantity(error.code, f'"value": {error}') from None
    if not isinstance(spelling, str) or len(spelling) > LONGEST:
        raise NotAQuantity("unknown_unit", f'"unit" must be text of at most {LONGEST} characters')
    return value, spelling.strip()
