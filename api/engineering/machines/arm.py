"""An arm: its distances by outside diameter, how it may stand, its moment arm, and the doubt of both."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, inf, radians, sin, sqrt
from statistics import fmean, pstdev
from typing import ClassVar, Self

from api.engineering.checks import NOISE, Amount, refuse
from api.engineering.interpolation import Point, value_at
from api.engineering.machines.cylinder import ArmPosition, Cylinder, Turning, within_stroke
from api.engineering.uncertainty.combined import Doubt

Distance = float | Sequence[Point]
"""One value for a self-centring grip, else measured at rising outside diameters, m: diameter and distance."""


def distance_at(distance: Distance, diameter: float | None) -> float:
    """A distance of the machine as it grips a diameter, m: straight between two measured ones.

    A V-seat moves the pipe centre in proportion to the diameter, so the line is exact for it.

    Raises:
        NoAnswer: ``gripped_diameter_required`` where it depends on a diameter not known,
            ``diameter_not_in_table`` outside the measured ones: nothing is extrapolated.

    >>> distance_at([(4.0, 35.0), (8.0, 37.0)], 5.0)
    35.5
    """
    if isinstance(distance, float):
        return distance
    if diameter is None:
        raise refuse(
            "gripped_diameter_required",
            "the grip of this machine is not self-centring: its arm depends on the outside diameter gripped",
            "gripped_outside_diameter",
            "the outside diameter in the grip, such as 6 1/2 in",
        )
    smallest, largest = distance[0][0], distance[-1][0]
    if not smallest * (1 - NOISE) <= diameter <= largest * (1 + NOISE):
        raise refuse(
            "diameter_not_in_table",
            "the arm of this machine is measured for outside diameters from {smallest} to {largest}; "
            "the gripped one is {diameter}",
            "gripped_outside_diameter",
            "a machine that is measured for this diameter: ask /v1/machine-choice",
            smallest=Amount("length", smallest),
            largest=Amount("length", largest),
            diameter=Amount("length", diameter),
        )
    return value_at(distance, min(max(smallest, diameter), largest))


DEAD_CENTRE_MARGIN = radians(5)
"""Angle from a dead centre below which no torque is computed ("within a few degrees"; own judgement)."""


def moment_arm(arm_radius: float, base_distance: float, length: float) -> float:
    """Distance of the cylinder line from the pipe centre, m.

    ``h = a b sin(theta) / L`` with ``cos(theta) = (a^2 + b^2 - L^2) / 2ab`` (law of cosines), which is
    twice the area of the triangle over L.

    Args:
        arm_radius: a, pipe centre to arm pin, m, > 0.
        base_distance: b, pipe centre to cylinder base pin, m, > 0.
        length: L, pin-to-pin length of the cylinder, m, |a - b| < L < a + b.

    Raises:
        NoAnswer: ``dead_centre`` where the three pins cannot form a triangle, or stand within 5 degrees of a
            line: there a small error of the length changes the torque many times over.

    The 3-4-5 triangle: the cylinder stands square to the arm.

    >>> round(moment_arm(3, 5, 4), 12)
    3.0
    """
    shortest, longest = abs(arm_radius - base_distance), arm_radius + base_distance
    if not shortest < length < longest:
        raise refuse(
            "dead_centre",
            "with this arm and base the cylinder length must lie between {shortest} and {longest}, "
            "the dead centres; it is {length}",
            "arm_position",
            shortest=Amount("length", shortest),
            longest=Amount("length", longest),
            length=Amount("length", length),
        )
    # Heron in factored form: accurate near the dead centres too, where 1 - cos^2 loses its digits.
    product = (longest - length) * (longest + length) * (length - shortest) * (length + shortest)
    sine = sqrt(product) / (2 * arm_radius * base_distance)
    if sine < sin(DEAD_CENTRE_MARGIN):
        raise refuse(
            "dead_centre",
            "at a cylinder length of {length} the arm stands within 5 degrees of its dead centre",
            "arm_position",
            length=Amount("length", length),
        )
    return arm_radius * base_distance * sine / length


def square_length(arm_radius: float, base_distance: float) -> float | None:
    """Pin-to-pin length at which cylinder and arm stand at right angles, m; None if there is none.

    ``L = sqrt(b^2 - a^2)``, which needs a base farther from the pipe than the arm pin.

    >>> square_length(36, 60)
    48.0
    """
    if not base_distance > arm_radius:
        return None
    return sqrt(base_distance**2 - arm_radius**2)


def square_moment_arm(cylinder: Cylinder, arm_radius: float, base_distance: float) -> float:
    """Moment arm where the cylinder stands square to the arm, which is the arm radius, m.

    Raises:
        NoAnswer: ``square_not_reached`` if no length within the stroke makes a right angle.
    """
    length = square_length(arm_radius, base_distance)
    if length is None:
        raise refuse(
            "square_not_reached",
            "this machine never stands square: its base distance {base} is not larger than its arm "
            "radius {arm}",
            "arm_position",
            base=Amount("length", base_distance),
            arm=Amount("length", arm_radius),
        )
    if not within_stroke(cylinder, length):
        raise refuse(
            "square_not_reached",
            "this machine stands square at a cylinder length of {length}, outside its stroke from "
            "{closed} to {open}",
            "arm_position",
            "a pin-to-pin length within the stroke: measure it again, or stand the arm square",
            length=Amount("length", length),
            closed=Amount("length", cylinder.closed_length),
            open=Amount("length", cylinder.open_length),
        )
    return arm_radius


def largest_moment_arm(cylinder: Cylinder, arm_radius: float, base_distance: float) -> float:
    """Largest moment arm anywhere in the stroke, m.

    The cylinder line is farthest from the pipe centre where it stands square to the arm or, with the
    base pin nearer than the arm pin, square to the line to the base; outside the stroke, at one end.

    >>> largest_moment_arm(Cylinder(5, 2.5, 40, 62), 36, 60)
    36
    """
    square = sqrt(abs(base_distance**2 - arm_radius**2))
    if within_stroke(cylinder, square):
        return min(arm_radius, base_distance)
    ends = (cylinder.closed_length, cylinder.open_length)
    return max(moment_arm(arm_radius, base_distance, length) for length in ends)


def smallest_moment_arm(cylinder: Cylinder, arm_radius: float, base_distance: float) -> float:
    """Smallest moment arm anywhere in the stroke, m: always at one of its ends.

    >>> round(smallest_moment_arm(Cylinder(5, 2.5, 40, 62), 36, 60) / 36, 5)
    0.93861
    """
    ends = (cylinder.closed_length, cylinder.open_length)
    return min(moment_arm(arm_radius, base_distance, length) for length in ends)


def moment_arm_at_length(cylinder: Cylinder, arm_radius: float, base_distance: float, length: float) -> float:
    """Moment arm at a pin-to-pin length within the stroke, m.

    Raises:
        NoAnswer: ``outside_stroke`` for a length the cylinder does not reach, ``dead_centre``.
    """
    if not within_stroke(cylinder, length):
        raise refuse(
            "outside_stroke",
            "the cylinder length {length} lies outside its stroke from {closed} to {open}",
            "arm_position",
            "a pin-to-pin length within the stroke: measure it again, or stand the arm square",
            length=Amount("length", length),
            closed=Amount("length", cylinder.closed_length),
            open=Amount("length", cylinder.open_length),
        )
    return moment_arm(arm_radius, base_distance, length)


STEPS = 20
"""Equally likely lengths of a stroke; the deviation is right to 2 % even with both ends at dead centres."""


@dataclass(frozen=True)
class Swing:
    """An arm and the cylinder that swings it, as it grips one outside diameter, SI.

    Attributes:
        cylinder: bore, rod and pin-to-pin lengths.
        arm_radius: a, from the centre of the gripped pipe to the arm pin, m.
        base_distance: b, from the centre of the gripped pipe to the base pin of the cylinder, m.
    """

    cylinder: Cylinder
    arm_radius: float
    base_distance: float

    has_arm: ClassVar[bool] = True
    own_position: ClassVar[None] = None

    def moment_arm(self, position: ArmPosition) -> float:
        """Moment arm of the cylinder line about the pipe centre, m.

        An unknown position takes the largest of the stroke: no other then gives more torque.

        Raises:
            NoAnswer: ``square_not_reached``, ``outside_stroke``, ``dead_centre``.
        """
        if position == "square":
            return self._square
        if position == "unknown":
            return self._largest
        return moment_arm_at_length(self.cylinder, self.arm_radius, self.base_distance, position)

    def moment_arms(self, position: ArmPosition) -> tuple[float, float]:
        """Smallest and largest moment arm at a position, m: two only where it is unknown.

        Raises:
            NoAnswer: as `moment_arm`.
        """
        largest = self.moment_arm(position)
        if position != "unknown":
            return largest, largest
        return smallest_moment_arm(self.cylinder, self.arm_radius, self.base_distance), largest

    def arm_cotangent(self, position: ArmPosition) -> float:
        """Cotangent of the angle between cylinder and arm at a stated position: 0 at square."""
        if position == "square":
            return 0.0
        lever = self.moment_arm(position)
        return sqrt(max(0.0, self.arm_radius**2 - lever**2)) / lever

    def position_doubt(self, torque: float, reading: float, turning: Turning) -> Doubt:
        """Every length of the stroke is as likely as any other.

        A straight line along the stroke with the mean and the standard deviation of the torque in it. That is
        all a budget asks for, and close to a dead centre the torque itself is no parabola.
        """
        stroke = self.cylinder.open_length - self.cylinder.closed_length
        force, (mean_lever, deviation) = torque / self.moment_arm("unknown"), self._levers
        mean, slope = force * mean_lever, force * deviation * sqrt(3) / (stroke / 2)
        return Doubt("arm_position", "length", stroke / 2, "rectangular", lambda by: mean + slope * by)

    @cached_property
    def _square(self) -> float:
        return square_moment_arm(self.cylinder, self.arm_radius, self.base_distance)

    @cached_property
    def _largest(self) -> float:
        return largest_moment_arm(self.cylinder, self.arm_radius, self.base_distance)

    @cached_property
    def _levers(self) -> tuple[float, float]:
        """Mean and standard deviation of the moment arm along the stroke, m."""
        stroke = self.cylinder.open_length - self.cylinder.closed_length
        lengths = (self.cylinder.closed_length + (step + 0.5) / STEPS * stroke for step in range(STEPS))
        levers = [self.moment_arm(length) for length in lengths]
        return fmean(levers), pstdev(levers)

    def where_it_stands(self) -> Self:
        """The arm without the ends of its stroke: how far it reaches is another matter than what it gives."""
        return replace(self, cylinder=replace(self.cylinder, closed_length=0.0, open_length=inf))


def no_length(position: ArmPosition, kind: str) -> None:
    """Refuse a pin-to-pin length for a kind that has no such thing.

    Raises:
        NoAnswer: ``no_cylinder_length``.
    """
    if not isinstance(position, str):
        raise refuse(
            "no_cylinder_length",
            f"{kind} has no cylinder whose length {{length}} could say how it stands",
            "arm_position",
            accepted="square or unknown",
            length=Amount("length", position),
        )


def loss_off_square(angle: float) -> float:
    """Share of the torque that is lost: ``1 - cos(angle)``, written so that small angles keep their digits.

    Args:
        angle: between the force and the square to the arm, rad, 0 to less than pi/2.

    >>> [round(100 * loss_off_square(radians(angle)), 3) for angle in (5, 10, 15, 20, 30, 45)]
    [0.381, 1.519, 3.407, 6.031, 13.397, 29.289]
    """
    return 2 * sin(angle / 2) ** 2


@dataclass(frozen=True)
class SquareArm:
    """An arm of which only the length is measured, used square to its force.

    A subclass says what it is called in a sentence: ``class LinePull(SquareArm, called="a pulled line")``.

    Attributes:
        arm_radius: a, from the centre of the gripped pipe to where the force takes hold, m.
        largest_angle_off_square: farthest that the force ever stands off square to the arm, rad, less than
            pi/2; None if not known.
    """

    arm_radius: float
    largest_angle_off_square: float | None

    swing: ClassVar[None] = None
    has_arm: ClassVar[bool] = True
    own_position: ClassVar[ArmPosition | None] = None
    called: ClassVar[str]

    def __init_subclass__(cls, *, called: str) -> None:
        cls.called = called

    def moment_arm(self, position: ArmPosition) -> float:
        """The arm radius: at square, and as the largest there is where the position is unknown, m.

        Raises:
            NoAnswer: ``no_cylinder_length``, ``angle_off_square_unknown``.
        """
        return self.moment_arms(position)[1]

    def moment_arms(self, position: ArmPosition) -> tuple[float, float]:
        """Smallest and largest moment arm at a position, m.

        The largest is that of square, ``a``; an unknown position may lose down to
        ``a cos(largest_angle_off_square)``.

        Raises:
            NoAnswer: ``no_cylinder_length`` for a length, ``angle_off_square_unknown`` for an unknown
                position where that angle is not known.

        >>> class Arm(SquareArm, called="an arm"): ...
        >>> [round(arm, 3) for arm in Arm(36, radians(30)).moment_arms("unknown")]
        [31.177, 36]
        """
        no_length(position, self.called)
        if position == "square":
            return self.arm_radius, self.arm_radius
        if self.largest_angle_off_square is None:
            raise refuse(
                "angle_off_square_unknown",
                "the profile of this machine does not say how far its arm may stand off square, so nothing "
                "is known of an unknown position",
                "arm_position",
                accepted="square",
            )
        return self.arm_radius * cos(self.largest_angle_off_square), self.arm_radius

    def arm_cotangent(self, position: ArmPosition) -> float:
        """Cotangent of the angle between force and arm: the only position to be stated is square."""
        return 0.0

    def position_doubt(self, torque: float, reading: float, turning: Turning) -> Doubt:
        """Every angle off square, up to the largest, is as likely as any other."""
        # Without this angle the arm has refused an unknown position before.
        angle = self.largest_angle_off_square or 0.0
        return Doubt("arm_position", "angle", angle, "rectangular", lambda by: torque * cos(by))

    def where_it_stands(self) -> Self:
        """The arm itself: it knows no ends of a stroke."""
        return self
