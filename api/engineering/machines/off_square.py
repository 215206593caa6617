"""A force that stands square to its arm, or off square by an angle that is not known exactly."""

from math import cos, sin

from api.engineering.checks import refuse
from api.engineering.machine_kinds.machine import ArmPosition, no_length


def loss_off_square(angle: float) -> float:
    """Share of the torque that is lost: ``1 - cos(angle)``, written so that small angles keep their digits.

    Args:
        angle: between the force and the square to the arm, rad, 0 to less than pi/2.

    >>> from math import radians
    >>> [round(100 * loss_off_square(radians(angle)), 3) for angle in (5, 10, 15, 20, 30, 45)]
    [0.381, 1.519, 3.407, 6.031, 13.397, 29.289]
    """
    return 2 * sin(angle / 2) ** 2


def moment_arms_off_square(
    arm_radius: float, largest_angle: float | None, position: ArmPosition, kind: str
) -> tuple[float, float]:
    """Smallest and largest moment arm of a force on an arm at a position, m.

    The largest is that of square, ``a``; an unknown position may lose down to ``a cos(largest_angle)``.

    Args:
        arm_radius: a, pipe centre to the point where the force takes hold, m, > 0.
        largest_angle: farthest that the force ever stands off square, rad, 0 to less than pi/2; None where
            nobody has measured it.
        position: square or unknown.
        kind: what the machine is, for the refusal of a length.

    Raises:
        NoAnswer: ``no_cylinder_length`` for a length, ``angle_off_square_unknown`` for an unknown position
            where ``largest_angle`` is None.

    >>> from math import radians
    >>> [round(arm, 3) for arm in moment_arms_off_square(36, radians(30), "unknown", "a pulled line")]
    [31.177, 36]
    """
    no_length(position, kind)
    if position == "square":
        return arm_radius, arm_radius
    if largest_angle is None:
        raise refuse(
            "angle_off_square_unknown",
            "the profile of this machine does not say how far its arm may stand off square, so nothing is "
            "known of an unknown position",
            "arm_position",
            accepted="square",
        )
    return arm_radius * cos(largest_angle), arm_radius
