"""A hydraulic torque wrench with the torque factor of its maker: ``T = K p e``."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from api.engineering.machine_kinds.machine import (
    Computed,
    Efficiency,
    NoArm,
    Tolerance,
    range_over_efficiency,
)
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.uncertainty.combined import Doubt


@dataclass(frozen=True)
class TorqueWrench(NoArm, Computed, called="a torque wrench"):
    """A wrench on its drive, SI.

    Its lever is short and hidden, and its factor holds over the whole stroke, so it has no position. It turns
    the other way by being turned over, with its reaction member on the other side, not by another hose.

    Attributes:
        torque_factor: K of the maker for this wrench and drive, N.m/Pa.
        efficiency: torque over ``K p``, low, nominal and high; nominal 1 where K contains the losses.
        reaction_arm: from the centre of the nut or pipe to where the reaction member bears, m; None if not
            known.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {"torque_factor": Tolerance(("torque_factor",), "number")}
    piston: ClassVar[None] = None

    torque_factor: float
    efficiency: Efficiency
    reaction_arm: float | None

    def sides(self, turning: Turning) -> tuple[()]:
        """None: it is the wrench that is turned over."""
        return ()

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque at a gauge pressure, N.m from Pa.

        A factor of 1.25 ft-lb/psi at 4000 psi:

        >>> wrench = TorqueWrench(1.25, Efficiency(0.97, 1.0, 1.03), None)
        >>> wrench.torque_from_reading(4000.0, Turning("make_up", "right"), "square", 1.0)
        5000.0
        """
        self.moment_arm(position)
        return self.torque_factor * reading * efficiency

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Gauge pressure for a torque, Pa from N.m."""
        self.moment_arm(position)
        return torque / (self.torque_factor * efficiency)

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over the spread of the factor."""
        return range_over_efficiency(self, lowest, highest, turning, position, None)

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """Force of the reaction member at the nominal efficiency, N: it bears on the pipe just as hard."""
        torque = self.torque_from_reading(reading, turning, position, self.efficiency.nominal)
        return None if self.reaction_arm is None else torque / self.reaction_arm

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The range of efficiency."""
        return (self.efficiency.doubt("efficiency", torque),)
