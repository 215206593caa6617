"""The plot of a chart: axes, curves, marks and limits."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from api.http.charting.figures import dial, system_of, ticks
from api.http.charting.svg import width_of
from api.http.charting.words import Limit, limits_of

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
        """The place of a value."""
        if value in self.beyond:
            step = APART if self.end > self.zero else -APART
            return self.end + step * (self.beyond.index(value) + 1)
        return self.zero + (self.end - self.zero) * value / self.top

    @property
    def stop(self) -> float:
        """The end of the strip."""
        step = APART if self.end > self.zero else -APART
        return self.end + step * (len(self.beyond) + 0.6) if self.beyond else self.end


def strip(count: int) -> float:
    """Length of a strip for so many limits, mm."""
    return APART * (count + 0.6) if count else 0.0


WIDTH, DIAGRAM = 190.0, 228.0
"""Between the margins of A4, and the height of a diagram with its key."""
FIGURES = 7.4
"""Font size of figures: digits are at least 0.69 of it in every font named, hence 5 mm high."""
LINE = 9.0
"""Height that a figure needs beside an axis."""
WORDS = 4.4
"""Font size of words."""
ROW = 8.8
"""From line to line of the key."""
BOX = 6.4
"""Side of the box round a letter."""
HEAD, BELOW = 17.0, 27.0
"""What the diagram needs above its plot, for units and letters, and below it, for figures and the legend."""
ROOM = 1.03
"""How far the axis of torque goes beyond the last that it shows."""
NEAR = 1.25
"""A limit of torque up to here is drawn to scale, above it in the strip."""
THOUSANDS = 10_000
"""Torque from which its axis counts in thousands."""


@dataclass(frozen=True)
class TorqueScale:
    """The figures of one side of the diagram: a unit, and how many of it are one of the axis."""

    unit: str
    factor: float
    top: float
    length: float

    @property
    def thousands(self) -> bool:
        """Whether it counts in thousands."""
        return self.top >= THOUSANDS

    @cached_property
    def ticks(self) -> list[tuple[float, str]]:
        """Values of the axis and what is written there."""
        values = ticks(self.top, int(self.length / LINE))
        each = 1000 if self.thousands else 1
        return [(value / self.factor, dial(value / each)) for value in values]

    @property
    def room(self) -> float:
        """Width that its figures take."""
        return max(width_of(words, FIGURES) for _, words in self.ticks) + 4.0


@dataclass(frozen=True)
class Plot:
    """The diagram of one operation."""

    chart: Mapping[str, Any]

    @cached_property
    def marks(self) -> list[Mapping[str, Any]]:
        """Every row of the chart."""
        return list(self.chart["marks"])

    @cached_property
    def limits(self) -> list[Limit]:
        """Every limit, with its letter."""
        return limits_of(self.chart)

    @cached_property
    def dial_unit(self) -> str:
        """The unit of the gauge."""
        return str(self.marks[0]["gauge_setting"]["unit"])

    @cached_property
    def systems(self) -> tuple[str, str]:
        """The system of the dial, in which the axis of torque is, and the other one."""
        return system_of(self.dial_unit)

    @property
    def bottom(self) -> float:
        """The foot of the plot."""
        lines = sum(1 if limit.until is None else 2 for limit in self.limits)
        return DIAGRAM - BELOW - ROW * lines

    @cached_property
    def y(self) -> Axis:
        """Torque, upwards, in the system of the dial."""
        own = self.systems[0]
        highest = max(mark["torque_upper_bound"][own]["value"] for mark in self.marks)
        torques = [limit.torque(own) for limit in self.limits if limit.of_torque]
        top = ROOM * max([highest, *(torque for torque in torques if torque <= NEAR * highest)])
        beyond = sorted({torque for torque in torques if torque > top})
        return Axis(self.bottom, HEAD + strip(len(beyond)), top, beyond)

    @cached_property
    def scales(self) -> tuple[TorqueScale, TorqueScale]:
        """The figures on the left, in the system of the dial, and on the right, in the other."""
        own, other = self.systems
        shown = self.marks[-1]["torque_at_gauge_setting"]
        factor = shown[other]["value"] / shown[own]["value"]
        return (
            TorqueScale(shown[own]["unit"], 1.0, self.y.top, self.y.zero - self.y.end),
            TorqueScale(shown[other]["unit"], factor, self.y.top * factor, self.y.zero - self.y.end),
        )

    @cached_property
    def x(self) -> Axis:
        """The reading, to the right, in the unit of the dial."""
        last = self.marks[-1]["gauge_setting"]["value"]
        beyond = sorted({each.reading for each in self.limits if each.is_line and each.reading >= last})
        left, right = (scale.room for scale in self.scales)
        return Axis(left, WIDTH - right - strip(len(beyond)), last, beyond)

    @property
    def sides(self) -> tuple[float, float]:
        """Left and right side of the plot."""
        return self.x.zero, self.x.stop

    @property
    def top(self) -> float:
        """The upper end of the plot."""
        return self.y.stop

    def place(self, mark: Mapping[str, Any], torque: float) -> tuple[float, float]:
        """The place of a torque at a mark."""
        return self.x.at(mark["gauge_setting"]["value"]), self.y.at(torque)
