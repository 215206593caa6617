"""One cylinder swinging one arm that grips the pipe: ``T = h e (A (p - p_breakaway) - A' p_return)``."""

from dataclasses import dataclass

from api.engineering.machine_kinds.machine import ANY_READING, ArmPosition, Efficiency
from api.engineering.machines.arm import (
    largest_moment_arm,
    moment_arm_at_length,
    smallest_moment_arm,
    square_moment_arm,
)
from api.engineering.machines.cylinder import (
    Cylinder,
    Side,
    Turning,
    cylinder_side,
    force_from_pressure,
    pressure_from_force,
)


@dataclass(frozen=True)
class CylinderOnArm:
    """The machine as it grips one outside diameter, SI.

    Attributes:
        cylinder: bore, rod and pin-to-pin lengths.
        arm_radius: from the centre of the gripped pipe to the arm pin, m.
        base_distance: from the centre of the gripped pipe to the base pin of the cylinder, m.
        right_hand_make_up_side: the side that makes up a right-hand thread.
        efficiency: low, nominal and high.
        breakaway_pressure: lost before the piston moves, Pa.
        return_pressure: on the returning side, Pa.
    """

    cylinder: Cylinder
    arm_radius: float
    base_distance: float
    right_hand_make_up_side: Side
    efficiency: Efficiency
    breakaway_pressure: float
    return_pressure: float

    def sides(self, turning: Turning) -> tuple[Side]:
        """The one side of its one cylinder."""
        return (self.side(turning),)

    def side(self, turning: Turning) -> Side:
        """The side of the cylinder to put under pressure."""
        return cylinder_side(self.right_hand_make_up_side, turning)

    def moment_arm(self, position: ArmPosition) -> float:
        """Moment arm of the cylinder line about the pipe centre, m.

        An unknown position takes the largest of the stroke: no other then gives more torque.

        Raises:
            NoAnswer: ``square_not_reached``, ``outside_stroke``, ``dead_centre``.
        """
        if position == "square":
            return square_moment_arm(self.cylinder, self.arm_radius, self.base_distance)
        if position == "unknown":
            return largest_moment_arm(self.cylinder, self.arm_radius, self.base_distance)
        return moment_arm_at_length(self.cylinder, self.arm_radius, self.base_distance, position)

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
        """Least and most torque, N.m, between two pressures (Pa), over efficiency and arm position.

        The least takes the lowest pressure, efficiency and moment arm, the most the highest; a torque
        below zero, which a machine that does not move cannot give, is zero.
        """
        most = self.torque_from_reading(highest, turning, position, self.efficiency.high)
        least = self.torque_from_reading(lowest, turning, position, self.efficiency.low)
        if position == "unknown":
            smallest = smallest_moment_arm(self.cylinder, self.arm_radius, self.base_distance)
            least *= smallest / self.moment_arm(position)
        return max(0.0, least), max(0.0, most)

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

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Any: the torque is computed."""
        return ANY_READING

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """The whole force of the cylinder, N: nothing balances it. Zero before the piston moves."""
        torque = self.torque_from_reading(reading, turning, position, self.efficiency.nominal)
        return max(0.0, torque / self.moment_arm(position))
