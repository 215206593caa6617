"""Bore, rod or arm hole: which of them, of another size than thought, explains what all sides gave."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean
from typing import Literal

from api.engineering.machine_kinds.machine import Driven
from api.engineering.machines.cylinder import Piston

CLEAR = 0.03
"""Share by which sides must contradict an explanation to rule it out (own judgement): gauges and seals of
the two sides differ by a percent or two."""

Size = Literal["bore", "rod", "arm"]


@dataclass(frozen=True)
class SizeInDoubt:
    """One side whose torque is a share of what geometry and the expected efficiency give.

    A wrong arm changes both sides alike, a wrong bore the rod side more than the cap side, a wrong rod the
    rod side alone.

    Attributes:
        side: which.
        piston, moment_arm: as in the profile, m.
        share: of the torque expected.
        plausible: whether its efficiency is one of a sound machine.
    """

    side: Driven
    piston: Piston
    moment_arm: float
    share: float
    plausible: bool

    @property
    def arm(self) -> float:
        """The moment arm that explains it, m."""
        return self.moment_arm * self.share

    @property
    def bore(self) -> float:
        """The bore that explains it, m: ``D sqrt(share)``, rod side ``sqrt(d^2 + (D^2 - d^2) share)``.

        A 5 in bore of which the rod side gives 14/18.75 of the torque, with a 2.5 in rod, is one of 4.5 in:

        >>> SizeInDoubt("rod", Piston(5, 2.5), 36, 14 / 18.75, False).bore
        4.5
        """
        bore, rod = self.piston.bore, self.piston.rod if self.side == "rod" else 0.0
        return sqrt(rod**2 + (bore**2 - rod**2) * self.share)


def explaining_sizes(sides: Sequence[SizeInDoubt]) -> Mapping[Size, float]:
    """Every size that alone explains what all sides gave, with the value (m) it must then have.

    Args:
        sides: of one machine, at least one; one side may be there several times, on several gauges.

    Returns:
        Nothing where no single size explains it. Of both sides mostly one; two where they are too near.
    """
    found: dict[Size, float] = {}
    bore = fmean(each.bore for each in sides)
    if _agree([each.bore**2 for each in sides]) and bore > sides[0].piston.rod:
        found["bore"] = bore
    rod = _explaining_rod(sides)
    # Beside a bore that explains both sides, a rod must leave the cap side just as near to what is expected.
    if rod is not None and ("bore" not in found or _agree([1, *(each.share for each in _of("cap", sides))])):
        found["rod"] = rod
    if _agree([each.share for each in sides]):
        found["arm"] = fmean(each.arm for each in sides)
    return found


def _explaining_rod(sides: Sequence[SizeInDoubt]) -> float | None:
    """The rod that explains what the rod side gives beside the cap side, which no rod changes.

    ``d' = sqrt(D^2 - (D^2 - d^2) share)``, the share taken of what the cap side gave where that was read:
    both have the losses of one machine. Sides that are off alike leave nothing for a rod to explain.
    """
    caps, rods = _of("cap", sides), _of("rod", sides)
    off_alike = bool(caps) and _agree([each.share for each in sides])
    if not rods or off_alike or not all(each.plausible for each in caps):
        return None
    cap, rod = ([each.share for each in side] or [1.0] for side in (caps, rods))
    piston = sides[0].piston
    square = piston.bore**2 - (piston.bore**2 - piston.rod**2) * fmean(rod) / fmean(cap)
    return sqrt(square) if _agree(cap) and _agree(rod) and square > 0 else None


def _of(side: Driven, sides: Sequence[SizeInDoubt]) -> list[SizeInDoubt]:
    return [each for each in sides if each.side == side]


def _agree(values: Sequence[float]) -> bool:
    return max(values) / min(values) - 1 < CLEAR
