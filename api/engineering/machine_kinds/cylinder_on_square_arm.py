"""One cylinder swinging an arm of which only the length is known: ``T = a F`` at square."""

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
from api.engineering.machines.arm import SquareArm
from api.engineering.machines.cylinder import (
    ArmPosition,
    Piston,
    Side,
    Turning,
    cylinder_side,
    force_from_pressure,
    pressure_from_force,
)
from api.engineering.uncertainty.combined import Doubt


@dataclass(frozen=True)
class CylinderOnSquareArm(SquareArm, Computed, called="a machine known by its arm alone"):
    """A machine known by its arm alone, at one gripped outside diameter, SI.

    Nobody has measured where the base pin stands, so the lever is known only where the arm is square to
    the cylinder, and off square only as well as the largest angle is.

    Attributes:
        arm_radius, largest_angle_off_square: see `SquareArm`.
        cylinder: bore and rod.
        right_hand_make_up_side: the side that makes up a right-hand thread.
        efficiency: low, nominal and high.
        breakaway_pressure: lost before the piston moves, Pa.
        return_pressure: on the returning side, Pa.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {
        **PISTON_TOLERANCES,
        **ARM_TOLERANCES,
        **BREAKAWAY_TOLERANCES,
        **RETURN_TOLERANCES,
    }

    cylinder: Piston
    right_hand_make_up_side: Side
    efficiency: Efficiency
    breakaway_pressure: float
    return_pressure: float

    @property
    def piston(self) -> Piston:
        """Its one cylinder."""
        return self.cylinder

    def sides(self, turning: Turning) -> tuple[Side]:
        """The one side of its one cylinder."""
        return (cylinder_side(self.right_hand_make_up_side, turning),)

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at a gauge pressure on the driven side, N.m from Pa."""
        return self.moment_arm(position) * self._force(reading, turning, efficiency)

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Gauge pressure on the driven side for a torque on the joint, Pa from N.m."""
        (side,) = self.sides(turning)
        force = torque / self.moment_arm(position)
        return pressure_from_force(
            self.cylinder, side, force, efficiency, self.breakaway_pressure, self.return_pressure
        )

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over efficiency and arm position."""
        arms = self.moment_arms(position)
        return range_over_efficiency(self, lowest, highest, turning, position, arms)

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float:
        """The whole force of the cylinder, N: nothing balances it. Zero before the piston moves."""
        self.moment_arm(position)
        return max(0.0, self._force(reading, turning, self.efficiency.nominal))

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The range of efficiency."""
        return (self.efficiency.doubt("efficiency", torque),)

    def _force(self, reading: float, turning: Turning, efficiency: float) -> float:
        (side,) = self.sides(turning)
        return force_from_pressure(
            self.cylinder, side, reading, efficiency, self.breakaway_pressure, self.return_pressure
        )
