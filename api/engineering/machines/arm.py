"""An arm swung by a cylinder: its distances by outside diameter, its triangle, its moment arm."""

from dataclasses import dataclass
from itertools import pairwise
from math import radians, sin, sqrt

from api.engineering.checks import NOISE, Amount, refuse
from api.engineering.machines.cylinder import Cylinder


@dataclass(frozen=True)
class ByDiameter:
    """Measured distances at rising outside diameters: ``(outside diameter, distance)``, m."""

    points: tuple[tuple[float, float], ...]

    def at(self, diameter: float) -> float:
        """The distance at an outside diameter, straight between two measured ones, m.

        A V-seat moves the pipe centre in proportion to the diameter, so the line is exact for it.

        Raises:
            NoAnswer: ``diameter_not_in_table`` outside the measured ones: nothing is extrapolated.

        >>> ByDiameter(((4.0, 35.0), (8.0, 37.0))).at(5.0)
        35.5
        """
        smallest, largest = self.points[0][0], self.points[-1][0]
        if not smallest * (1 - NOISE) <= diameter <= largest * (1 + NOISE):
            raise refuse(
                "diameter_not_in_table",
                "the arm of this machine is measured for outside diameters from {smallest} to {largest}; "
                "the gripped one is {diameter}",
                "gripped_outside_diameter",
                smallest=Amount("length", smallest),
                largest=Amount("length", largest),
                diameter=Amount("length", diameter),
            )
        for (left, at_left), (right, at_right) in pairwise(self.points):
            if diameter <= right:
                share = max(0.0, (diameter - left) / (right - left))
                return at_left + share * (at_right - at_left)
        return self.points[-1][1]


Distance = float | ByDiameter
"""One value for a self-centring grip, else by outside diameter."""


def distance_at(distance: Distance, diameter: float | None) -> float:
    """A distance of the machine as it grips a diameter, m.

    Raises:
        NoAnswer: ``gripped_diameter_required`` where it depends on a diameter not known.
    """
    if isinstance(distance, float):
        return distance
    if diameter is None:
        raise refuse(
            "gripped_diameter_required",
            "the grip of this machine is not self-centring: its arm depends on the outside diameter gripped",
            "gripped_outside_diameter",
        )
    return distance.at(diameter)


DEAD_CENTRE_MARGIN = radians(5)
"""Angle from a dead centre below which no torque is computed ("within a few degrees"; own judgement)."""


def within_stroke(cylinder: Cylinder, length: float) -> bool:
    """Whether a cylinder reaches a pin-to-pin length; both ends of the stroke are reached."""
    return cylinder.closed_length * (1 - NOISE) <= length <= cylinder.open_length * (1 + NOISE)


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
            length=Amount("length", length),
            closed=Amount("length", cylinder.closed_length),
            open=Amount("length", cylinder.open_length),
        )
    return moment_arm(arm_radius, base_distance, length)
