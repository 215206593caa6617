"""An axis of a chart: to scale as far as marks are set, and beyond that a strip for the limits, in order."""

from collections.abc import Sequence
from dataclasses import dataclass

APART = 7.5
"""mm from limit to limit in the strip."""


@dataclass(frozen=True)
class Axis:
    """An axis, mm.

    Attributes:
        zero: where its 0 stands.
        end: where its part to scale ends; less than ``zero`` on an axis that goes up.
        top: the value at ``end``.
        beyond: values above ``top``, rising; they stand one after the other, not to scale.
    """

    zero: float
    end: float
    top: float
    beyond: Sequence[float] = ()

    def at(self, value: float) -> float:
        """Where a value stands."""
        if value in self.beyond:
            step = APART if self.end > self.zero else -APART
            return self.end + step * (self.beyond.index(value) + 1)
        return self.zero + (self.end - self.zero) * value / self.top

    @property
    def stop(self) -> float:
        """Where the strip ends."""
        step = APART if self.end > self.zero else -APART
        return self.end + step * (len(self.beyond) + 0.6) if self.beyond else self.end


def strip(count: int) -> float:
    """Length of a strip for so many limits, mm."""
    return APART * (count + 0.6) if count else 0.0
