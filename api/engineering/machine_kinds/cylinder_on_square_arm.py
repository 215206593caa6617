"""One cylinder swinging an arm of which only the length is known: ``T = a F`` at square."""

from dataclasses import dataclass

from api.engineering.machine_kinds.machine import ANY_READING, ArmPosition, Efficiency
from api.engineering.machines.cylinder import (
    Piston,
    Side,
    Turning,
    cylinder_side,
    force_from_pressure,
    pressure_from_force,
)
from api.engineering.machines.off_square import moment_arms_off_square


@dataclass(frozen=True)
class CylinderOnSquareArm:
    """The machine as it grips one outside diameter, SI.

    Nobody has measured where the base pin stands, so the lever is known only where the arm is square to
    the cylinder, and off square only as well as the largest angle is.

    Attributes:
        cylinder: bore and rod.
        arm_radius: from the centre of the gripped pipe to the arm pin, m.
        largest_angle_off_square: farthest that the cylinder ever stands off square, rad; None if not known.
        right_hand_make_up_side: the side that makes up a right-hand thread.
        efficiency: low, nominal and high.
        breakaway_pressure: lost before the piston moves, Pa.
        return_pressure: on the returning side, Pa.
    """

    cylinder: Piston
    arm_radius: float
    largest_angle_off_square: float | None
    right_hand_make_up_side: Side
    efficiency: Efficiency
    breakaway_pressure: float
    return_pressure: float

    def sides(self, turning: Turning) -> tuple[Side]:
        """The one side of its one cylinder."""
        return (cylinder_side(self.right_hand_make_up_side, turning),)

    def moment_arm(self, position: ArmPosition) -> float:
        """The arm radius: at square, and as the largest there is where the position is unknown, m.

        Raises:
            NoAnswer: ``no_cylinder_length``, ``angle_off_square_unknown``.
        """
        return self._moment_arms(position)[1]

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
        """Least and most torque, N.m, between two pressures (Pa), over efficiency and arm position.

        In an unknown position the least takes ``arm_radius cos(largest_angle_off_square)``.
        """
        smallest, largest = self._moment_arms(position)
        least = smallest * self._force(lowest, turning, self.efficiency.low)
        most = largest * self._force(highest, turning, self.efficiency.high)
        return max(0.0, least), max(0.0, most)

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Any: the torque is computed."""
        return ANY_READING

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float:
        """The whole force of the cylinder, N: nothing balances it. Zero before the piston moves."""
        self._moment_arms(position)
        return max(0.0, self._force(reading, turning, self.efficiency.nominal))

    def _moment_arms(self, position: ArmPosition) -> tuple[float, float]:
        return moment_arms_off_square(
            self.arm_radius, self.largest_angle_off_square, position, "a machine known by its arm alone"
        )

    def _force(self, reading: float, turning: Turning, efficiency: float) -> float:
        (side,) = self.sides(turning)
        return force_from_pressure(
            self.cylinder, side, reading, efficiency, self.breakaway_pressure, self.return_pressure
        )
