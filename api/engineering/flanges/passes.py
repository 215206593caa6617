"""The passes in which the bolts of a flange are tightened to a torque: practice, not theory.

Snug, then shares of the target crosswise, then clockwise at the target until no nut turns, and perhaps once
more hours later: the legacy cross-pattern method of ASME PCC-1, Table 2 (from memory).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from api.engineering.calibration.slips import FOOT_POUND
from api.engineering.checks import NOISE

SNUG = (10 * FOOT_POUND, 20 * FOOT_POUND)
"""Torque of a snug nut, N.m (ASME PCC-1, from memory): 10 to 20 ft-lbf."""
SNUG_SHARE = 0.20
"""Share of the target that a snug nut must not exceed (ASME PCC-1, from memory)."""

PassName = Literal["snug", "cross", "circular", "check"]


@dataclass(frozen=True)
class TorquePass:
    """One pass over all bolts.

    Attributes:
        name: ``snug``, ``cross``, ``circular``, or ``check``: the circular pass repeated later.
        share: torque over the target; None for the snug pass, which has none to set.
        torque: torque to set, N.m.
        torque_minimum, torque_maximum: N.m, of the snug pass; no minimum where the maximum lies below it.
    """

    name: PassName
    share: float | None = None
    torque: float | None = None
    torque_minimum: float | None = None
    torque_maximum: float | None = None

    def no_tighter_than(self, first: float) -> "TorquePass":
        """The pass, if snug no tighter than the first pass as it is set on a gauge, N.m."""
        if self.torque_maximum is None or self.torque_maximum <= first:
            return self
        minimum = self.torque_minimum if self.torque_minimum and self.torque_minimum <= first else None
        return replace(self, torque_maximum=first, torque_minimum=minimum)


def tightening_passes(target: float, shares: Sequence[float]) -> Iterator[TorquePass]:
    """Every pass in its turn.

    Args:
        target: target torque, N.m, > 0.
        shares: of the target for each cross pass, rising, the last exactly 1.

    >>> [each.torque for each in tightening_passes(1000.0, (0.3, 0.6, 1.0)) if each.name == "cross"]
    [300.0, 600.0, 1000.0]
    """
    yield _snug(target, shares[0])
    for share in shares:
        yield TorquePass("cross", share, share * target)
    yield TorquePass("circular", 1.0, target)
    yield TorquePass("check", 1.0, target)


def _snug(target: float, first_share: float) -> TorquePass:
    """The torque of a snug nut, within every limit: never above that of the first pass."""
    lowest, highest = SNUG
    most = min(highest, min(SNUG_SHARE, first_share) * target)
    minimum = lowest if lowest <= most * (1 + NOISE) else None
    return TorquePass("snug", torque_minimum=minimum, torque_maximum=most)
