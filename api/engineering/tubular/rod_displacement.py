"""Sucker-rod joints: what a circumferential displacement past hand tight turns and moves.

The displacement is measured on the outside of the coupling, between two ends of one scribed line.
"""

from dataclasses import dataclass
from math import pi

from api.engineering.rotary.sizes import INCH
from api.engineering.tubular.make_up_position import LEGIBLE


def turn_from_displacement(displacement: float, coupling_diameter: float) -> float:
    """Turn of the coupling, rad: ``2 CD / Dc``, that is ``CD / (pi Dc)`` of a revolution (geometry).

    Args:
        displacement: CD, on the outside of the coupling, m, > 0.
        coupling_diameter: Dc, outside diameter of the coupling, m, > 0.

    A 5/8 in rod, first run, 8/32 in on a full-size coupling of 1.500 in, is printed with 19 degrees:

    >>> round(turn_from_displacement(8 / 32, 1.5) * 180 / pi)
    19
    """
    return 2 * displacement / coupling_diameter


def travel_from_turn(turn: float, threads_per_inch: float) -> float:
    """Axial travel of the thread, m: ``turn / 2 pi / tpi`` (geometry).

    Args:
        turn: rad, >= 0.
        threads_per_inch: of the pin, > 0.
    """
    return turn / (2 * pi) * INCH / threads_per_inch


@dataclass(frozen=True)
class DisplacementWindow:
    """Minimum and maximum displacement of a joint, with the coupling and the thread it turns on; SI."""

    minimum: float
    maximum: float
    coupling_diameter: float
    threads_per_inch: float

    @property
    def turn_minimum(self) -> float:
        """Turn at the minimum, rad."""
        return turn_from_displacement(self.minimum, self.coupling_diameter)

    @property
    def turn_maximum(self) -> float:
        """Turn at the maximum, rad."""
        return turn_from_displacement(self.maximum, self.coupling_diameter)

    @property
    def axial_travel_minimum(self) -> float:
        """Axial travel at the minimum, m."""
        return travel_from_turn(self.turn_minimum, self.threads_per_inch)

    @property
    def axial_travel_maximum(self) -> float:
        """Axial travel at the maximum, m."""
        return travel_from_turn(self.turn_maximum, self.threads_per_inch)

    def verdict(self, measured: float) -> str:
        """``short``, ``accepted`` or ``over`` for a measured displacement, m; both limits are accepted.

        >>> window = DisplacementWindow(8 / 32 * INCH, 9 / 32 * INCH, 1.5 * INCH, 10)
        >>> [window.verdict(each / 32 * INCH) for each in (7, 8, 9, 10)]
        ['short', 'accepted', 'accepted', 'over']
        """
        if not measured >= self.minimum - LEGIBLE:
            return "short"
        return "accepted" if measured <= self.maximum + LEGIBLE else "over"
