"""Minimum yield strength of drill collars of standard steel (API Spec 7-1, from memory).

It is that of the size the collar was made in: a collar worn below 6-7/8 in that was 7 in has the lesser one.
"""

from typing import NamedTuple

from api.engineering.provenance import Assumption, Source
from api.reference.make_up_torque import SAME_LENGTH
from api.reference.table import read_table


class CollarSteel(NamedTuple):
    """Yield strength (Pa) of collars above an outside diameter (m), and where it stands."""

    above: float
    strength: float
    printed: str
    reason: str
    source: Source

    def assumed_for(self, field: str) -> Assumption:
        """The assumption that a member that states no yield strength is of this steel."""
        return Assumption(field, f"{self.printed} psi", self.reason)


def _reason(up_to: str, source: str, status: str) -> str:
    if up_to == "any":
        sizes = "above 6-7/8 in"
    else:
        sizes = f"up to {up_to}; a collar worn from a larger size has less"
    return f"not given; standard steel of {source}, {status}, {sizes}"


STEELS = tuple(
    CollarSteel(
        row.number("outside_diameter_above"),
        row.number("yield_strength"),
        f"{int(row.text['yield_strength']):,}",
        _reason(row.text["up_to"], row.text["source"], row.text["status"]),
        Source("minimum yield strength of standard collar steel", row.text["status"], row.text["source"]),
    )
    for row in read_table("collar_steel.csv")
)
"""From the smallest to the largest outside diameter."""


def collar_steel(outside_diameter: float) -> CollarSteel:
    """The standard steel of a drill collar of this outside diameter, m, > 0.

    >>> collar_steel(6.875 * 0.0254).printed, collar_steel(7 * 0.0254).printed
    ('110,000', '100,000')
    """
    return next(each for each in reversed(STEELS) if outside_diameter > each.above + SAME_LENGTH)
