"""Nominal sizes of pipe and rods: ``9-5/8``, ``9 5/8 in``, ``9⅝"`` and ``9.625`` are one size."""

from functools import lru_cache
from math import floor

from api.engineering.checks import NoAnswer, refuse
from schemas.core.quantity import NotANumber, split_number
from schemas.core.units import UnknownUnit, unit_named

SMALLEST, LARGEST = 0.1, 30.0
"""Sizes in inches beyond which it is a slip, ``9 625``, or a size in mm, ``60.3`` (own judgement)."""

HALF_LAST_DIGIT = 0.0005
"""Sizes are printed to 0.001 in, so that 2.063 is 2-1/16."""

HOW_TO_WRITE = "a size in inches, such as 9-5/8, 9 5/8 in or 9.625"


@lru_cache(maxsize=1024)
def size_key(written: str, field: str = "size") -> str:
    """The usual way of writing a nominal size: the same text for all ways of writing it.

    A multiple of 1/16 in becomes a mixed number, any other size a decimal of three digits.

    Args:
        written: the size as given; inches, with or without saying so.
        field: the request field to be named in a refusal.

    Raises:
        NoAnswer: ``unclear_size`` for what is no size, is in another unit, or may be two sizes: ``95/8``.

    >>> [size_key(each) for each in ("9-5/8", '9 5/8"', "9⅝ in", "9.625", "7.000", "2.063", "1.66")]
    ['9-5/8', '9-5/8', '9-5/8', '9-5/8', '7', '2-1/16', '1.660']
    """
    try:
        inches, unit = split_number(written)
    except NotANumber as error:
        raise _unclear(str(error), field) from None
    if unit:
        _check_inches(unit, field)
    if not SMALLEST <= inches <= LARGEST:
        raise _unclear(f"{inches:.10g} is no size in inches", field)
    return _usual(inches)


def _check_inches(unit: str, field: str) -> None:
    try:
        code = unit_named(unit).code
    except UnknownUnit as error:
        raise _unclear(str(error), field) from None
    if code != "in":
        raise _unclear(f"a nominal size is a name in inches and is not converted from {code}", field)


def _usual(inches: float) -> str:
    sixteenths = floor(16 * inches + 0.5)
    if abs(inches - sixteenths / 16) > HALF_LAST_DIGIT * 1.000001:
        return f"{inches:.3f}"
    whole, over = divmod(sixteenths, 16)
    if not over:
        return str(whole)
    under = 16
    while over % 2 == 0:
        over, under = over // 2, under // 2
    return f"{whole}-{over}/{under}" if whole else f"{over}/{under}"


def _unclear(why: str, field: str) -> NoAnswer:
    return refuse("unclear_size", f"the size cannot be read: {why}", field, HOW_TO_WRITE)
