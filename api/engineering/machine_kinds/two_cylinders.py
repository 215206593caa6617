"""Two cylinders at one pressure turning one arm or ring: ``T = e (F1 h1 + F2 h2)``."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar, Self

from api.engineering.checks import Amount, refuse
from api.engineering.machine_kinds.machine import (
    BREAKAWAY_TOLERANCES,
    RETURN_TOLERANCES,
    Computed,
    Efficiency,
    Tolerance,
)
from api.engineering.machines.arm import Swing
from api.engineering.machines.cylinder import (
    ArmPosition,
    Side,
    Turning,
    area,
    cylinder_side,
    force_from_pressure,
    other_side,
)
from api.engineering.uncertainty.combined import Doubt


@dataclass(frozen=True)
class CylinderAtArm(Swing):
    """One of the cylinders and the triangle that it makes with the pipe, SI.

    Attributes:
        cylinder, arm_radius, base_distance: see `Swing`.
        right_hand_make_up_side: the side of it that makes up a right-hand thread.
    """

    right_hand_make_up_side: Side


@dataclass(frozen=True)
class TwoCylinders(Computed):
    """The machine as it grips one outside diameter, SI: push-push, pull-pull or push-pull.

    Square means that both stand square at once. A length is taken only from two cylinders alike (the same
    sizes and the same side), mounted alike, so that it is the length of both.

    Attributes:
        first, second: the cylinders. They share the pressure, not the force.
        on_opposite_sides: whether their pins stand straight across the pipe from each other; their forces
            on the pipe then oppose each other, else they add up.
        efficiency: low, nominal and high, of both.
        breakaway_pressure: lost before either piston moves, Pa.
        return_pressure: on both returning sides, Pa.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {
        "bore": Tolerance(("first.cylinder.bore", "second.cylinder.bore")),
        "rod": Tolerance(("first.cylinder.rod", "second.cylinder.rod")),
        "arm_radius": Tolerance(("first.arm_radius", "second.arm_radius")),
        "base_distance": Tolerance(("first.base_distance", "second.base_distance")),
        **BREAKAWAY_TOLERANCES,
        **RETURN_TOLERANCES,
    }
    piston: ClassVar[None] = None
    has_arm: ClassVar[bool] = True
    own_position: ClassVar[None] = None

    first: CylinderAtArm
    second: CylinderAtArm
    on_opposite_sides: bool
    efficiency: Efficiency
    breakaway_pressure: float
    return_pressure: float

    @property
    def swing(self) -> Swing | None:
        """The swing of either cylinder, if they are alike."""
        return self.first if self.first == self.second else None

    def sides(self, turning: Turning) -> tuple[Side, Side]:
        """The side of the first and of the second cylinder to put under pressure."""
        first, second = self.first.right_hand_make_up_side, self.second.right_hand_make_up_side
        return cylinder_side(first, turning), cylinder_side(second, turning)

    def moment_arm(self, position: ArmPosition) -> float | None:
        """The moment arm that both have, m; None where they differ: no one distance then gives the torque.

        Raises:
            NoAnswer: ``square_not_reached``, ``outside_stroke``, ``dead_centre``, ``no_common_length``.
        """
        (_, first), (_, second) = self._moment_arms(position)
        return first if first == second else None

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at the pressure of both driven sides, N.m from Pa.

        An unknown position takes the largest moment arm of each, although both may never have it at once:
        an upper bound as long as both drive. (`torque_range` is one at any pressure.)
        """
        (_, first_arm), (_, second_arm) = self._moment_arms(position)
        first, second = self._forces(reading, turning, efficiency)
        return first * first_arm + second * second_arm

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Pressure of both driven sides for a torque on the joint, Pa from N.m.

        ``p = p_breakaway + (T/e + p_return (A1' h1 + A2' h2)) / (A1 h1 + A2 h2)``.
        """
        driven = returning = 0.0
        for at, side, (_, arm) in zip(
            (self.first, self.second), self.sides(turning), self._moment_arms(position), strict=True
        ):
            driven += area(at.cylinder, side) * arm
            returning += area(at.cylinder, other_side(side)) * arm
        return self.breakaway_pressure + (torque / efficiency + self.return_pressure * returning) / driven

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over efficiency and arm position.

        Each cylinder stands where it gives least, or most, even if both cannot stand so at once. One that
        the return pressure pushes back gives most where its moment arm is smallest.
        """
        both_arms = self._moment_arms(position)
        weak = self._forces(lowest, turning, self.efficiency.low)
        strong = self._forces(highest, turning, self.efficiency.high)
        least = sum(min(force * arm for arm in arms) for force, arms in zip(weak, both_arms, strict=True))
        most = sum(max(force * arm for arm in arms) for force, arms in zip(strong, both_arms, strict=True))
        return max(0.0, least), max(0.0, most)

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """Force across the pipe at the nominal efficiency, N.

        On one side of the pipe the sum of both forces, which is the most that it can be. On opposite sides
        their difference, which needs parallel forces: square, or two cylinders alike, which are parallel
        wherever they stand. Else it is not known. Of two of one size, one pushing and one pulling, the
        pressure on a rod's area is left.
        """
        self._moment_arms(position)
        forces = self._forces(reading, turning, self.efficiency.nominal)
        first, second = (max(0.0, force) for force in forces)
        if not self.on_opposite_sides:
            return first + second
        if position == "unknown" and self.first != self.second:
            return None
        return abs(first - second)

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The range of efficiency."""
        return (self.efficiency.doubt("efficiency", torque),)

    def arm_cotangent(self, position: ArmPosition) -> float:
        """The cotangent of either cylinder: both stand square, or at one length if they are alike."""
        return self.first.arm_cotangent(position)

    def position_doubt(self, torque: float, reading: float, turning: Turning) -> Doubt:
        """Every length of the stroke of two cylinders alike; else between their extremes.

        How two stand to each other that are not alike is not known either.
        """
        if self.swing:
            return self.swing.position_doubt(torque, reading, turning)
        nominal = self.efficiency.nominal
        sure = replace(self, efficiency=Efficiency(nominal, nominal, nominal))
        least, most = sure.torque_range(reading, reading, turning, "unknown")
        middle = (least + most) / 2
        return Doubt("arm_position", "torque", (most - least) / 2, "rectangular", lambda by: middle + by)

    def where_it_stands(self) -> Self:
        """Both without the ends of their strokes."""
        return replace(self, first=self.first.where_it_stands(), second=self.second.where_it_stands())

    def _moment_arms(self, position: ArmPosition) -> tuple[tuple[float, float], tuple[float, float]]:
        """Smallest and largest moment arm of the first and of the second cylinder, m."""
        if not isinstance(position, str) and self.first != self.second:
            raise refuse(
                "no_common_length",
                "the two cylinders of this machine are not alike: {length} cannot be the length of both",
                "arm_position",
                accepted="square or unknown",
                length=Amount("length", position),
            )
        return self.first.moment_arms(position), self.second.moment_arms(position)

    def _forces(self, reading: float, turning: Turning, efficiency: float) -> tuple[float, float]:
        """Force of the first and of the second cylinder, N."""
        sides = self.sides(turning)
        first, second = (
            force_from_pressure(
                at.cylinder, side, reading, efficiency, self.breakaway_pressure, self.return_pressure
            )
            for at, side in zip((self.first, self.second), sides, strict=True)
        )
        return first, second
