"""What went wrong where a torque is not what geometry allows: the ratios that usual mistakes leave."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log, prod
from typing import Literal

from api.engineering.calibration.slips import Drive, Slip
from api.engineering.machine_kinds.machine import Efficiency

MARGIN = 0.97
"""How far a sound machine may lie outside the range of efficiency in its profile, as a factor.

That range is an estimate, and bore, arm or displacement are known to a percent or two (own judgement).
"""
ONE_SIZE = 1.75
"""Neighbouring bores, and holes of one arm, differ by less in torque (common practice, no source)."""

SAME_AREAS = 0.03
"""Share by which a torque may differ from that of the other side and still look like it (own judgement)."""

Verdict = Literal["plausible", "low", "high", "impossible"]


@dataclass(frozen=True)
class Mistake:
    """One slip, or two at once, that would explain an efficiency, and the efficiency without it."""

    code: str
    text: str
    efficiency_without: float | None


@dataclass(frozen=True)
class Geometry:
    """The torque of one side by geometry.

    Attributes:
        torque_per_pressure: torque per pressure without losses, m3; of a cylinder area times moment arm.
        other_side: the same of the other side; None where there is none.
        efficiency: the range to be expected, of the profile.
        drive: what turns it.
    """

    torque_per_pressure: float
    other_side: float | None
    efficiency: Efficiency
    drive: Drive


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
        """``low`` and ``high`` outside the range of its profile, ``impossible`` above 1.

        Each by more than the `MARGIN` of the profile, where it is one, and two standard uncertainties.
        """
        if self.value > 1 + self._twice:
            return "impossible"
        if self._fits(self.value):
            return "plausible"
        return "low" if self.value < self.geometry.efficiency.nominal else "high"

    @property
    def _twice(self) -> float:
        """Two standard uncertainties, as a share."""
        return 2 * self.uncertainty / self.value

    def _fits(self, efficiency: float) -> bool:
        """Whether an efficiency, known as well as this one, is one of a sound machine."""
        expected = self.geometry.efficiency
        lowest = expected.low * MARGIN * (1 - self._twice)
        return lowest <= efficiency <= min(1, expected.high / MARGIN) * (1 + self._twice)

    @property
    def share(self) -> float:
        """The torque as a share of what geometry and the nominal efficiency give."""
        return self.value / self.geometry.efficiency.nominal

    @property
    def other_side_share(self) -> float | None:
        """The torque of the other side as a share of this one's, by geometry; None where there is none."""
        other = self.geometry.other_side
        return None if other is None else other / self.geometry.torque_per_pressure

    @property
    def looks_like_the_other_side(self) -> bool:
        """Whether the torque is the share of this side's that the areas give the other one."""
        other = self.other_side_share
        return other is not None and other != 1 and abs(self.share / other - 1) < SAME_AREAS

    @property
    def by_losses(self) -> str | None:
        """Which losses alone would explain it; None above an efficiency of 1, which no losses do."""
        if self.verdict == "impossible":
            return None
        return "greater losses" if self.share < 1 else "smaller losses"

    @property
    def mistakes(self) -> tuple[Mistake, ...]:
        """Mistakes that would explain an efficiency that is not plausible, the best explanation first.

        One slip alone goes before two at once, and two at once are not asked for where another size would
        do. That stands last, or alone where nothing else fits.
        """
        if self.verdict == "plausible":
            return ()
        slips = [*self.geometry.drive.slips, *self._side()]
        found = self._fitting((slip,) for slip in slips)
        if self.by_size:
            return (*found, self.another_size)
        if not found:
            found = self._fitting(combinations(slips, 2))
        return tuple(found) or (self.another_size,)

    @property
    def by_size(self) -> bool:
        """Whether another size would explain it: it is off, and by no more than sizes differ."""
        return self.verdict != "plausible" and 1 / ONE_SIZE <= self.share <= ONE_SIZE

    @property
    def another_size(self) -> Mistake:
        """The explanation by another size of what turns the machine, or by its losses."""
        drive, losses = self.geometry.drive, self.by_losses
        instead = f", or {losses} than its efficiency there allows for" if losses else ""
        text = f"{drive.sizes_text} of another size than in the profile{instead}"
        return Mistake(drive.sizes, text, None)

    def _side(self) -> Iterator[Slip]:
        other = self.geometry.other_side
        if other is not None:
            text = "the side under pressure was not the one named"
            yield Slip("wrong_side", other / self.geometry.torque_per_pressure, text)

    def _fitting(self, causes: Iterable[Sequence[Slip]]) -> list[Mistake]:
        found = []
        for slips in causes:
            without = self.value / prod(slip.ratio for slip in slips)
            if self._fits(without):
                code = "+".join(slip.kind for slip in slips)
                distance = abs(log(without / self.geometry.efficiency.nominal))
                found.append((distance, Mistake(code, ", and ".join(slip.text for slip in slips), without)))
        return [mistake for _, mistake in sorted(found, key=lambda each: each[0])]
