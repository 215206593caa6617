"""The uncertainty budget of a torque at a reading, term by term (JCGM 100).

It stands beside the worst case, not in its place: bounds are everything at once, the budget adds in
quadrature, names every term and what is not in it. A budget that fails says why.

At square an angle counts by its own distribution, not by that of its loss: 0.298 of the end loss, as random
numbers give.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import atan, cos, hypot, sin, sqrt
from statistics import fmean, pstdev

from api.engineering.checks import Amount, refuse
from api.engineering.machine_kinds.calibrated import Calibrated
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import Efficiency
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.uncertainty.combined import Budget, Doubt, LeftOut, term_of
from api.engineering.uncertainty.tolerances import AtReading, check_half_widths, tolerance_doubts


def efficiency_doubts(at: AtReading) -> Iterator[Doubt]:
    """The range of efficiency, of motor and gears apart; of a calibrated machine its certificate.

    Where the nominal one is not in the middle, the best estimate is that of the middle (JCGM 100, 4.3.8).
    """
    machine, torque = at.machine, at.torque
    if isinstance(machine, Calibrated):
        share = machine.expanded_uncertainty
        yield Doubt("calibration", "number", share, "normal", lambda by: torque * (1 + by))
    elif isinstance(machine, MotorThroughGears):
        yield _range_doubt("starting_efficiency", machine.starting_efficiency, torque)
        yield _range_doubt("gear_efficiency", machine.gear_efficiency, torque)
    else:
        yield _range_doubt("efficiency", machine.efficiency, torque)


def _range_doubt(name: str, spread: Efficiency, torque: float) -> Doubt:
    middle, half_width = (spread.high + spread.low) / 2, (spread.high - spread.low) / 2
    at_one = torque / spread.nominal
    return Doubt(name, "number", half_width, "rectangular", lambda by: at_one * (middle + by))


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


@dataclass(frozen=True)
class GaugeDoubt:
    """How far a reading may be from what the machine has, half-widths in SI, > 0.

    Attributes:
        kind: what the gauge reads: ``pressure``, or ``force``.
        class_error: largest error of its class at the reading.
        reading: how finely it is read, see `api.engineering.gauges.gauge`.
        in_calibration: whether the machine was calibrated on this very gauge. By as much as it is off now it
            was off then, so that only what it has drifted since is left. With another gauge the class errors
            of both count.
        calibration_gauge: class error at this reading of the gauge that a calibrated machine was calibrated
            on, where it is another; None where not stated.
        drift: what the gauge may have drifted since it was last checked; None where not stated.
    """

    kind: str
    class_error: float
    reading: float
    in_calibration: bool = False
    calibration_gauge: float | None = None
    drift: float | None = None


def torque_budget(
    at: AtReading, gauge: GaugeDoubt, half_widths: Mapping[str, float], arm_angle: float | None = None
) -> Budget:
    """The budget of the torque at a reading (JCGM 100, 5.1), all doubts independent of each other.

    Args:
        at: machine, reading and how it stands.
        gauge: how well it was read.
        half_widths: of the sizes in `api.engineering.uncertainty.tolerances`, as far as stated, SI, > 0.
        arm_angle: how far the arm may stand off a stated position, rad; None where not stated.

    Raises:
        NoAnswer: ``below_breakaway``, ``tolerance_too_wide``, and what the machine itself refuses.
    """
    if not at.torque > 0:
        raise refuse(
            "below_breakaway",
            "at {reading} this machine does not move yet, so there is no torque to be uncertain of",
            "machine",
            reading=Amount(gauge.kind, at.reading),
        )
    check_half_widths(at.machine, half_widths)
    found = [
        *_gauge_doubts(at, gauge),
        *tolerance_doubts(at, half_widths),
        *position_doubts(at, arm_angle),
        *efficiency_doubts(at),
    ]
    return Budget(
        at.torque,
        tuple(term_of(each, at.torque) for each in found if isinstance(each, Doubt) and each.half_width > 0),
        tuple(each for each in found if isinstance(each, LeftOut)),
    )


def _gauge_doubts(at: AtReading, gauge: GaugeDoubt) -> Iterator[Doubt | LeftOut]:
    if gauge.in_calibration:
        calibrated = "the machine was calibrated on this very gauge, so its class error is in the calibration"
        yield LeftOut("gauge", calibrated)
    else:
        yield _reading_doubt("gauge", gauge.class_error, at, gauge.kind)
    if isinstance(at.machine, Calibrated) and not gauge.in_calibration:
        if gauge.calibration_gauge is None:
            yield LeftOut("calibration_gauge", "the class of the gauge of the calibration is not stated")
        else:
            yield _reading_doubt("calibration_gauge", gauge.calibration_gauge, at, gauge.kind)
    if gauge.drift is not None:
        yield _reading_doubt("gauge_drift", gauge.drift, at, gauge.kind)
    elif gauge.in_calibration:
        yield LeftOut("gauge_drift", "it is not stated how far it may have drifted since the calibration")
    yield _reading_doubt("reading", gauge.reading, at, gauge.kind)


def _reading_doubt(name: str, half_width: float, at: AtReading, kind: str) -> Doubt:
    """Torque along the straight line between both ends of the doubt, as far as the torque is known there.

    Where breakaway or return pressure take their part first, it is more than in proportion to the reading.
    """
    first, last = at.machine.readings(at.turning)
    low, high = max(first, at.reading - half_width), min(last, at.reading + half_width)
    torque, slope = at.torque, (at.torque_at(high) - at.torque_at(low)) / (high - low)
    return Doubt(name, kind, half_width, "rectangular", lambda by: torque + slope * by)
