"""What limits a reading that is to be set, whatever the machine is set for."""

from collections.abc import Iterator

from api.engineering.checks import Check, at_least, at_most
from api.engineering.faults import Amount
from api.engineering.gauge import Gauge
from api.engineering.limits import Limits, listed
from api.engineering.noise import NOISE


def capacity_check(limits: Limits, gauge: Gauge, reading: float, needed: str) -> Check:
    """Whether a machine reaches a reading; ``needed`` says in words which one that is."""
    ends = limits.reachable(gauge)
    return at_most(
        "capacity",
        "capacity_exceeded",
        f"{needed} {{value}} against the lowest of {listed(ends)} {{limit}}",
        gauge.quantity,
        reading,
        min(ends.values()),
    )


def relief_rating_check(limits: Limits, gauge: Gauge) -> Iterator[Check]:
    """Whether the relief valve protects every part; nothing for a machine without one."""
    if limits.relief:
        ratings = limits.ratings(gauge)
        yield at_most(
            "relief_full_flow",
            "relief_above_rating",
            f"relief at full flow {{value}} against the lowest rating of {listed(ratings)} {{limit}}",
            gauge.quantity,
            limits.relief.full_flow,
            min(ratings.values()),
        )


def relief_cracking_check(limits: Limits, gauge: Gauge, reading: float) -> Iterator[Check]:
    """Whether a setting stays below the relief valve, at whose cracking it is not accepted."""
    if limits.relief:
        below = reading < limits.relief.cracking * (1 - NOISE)
        yield Check(
            "relief_cracking",
            "setting_not_below_relief",
            "pass" if below else "fail",
            "setting {value} must lie below relief cracking {limit}",
            Amount(gauge.quantity, reading),
            Amount(gauge.quantity, limits.relief.cracking),
        )


def lowest_setting_check(limits: Limits, gauge: Gauge, reading: float) -> Check:
    """Whether a setting is not too low to be set."""
    return at_least(
        "lowest_setting",
        "below_lowest_setting",
        "setting {value} against the lowest that can be set {limit}",
        gauge.quantity,
        reading,
        limits.lowest_setting,
    )
