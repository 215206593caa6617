"""A stroke of an arm: rotation, torque factor, and the strokes for a rotation or an axial travel."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import asin, atan2, ceil, pi, sqrt
from typing import Literal

from api.engineering.checks import Amount, refuse
from api.engineering.machines.arm import (
    Swing,
    loss_off_square,
    moment_arm,
    moment_arm_at_length,
    square_length,
)
from api.engineering.machines.cylinder import rod_exposed_at_length, within_stroke

WHOLE_STROKES = 1e-9
"""Share of a stroke that is arithmetic and no rotation."""


def rotation_from_travel(axial_travel: float, lead: float) -> float:
    """Rotation that makes an axial travel: ``2 pi travel / lead``, rad (360 degrees a lead).

    Args:
        axial_travel: of the thread along its axis, m, >= 0.
        lead: of the thread, m, > 0.

    >>> rotation_from_travel(0.5, 0.25) / pi
    4.0
    """
    return 2 * pi * axial_travel / lead


def useful_rotation(rotation: float, lost_motion: float) -> float:
    """Rotation of the joint in one stroke: that of the arm less what ratchet or chain lose, rad.

    Args:
        rotation: of the arm in a stroke, rad, > 0.
        lost_motion: lash of a ratchet, slack of a chain, in every stroke again, rad, >= 0.

    Raises:
        NoAnswer: ``nothing_left_of_stroke``.
    """
    left = rotation - lost_motion
    if not left > WHOLE_STROKES * rotation:
        raise refuse(
            "nothing_left_of_stroke",
            "a stroke turns the arm by {rotation}, and {lost} of it are lost in every stroke",
            "lost_motion",
            rotation=Amount("angle", rotation),
            lost=Amount("angle", lost_motion),
        )
    return left


def strokes_for_rotation(rotation: float, useful: float) -> int:
    """Strokes for a rotation, the last one whole or in part: ``ceil(rotation / useful - 1e-9)``.

    Args:
        rotation: of the joint, rad, > 0.
        useful: rotation of the joint in one stroke, rad, > 0.

    >>> strokes_for_rotation(60.0, 20.0), strokes_for_rotation(60.1, 20.0)
    (3, 4)
    """
    return ceil(rotation / useful - WHOLE_STROKES)


SquarePosition = Literal["none", "outside_stroke", "outside_used_part", "within_used_part"]
"""Where the cylinder stands square to the arm: nowhere, or at a length that the stroke reaches or not."""


@dataclass(frozen=True)
class ArmAt:
    """The arm at one length of the cylinder.

    Attributes:
        length: L, pin to pin, m.
        rod_exposed: rod outside the gland there, m; see `rod_exposed_at_length`.
        arm_angle: theta, between the lines from the pipe centre to arm pin and base pin, rad.
        moment_arm: h, of the cylinder line about the pipe centre, m.
        torque_factor: h / a; the torque is that of a square cylinder times this.
        off_square: angle by which the cylinder misses a right angle to the arm, rad.
        loss_off_square: share of the torque lost by it, 1 - h / a.
    """

    length: float
    rod_exposed: float
    arm_angle: float
    moment_arm: float
    torque_factor: float
    off_square: float
    loss_off_square: float


@dataclass(frozen=True)
class Stroke:
    """A stroke, or the part of it that is used, SI.

    Attributes:
        start, end: at its shortest and at its longest.
        smallest, largest: where the moment arm is smallest and largest.
        rotation: of the arm, rad.
        mean_moment_arm: over the angle, m.
    """

    start: ArmAt
    end: ArmAt
    smallest: ArmAt
    largest: ArmAt
    rotation: float
    mean_moment_arm: float


def arm_angle(arm_radius: float, base_distance: float, length: float) -> float:
    """Angle at the pipe centre between arm pin and base pin, rad (law of cosines).

    ``cos(theta) = (a^2 + b^2 - L^2) / 2ab``; with ``sin(theta) = h L / ab`` it keeps its digits everywhere.

    Args:
        arm_radius: a, m, > 0.
        base_distance: b, m, > 0.
        length: L, pin-to-pin length of the cylinder, m, |a - b| < L < a + b.

    Raises:
        NoAnswer: ``dead_centre``.

    Published for a 36 in arm and a 60 in base:

    >>> from math import degrees
    >>> [round(degrees(arm_angle(36, 60, length)), 3) for length in (36, 42, 48, 54, 60)]
    [33.557, 43.531, 53.13, 62.72, 72.542]
    """
    sine = moment_arm(arm_radius, base_distance, length) * length
    return atan2(sine, (arm_radius**2 + base_distance**2 - length**2) / 2)


def arm_at(swing: Swing, length: float) -> ArmAt:
    """The arm at a length of the cylinder, m.

    The cylinder misses square to the arm by ``asin((a^2 + L^2 - b^2) / 2aL)``.

    Raises:
        NoAnswer: ``outside_stroke`` for a length that the cylinder does not reach, ``dead_centre``.

    >>> from math import degrees
    >>> from api.engineering.machines.cylinder import Cylinder
    >>> at = arm_at(Swing(Cylinder(5, 2.5, 40, 62), 36, 60), 60)
    >>> round(at.torque_factor, 5), round(degrees(at.off_square), 3), round(at.loss_off_square, 5)
    (0.95394, 17.458, 0.04606)
    """
    a, b = swing.arm_radius, swing.base_distance
    lever = moment_arm_at_length(swing.cylinder, a, b, length)
    off_square = asin(abs(a**2 + length**2 - b**2) / (2 * a * length))
    return ArmAt(
        length,
        rod_exposed_at_length(swing.cylinder, length),
        arm_angle(a, b, length),
        lever,
        lever / a,
        off_square,
        loss_off_square(off_square),
    )


def stroke_between(swing: Swing, start: float, end: float) -> Stroke:
    """The stroke from a shorter to a longer length of the cylinder, m.

    ``mean h = (L2 - L1) / (theta2 - theta1)`` exactly, since the work of force and torque is the same
    (``h = dL/dtheta``). The largest moment arm is where the cylinder stands square to the arm, or with a base
    pin nearer than the arm pin square to the line to the base; else extremes are at the ends.

    Raises:
        NoAnswer: ``outside_stroke``, ``dead_centre``.

    Published for a 36 in arm and a 60 in base, from 42 to 54 in:

    >>> from math import degrees
    >>> from api.engineering.machines.cylinder import Cylinder
    >>> stroke = stroke_between(Swing(Cylinder(5, 2.5, 40, 62), 36, 60), 42, 54)
    >>> round(degrees(stroke.rotation), 3), round(stroke.mean_moment_arm / 36, 5)
    (19.189, 0.99528)
    """
    ends = arm_at(swing, start), arm_at(swing, end)
    where = [*ends, *_square_between(swing, start, end)]
    rotation = ends[1].arm_angle - ends[0].arm_angle
    return Stroke(
        *ends,
        smallest=min(where, key=_lever),
        largest=max(where, key=_lever),
        rotation=rotation,
        mean_moment_arm=(end - start) / rotation,
    )


def _square_between(swing: Swing, start: float, end: float) -> Iterator[ArmAt]:
    """Where between two lengths the moment arm is larger than on either side."""
    length = sqrt(abs(swing.base_distance**2 - swing.arm_radius**2))
    if start < length < end:
        yield arm_at(swing, length)


def _lever(at: ArmAt) -> float:
    return at.moment_arm


def square_position(swing: Swing, start: float, end: float) -> SquarePosition:
    """Where the cylinder stands square to the arm, seen from the part of the stroke used, m.

    >>> from api.engineering.machines.cylinder import Cylinder
    >>> square_position(Swing(Cylinder(5, 2.5, 40, 62), 36, 60), 50, 60)
    'outside_used_part'
    """
    length = square_length(swing.arm_radius, swing.base_distance)
    if length is None:
        return "none"
    if not within_stroke(swing.cylinder, length):
        return "outside_stroke"
    used = replace(swing.cylinder, closed_length=start, open_length=end)
    return "within_used_part" if within_stroke(used, length) else "outside_used_part"
