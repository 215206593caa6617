"""What is to be held by a grip, and what a part of the grip says to it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.engineering.checks import Check


@dataclass(frozen=True)
class Hold:
    """What is to be held, SI.

    Attributes:
        torque, outside_diameter, friction, margin: as given.
        squeeze: that of all jaws, needed for it or given, the larger.
        needed_squeeze: that needed.
        grip_range: smallest and largest outside diameter of the machine, where known.
    """

    torque: float
    outside_diameter: float
    friction: float
    margin: float
    squeeze: float
    needed_squeeze: float
    grip_range: tuple[float, float] | None

    @property
    def radius(self) -> float:
        """Of the pipe, m."""
        return self.outside_diameter / 2


@dataclass(frozen=True)
class Held:
    """What a part says: its result, its checks, what else the person must know."""

    result: Mapping[str, Any]
    checks: tuple[Check, ...] = ()
    cautions: tuple[str, ...] = ()
