"""How sure a torque is that a calibration promises: its reference, how it repeats, what lies between.

Every share is one of the torque. Gauge and arm are in it as they were at the calibration; another gauge adds
its own error.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import fsum, hypot, inf, sqrt

from api.engineering.calibration.levels import Level
from api.engineering.uncertainty.combined import COVERAGE_FACTOR, effective_degrees_of_freedom

T95 = (
    *((1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (7, 2.43), (8, 2.37), (9, 2.32)),
    *((10, 2.28), (15, 2.18), (20, 2.13), (30, 2.09), (50, 2.05), (100, 2.025), (inf, COVERAGE_FACTOR)),
)
"""Student's t for 95.45 %, which is 2 for a normal distribution (JCGM 100:2008, table G.2)."""
FEWEST_LEVELS = 3
"""With fewer nothing is known of how straight the torque is from level to level."""


def coverage_factor(degrees_of_freedom: float) -> float:
    """The t by which a standard uncertainty so well known is expanded to 95.45 % (JCGM 100, G.6.4).

    Between two entries of the table the lower one holds.

    Args:
        degrees_of_freedom: >= 1, infinite of what is known beforehand.

    >>> coverage_factor(16.7), coverage_factor(2), coverage_factor(inf)
    (2.18, 4.53, 2.0)
    """
    return T95[bisect_right(T95, degrees_of_freedom, key=lambda row: row[0]) - 1][1]


@dataclass(frozen=True)
class CalibrationUncertainty:
    """What is not known of the torque of one make-up, as shares of it.

    Attributes:
        reference: standard uncertainty of the reference.
        spread: standard deviation of a single run, pooled over the levels.
        degrees_of_freedom: of that.
        largest_spread: that of the level which repeats worst.
        fewest_runs: at the level that has fewest: its mean is the point of the profile.
        setting: half-width, where it matters most, of how the pointer was set; None of a gauge not known.
        interpolation: half-width of how far the torque lies from a straight line between two levels.
    """

    reference: float
    spread: float
    degrees_of_freedom: int
    largest_spread: float
    fewest_runs: int
    setting: float | None
    interpolation: float

    @cached_property
    def coverage(self) -> float:
        """The factor for the effective degrees of freedom."""
        next_run = self._next_run(self.spread)
        nu = (self.degrees_of_freedom, inf)
        return coverage_factor(effective_degrees_of_freedom((next_run, self._known), nu))

    @property
    def expanded(self) -> float:
        """Expanded uncertainty for 95.45 %, half of which is a standard uncertainty to a budget with k = 2.

        By the pooled spread and its coverage factor, and never less than k = 2 on the worst level.
        """
        pooled = self.coverage * hypot(self._next_run(self.spread), self._known)
        return max(pooled, COVERAGE_FACTOR * hypot(self._next_run(self.largest_spread), self._known))

    def _next_run(self, spread: float) -> float:
        """Standard uncertainty of the next run against the mean of the runs read."""
        return spread * sqrt(1 + 1 / self.fewest_runs)

    @property
    def _known(self) -> float:
        """Standard uncertainty of all that is not spread; half-widths are of rectangular distributions."""
        return hypot(self.reference, (self.setting or 0.0) / sqrt(3), self.interpolation / sqrt(3))


def calibration_uncertainty(
    levels: Sequence[Level], reference: float, setting: float | None
) -> CalibrationUncertainty | None:
    """The uncertainty of a calibration.

    Args:
        levels: what was measured, pressure rising.
        reference: expanded uncertainty (k = 2) of the reference, as a share of its torque.
        setting: half-width of a pressure as set on the gauge, Pa; None of a gauge not known.

    Returns:
        None where no level has two rising runs, so that nothing is known of the spread, or with fewer
        levels than `FEWEST_LEVELS`.
    """
    repeated = [(len(level.rising) - 1, level.spread) for level in levels if level.spread is not None]
    if not repeated or len(levels) < FEWEST_LEVELS:
        return None
    degrees_of_freedom = sum(nu for nu, _ in repeated)
    pooled = sqrt(fsum(nu * spread**2 for nu, spread in repeated) / degrees_of_freedom)
    return CalibrationUncertainty(
        reference / COVERAGE_FACTOR,
        pooled,
        degrees_of_freedom,
        max(spread for _, spread in repeated),
        min(len(level.rising) for level in levels),
        None if setting is None else setting * _steepest_share(levels),
        interpolation_error(levels),
    )


def _steepest_share(levels: Sequence[Level]) -> float:
    """Largest change of torque with pressure, as a share of the torque, 1/Pa: mostly at the lowest level."""
    return max(
        (above.mean_torque - below.mean_torque) / (above.pressure - below.pressure) / below.mean_torque
        for below, above in pairwise(levels)
    )


def interpolation_error(levels: Sequence[Level]) -> float:
    """How far any level lies from the straight line between its neighbours, as a share of its torque.

    The profile is straight from level to level. Over half the distance a torque that bends evenly departs
    from that by a quarter of this, so it is on the safe side.

    Args:
        levels: at least 3, pressure rising.

    110 at 20, between 50 at 10 and 150 at 30, lies 10 above the line:

    >>> bent = [Level(10.0, (50.0,), ()), Level(20.0, (110.0,), ()), Level(30.0, (150.0,), ())]
    >>> round(interpolation_error(bent), 6)
    0.090909
    """
    return max(
        abs(between.mean_torque - _straight(left, right, between.pressure)) / between.mean_torque
        for left, between, right in zip(levels, levels[1:], levels[2:], strict=False)
    )


def _straight(left: Level, right: Level, pressure: float) -> float:
    share = (pressure - left.pressure) / (right.pressure - left.pressure)
    return left.mean_torque + share * (right.mean_torque - left.mean_torque)
