"""Torques of trial make-ups: their mean, their spread, and those that stand apart."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, median, stdev

from api.engineering.checks import NOISE

FEWEST = 2
"""Torques below which there is neither a mean nor a spread."""

SCORE = 3.5
"""Modified score above which a value stands apart (Iglewicz and Hoaglin, 1993; from memory)."""

DEVIATION_PER_SIGMA = 0.6745
"""Median absolute deviation of a normal distribution over its standard deviation."""

LEAST_DEPARTURE = 0.1
"""Share of the median within which nothing stands apart, however close the others lie (own judgement)."""


@dataclass(frozen=True)
class TrialTorques:
    """The statistics of trial torques, N.m.

    Attributes:
        count: how many there are.
        mean: arithmetic mean.
        standard_deviation: of the sample, over n - 1.
        lowest, highest, middle: extremes and median.
        departure: how far from the median a torque may lie before it stands apart.
    """

    count: int
    mean: float
    standard_deviation: float
    lowest: float
    highest: float
    middle: float
    departure: float

    @property
    def spread(self) -> float:
        """Highest less lowest, N.m."""
        return self.highest - self.lowest

    def stands_apart(self, torque: float) -> bool:
        """Whether a torque lies farther from the median than `departure`."""
        return abs(torque - self.middle) > self.departure * (1 + NOISE)


def trial_torques(torques: Sequence[float]) -> TrialTorques:
    """Mean, spread and median of torques, and from where one of them stands apart.

    A torque stands apart where ``0.6745 |T - median| / MAD > 3.5``, MAD the median of all ``|T - median|``,
    and it is more than 10 % from the median. The mean plus and minus 3 s is of no use here: of n values none
    can lie more than ``(n - 1) / sqrt(n)`` standard deviations from their mean.

    Args:
        torques: at least `FEWEST`, N.m, > 0.

    >>> found = trial_torques([6000.0, 6100.0, 6200.0, 9000.0])
    >>> found.mean, found.middle, [found.stands_apart(each) for each in (6000.0, 9000.0)]
    (6825.0, 6150.0, [False, True])
    """
    if len(torques) < FEWEST:
        raise ValueError(f"at least {FEWEST} torques are needed")
    middle = median(torques)
    deviation = median(abs(torque - middle) for torque in torques)
    return TrialTorques(
        count=len(torques),
        mean=fmean(torques),
        standard_deviation=stdev(torques),
        lowest=min(torques),
        highest=max(torques),
        middle=middle,
        departure=max(SCORE * deviation / DEVIATION_PER_SIGMA, LEAST_DEPARTURE * middle),
    )
