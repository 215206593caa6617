"""The mark that a make-up sets, by looking at every mark: the rule written out again.

The probabilities are those of `statistics.NormalDist`; where two marks are as good, each of them may be set.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

NORMAL = NormalDist()
NEARLY = 1e-7
"""Two probabilities closer than that are not told apart by two ways to work out a tail."""
SAME = 1e-9
"""Two torques closer than that, as a share, are one."""


@dataclass(frozen=True)
class Window:
    """A target and its window, in any unit; ``farthest`` is a share of the target."""

    target: float
    minimum: float | None
    maximum: float | None
    farthest: float = 0.1

    @property
    def lowest(self) -> float:
        return self.target * (1 - self.farthest) if self.minimum is None else self.minimum

    @property
    def highest(self) -> float:
        return self.target * (1 + self.farthest) if self.maximum is None else self.maximum


@dataclass(frozen=True)
class Mark:
    """A mark with its nominal torque, and mean and standard deviation of what it gives."""

    reading: float
    torque: float
    mean: float
    deviation: float

    def below(self, window: Window) -> float:
        if window.minimum is None:
            return 0.0
        return NORMAL.cdf((window.minimum - self.mean) / self.deviation)

    def above(self, window: Window) -> float:
        if window.maximum is None:
            return 0.0
        return NORMAL.cdf((self.mean - window.maximum) / self.deviation)

    def within(self, window: Window) -> float:
        return 1.0 - self.below(window) - self.above(window)


def right_marks(marks: Sequence[Mark], window: Window) -> list[Mark]:
    """Those that the rule may set, of all that may be set, rising; more than one only where they are equal.

    Where a probability is within `NEARLY` of what parts two branches of the rule, both are right.
    """
    distance = {mark: abs(mark.torque - window.target) for mark in marks}
    least = min(distance.values())
    nearest = [mark for mark in marks if distance[mark] <= least + SAME * window.target]
    if window.minimum is None:
        return nearest
    if window.maximum is None:
        surely = next((mark for mark in marks if mark.below(window) <= 0.05 - NEARLY), None)
        nearly = [mark for mark in marks if abs(mark.below(window) - 0.05) < NEARLY]
        return [*nearly, *([surely] if surely else nearest)]
    chances = {mark: mark.within(window) for mark in marks}
    best = max(chances.values())
    # of a plateau the nearest to the target; how far it reaches depends on the last digits
    surely_equal = min(distance[mark] for mark in marks if chances[mark] >= best - NEARLY / 1e5)
    surest = [
        mark
        for mark in marks
        if chances[mark] >= best - NEARLY and distance[mark] <= surely_equal + SAME * window.target
    ]
    if window.target in (window.minimum, window.maximum):
        return surest
    found: list[Mark] = []
    for mark in nearest:
        gain = best - chances[mark]
        found += [*(surest if gain > 0.02 - NEARLY else []), *([mark] if gain < 0.02 + NEARLY else [])]
    return found
