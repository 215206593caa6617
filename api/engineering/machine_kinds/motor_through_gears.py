"""A hydraulic motor turning the pipe through gears: ``T = (p - p_return) V / (2 pi) i e``."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import ClassVar, Literal

from api.engineering.machine_kinds.machine import (
    RETURN_TOLERANCES,
    Computed,
    Efficiency,
    NoArm,
    Tolerance,
    range_over_efficiency,
)
from api.engineering.machines.cylinder import ArmPosition, Turning, cylinder_side
from api.engineering.uncertainty.combined import Doubt

Port = Literal["A", "B"]
"""The port under pressure; the other one returns the oil."""


@dataclass(frozen=True)
class MotorThroughGears(NoArm, Computed, called="a hydraulic motor"):
    """The machine, SI. It has no arm: wherever it stands, its torque is the same.

    Attributes:
        displacement_per_revolution: oil that one revolution of the motor takes, m3 (not per radian).
        gear_ratio: revolutions of the motor for one of the pipe, > 0.
        starting_efficiency: torque over ``(p - p_return) V / (2 pi)`` at standstill, low, nominal and high
            over the angle of the shaft. A make-up ends at stall, where the running efficiency does not count.
        gear_efficiency: of all meshes together, low, nominal and high.
        return_pressure: at the other port, Pa.
        right_hand_make_up_port: the port that makes up a right-hand thread.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {
        "displacement": Tolerance(("displacement_per_revolution",), "number"),
        **RETURN_TOLERANCES,
    }
    """A gear ratio is one of teeth, and exact."""
    piston: ClassVar[None] = None

    displacement_per_revolution: float
    gear_ratio: float
    starting_efficiency: Efficiency
    gear_efficiency: Efficiency
    return_pressure: float
    right_hand_make_up_port: Port

    @property
    def efficiency(self) -> Efficiency:
        """Motor and gears together."""
        motor, gears = self.starting_efficiency, self.gear_efficiency
        return Efficiency(motor.low * gears.low, motor.nominal * gears.nominal, motor.high * gears.high)

    def sides(self, turning: Turning) -> tuple[Port]:
        """The port to put under pressure: the ports swap where the sides of a cylinder would."""
        if cylinder_side("cap", turning) == "cap":
            return (self.right_hand_make_up_port,)
        return ("B" if self.right_hand_make_up_port == "A" else "A",)

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at a gauge pressure at the driven port, N.m from Pa.

        2000 psi on 0.5 in3/rev give 159.155 lbf.in (a textbook prints 160, with 0.16 for 1/(2 pi)):

        >>> one = Efficiency(1.0, 1.0, 1.0)
        >>> motor = MotorThroughGears(0.5, 1.0, one, one, 0.0, "A")
        >>> round(motor.torque_from_reading(2000.0, Turning("make_up", "right"), "square", 1.0), 3)
        159.155
        """
        self.moment_arm(position)
        return (
            (reading - self.return_pressure)
            * self.displacement_per_revolution
            / (2 * pi)
            * self.gear_ratio
            * efficiency
        )

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Gauge pressure at the driven port for a torque on the joint, Pa from N.m."""
        self.moment_arm(position)
        motor_torque = torque / (self.gear_ratio * efficiency)
        return self.return_pressure + motor_torque * 2 * pi / self.displacement_per_revolution

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over efficiency."""
        return range_over_efficiency(self, lowest, highest, turning, position, None)

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """None: how the motor bears on the pipe is a matter of its frame, which is not known."""
        self.moment_arm(position)
        return None

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The ranges of motor and gears, apart."""
        return (
            self.starting_efficiency.doubt("starting_efficiency", torque),
            self.gear_efficiency.doubt("gear_efficiency", torque),
        )
