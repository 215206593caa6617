"""What was read in a calibration, level by level of pressure, and the figures of merit of each level."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Literal

from api.engineering.calibration.straight_line import Line
from api.engineering.checks import NOISE

Direction = Literal["rising", "falling"]


@dataclass(frozen=True)
class CalibrationReading:
    """A pressure set on the gauge (Pa) and the torque of the reference there (N.m), in which run."""

    pressure: float
    torque: float
    run: int
    direction: Direction


@dataclass(frozen=True)
class Level:
    """All torques at one pressure, N.m; at least one of them rising.

    Of the figures of merit (names of ISO 7500-1) each is in percent of the mean rising torque.
    """

    pressure: float
    rising: tuple[float, ...]
    falling: tuple[float, ...]

    @property
    def mean_torque(self) -> float:
        """Mean of the rising runs: a make-up comes from below."""
        return fmean(self.rising)

    def relative_error(self, line: Line) -> float:
        """``q = 100 (T_line - T) / T``: what a line says of the level, against what was measured."""
        return 100 * (line.at(self.pressure) - self.mean_torque) / self.mean_torque

    @property
    def repeatability(self) -> float | None:
        """``b = q_max - q_min`` over the rising runs; None of a single one."""
        if len(self.rising) < 2:
            return None
        return 100 * (max(self.rising) - min(self.rising)) / self.mean_torque

    @property
    def reversibility(self) -> float | None:
        """``v = 100 (T' - T) / T``, falling minus rising; None without a falling run."""
        if not self.falling:
            return None
        return 100 * (fmean(self.falling) - self.mean_torque) / self.mean_torque

    @property
    def spread(self) -> float | None:
        """Standard deviation of a single rising run as a share of the mean; None of a single one."""
        return stdev(self.rising) / self.mean_torque if len(self.rising) > 1 else None


def levels_of(readings: Iterable[CalibrationReading]) -> tuple[Level, ...]:
    """The levels above zero at which there is a rising run, pressure rising.

    Pressures are set to marks of the dial, so one level is one pressure and not a neighbourhood.
    """
    groups: list[list[CalibrationReading]] = []
    for reading in sorted(readings, key=lambda reading: reading.pressure):
        if reading.pressure > 0:
            if groups and reading.pressure <= groups[-1][0].pressure * (1 + NOISE):
                groups[-1].append(reading)
            else:
                groups.append([reading])
    levels = [
        Level(group[0].pressure, _torques(group, "rising"), _torques(group, "falling")) for group in groups
    ]
    return tuple(level for level in levels if level.rising)


def _torques(group: Sequence[CalibrationReading], direction: Direction) -> tuple[float, ...]:
    return tuple(reading.torque for reading in group if reading.direction == direction)


def zero_error(readings: Iterable[CalibrationReading], levels: Sequence[Level]) -> float | None:
    """``f0 = 100 T0 / T_max``: the largest torque shown at no pressure; None where none was read."""
    at_zero = [reading.torque for reading in readings if reading.pressure == 0]
    return 100 * max(at_zero, key=abs) / levels[-1].mean_torque if at_zero else None
