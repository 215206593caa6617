"""Figures as a chart prints them: few enough digits to be read from the machine, and never a better bound."""

from collections.abc import Iterable, Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from math import floor, log10

from api.http.single import number_as_text

NEAREST, DOWN, UP = ROUND_HALF_EVEN, ROUND_FLOOR, ROUND_CEILING
SIGNIFICANT = 4
"""Digits of the largest figure of a column; whole numbers keep all of theirs."""
GAP = "\u202f"
"""Between groups of three digits: a narrow space, since a comma or a point could be a decimal sign."""

US_UNITS = frozenset({"psi", "ksi", "psf", "lbf", "kip", "short ton-force"})
TRADE = {"lbf.ft": "ft-lb", "kN.m": "kN·m"}
"""Units as a shop writes them; all others are written as their code."""


def system_of(dial_unit: str) -> tuple[str, str]:
    """The system of units that a dial belongs to, and the other one."""
    return ("us", "metric") if dial_unit in US_UNITS else ("metric", "us")


def unit_text(unit: str) -> str:
    """A unit as a shop writes it."""
    return TRADE.get(unit, unit)


def decimals_of(values: Iterable[float]) -> int:
    """Decimals of a column, so that its largest figure has `SIGNIFICANT` digits."""
    largest = max(map(abs, values), default=0.0)
    return max(0, SIGNIFICANT - 1 - floor(log10(largest))) if largest else 0


def figure(value: float, decimals: int, rounding: str = NEAREST) -> str:
    """A figure of a column.

    >>> figure(28045.96, 0, DOWN), figure(40.97355, 2), figure(62779.02, 0, UP)
    ('28\\u202f045', '40.97', '62\\u202f780')
    """
    rounded = Decimal(repr(value)).quantize(Decimal(1).scaleb(-decimals), rounding)
    return f"{rounded:,}".replace(",", GAP)


def dial(value: float) -> str:
    """A mark as it is printed on a dial, or another reading with as many digits as matter.

    >>> dial(2400.0), dial(0.25), dial(172.368932), dial(12500.0)
    ('2400', '0.25', '172.4', '12500')
    """
    exact = number_as_text(float(f"{value:.10g}"))
    digits = len(exact.replace(".", "").strip("0"))
    return exact if digits <= SIGNIFICANT else f"{value:.{decimals_of([value])}f}"


def torque(value: float) -> str:
    """A torque that stands alone."""
    return figure(value, decimals_of([value]))


def ticks(top: float, most: int) -> list[float]:
    """Multiples of a round step from 0 to ``top``, about ``most`` of them at most, and at least one.

    >>> ticks(1450.0, 8)
    [0.0, 200.0, 400.0, 600.0, 800.0, 1000.0, 1200.0, 1400.0]
    """
    step = next(each for each in _round_steps(floor(log10(top)) - 3) if top / each <= max(3, most))
    return [float(f"{step * number:.12g}") for number in range(int(top / step * (1 + 1e-9)) + 1)]


def _round_steps(exponent: int) -> Iterator[float]:
    for power in range(exponent, exponent + 6):
        yield from (float(f"{digit}e{power}") for digit in (1, 2, 5))
