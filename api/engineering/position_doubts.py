"""The doubt of how the arm stands."""

from collections.abc import Iterator
from dataclasses import replace
from math import atan, cos, hypot, sin, sqrt
from statistics import fmean, pstdev

from api.engineering.machine_at_reading import AtReading
from api.engineering.machines.cylinder_on_arm import CylinderOnArm
from api.engineering.machines.line_pull import LinePull
from api.engineering.machines.machine import Efficiency
from api.engineering.machines.square_arm import CylinderOnSquareArm
from api.engineering.machines.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.uncertainty import Doubt, LeftOut

WITH_ARM = (CylinderOnArm, CylinderOnSquareArm, TwoCylinders, LinePull)
STEPS = 20
"""Equally likely lengths of a stroke; the deviation is right to 2 % even with both ends at dead centres."""


def position_doubts(at: AtReading, arm_angle: float | None) -> Iterator[Doubt | LeftOut]:
    """How far the arm may stand off the position that is stated, or where it may stand if none is.

    Where the force meets the arm at ``alpha``, off by x the torque is ``sin(alpha + x) / sin(alpha)`` of what
    it should be: ``cot(alpha) x`` in the first order, and where it should be square a loss of ``1 - cos(x)``.

    Args:
        at: the machine at its reading.
        arm_angle: how far the arm may stand off a stated position to either side, rad; None where not stated.
    """
    if not isinstance(at.machine, WITH_ARM):
        return
    if at.position == "unknown":
        yield _unknown_position(at)
    elif arm_angle is None:
        yield LeftOut("arm_angle", "it is not stated how far the arm may stand off its position")
    else:
        torque, slope = at.torque, _cotangent(at)
        yield Doubt(
            "arm_angle", "angle", arm_angle, "rectangular", lambda by: torque * (cos(by) + slope * sin(by))
        )


def angle_factors(at: AtReading, arm_angle: float | None) -> tuple[float, float]:
    """Least and most that an angle off a stated position leaves of the torque, as shares of it.

    ``cos(x) + cot(alpha) sin(x)`` at both ends, or its top where that lies between.
    """
    if not arm_angle or at.position == "unknown" or not isinstance(at.machine, WITH_ARM):
        return 1.0, 1.0
    slope = _cotangent(at)
    ends = [cos(arm_angle) + sign * slope * sin(arm_angle) for sign in (-1, 1)]
    top = hypot(1.0, slope) if atan(slope) <= arm_angle else max(ends)
    return max(0.0, min(ends)), top


def _cotangent(at: AtReading) -> float:
    """Of the angle between force and arm; a length is told only to cylinders that are alike."""
    if at.position == "square":
        return 0.0
    arm = _one_cylinder(at).arm_radius
    lever = float(at.machine.moment_arm(at.position))
    return sqrt(max(0.0, arm**2 - lever**2)) / lever


def _one_cylinder(at: AtReading) -> CylinderOnArm | CylinderAtArm:
    machine: CylinderOnArm | TwoCylinders = at.machine
    return machine.first if isinstance(machine, TwoCylinders) else machine


def _unknown_position(at: AtReading) -> Doubt:
    """Every length of the stroke, or every angle off square, is as likely as any other."""
    machine, torque = at.machine, at.torque
    if isinstance(machine, LinePull | CylinderOnSquareArm):
        # Without this angle the machine has refused an unknown position before.
        angle = machine.largest_angle_off_square or 0.0
        return Doubt("arm_position", "angle", angle, "rectangular", lambda by: torque * cos(by))
    if isinstance(machine, TwoCylinders) and machine.first != machine.second:
        return _between_extremes(at)
    return _along_the_stroke(at)


def _along_the_stroke(at: AtReading) -> Doubt:
    """A straight line along the stroke with the mean and the standard deviation of the torque in it.

    That is all a budget asks for, and close to a dead centre the torque itself is no parabola.
    """
    cylinder = _one_cylinder(at).cylinder
    stroke = cylinder.open_length - cylinder.closed_length
    lengths = (cylinder.closed_length + (step + 0.5) / STEPS * stroke for step in range(STEPS))
    levers = [at.machine.moment_arm(length) for length in lengths]
    force = at.torque / at.machine.moment_arm("unknown")
    mean, slope = force * fmean(levers), force * pstdev(levers) * sqrt(3) / (stroke / 2)
    return Doubt("arm_position", "length", stroke / 2, "rectangular", lambda by: mean + slope * by)


def _between_extremes(at: AtReading) -> Doubt:
    """Two cylinders that are not alike: how they stand to each other is not known either."""
    nominal = at.machine.efficiency.nominal
    machine = replace(at.machine, efficiency=Efficiency(nominal, nominal, nominal))
    least, most = machine.torque_range(at.reading, at.reading, at.turning, at.position)
    middle = (least + most) / 2
    return Doubt("arm_position", "torque", (most - least) / 2, "rectangular", lambda by: middle + by)
