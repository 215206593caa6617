"""What a reading taken on a machine says of its limits."""

from collections.abc import Iterator

from api.engineering.checks import Check, at_most
from api.engineering.gauge import Gauge
from api.engineering.limits import Limits, diameter_check, gauge_checks, listed


def reading_checks(
    limits: Limits, gauge: Gauge, reading: float, torque: float, gripped_diameter: float | None
) -> Iterator[Check]:
    """The checks of a reading already taken: an overload is told, not refused."""
    yield diameter_check(limits, gripped_diameter)
    yield from gauge_checks(gauge, reading)
    yield at_most(
        "torque_rating",
        "",
        "highest possible torque {value} against the torque rating of the machine {limit}",
        "torque",
        torque,
        limits.torque_rating,
        "caution",
    )
    yield at_most(
        "rated_pressure",
        "",
        f"reading {{value}} against the lowest rating of {listed(limits.rated)} {{limit}}",
        gauge.quantity,
        reading,
        min(limits.rated.values()),
        "caution",
    )
