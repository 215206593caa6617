"""How many strokes a rotation of the joint takes."""

from math import ceil, pi

from api.engineering.faults import Amount, refuse

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
