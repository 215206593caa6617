"""One cylinder swinging one arm that grips the pipe: ``T = h e (A (p - p_breakaway) - A' p_return)``."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from api.engineering.machine_kinds.machine import (
    ARM_TOLERANCES,
    BREAKAWAY_TOLERANCES,
    PISTON_TOLERANCES,
    RETURN_TOLERANCES,
    Computed,
    Efficiency,
    Tolerance,
    range_over_efficiency,
)
from api.engineering.machines.arm import Swing
from api.engineering.machines.cylinder import (
    ArmPosition,
    Cylinder,
    Side,
    Turning,
    cylinder_side,
    force_from_pressure,
    pressure_from_force,
)
from api.engineering.uncertainty.combined import Doubt


@dataclass(frozen=True)
class CylinderOnArm(Swing, Computed):
    """A machine with one cylinder on its arm, at one gripped outside diameter, SI.

    Attributes:
        cylinder, arm_radius, base_distance: see `Swing`.
        right_hand_make_up_side: the side that makes up a right-hand thread.
        efficiency: low, nominal and high.
        breakaway_pressure: lost before the piston moves, Pa.
        return_pressure: on the returning side, Pa.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {
        **PISTON_TOLERANCES,
        **ARM_TOLERANCES,
        "base_distance": Tolerance(("base_distance",)),
        **BREAKAWAY_TOLERANCES,
        **RETURN_TOLERANCES,
    }

    right_hand_make_up_side: Side
    efficiency: Efficiency
    breakaway_pressure: float
    return_pressure: float

    @property
    def piston(self) -> Cylinder:
        """Its one cylinder."""
        return self.cylinder

    @property
    def swing(self) -> Swing:
        """The machine itself: one length says how its arm stands."""
        return self

    def sides(self, turning: Turning) -> tuple[Side]:
        """The one side of its one cylinder."""
        return (self.side(turning),)

    def side(self, turning: Turning) -> Side:
        """The side of the cylinder to put under pressure."""
        return cylinder_side(self.right_hand_make_up_side, turning)

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at a gauge pressure on the driven side, N.m from Pa."""
        force = force_from_pressure(
            self.cylinder,
            self.side(turning),
            reading,
            efficiency,
            self.breakaway_pressure,
            self.return_pressure,
        )
        return force * self.moment_arm(position)

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over efficiency and arm position."""
        arms = self.moment_arms(position)
        return range_over_efficiency(self, lowest, highest, turning, position, arms)

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Gauge pressure on the driven side for a torque on the joint, Pa from N.m."""
        return pressure_from_force(
            self.cylinder,
            self.side(turning),
            torque / self.moment_arm(position),
            efficiency,
            self.breakaway_pressure,
            self.return_pressure,
        )

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """The whole force of the cylinder, N: nothing balances it. Zero before the piston moves."""
        torque = self.torque_from_reading(reading, turning, position, self.efficiency.nominal)
        return max(0.0, torque / self.moment_arm(position))

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The range of efficiency."""
        return (self.efficiency.doubt("efficiency", torque),)
