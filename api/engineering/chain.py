"""A chain or strap laid round a pipe: tension from friction (capstan). SI: N, N.m, m, rad."""

from math import exp, expm1


def tension_ratio(friction: float, wrap: float) -> float:
    """Tension of the tight side over that of the slack side when the chain slips: ``e^(mu theta)``.

    It does not depend on the diameter (capstan equation).

    Args:
        friction: mu, between chain and pipe, > 0.
        wrap: theta, angle of contact, rad, > 0.

    Half a turn at friction 0.3 is published as 2.6, five turns at 0.6 as 153 552 935:

    >>> from math import pi
    >>> round(tension_ratio(0.3, pi), 1), round(tension_ratio(0.6, 10 * pi))
    (2.6, 153552935)
    """
    return exp(friction * wrap)


def chain_slip_torque(tension: float, radius: float, friction: float, wrap: float) -> float:
    """Torque at which the chain slips: ``T = T1 r (1 - e^(-mu theta))``, N.m.

    Args:
        tension: T1, of the tight side, N, >= 0.
        radius: r, at which friction acts on the pipe: half its outside diameter, m, > 0. The line of the
            pins lies farther out, but to take it here would promise torque that friction does not hold.
        friction: mu, between chain and pipe, > 0.
        wrap: theta, angle of contact, rad, > 0.

    >>> from math import pi
    >>> round(chain_slip_torque(1000, 1.0, 0.25, 1.5 * pi), 1)
    692.1
    """
    return -tension * radius * expm1(-friction * wrap)


def tight_tension(torque: float, radius: float, friction: float, wrap: float) -> float:
    """Tension of the tight side at which a torque is about to slip: ``T1 = T / (r (1 - e^(-mu theta)))``, N.

    Arguments as for `chain_slip_torque`.

    >>> round(tight_tension(692.1, 1.0, 0.25, 4.71239))
    1000
    """
    return -torque / (radius * expm1(-friction * wrap))


def slack_tension(torque: float, radius: float, friction: float, wrap: float) -> float:
    """Tension that the slack side must be held with: ``T2 = T / (r (e^(mu theta) - 1))``, N.

    A chain whose slack side is not held holds nothing. Arguments as for `chain_slip_torque`.

    >>> round(tight_tension(692.1, 1.0, 0.25, 4.71239) - slack_tension(692.1, 1.0, 0.25, 4.71239), 6)
    692.1
    """
    return torque / (radius * expm1(friction * wrap))
