"""A distance of a machine that depends on the outside diameter it grips."""

from dataclasses import dataclass
from itertools import pairwise

from api.engineering.faults import Amount, refuse
from api.engineering.noise import NOISE


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
