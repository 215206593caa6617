"""What a machine kind is to an answer: how it is built from a profile, its source, its working, its cautions."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from api.engineering.gauges.accuracy_class import GAUGE_CLASSES, GaugeAccuracy, stated_accuracy
from api.engineering.gauges.gauge import Gauge
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.machine import ArmPosition, Machine
from api.engineering.machines.arm import ByDiameter, Distance
from api.engineering.machines.cylinder import Turning, area, other_side
from api.engineering.machines.limits import Limits, Relief
from api.engineering.provenance import Source
from api.engineering.working import Step


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


TORQUE_WANTED = Step(
    "T", "torque wanted", "target, or break-out ratio times target", "job.torque", "torque", "statics"
)
PRESSURE_READ = Step("p", "pressure read", "as given", "job.reading", "pressure", "statics")
EFFICIENCY = Step(
    "e", "nominal efficiency", "from the profile", "machine.efficiency.nominal", "number", "profile"
)
ARM_RADIUS = Step("a", "arm radius", "from the profile", "machine.arm_radius", "length", "profile")
OFF_SQUARE_ARM = Step(
    "h", "moment arm", "square, and the largest there is: a", "at.moment_arm", "length", "statics"
)
FORCE = Step("F", "force at the arm pin", "T / h", "job.force", "force", "statics")
LOST_PRESSURES = (
    Step(
        "p_breakaway",
        "breakaway pressure",
        "from the profile",
        "machine.breakaway_pressure",
        "pressure",
        "profile",
    ),
    Step("p_return", "return pressure", "from the profile", "machine.return_pressure", "pressure", "profile"),
)
PISTON_AREAS = (
    Step(
        "A",
        "area of the driven side",
        "cap: pi/4 D^2; rod: pi/4 (D^2 - d^2)",
        "at.driven_area",
        "area",
        "statics",
    ),
    Step("A'", "area of the returning side", "the other of the two", "at.returning_area", "area", "statics"),
)
PISTON_TO_READING = (
    FORCE,
    Step("p", "pressure", "p_breakaway + (F/e + A' p_return) / A", "job.reading", "pressure", "statics"),
)
PISTON_TO_TORQUE = (
    Step(
        "F", "force at the arm pin", "e (A (p - p_breakaway) - A' p_return)", "job.force", "force", "statics"
    ),
    Step("T", "torque", "F h", "job.torque", "torque", "statics"),
)


Loaded = Mapping[str, Any]


def no_cautions(loaded: Loaded, limits: Limits) -> Iterator[str]:
    """Nothing to say of a profile of this kind."""
    yield from ()


@dataclass(frozen=True)
class Kind:
    """A kind of machine.

    Attributes:
        build: the machine of a loaded profile as it grips an outside diameter, m, None where not known;
            raises NoAnswer where it must be.
        source: where its equation comes from.
        to_reading, to_torque: its working, from torque to reading and back.
        working: the objects that the steps of its working read, beside ``job``, which is there for all.
        cautions: what a profile of this kind should not be put into service with.
        limits: what the makers allow, of a loaded profile.
        says: what whoever uses a machine of this kind must know every time.
    """

    build: Callable[[Loaded, float | None], Machine]
    source: Source
    to_reading: tuple[Step, ...]
    to_torque: tuple[Step, ...]
    working: Callable[[Any, Loaded, Turning, ArmPosition], Mapping[str, Any]]
    cautions: Callable[[Loaded, Limits], Iterator[str]] = no_cautions
    limits: Callable[[Loaded], Limits] = limits_of
    says: tuple[str, ...] = ()
