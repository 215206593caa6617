"""Bore or arm hole: which of them, of another size than thought, explains the torque of both sides."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Literal

from api.engineering.cylinder import Piston
from api.engineering.machines.machine import Driven

CLEAR = 0.03
"""Share by which the two sides must contradict one explanation before the other is named (own judgement)."""


@dataclass(frozen=True)
class SizeInDoubt:
    """One side whose torque is a share of what geometry and the expected efficiency give.

    A wrong arm changes both sides alike, a wrong bore the rod side more than the cap side.
    """

    side: Driven
    piston: Piston
    moment_arm: float
    share: float

    @property
    def arm(self) -> float:
        """The moment arm that explains it, m."""
        return self.moment_arm * self.share

    @property
    def bore(self) -> float:
        """The bore that explains it, m: ``D sqrt(share)``, rod side ``sqrt(d^2 + (D^2 - d^2) share)``.

        A 5 in bore of which the rod side gives 14/18.75 of the torque, with a 2.5 in rod, is one of 4.5 in:

        >>> SizeInDoubt("rod", Piston(5, 2.5), 36, 14 / 18.75).bore
        4.5
        """
        bore, rod = self.piston.bore, self.piston.rod if self.side == "rod" else 0.0
        return sqrt(rod**2 + (bore**2 - rod**2) * self.share)


def bore_or_arm(sides: Sequence[SizeInDoubt]) -> Literal["bore", "arm"] | None:
    """Which size explains both sides; None where they do not tell."""
    if {each.side for each in sides} != {"cap", "rod"}:
        return None
    arm_gap = _gap([each.arm for each in sides])
    bore_gap = _gap([each.bore**2 for each in sides])
    if max(arm_gap, bore_gap) < CLEAR or 2 * min(arm_gap, bore_gap) > max(arm_gap, bore_gap):
        return None
    return "bore" if bore_gap < arm_gap else "arm"


def _gap(values: Sequence[float]) -> float:
    return max(values) / min(values) - 1
