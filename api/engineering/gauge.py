"""Pressure gauges with a dial: marks, the mark to set, and the working range."""

from collections.abc import Callable
from dataclasses import dataclass
from math import floor

from api.engineering.faults import Amount, Fault, NoAnswer, refuse
from api.engineering.noise import NOISE


@dataclass(frozen=True)
class Reading:
    """A value on a dial, in the unit of that dial."""

    value: float
    unit: str

    def __str__(self) -> str:
        return f"{self.value:.12g} {self.unit}"


@dataclass(frozen=True)
class Gauge:
    """A dial with equally spaced marks.

    Attributes:
        serial: what is engraved on it.
        unit: the unit printed on its dial, as a code; its marks mean nothing in another.
        span: last mark, in that unit.
        division: from mark to mark, in that unit.
        pascals: one such unit in Pa.
        accuracy_percent_of_span: its largest error, in percent of span (ASME B40.100, EN 837-1).
        connected_at: ``work_port`` (at the driven side of the cylinder) or ``pump``.
    """

    serial: str
    unit: str
    span: float
    division: float
    pascals: float
    accuracy_percent_of_span: float
    connected_at: str

    @property
    def accuracy(self) -> float:
        """Largest error of the dial anywhere on it, Pa: a share of the span, not of the reading.

        EN 837-1 works it out for class 1.6 and 0 to 10 bar: 0.16 bar.

        >>> round(Gauge("G", "bar", 10, 0.2, 1.0, 1.6, "work_port").accuracy, 9)
        0.16
        """
        return self.accuracy_percent_of_span / 100 * self.span * self.pascals

    @property
    def last(self) -> int:
        """Number of the last mark; the first, at zero, is number 0."""
        return round(self.span / self.division)

    def reading(self, number: int) -> Reading:
        """What is printed at mark ``number``."""
        return Reading(float(f"{number * self.division:.12g}"), self.unit)

    def pressure(self, number: int) -> float:
        """Pressure at mark ``number``, Pa."""
        return self.reading(number).value * self.pascals


@dataclass(frozen=True)
class Mark:
    """A mark of a dial, its pressure (Pa) and the torque of the machine there (N.m)."""

    reading: Reading
    pressure: float
    torque: float


def working_range(gauge: Gauge) -> tuple[float, float]:
    """A quarter to three quarters of the span, Pa: where a dial should work (trade notes, B40.100 users).

    >>> low, high = working_range(Gauge("G", "psi", 3000, 50, 1.0, 1.0, "work_port"))
    >>> low, high
    (750.0, 2250.0)
    """
    span = gauge.span * gauge.pascals
    return 0.25 * span, 0.75 * span


def marks_around(
    gauge: Gauge, pressure: float, torque_from_reading: Callable[[float], float]
) -> tuple[Mark | None, Mark | None]:
    """The marks at or below, and next above, a pressure (Pa); None beyond the ends of the dial."""

    def mark(number: int) -> Mark | None:
        if not 0 <= number <= gauge.last:
            return None
        at = gauge.pressure(number)
        # Below breakaway the machine does not move: the torque is none, not less than none.
        return Mark(gauge.reading(number), at, max(0.0, torque_from_reading(at)))

    below = floor(pressure / (gauge.division * gauge.pascals) * (1 + NOISE))
    return mark(below), mark(below + 1)


def marks_in_window(
    gauge: Gauge,
    pressure: float,
    target: float,
    minimum: float | None,
    maximum: float | None,
    torque_from_reading: Callable[[float], float],
) -> list[Mark]:
    """The marks around a target whose torque lies within [minimum, maximum], the nearest first.

    Torque rises with pressure, so the mark nearest the target is one of the two around its pressure. At
    equal distance the lower one comes first.

    Args:
        gauge: the dial.
        pressure: exact pressure of the target, Pa, > 0.
        target: target torque, N.m.
        minimum, maximum: ends of the window, N.m; None where there is none.
        torque_from_reading: the machine, N.m from Pa, rising.

    Raises:
        NoAnswer: ``no_mark_in_window`` with both neighbours and their torques, or ``above_gauge`` where
            the exact pressure lies beyond the dial.

    A joint that must not fall below its target takes the next mark up:

    >>> dial = Gauge("G", "psi", 3000, 50, 1.0, 1.0, "work_port")
    >>> [mark.reading.value for mark in marks_in_window(dial, 1510.0, 1510.0, 1510.0, 1661.0, lambda p: p)]
    [1550.0]
    """
    below, above = marks_around(gauge, pressure, torque_from_reading)
    if below is None or pressure > gauge.span * gauge.pascals * (1 + NOISE):
        raise refuse(
            "above_gauge",
            f"the pressure {{pressure}} lies beyond the last mark of gauge {gauge.serial}, {{span}}",
            "machine",
            pressure=Amount("pressure", pressure),
            span=Amount("pressure", gauge.span * gauge.pascals),
        )
    within = [
        mark
        for mark in (below, above)
        if mark is not None and mark.torque > 0 and inside(mark.torque, minimum, maximum)
    ]
    if not within:
        raise no_mark_in_window(below, above)
    return sorted(within, key=lambda mark: abs(mark.torque - target))


def inside(torque: float, minimum: float | None, maximum: float | None) -> bool:
    """Whether a torque lies in a window; an end that is None does not bind."""
    above = minimum is None or torque >= minimum * (1 - NOISE)
    return above and (maximum is None or torque <= maximum * (1 + NOISE))


def no_mark_in_window(below: Mark, above: Mark | None) -> NoAnswer:
    """The refusal of a gauge too coarse for a window, with both neighbours and their torques."""
    texts: list[str] = []
    amounts: dict[str, Amount] = {}
    for name, mark in (("below", below), ("above", above)):
        if mark is None:
            texts.append("above it the dial ends")
        else:
            texts.append(f"the mark {mark.reading} gives {{{name}}}")
            amounts[name] = Amount("torque", mark.torque)
    text = "no mark of this gauge gives a torque within the window: " + ", ".join(texts)
    return NoAnswer([Fault("no_mark_in_window", text, "machine", amounts)])
