"""A gauge: its marks, its error, where it is connected, how finely it is read.

A pointer set on a mark counts a quarter of a division, one that is read half of one: no source has a figure
for setting.

A target beyond the dial is refused even where its window reaches back onto it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import floor, inf
from typing import Literal

from api.engineering.checks import NOISE, Amount, Check, Fault, NoAnswer, at_most, refuse
from api.engineering.gauges.accuracy_class import GaugeAccuracy

NOUNS = {"pressure": "pressure", "force": "line pull"}
"""What a gauge reads, in words."""

GIVEN = {"torque": "torque", "preload": "force"}
"""The kind of quantity of what a machine gives at a mark."""


ON_MARK = 1e-6
"""Share of a division within which a reading is a mark."""


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
        unit_in_si: one such unit in Pa, or on a pull gauge in N.
        accuracy: its largest error, of a class or as stated.
        connected_at: ``work_port`` (at the driven side of the cylinder) or ``pump``.
        quantity: what it reads: ``pressure``, or on a pull gauge ``force``.
        digital: whether it shows digits; a division is then one step of the last.
        height: how far it stands above or below the cylinder, m; None where not known.
        drift: how far it may have drifted since it was calibrated with its machine, SI; None where not known.
    """

    serial: str
    unit: str
    span: float
    division: float
    unit_in_si: float
    accuracy: GaugeAccuracy
    connected_at: str
    quantity: str = "pressure"
    digital: bool = False
    height: float | None = None
    drift: float | None = None

    @property
    def last_reading(self) -> float:
        """The last mark, SI."""
        return self.span * self.unit_in_si

    def error_at(self, reading: float) -> float:
        """Largest error at a reading, SI: a share of the span, not of the reading.

        EN 837-1 works it out for class 1.6 and 0 to 10 bar: 0.16 bar.

        >>> from api.engineering.gauges.accuracy_class import stated_accuracy
        >>> round(Gauge("G", "bar", 10, 0.2, 1.0, stated_accuracy(1.6), "work_port").error_at(5.0), 9)
        0.16
        """
        return self.accuracy.at(reading, self.last_reading)

    @property
    def last(self) -> int:
        """Number of the last mark; the first, at zero, is number 0."""
        return round(self.span / self.division)

    def reading(self, number: int) -> Reading:
        """What is printed at mark ``number``."""
        return Reading(float(f"{number * self.division:.12g}"), self.unit)

    def at(self, number: int) -> float:
        """What mark ``number`` means, SI."""
        return self.reading(number).value * self.unit_in_si

    def number_below(self, reading: float) -> int:
        """Number of the mark at or next below a reading (SI), as if the dial had no end."""
        return floor(reading / (self.division * self.unit_in_si) * (1 + NOISE))

    def amount(self, reading: float) -> Amount:
        """A reading (SI) as sentences show it: in the unit of the dial, a mark as it stands there."""
        marks = reading / (self.division * self.unit_in_si)
        return Amount(self.quantity, reading, self.unit, abs(marks - round(marks)) <= ON_MARK)


@dataclass(frozen=True)
class Mark:
    """A mark of a dial, what it means in SI (Pa, on a pull gauge N) and the torque of the machine there.

    Of a machine that gives preload, not torque, ``torque`` is that preload, N.
    """

    reading: Reading
    at: float
    torque: float


def working_range(gauge: Gauge) -> tuple[float, float]:
    """A quarter to three quarters of the span, Pa: where a dial should work (trade notes, B40.100 users).

    >>> from api.engineering.gauges.accuracy_class import stated_accuracy
    >>> low, high = working_range(Gauge("G", "psi", 3000, 50, 1.0, stated_accuracy(1), "work_port"))
    >>> low, high
    (750.0, 2250.0)
    """
    span = gauge.last_reading
    return 0.25 * span, 0.75 * span


def marks_around(
    gauge: Gauge,
    reading: float,
    torque_from_reading: Callable[[float], float],
    known: tuple[float, float] = (0.0, inf),
) -> tuple[Mark | None, Mark | None]:
    """The marks at or below, and next above, a reading (SI).

    None beyond the ends of the dial, or where the torque is not ``known``.
    """

    def mark(number: int) -> Mark | None:
        at = gauge.at(number)
        if not (0 <= number <= gauge.last and known[0] <= at <= known[1]):
            return None
        # Below breakaway the machine does not move: the torque is none, not less than none.
        return Mark(gauge.reading(number), at, max(0.0, torque_from_reading(at)))

    below = gauge.number_below(reading)
    return mark(below), mark(below + 1)


def marks_in_window(
    gauge: Gauge,
    reading: float,
    target: float,
    minimum: float | None,
    maximum: float | None,
    torque_from_reading: Callable[[float], float],
    known: tuple[float, float] = (0.0, inf),
    gives: str = "torque",
) -> list[Mark]:
    """The marks around a target whose torque lies within [minimum, maximum], the nearest first.

    Torque rises with the reading, so the mark nearest the target is one of the two around its own. At
    equal distance the lower one comes first.

    Args:
        gauge: the dial.
        reading: exact reading of the target, SI, > 0.
        target: target torque, N.m.
        minimum, maximum: ends of the window, N.m; None where there is none.
        torque_from_reading: the machine, rising.
        known: lowest and highest reading at which the torque is known.
        gives: what the machine gives, of `GIVEN`: ``preload``, N, stands in place of every torque.

    Raises:
        NoAnswer: ``no_mark_in_window`` with both neighbours and their torques, or ``above_gauge`` where
            the exact reading lies beyond the dial.

    A joint that must not fall below its target takes the next mark up:

    >>> from api.engineering.gauges.accuracy_class import stated_accuracy
    >>> dial = Gauge("G", "psi", 3000, 50, 1.0, stated_accuracy(1), "work_port")
    >>> [mark.reading.value for mark in marks_in_window(dial, 1510.0, 1510.0, 1510.0, 1661.0, lambda p: p)]
    [1550.0]
    """
    below, above = marks_around(gauge, reading, torque_from_reading, known)
    if reading > gauge.last_reading * (1 + NOISE):
        raise refuse(
            "above_gauge",
            f"the {NOUNS[gauge.quantity]} {{reading}} lies beyond the last mark of gauge {gauge.serial}, "
            "{span}",
            "machine",
            reading=gauge.amount(reading),
            span=gauge.amount(gauge.last_reading),
        )
    within = [
        mark
        for mark in (below, above)
        if mark is not None and mark.torque > 0 and inside(mark.torque, minimum, maximum)
    ]
    if not within:
        raise no_mark_in_window(below, above, gives)
    return sorted(within, key=lambda mark: abs(mark.torque - target))


def inside(torque: float, minimum: float | None, maximum: float | None) -> bool:
    """Whether a torque lies in a window; an end that is None does not bind."""
    above = minimum is None or torque >= minimum * (1 - NOISE)
    return above and (maximum is None or torque <= maximum * (1 + NOISE))


def no_mark_in_window(below: Mark | None, above: Mark | None, gives: str) -> NoAnswer:
    """The refusal of a gauge too coarse for a window, with both neighbours and what they give."""
    texts: list[str] = []
    amounts: dict[str, Amount] = {}
    for name, mark in (("below", below), ("above", above)):
        if mark is None:
            texts.append(f"There is no mark {name} it whose {gives} is known")
        else:
            texts.append(f"The mark {mark.reading} gives {{{name}}}")
            amounts[name] = Amount(GIVEN[gives], mark.torque)
    text = ". ".join([f"no mark of this gauge gives a {gives} within the window", *texts])
    return NoAnswer([Fault("no_mark_in_window", text, "machine", amounts)])


HEAD_PER_METRE = 0.4 * 6894.757293168362 / 0.3048
"""Static head of oil, Pa/m: 0.4 psi/ft, the figure of the trade (read). It is that of 923 kg/m3; hydraulic
oils have 881 to 929 (read), which is 0.382 to 0.403 psi/ft."""

SHARE_OF_ERROR = 1 / 3
"""Share of the gauge error up to which a head does not matter (own judgement: in quadrature it adds 5 %)."""

LARGEST_HEIGHT = 3.0
"""Height between gauge and cylinder beyond which a shop would know of it, m (own judgement: one storey)."""


def static_head(height: float) -> float:
    """Pressure of the oil between two heights, Pa: the lower one of gauge and cylinder has it on top.

    Args:
        height: difference of height, m, >= 0.

    Ten feet are 4 psi:

    >>> round(static_head(10 * 0.3048) / 6894.757293168362, 9)
    4.0
    """
    return HEAD_PER_METRE * height


def height_that_matters(gauge_error: float) -> float:
    """Height above which the oil between gauge and cylinder matters: ``h = error / 3 / head``, m.

    Args:
        gauge_error: largest error of the gauge at the reading, Pa, > 0.

    1 % of 3000 psi is 30 psi, a third of it 10 psi, which at 0.4 psi/ft is 25 ft:

    >>> round(height_that_matters(30 * 6894.757293168362) / 0.3048, 9)
    25.0
    """
    return SHARE_OF_ERROR * gauge_error / HEAD_PER_METRE


def static_head_check(height: float | None, gauge_error: float, gauge: Gauge | None = None) -> Check:
    """Whether the oil between gauge and cylinder matters beside the error of the gauge.

    Where no height is stated it passes if only a height above `LARGEST_HEIGHT` would matter.

    Args:
        height: of the gauge above or below the cylinder, m, >= 0; None where not known.
        gauge_error: largest error of the gauge at the reading, Pa.
        gauge: the gauge, in whose unit both pressures are told.
    """
    if height is None:
        matters = height_that_matters(gauge_error)
        usual = matters >= LARGEST_HEIGHT * (1 - NOISE)
        text = "the oil between gauge and cylinder matters only above a height of {limit}"
        text += "; none is stated, and {value} is hardly exceeded" if usual else ", and none is stated"
        return Check(
            name="static_head",
            verdict="pass" if usual else "not_checked",
            text=text,
            value=Amount("length", LARGEST_HEIGHT) if usual else None,
            limit=Amount("length", matters),
        )
    return at_most(
        name="static_head",
        text="head of the oil between gauge and cylinder {value} against a third of the gauge error "
        "{limit}; a gauge above the cylinder reads low, a gauge below it reads high",
        kind="pressure",
        shown=gauge.amount if gauge else None,
        value=static_head(height),
        limit=SHARE_OF_ERROR * gauge_error,
        bad="caution",
    )


HowRead = Literal["set_on_mark", "half_division", "nearest_mark", "digital"]
"""A pointer set on a mark, read to half a division or to the nearest mark; or the digits of a display."""

SHARE_OF_DIVISION: Mapping[HowRead, float] = {
    "set_on_mark": 1 / 4,
    "half_division": 1 / 4,
    "nearest_mark": 1 / 2,
    "digital": 1 / 2,
}


def reading_half_width(division: float, how: HowRead) -> float:
    """How far a reading may be from where the pointer stands, in the unit of the division (ISO 7500-1).

    Half a division is what the eye usually tells apart, hence a quarter to either side. A pointer that is
    *set* on a mark is given the same quarter: no source has a figure for it, and a wide pointer seen a little
    from the side is no better. (Worst-case bounds take it as standing on its mark.) A reading written down as
    the nearest mark, and the last digit of a display, may be off by half.

    Args:
        division: from mark to mark; of a display, one step of its last digit, > 0.
        how: how it was read.

    >>> reading_half_width(50.0, "set_on_mark"), reading_half_width(50.0, "nearest_mark")
    (12.5, 25.0)
    """
    return SHARE_OF_DIVISION[how] * division
