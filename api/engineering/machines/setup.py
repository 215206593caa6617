"""A machine set up: as it grips, turns and stands, and the gauge that it is read on.

No joint enters it. So what its marks give is kept for the next question about it.

A machine calibrated on its own gauge counts the stated drift of that gauge in its worst case, and its whole
class where none is stated.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import inf
from operator import itemgetter
from typing import NamedTuple

from api.engineering.checks import NOISE, Check, Fault, NoAnswer, failed
from api.engineering.gauges.gauge import Gauge, HowRead, Mark, reading_half_width
from api.engineering.machines.aim import first
from api.engineering.machines.limits import Limits, MarkTorques, mark_checks
from api.engineering.uncertainty.budget import GaugeDoubt, Standing
from api.engineering.uncertainty.combined import Budget

MARKS = 64
"""Marks of a setup whose torques are kept at most: a question asks some ten, a display can have a million."""
TOLD = 16
"""Marks of a setup of which all that is told is kept: those that were set."""


class Given(NamedTuple):
    """A mark in SI: its reading, and the torque there at nominal and at the highest efficiency."""

    at: float
    torque: float
    at_high: float


@dataclass(frozen=True)
class AtMark:
    """A machine at a mark: its torques there, and the checks of the mark.

    Attributes:
        number: of the mark.
        mark: with its nominal torque.
        torques: at the highest efficiency and in the worst case.
        checks: of the machine alone or, where a joint is made up, of both.
    """

    number: int
    mark: Mark
    torques: MarkTorques
    checks: tuple[Check, ...]

    @property
    def faults(self) -> list[Fault]:
        """What speaks against the mark."""
        return failed(self.checks)


class Spread(NamedTuple):
    """The torque at a mark by its budget: best estimate and combined standard uncertainty, N.m."""

    estimate: float
    deviation: float


@dataclass(frozen=True)
class Setup:
    """A machine set up, SI.

    Attributes:
        standing: the machine as it turns and stands.
        gauge: the gauge that it is read on.
        gauges: those that its profile describes, by operation; ``system`` is that of its relief valve.
        limits: those of the makers.
        grip: what the parts of a grip on the same supply bear, Pa, by name.
    """

    standing: Standing
    gauge: Gauge
    gauges: Mapping[str, Gauge]
    limits: Limits
    grip: Mapping[str, float]

    @cached_property
    def given(self) -> Callable[[int], Given]:
        """What the machine gives at a mark, by its number."""
        return lru_cache(MARKS)(self._given_at)

    @cached_property
    def spread(self) -> Callable[[int], Spread]:
        """The torque at a mark that a pointer is set on, by its budget; refused as `budget` is."""
        return lru_cache(MARKS)(self._spread_at)

    @cached_property
    def spread_read(self) -> Callable[[int], Spread]:
        """The torque at a mark that a pointer is read at, by its budget, as a verdict takes it."""
        return lru_cache(TOLD)(lambda number: self.spread_at_reading(self.given(number).at))

    @cached_property
    def at_mark(self) -> Callable[[int], AtMark]:
        """The machine at a mark, with what its own limits say of it."""
        return lru_cache(TOLD)(self._at_mark)

    @cached_property
    def budget_at(self) -> Callable[[int], Budget]:
        """The budget of the torque at a mark that a pointer is set on; refused as `budget` is."""
        return lru_cache(TOLD)(lambda number: self.budget(self.given(number).at, "set_on_mark"))

    @property
    def known_readings(self) -> tuple[float, float]:
        """Lowest and highest reading at which the torque is known."""
        return self.standing.readings

    @cached_property
    def known_marks(self) -> range:
        """The marks of the gauge at which the torque is known."""
        gauge, (lowest, highest) = self.gauge, self.known_readings
        every = range(gauge.last + 1)
        start = first(every, lambda number: gauge.at(number) >= lowest * (1 - NOISE))
        end = None
        if highest != inf:
            end = first(every, lambda number: gauge.at(number) > highest * (1 + NOISE))
        return range(every.stop if start is None else start, every.stop if end is None else end)

    @cached_property
    def leaps(self) -> list[int]:
        """The marks from which on the gauge has another error than below."""
        gauge, every = self.gauge, range(self.gauge.last + 1)
        if gauge.accuracy.uniform:
            return []
        middle_half, last_quarter = (share * gauge.last_reading for share in (0.25, 0.75))
        starts = (
            first(every, lambda number: gauge.at(number) >= middle_half * (1 - NOISE)),
            first(every, lambda number: gauge.at(number) > last_quarter * (1 + NOISE)),
        )
        return [start for start in starts if start is not None]

    @property
    def relief_dial(self) -> Gauge:
        """The gauge on which relief is set: that of the system, else the one that is read."""
        return self.gauges.get("system", self.gauge)

    @cached_property
    def ends(self) -> Mapping[str, float]:
        """The pressure that each part of the machine bears, Pa, by its name.

        The torque rating is among them as the pressure at which the highest efficiency reaches it, unless
        that lies beyond what is known of the machine.
        """
        ends = {f"rating of the {part}": rated for part, rated in self.limits.rated.items()}
        for gauge in (self.gauge, self.relief_dial):
            ends[f"span of gauge {gauge.serial}"] = gauge.last_reading
        rating = self.reading_if_known(self.limits.torque_rating, self.standing.efficiency.high)
        if rating is not None:
            ends["torque rating"] = rating
        return {**ends, **self.grip}

    @cached_property
    def lowest_end(self) -> Mapping[str, float]:
        """That of `ends` which ends the machine."""
        return dict([min(self.ends.items(), key=itemgetter(1))])

    def reading_if_known(self, torque: float, efficiency: float) -> float | None:
        """Reading for a torque, SI; None beyond what is known of a machine that was calibrated."""
        return if_calibrated(lambda: self.reading(torque, efficiency))

    def reading(self, torque: float, efficiency: float) -> float:
        """Reading for a torque, SI."""
        at = self.standing
        try:
            return at.machine.reading_from_torque(torque, at.turning, at.position, efficiency)
        except NoAnswer as no_answer:
            raise self._on_dial(no_answer) from None

    def torque(self, reading: float) -> float:
        """Torque at a reading and the nominal efficiency, SI."""
        return self.torque_at(self.standing.efficiency.nominal, reading)

    def torque_at(self, efficiency: float, reading: float) -> float:
        """Torque at a reading, SI."""
        at = self.standing
        try:
            return at.machine.torque_from_reading(reading, at.turning, at.position, efficiency)
        except NoAnswer as no_answer:
            raise self._on_dial(no_answer) from None

    def torque_range(self, reading: float, margin: float = 0.0) -> tuple[float, float]:
        """Worst-case torque at a reading, N.m, within the error of the gauge and a margin more."""
        margin += self.gauge_error(reading)
        return self.standing.torque_range(reading - margin, reading + margin)

    def budget(self, reading: float, how: HowRead, *, told: bool = True) -> Budget:
        """The budget of the torque at a reading (JCGM 100).

        Args:
            reading: SI.
            how: how the gauge is read; a display is always read by its digits.
            told: as `Standing.budget` takes it.

        Raises:
            NoAnswer: ``below_breakaway``, ``tolerance_too_wide``.
        """
        gauge = self.gauge
        doubt = GaugeDoubt(
            gauge.quantity,
            gauge.error_at(reading),
            reading_half_width(gauge.division * gauge.unit_in_si, "digital" if gauge.digital else how),
            in_calibration=self.gauge_in_calibration,
            calibration_gauge=self._calibration_gauge_error(reading),
            drift=gauge.drift,
        )
        try:
            return self.standing.budget(reading, doubt, told=told)
        except NoAnswer as no_answer:
            raise self._on_dial(no_answer) from None

    def gauge_error(self, reading: float) -> float:
        """How far the gauge may be off at a reading, SI."""
        return self.error_of(self.gauge, reading)

    def error_of(self, gauge: Gauge, reading: float) -> float:
        """How far this gauge, or one in its place, may be off at a reading, SI.

        The one that the machine was calibrated on counts too, if it is another; where the profile does not
        describe it, a finding says that its error is missing. If it is this very one its error is in the
        points, and only what it drifted since is left; where nobody has stated that, it may be anything that
        its class allows.
        """
        if self.gauge_in_calibration and gauge.drift is not None:
            return gauge.drift
        return gauge.error_at(reading) + (self._calibration_gauge_error(reading) or 0.0)

    @cached_property
    def calibration_gauge(self) -> str | None:
        """Serial of the gauge on which the driven side was calibrated; None for a computed machine."""
        machine = self.standing.machine
        gauges = machine.calibration_gauges
        return next((gauges.get(side) for side in machine.sides(self.standing.turning)), None)

    @cached_property
    def gauge_in_calibration(self) -> bool:
        """Whether the machine was calibrated on this very gauge, so that its error is in the points."""
        return self.calibration_gauge == self.gauge.serial

    @property
    def calibration_gauge_unknown(self) -> bool:
        """Whether the machine was calibrated on a gauge that its profile does not describe."""
        return self.calibration_gauge is not None and self.calibration_gauge not in self._described

    def _calibration_gauge_error(self, reading: float) -> float | None:
        """How far another gauge, on which the machine was calibrated, may be off; None where not known."""
        gauge = self._described.get(self.calibration_gauge or "")
        return None if gauge is None or self.gauge_in_calibration else gauge.error_at(reading)

    @cached_property
    def _described(self) -> Mapping[str, Gauge]:
        """The gauges of its profile by their serials."""
        return {gauge.serial: gauge for gauge in self.gauges.values()}

    def _given_at(self, number: int) -> Given:
        at = self.gauge.at(number)
        return Given(at, self.torque(at), self.torque_at(self.standing.efficiency.high, at))

    def _at_mark(self, number: int) -> AtMark:
        at, torque, at_high = self.given(number)
        mark = Mark(self.gauge.reading(number), at, max(0.0, torque))
        torques = MarkTorques(at_high, *self.torque_range(at))
        return AtMark(number, mark, torques, tuple(mark_checks(self.limits, self.gauge, mark, torques)))

    def spread_at_reading(self, reading: float) -> Spread:
        """The torque at a reading (SI) taken to the nearest mark; refused as `budget` is."""
        return _spread_of(self.budget(reading, "nearest_mark", told=False))

    def _spread_at(self, number: int) -> Spread:
        return _spread_of(self.budget(self.given(number).at, "set_on_mark", told=False))

    def _on_dial(self, no_answer: NoAnswer) -> NoAnswer:
        """A refusal of the machine with its readings as the dial shows them."""
        gauge, faults = self.gauge, []
        for fault in no_answer.faults:
            amounts = {
                name: gauge.amount(amount.value) if amount.kind == gauge.quantity else amount
                for name, amount in fault.amounts.items()
            }
            faults.append(replace(fault, amounts=amounts))
        return NoAnswer(faults)


def _spread_of(budget: Budget) -> Spread:
    return Spread(budget.estimate, budget.combined * budget.estimate)


def if_calibrated(value: Callable[[], float]) -> float | None:
    """A value that may lie outside what is known of a machine whose torque was measured, not computed."""
    try:
        return value()
    except NoAnswer as no_answer:
        if any(fault.code != "outside_calibration" for fault in no_answer.faults):
            raise
        return None
