"""What a reading taken on a machine says of its limits."""

from collections.abc import Iterator

from api.engineering.checks import Check, at_most
from api.engineering.gauge import Gauge
from api.engineering.limits import Limits, diameter_check, working_range_check


def reading_checks(
    limits: Limits, gauge: Gauge, pressure: float, torque: float, gripped_diameter: float | None
) -> Iterator[Check]:
    """The checks of a reading already taken: an overload is told, not refused."""
    yield diameter_check(limits, gripped_diameter)
    yield working_range_check(gauge, pressure)
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
        "reading {value} against the lowest rating of cylinder and hoses {limit}",
        "pressure",
        pressure,
        min(limits.rated_cylinder, limits.rated_hoses),
        "caution",
    )
