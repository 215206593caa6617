"""Jaws that hold a pipe by squeezing it: torque from friction, squeeze for a torque. SI: N, N.m, m, rad.

A *squeeze* is the sum of the radial forces of all jaws on the pipe. Friction is never assumed here.
"""

from math import tan


def slip_torque(squeeze: float, radius: float, friction: float) -> float:
    """Torque at which squeezed jaws slip: ``T = mu N r``, N.m (Coulomb friction).

    Args:
        squeeze: N, sum of the radial forces, N, >= 0.
        radius: r, of the gripped pipe, half its outside diameter, m, > 0.
        friction: mu, between die and pipe, > 0.

    240 000 lbf on 5 in at friction 0.3 hold 15 000 lbf.ft, 1.5 times 10 000:

    >>> round(slip_torque(240_000, 2.5 / 12, 0.3), 6)
    15000.0
    """
    return friction * squeeze * radius


def squeeze_for_torque(torque: float, radius: float, friction: float, margin: float) -> float:
    """Squeeze that holds a torque with a margin: ``N = m T / (mu r)``, N.

    Args:
        torque: T, to be held, N.m, > 0.
        radius: r, of the gripped pipe, half its outside diameter, m, > 0.
        friction: mu, between die and pipe, > 0.
        margin: m, torque at which the grip slips over the torque it must hold, >= 1.

    10 000 lbf.ft on 5 in outside diameter, friction 0.3, margin 1.5 need 240 000 lbf:

    >>> round(squeeze_for_torque(10_000, 2.5 / 12, 0.3, 1.5), 6)
    240000.0
    """
    return margin * torque / (friction * radius)


def friction_to_lock(wedge_angle: float) -> float:
    """Friction at the die face above which wedge or cam jaws tighten themselves: ``tan(wedge angle)``.

    Friction on the back of the wedge, which hinders it, is neglected.

    Args:
        wedge_angle: rad, > 0, < pi/2.

    >>> from math import radians
    >>> round(friction_to_lock(radians(15)), 4)
    0.2679
    """
    return tan(wedge_angle)
