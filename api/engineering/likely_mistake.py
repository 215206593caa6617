"""What went wrong where a torque is not what geometry allows: the ratios that usual mistakes leave."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log, pi, prod
from typing import Literal

LOWEST, HIGHEST = 0.85, 1.0
"""Efficiencies that a sound machine has (from memory)."""
ONE_SIZE = 1.75
"""Neighbouring bores, and holes of one arm, differ by less in torque (common practice, no source)."""
FOOT_POUND = 1.3558179483314004
BAR = 14.503773773020923

Verdict = Literal["plausible", "low", "impossible"]


@dataclass(frozen=True)
class Slip:
    """A mistake of a kind, and the factor by which it makes the efficiency come out wrong."""

    kind: str
    ratio: float
    text: str


SLIPS = (
    Slip("inch_foot", 12, "torque in inch-pounds given as foot-pounds, or the arm in feet given as inches"),
    Slip(
        "inch_foot", 1 / 12, "torque in foot-pounds given as inch-pounds, or the arm in inches given as feet"
    ),
    Slip("newton_metre_foot_pound", FOOT_POUND, "torque in N.m given as foot-pounds"),
    Slip("newton_metre_foot_pound", 1 / FOOT_POUND, "torque in foot-pounds given as N.m"),
    Slip("psi_bar", BAR, "pressure in bar given as psi"),
    Slip("psi_bar", 1 / BAR, "pressure in psi given as bar"),
    Slip("factor_ten", 10, "pressure of a dial marked x10 read without it, or torque in N.m given as daN.m"),
    Slip("factor_ten", 1 / 10, "pressure read with a x10 too many, or torque in daN.m or kgf.m given as N.m"),
    Slip("inch_millimetre", 25.4, "the arm in inches given as mm"),
    Slip("inch_millimetre", 1 / 25.4, "the arm in mm given as inches"),
    Slip("radius_diameter", 2, "the arm radius taken for a diameter and halved"),
    Slip("radius_diameter", 1 / 2, "the arm given by its diameter instead of its radius"),
    Slip("radian_revolution", 2 * pi, "displacement per radian given as per revolution"),
    Slip("radian_revolution", 1 / (2 * pi), "displacement per revolution given as per radian"),
)


@dataclass(frozen=True)
class Mistake:
    """One slip, or two at once, that would explain an efficiency, and the efficiency without it."""

    code: str
    text: str
    efficiency_without: float | None


ANOTHER_SIZE = Mistake(
    "bore_or_arm_hole",
    "a bore, rod or arm hole of another size than in the profile, or great losses",
    None,
)


@dataclass(frozen=True)
class Geometry:
    """What geometry says of one side.

    Attributes:
        torque_per_pressure: area times moment arm, without losses, m3.
        other_side: the same of the other side; None where there is none.
        efficiency: the efficiency to be expected.
    """

    torque_per_pressure: float
    other_side: float | None
    efficiency: float


@dataclass(frozen=True)
class FoundEfficiency:
    """A slope against geometry.

    Attributes:
        value: efficiency.
        uncertainty: its standard uncertainty from what was measured; geometry adds none here.
        geometry: what it was held against.
    """

    value: float
    uncertainty: float
    geometry: Geometry

    @property
    def verdict(self) -> Verdict:
        """``impossible`` above 1 by more than two standard uncertainties, ``low`` below 0.85."""
        if self.value > self.highest:
            return "impossible"
        return "low" if self.value < LOWEST else "plausible"

    @property
    def highest(self) -> float:
        """The highest that could be found of a machine without losses."""
        return HIGHEST + 2 * self.uncertainty

    @property
    def mistakes(self) -> tuple[Mistake, ...]:
        """What would explain an efficiency that is not plausible, the best explanation first.

        One slip alone goes before two at once, and two at once are not asked for where a bore or an arm
        hole of another size would do. That stands last, or alone where nothing else fits.
        """
        if self.verdict == "plausible":
            return ()
        slips = [*SLIPS, *self._side()]
        found = self._fitting((slip,) for slip in slips)
        if 1 / ONE_SIZE <= self.value / self.geometry.efficiency <= ONE_SIZE:
            return (*found, ANOTHER_SIZE)
        if not found:
            found = self._fitting(combinations(slips, 2))
        return tuple(found) or (ANOTHER_SIZE,)

    def _side(self) -> Iterator[Slip]:
        other = self.geometry.other_side
        if other is not None:
            text = "the other side was under pressure than the one named"
            yield Slip("wrong_side", other / self.geometry.torque_per_pressure, text)

    def _fitting(self, causes: Iterable[Sequence[Slip]]) -> list[Mistake]:
        found = []
        for slips in causes:
            without = self.value / prod(slip.ratio for slip in slips)
            if LOWEST <= without <= self.highest:
                code = "+".join(slip.kind for slip in slips)
                distance = abs(log(without / self.geometry.efficiency))
                found.append((distance, Mistake(code, ", and ".join(slip.text for slip in slips), without)))
        return [mistake for _, mistake in sorted(found, key=lambda each: each[0])]
