"""How the readings of a machine drift from the marks that were ordered, over a log of make-ups."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import fmean, linear_regression
from typing import Literal, NamedTuple, get_args

Per = Literal["day", "line"]
PER: tuple[Per, ...] = get_args(Per)
"""What a trend is counted against: days of the job, or lines of the log."""


class Off(NamedTuple):
    """One reading of a log.

    Attributes:
        line: its number in the log.
        day: of the job; None where not given.
        by: reading less ordered mark, in the unit of the dial.
    """

    line: int
    day: date | None
    by: float


@dataclass(frozen=True)
class Drift:
    """What the readings of one machine are off by.

    Attributes:
        mean: of reading less mark.
        trend: its least squares slope, for each day or line; None of fewer than two readings.
        per: what the slope is counted against; None without one.
    """

    mean: float
    trend: float | None
    per: Per | None


def drift(readings: Sequence[Off]) -> Drift:
    """Mean and least squares trend of readings less their marks.

    The trend is counted by days where every reading has one and not all are of the same, else by lines.

    Args:
        readings: of one machine and one dial, at least one.

    >>> drift([Off(1, None, 0.0), Off(3, None, 10.0)])
    Drift(mean=5.0, trend=5.0, per='line')
    """
    off = [each.by for each in readings]
    mean = fmean(off)
    days = [each.day.toordinal() for each in readings if each.day is not None]
    by_day = len(days) == len(readings) and len(set(days)) > 1
    at = days if by_day else [each.line for each in readings]
    if len(set(at)) < 2:
        return Drift(mean, None, None)
    return Drift(mean, linear_regression(at, off).slope, "day" if by_day else "line")
