"""A calibration series: which line of torque over pressure to use, and what is remarkable in it."""

import dataclasses
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from api.engineering.calibration.levels import CalibrationReading, Level, levels_of, zero_error
from api.engineering.calibration.straight_line import Line, line_through_zero, line_with_offset
from api.engineering.checks import NOISE, Amount, refuse


@dataclass(frozen=True)
class Note:
    """A sentence for people with a stable code for programs; each ``{name}`` in it is one of ``amounts``."""

    code: str
    text: str
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)


PRACTICE_LEVELS, PRACTICE_RUNS, PRACTICE_LOWEST = 5, 3, 0.2
"""Usual practice (from memory of ISO 7500-1): 5 levels from 20 to 100 % of the range, 3 rising runs."""


@dataclass(frozen=True)
class Calibration:
    """One side and gauge as calibrated. Only rising readings enter the lines: a make-up comes from below."""

    readings: tuple[CalibrationReading, ...]
    levels: tuple[Level, ...]
    with_offset: Line
    through_zero: Line

    @cached_property
    def line(self) -> Line:
        """The line to use."""
        return self.with_offset if self.with_offset.offset_is_significant() else self.through_zero

    @property
    def chosen(self) -> str:
        """The name of the line to use."""
        return "with_offset" if self.line is self.with_offset else "through_zero"

    @property
    def reason(self) -> Note:
        """The reason why this line is to be used."""
        line = self.with_offset
        amounts = {"offset": Amount("torque", line.a), "uncertainty": Amount("torque", line.u_a)}
        if self.line is line:
            text = (
                "the offset {offset} is larger than twice its standard uncertainty {uncertainty}: the line "
                "does not pass through zero"
            )
            return Note("offset_significant", text, amounts)
        text = (
            "the offset {offset} is not larger than twice its standard uncertainty {uncertainty}: nothing "
            "speaks against a line through zero"
        )
        return Note("offset_insignificant", text, amounts)

    @property
    def breakaway_pressure(self) -> float | None:
        """Pressure at which the line to use reaches no torque, Pa: ``p0 = -a / b``; None if at no pressure.

        It is what a profile calls breakaway pressure, with the share of the return pressure in it.
        """
        return -self.line.a / self.line.b if self.line is self.with_offset and self.line.a < 0 else None

    @property
    def zero_error(self) -> float | None:
        """Torque shown at no pressure, percent of the largest; None where none was read."""
        return zero_error(self.readings, self.levels)

    @property
    def fewest_runs(self) -> int:
        """Rising runs at the level that has fewest."""
        return min(len(level.rising) for level in self.levels)

    def residual(self, reading: CalibrationReading) -> float:
        """Torque measured less that of the line to use, N.m."""
        return reading.torque - self.line.at(reading.pressure)

    @cached_property
    def figures(self) -> Mapping[str, float | None]:
        """Each figure of merit where it is farthest from zero, percent; None where it is not known."""
        levels = self.levels
        return {
            "relative_error": _farthest(level.relative_error(self.line) for level in levels),
            "repeatability": _farthest(level.repeatability for level in levels),
            "reversibility": _farthest(level.reversibility for level in levels),
            "zero": self.zero_error,
        }

    @property
    def notes(self) -> Iterator[Note]:
        """Notes on what this calibration lacks against usual practice, and what is odd in it."""
        if len(self.levels) < PRACTICE_LEVELS:
            text = f"{len(self.levels)} levels of pressure; usual practice is at least {PRACTICE_LEVELS}"
            yield Note("few_levels", text)
        lowest, highest = self.levels[0].pressure, self.levels[-1].pressure
        if lowest > PRACTICE_LOWEST * highest * (1 + NOISE):
            text = (
                "the lowest level {lowest} is above a fifth of the highest {highest}, where usual practice "
                "begins; nothing is known below it"
            )
            amounts = {"lowest": Amount("pressure", lowest), "highest": Amount("pressure", highest)}
            yield Note("lowest_level_high", text, amounts)
        if self.fewest_runs < PRACTICE_RUNS:
            text = f"{self.fewest_runs} rising runs at some level; usual practice is at least {PRACTICE_RUNS}"
            yield Note("few_rising_runs", text)
        if self.figures["reversibility"] is None:
            yield Note("no_falling_run", "no falling run: how far torque lags behind pressure is not known")
        if self.zero_error is None:
            yield Note("no_zero_reading", "no reading at zero pressure: the zero was not checked")
        if self.breakaway_pressure is not None:
            text = (
                "the offset {offset} of the line is a breakaway pressure of {breakaway}, return pressure "
                "included: below it the machine does not move"
            )
            amounts = {
                "offset": Amount("torque", self.line.a),
                "breakaway": Amount("pressure", self.breakaway_pressure),
            }
            yield Note("breakaway", text, amounts)
        if self.line is self.with_offset and self.line.a > 0:
            text = (
                "the line gives the torque {offset} at zero pressure: check the zeros of the "
                "reference and of the gauge"
            )
            yield Note("offset_positive", text, {"offset": Amount("torque", self.line.a)})


def _farthest(values: Iterable[float | None]) -> float | None:
    return max((value for value in values if value is not None), key=abs, default=None)


def calibrate(readings: Sequence[CalibrationReading], of: str) -> Calibration:
    """Makes the calibration of one side and gauge from its readings.

    Args:
        readings: as taken; torque > 0 wherever the pressure is.
        of: side and gauge, for a refusal to name.

    Raises:
        NoAnswer: ``too_few_points``, ``torque_not_rising``.
    """
    levels = levels_of(readings)
    points = [(level.pressure, torque) for level in levels for torque in level.rising]
    if len(levels) < 2 or len(points) < 3:
        raise refuse(
            "too_few_points",
            f"{of}: {len(points)} rising readings at {len(levels)} levels above zero are too few for a line",
            "readings",
            accepted="at least 3 rising readings at 2 or more levels of pressure",
        )
    pressures, torques = [pressure for pressure, _ in points], [torque for _, torque in points]
    line = line_with_offset(pressures, torques)
    if not line.b > 0:
        raise refuse("torque_not_rising", f"{of}: the torque does not rise with the pressure", "readings")
    return Calibration(tuple(readings), levels, line, line_through_zero(pressures, torques))
