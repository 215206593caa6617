"""A chain around a pipe: its friction, its pull, and its links for a diameter.

The chain pulls at the surface of the pipe. At the pin line with the full wrap friction it would promise
more than the friction at the surface can give; without an offset both agree.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import asin, ceil, exp, expm1

from api.engineering.checks import NOISE, Amount, refuse


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


WHOLE_LINKS = 1e-9
"""Share of a link that is arithmetic and no metal."""


@dataclass(frozen=True)
class Chain:
    """A chain as it is laid round a pipe.

    Attributes:
        pitch: p, from pin to pin, m.
        pin_line_offset: from the surface of the pipe to the line of the pins, m.
        wrap: theta, angle of contact, rad.
        tail_links: links that do not lie on the pipe, at both ends together.
    """

    pitch: float
    pin_line_offset: float
    wrap: float
    tail_links: float


@dataclass(frozen=True)
class LinkRange:
    """Outside diameters that take one number of links, tails included, m. Both ends belong to it."""

    minimum: float
    maximum: float
    links: float


def links_by_arc(chain: Chain, outside_diameter: float) -> float:
    """Links on the pipe as if they bent along the line of the pins: ``n = theta R / p``.

    R is half the outside diameter and the offset of the pin line.

    4.75 in, pitch 1 in, offset 0.375 in, once round, is published as 17.28:

    >>> from math import pi
    >>> round(links_by_arc(Chain(1, 0.375, 2 * pi, 0), 4.75), 2)
    17.28
    """
    return chain.wrap * _pin_radius(chain, outside_diameter) / chain.pitch


def links_by_chord(chain: Chain, outside_diameter: float) -> float:
    """Links on the pipe as stiff chords between pins on a circle: ``n = theta / (2 asin(p / 2R))``.

    Never more than by the arc.

    Raises:
        NoAnswer: ``pitch_too_long`` where one link would span the whole circle.

    The same chain is published as 17.18:

    >>> from math import pi
    >>> round(links_by_chord(Chain(1, 0.375, 2 * pi, 0), 4.75), 2)
    17.18
    """
    radius = _pin_radius(chain, outside_diameter)
    if not chain.pitch < 2 * radius:
        raise refuse(
            "pitch_too_long",
            "links of pitch {pitch} do not bend round an outside diameter of {diameter}",
            "outside_diameter",
            pitch=Amount("length", chain.pitch),
            diameter=Amount("length", outside_diameter),
        )
    return chain.wrap / (2 * asin(chain.pitch / (2 * radius)))


def whole_links(chain: Chain, on_the_pipe: float) -> int:
    """Links with the tails, rounded up: a link too few does not close.

    >>> from math import pi
    >>> whole_links(Chain(1, 0.375, 2 * pi, 2), 17.28)
    20
    """
    return ceil(on_the_pipe + chain.tail_links - WHOLE_LINKS)


def link_ranges(chain: Chain, smallest: float, largest: float) -> Iterator[LinkRange]:
    """Every number of links between two outside diameters (m), by the arc, and where it changes.

    n links reach up to ``OD = 2 ((n - tails) p / theta - offset)``.
    """
    first, last = (whole_links(chain, links_by_arc(chain, end)) for end in (smallest, largest))
    start = smallest
    for links in range(first, last + 1):
        reach = 2 * ((links - chain.tail_links) * chain.pitch / chain.wrap - chain.pin_line_offset)
        end = largest if links == last else max(start, reach)
        yield LinkRange(start, end, links)
        start = end


def links_from_table(table: Sequence[LinkRange], outside_diameter: float) -> float:
    """Links by the table of the chain's maker; nothing is taken from outside its rows.

    Of two rows that share a diameter the one with more links counts.

    Raises:
        NoAnswer: ``diameter_not_in_link_table``.

    >>> links_from_table([LinkRange(4, 5, 18), LinkRange(5, 6, 21)], 5)
    21
    """
    low, high = outside_diameter * (1 - NOISE), outside_diameter * (1 + NOISE)
    found = [row.links for row in table if row.minimum <= high and low <= row.maximum]
    if not found:
        raise refuse(
            "diameter_not_in_link_table",
            "no row of the chain's own table is for an outside diameter of {diameter}",
            "outside_diameter",
            diameter=Amount("length", outside_diameter),
        )
    return max(found)


def _pin_radius(chain: Chain, outside_diameter: float) -> float:
    return outside_diameter / 2 + chain.pin_line_offset
