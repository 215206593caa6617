"""Numbers as people type them: read one way or refused, never guessed."""

import re
import unicodedata
from math import isfinite

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
    schemas.numbers.NotANumber: a comma could be a decimal sign or part thousands: ...
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
