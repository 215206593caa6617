"""Which mark a make-up sets: the safest that the joint and the machine allow.

A mark is judged by the probability that its torque lies within the window of the joint: normal, with the best
estimate and the combined standard uncertainty of the budget at that mark (JCGM 100, 5.1; JCGM 106, 7).

The probability rises to one best mark and falls beyond it, since the torque rises with the mark and its
uncertainty changes slowly. So the best is found by halving, however many marks a dial has.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import erfc, sqrt
from typing import Literal

WORTH_LEAVING_THE_TARGET = 0.02
"""By so much a better probability within the window must exceed that at the target (own judgement)."""
ENOUGH_ABOVE_MINIMUM = 0.05
"""Probability of a torque below the minimum that is enough where there is no maximum (own judgement)."""
TIE = 1e-9
"""Probabilities that differ by no more are equal."""

Choice = Literal["target_asked", "nearest_target", "best_chance", "enough_above_minimum"]
"""Why a mark was chosen."""


@dataclass(frozen=True)
class Chance:
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


@dataclass(frozen=True)
class Goal:
    """What a make-up is to reach, N.m.

    Attributes:
        target: torque wanted.
        minimum, maximum: ends of the window; None where there is none.
        farthest: share of the target by which a mark may miss it where there is no end.
    """

    target: float
    minimum: float | None
    maximum: float | None
    farthest: float

    @property
    def closed(self) -> bool:
        """Whether both ends are known."""
        return self.minimum is not None and self.maximum is not None

    @property
    def lowest(self) -> float:
        """The least torque of a mark that may be set."""
        return self.target * (1 - self.farthest) if self.minimum is None else self.minimum

    @property
    def highest(self) -> float:
        """The most torque of a mark that may be set."""
        return self.target * (1 + self.farthest) if self.maximum is None else self.maximum


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
    """
    nearest = _nearest(marks, torque, goal.target)
    if at_target:
        return Aimed(nearest, "target_asked")
    if goal.minimum is None or chance_at is None:
        return Aimed(nearest, "nearest_target")
    if goal.maximum is None:
        return _above_minimum(marks, chance_at, nearest)
    best = _best(marks, chance_at, nearest)
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


def _above_minimum(marks: range, chance_at: Callable[[int], Chance], nearest: int) -> Aimed:
    enough = first(marks, lambda number: chance_at(number).below_minimum <= ENOUGH_ABOVE_MINIMUM)
    if enough is None:
        return Aimed(nearest, "nearest_target")
    return Aimed(enough, "enough_above_minimum")


def _best(marks: range, chance_at: Callable[[int], Chance], nearest: int) -> int:
    """The mark most probable within the window; of equal ones the nearest to the target, then the lower."""

    def score(number: int) -> float:
        return chance_at(number).in_window

    peak = first(marks[:-1], lambda number: score(number) >= score(number + 1))
    peak = marks[-1] if peak is None else peak
    best = score(peak) - TIE
    lowest = first(range(marks[0], peak + 1), lambda number: score(number) >= best)
    beyond = first(range(peak + 1, marks[-1] + 1), lambda number: score(number) < best)
    highest = marks[-1] if beyond is None else beyond - 1
    return min(max(nearest, peak if lowest is None else lowest), highest)


def first(numbers: range, holds: Callable[[int], bool]) -> int | None:
    """The first number for which something holds that holds for all after it; None where for none.

    >>> first(range(10), lambda number: number * number > 30)
    6
    """
    low, high = numbers.start, numbers.stop
    while low < high:
        middle = (low + high) // 2
        if holds(middle):
            high = middle
        else:
            low = middle + 1
    return low if low < numbers.stop else None
