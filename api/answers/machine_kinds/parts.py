"""Parts of a loaded profile as engineering objects."""

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from api.engineering.by_diameter import ByDiameter, Distance
from api.engineering.cylinder import area, other_side
from api.engineering.gauge import Gauge
from api.engineering.gauge_class import GAUGE_CLASSES, GaugeAccuracy, stated_accuracy
from api.engineering.limits import Limits, Relief
from api.engineering.machines.cylinder_on_arm import CylinderOnArm
from api.engineering.machines.machine import ArmPosition
from api.engineering.machines.square_arm import CylinderOnSquareArm
from api.engineering.turning import Turning


def by_diameter(loaded: float | list[dict[str, float]]) -> Distance:
    """A distance: one value, or a table by outside diameter."""
    if isinstance(loaded, float):
        return loaded
    return ByDiameter(tuple((row["outside_diameter"], row["distance"]) for row in loaded))


def gauge_of(dial: Mapping[str, Any]) -> Gauge:
    """A gauge, of pressure or, where its dial has a unit of force, of line pull."""
    drift = dial.get("drift_percent_of_span")
    return Gauge(
        serial=dial["serial"],
        unit=dial["span"].unit.code,
        span=dial["span"].value,
        division=dial["division"].value,
        unit_in_si=dial["span"].unit.factor,
        accuracy=_accuracy(dial),
        connected_at=dial["connected_at"],
        quantity="force" if "force" in dial["span"].unit.kinds else "pressure",
        digital=dial.get("display") == "digital",
        height=dial.get("height"),
        drift=None if drift is None else drift / 100 * dial["span"].si,
    )


def _accuracy(dial: Mapping[str, Any]) -> GaugeAccuracy:
    if "accuracy_class" in dial:
        return GAUGE_CLASSES[dial["accuracy_class"]]
    return stated_accuracy(dial["accuracy_percent_of_span"])


def limits_of(loaded: Mapping[str, Any]) -> Limits:
    """What the makers allow."""
    diameter, relief = loaded.get("outside_diameter"), loaded.get("relief")
    return Limits(
        rated=loaded["rated_pressure"],
        torque_rating=loaded["torque_rating"],
        diameters=(diameter["minimum"], diameter["maximum"]) if diameter else None,
        lowest_setting=loaded["lowest_setting"],
        relief=Relief(**relief) if relief else None,
    )


def piston_at(
    machine: CylinderOnArm | CylinderOnSquareArm, turning: Turning, position: ArmPosition
) -> SimpleNamespace:
    """What the working of a machine with one cylinder reads at a position of its arm."""
    (side,) = machine.sides(turning)
    return SimpleNamespace(
        moment_arm=machine.moment_arm(position),
        driven_area=area(machine.cylinder, side),
        returning_area=area(machine.cylinder, other_side(side)),
    )
