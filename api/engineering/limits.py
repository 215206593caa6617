"""What the makers of a machine allow, and the two checks that every use of it needs."""

from dataclasses import dataclass

from api.engineering.checks import Check
from api.engineering.faults import Amount
from api.engineering.gauge import Gauge, working_range
from api.engineering.noise import NOISE


@dataclass(frozen=True)
class Limits:
    """What the makers of machine, hoses and valve allow, SI."""

    relief_cracking: float
    relief_full_flow: float
    rated_cylinder: float
    rated_hoses: float
    torque_rating: float
    smallest_diameter: float
    largest_diameter: float
    lowest_setting: float


def diameter_check(limits: Limits, diameter: float | None) -> Check:
    """Whether the machine grips an outside diameter; both ends of its range are gripped."""
    if diameter is None:
        text = "no gripped diameter given: check that the machine grips it"
        return Check("outside_diameter", "", "not_checked", text)
    low, high = limits.smallest_diameter, limits.largest_diameter
    fits = low * (1 - NOISE) <= diameter <= high * (1 + NOISE)
    return Check(
        "outside_diameter",
        "diameter_not_gripped",
        "pass" if fits else "fail",
        "gripped outside diameter {value} against the range of the grip, limit {limit}",
        Amount("length", diameter),
        Amount("length", low if diameter < low else high),
    )


def working_range_check(gauge: Gauge, pressure: float) -> Check:
    """Whether a pressure lies in the middle half of the dial, where its error is the smallest share."""
    low, high = working_range(gauge)
    return Check(
        "gauge_working_range",
        "",
        "pass" if low * (1 - NOISE) <= pressure <= high * (1 + NOISE) else "caution",
        "{value} lies best between a quarter and three quarters of the gauge span {limit}",
        Amount("pressure", pressure),
        Amount("pressure", gauge.span * gauge.pascals),
    )
