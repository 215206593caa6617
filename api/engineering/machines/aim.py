"""Which mark a make-up sets: the safest that the joint and the machine allow.

A mark is judged by the probability that its torque lies within the window of the joint: normal, with the best
estimate and the combined standard uncertainty of the budget at that mark (JCGM 100, 5.1; JCGM 106, 7).

The probability rises to one best mark and falls beyond it, since the torque rises with the mark and its
uncertainty changes slowly. So few marks are asked for it, however many a dial has. Where the class of
a gauge changes on the dial, the uncertainty leaps: from there on the best is sought anew.
"""

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import erfc, inf, sqrt
from typing import Literal, NamedTuple

WORTH_LEAVING_THE_TARGET = 0.02
"""By so much a better probability within the window must exceed that at the target (own judgement)."""
ENOUGH_ABOVE_MINIMUM = 0.05
"""Probability of a torque below the minimum that is enough where there is no maximum (own judgement)."""
GUARD = 1.645
"""Standard uncertainties in a guard band: of a normal spread 5 in 100 lie beyond, to one side (JCGM 106, from
memory)."""
TIE = 1e-9
"""Probabilities that differ by no more are equal."""

Choice = Literal["target_asked", "nearest_target", "best_chance", "enough_above_minimum"]
"""Why a mark was chosen."""
WHY: Mapping[Choice, str] = {
    "target_asked": "the request asks for the mark nearest the target",
    "nearest_target": "the mark nearest the target",
    "best_chance": "the mark whose torque lies most probably within the window",
    "enough_above_minimum": "no maximum is known: the lowest mark with at most 5 of 100 below the minimum",
}
"""The same in words."""


class Chance(NamedTuple):
    """How probable it is that a torque lies within its window, below it and above it; they add up to 1."""

    in_window: float
    below_minimum: float
    above_maximum: float


def chance(estimate: float, deviation: float, minimum: float | None, maximum: float | None) -> Chance:
    """The chance of a torque that is normally distributed.

    Args:
        estimate: its mean, N.m.
        deviation: its standard uncertainty, N.m, > 0.
        minimum, maximum: ends of the window, N.m; None where there is none.

    With 1.645 standard uncertainties above the minimum 5 in 100 lie below it:

    >>> round(chance(116.45, 10.0, 100.0, None).below_minimum, 4)
    0.05
    """
    below = 0.0 if minimum is None else _tail((estimate - minimum) / deviation)
    above = 0.0 if maximum is None else _tail((maximum - estimate) / deviation)
    return Chance(max(0.0, 1.0 - below - above), below, above)


def _tail(deviations: float) -> float:
    """Probability that a normal value lies farther off its mean than so many deviations, to one side."""
    return 0.5 * erfc(deviations / sqrt(2.0))


def capability(deviation: float, minimum: float, maximum: float) -> float:
    """How many times the doubt of a torque fits into its window: ``(maximum - minimum) / (2 U)``, U = 2 u.

    Args:
        deviation: combined standard uncertainty u of the torque, N.m, > 0.
        minimum, maximum: ends of the window, N.m.

    A window of 10 % and a torque known within 6.4 %, k = 2:

    >>> round(capability(3.2, 95.0, 105.0), 2)
    0.78
    """
    return (maximum - minimum) / (4.0 * deviation)


PASSES_FROM = GUARD / 2
"""Capability below which the guarded rule passes nothing: both guard bands then fill the window."""


@dataclass(frozen=True)
class Goal:
    """What a make-up is to reach, N.m.

    Attributes:
        target: torque wanted.
        minimum, maximum: ends of the window; None where there is none.
        farthest: share of the target by which a mark may miss it where there is no end.
        withheld_minimum, withheld_maximum: ends that are not sure enough to aim by. No mark is set beyond.
    """

    target: float
    minimum: float | None
    maximum: float | None
    farthest: float
    withheld_minimum: float | None = None
    withheld_maximum: float | None = None

    @property
    def closed(self) -> bool:
        """Whether both ends are known."""
        return self.minimum is not None and self.maximum is not None

    @property
    def open(self) -> bool:
        """Whether neither end is known."""
        return self.minimum is None and self.maximum is None

    @property
    def lowest(self) -> float:
        """The least torque of a mark that may be set."""
        if self.minimum is not None:
            return self.minimum
        return max(self.target * (1 - self.farthest), self.withheld_minimum or 0.0)

    @property
    def highest(self) -> float:
        """The most torque of a mark that may be set."""
        if self.maximum is not None:
            return self.maximum
        return min(self.target * (1 + self.farthest), self.withheld_maximum or inf)

    @property
    def limit(self) -> float | None:
        """The torque that the joint may not exceed, also where it is not sure enough to aim by."""
        return self.withheld_maximum if self.maximum is None else self.maximum


@dataclass(frozen=True)
class Aimed:
    """The number of the mark to set, and why it is that one."""

    number: int
    choice: Choice


def aimed(
    marks: range,
    torque: Callable[[int], float],
    chance_at: Callable[[int], Chance] | None,
    goal: Goal,
    *,
    at_target: bool = False,
    leaps: Sequence[int] = (),
) -> Aimed:
    """The mark to set of those that may be set.

    * Both ends known: the mark nearest the target, unless the target is an end of the window or the best mark
      is more than 0.02 more probable: then the best.
    * Only a minimum: the lowest mark with no more than 5 in 100 below it, else the nearest to the target.
    * No minimum: the nearest to the target.

    Equal marks: the nearest to the target, then the lower.

    Args:
        marks: numbers of the marks that may be set, rising, at least one.
        torque: of a mark, N.m, rising.
        chance_at: of a mark; None where the uncertainty of this machine is not known.
        goal: target and window.
        at_target: whether the request asks for the mark nearest the target.
        leaps: numbers of the marks from which on the uncertainty is another, rising.
    """
    nearest = _nearest(marks, torque, goal.target)
    if at_target:
        return Aimed(nearest, "target_asked")
    if goal.minimum is None or chance_at is None:
        return Aimed(nearest, "nearest_target")
    pieces = _pieces(marks, leaps)
    if goal.maximum is None:
        return _above_minimum(pieces, chance_at, nearest)
    middle = _nearest(marks, torque, (goal.minimum + goal.maximum) / 2)
    best = _best(pieces, torque, chance_at, goal.target, middle)
    gain = chance_at(best).in_window - chance_at(nearest).in_window
    if goal.target in (goal.minimum, goal.maximum) or gain > WORTH_LEAVING_THE_TARGET:
        return Aimed(best, "best_chance")
    return Aimed(nearest, "nearest_target")


def _nearest(marks: range, torque: Callable[[int], float], target: float) -> int:
    above = first(marks, lambda number: torque(number) >= target)
    if above is None:
        return marks[-1]
    if above == marks[0] or torque(above) - target < target - torque(above - 1):
        return above
    return above - 1


def _pieces(marks: range, leaps: Sequence[int]) -> list[range]:
    """The marks, parted where the uncertainty leaps."""
    starts = [marks.start, *(leap for leap in leaps if marks.start < leap < marks.stop), marks.stop]
    return [range(start, stop) for start, stop in pairwise(starts)]


def _above_minimum(pieces: list[range], chance_at: Callable[[int], Chance], nearest: int) -> Aimed:
    for marks in pieces:
        enough = first(
            marks,
            lambda number: chance_at(number).below_minimum <= ENOUGH_ABOVE_MINIMUM,
            near=marks.start,
        )
        if enough is not None:
            return Aimed(enough, "enough_above_minimum")
    return Aimed(nearest, "nearest_target")


def _best(
    pieces: list[range],
    torque: Callable[[int], float],
    chance_at: Callable[[int], Chance],
    target: float,
    middle: int,
) -> int:
    """The mark most probable within the window; of equal ones the nearest to the target, then the lower.

    ``middle`` is the mark in the middle of the window, near which it is looked for.
    """

    def score(number: int) -> float:
        return chance_at(number).in_window

    peaks = [_peak(marks, chance_at, middle) for marks in pieces]
    least = max(map(score, peaks)) - TIE
    equal = []
    for marks, peak in zip(pieces, peaks, strict=True):
        if score(peak) >= least:
            start = first(range(marks.start, peak + 1), lambda number: score(number) >= least, near=peak)
            stop = first(range(peak + 1, marks.stop), lambda number: score(number) < least, near=peak + 1)
            plateau = range(peak if start is None else start, marks.stop if stop is None else stop)
            equal.append(_nearest(plateau, torque, target))
    return min(equal, key=lambda number: (abs(torque(number) - target), number))


def _peak(marks: range, chance_at: Callable[[int], Chance], near: int) -> int:
    """The most probable mark, where the probability rises to it and falls beyond."""

    def reached(number: int) -> bool:
        here, higher = chance_at(number), chance_at(number + 1)
        if here.in_window == higher.in_window:  # a plateau at 1, or at 0 on either side of the window
            return here.below_minimum <= here.above_maximum
        return here.in_window > higher.in_window

    found = first(marks[:-1], reached, near)
    return marks[-1] if found is None else found


def first(numbers: range, holds: Callable[[int], bool], near: int | None = None) -> int | None:
    """The first number for which something holds that holds for all after it; None where for none.

    Args:
        numbers: rising.
        holds: asked of as few of them as possible.
        near: where it is expected: it is looked for from there outwards; else by halving.

    >>> first(range(10), lambda number: number * number > 30)
    6
    >>> first(range(10), lambda number: number * number > 30, near=8)
    6
    """
    left = numbers
    if near is not None and numbers:
        left = _around(numbers, holds, min(max(numbers.start, near), numbers.stop - 1))
    found = left.start + bisect_left(left, True, key=holds)
    return found if found < numbers.stop else None


def _around(numbers: range, holds: Callable[[int], bool], near: int) -> range:
    """Numbers among which `first` is, or next after which, by doubling steps from where it is expected."""
    low, high, step = numbers.start, numbers.stop, 1
    if holds(near):
        high = near
        while low < high:
            tried = max(low, high - step)
            if not holds(tried):
                return range(tried + 1, high)
            high, step = tried, 2 * step
    else:
        low = near + 1
        while low < high:
            tried = min(low + step, high) - 1
            if holds(tried):
                return range(low, tried)
            low, step = tried + 1, 2 * step
    return range(low, high)
