"""What a machine kind is to an answer: how it is built from a profile, its source, its working, its findings."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.standing_notices import GAUGE_AT_PUMP, StandingNotice
from api.engineering.checks import Finding
from api.engineering.gauges.accuracy_class import GAUGE_CLASSES, GaugeAccuracy, stated_accuracy
from api.engineering.gauges.gauge import Gauge
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.machine import Machine, check_kind
from api.engineering.machines.bending import gravity_moment
from api.engineering.machines.cylinder import ArmPosition, Turning, area, other_side
from api.engineering.machines.limits import Limits
from api.engineering.machines.relief import Relief
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machines.profile import ARM_ANGLE, PERCENT, GovernedProfile

Loaded = Mapping[str, Any]
"""A profile as its schema loads it."""


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


def relief_of(valve: Mapping[str, float]) -> Relief:
    """A relief valve: fixed where the profile says where it cracks, else adjustable."""
    if "cracking" in valve:
        return Relief(valve["cracking"], valve["cracking"], valve["full_flow"] - valve["cracking"])
    return Relief(**valve)


def limits_of(loaded: Loaded) -> Limits:
    """The limits of the makers."""
    diameter, relief = loaded.get("outside_diameter"), loaded.get("relief")
    return Limits(
        rated=loaded["rated_pressure"],
        torque_rating=loaded["torque_rating"],
        diameters=(diameter["minimum"], diameter["maximum"]) if diameter else None,
        lowest_setting=loaded["lowest_setting"],
        relief=relief_of(relief) if relief else None,
    )


def half_widths_of(loaded: Loaded) -> tuple[dict[str, float], float | None]:
    """Stated half-widths by the name of the size, percentages as shares; apart from them the arm angle."""
    widths = {
        name.removesuffix(PERCENT): value / 100 if name.endswith(PERCENT) else value
        for name, value in loaded.get("tolerances", {}).items()
    }
    return widths, widths.pop(ARM_ANGLE, None)


def arm_moment_of(loaded: Loaded) -> float | None:
    """Most that the weight of an arm turns the joint by, N.m: nothing where it is supported.

    None where neither weight nor support is stated.
    """
    if loaded.get("arm_supported"):
        return 0.0
    if "arm_weight" not in loaded:
        return None
    return gravity_moment(loaded["arm_weight"], loaded["arm_centre_of_mass"])


@dataclass(frozen=True)
class PistonAt:
    """What the working of a machine with one cylinder reads at a position of its arm."""

    machine: CylinderOnArm | CylinderOnSquareArm
    loaded: Loaded
    turning: Turning
    position: ArmPosition

    @property
    def moment_arm(self) -> float:
        """The moment arm of the cylinder, m."""
        return self.machine.moment_arm(self.position)

    @property
    def driven_area(self) -> float:
        """Area under pressure, m2."""
        (side,) = self.machine.sides(self.turning)
        return area(self.machine.cylinder, side)

    @property
    def returning_area(self) -> float:
        """Area of the other side, m2."""
        (side,) = self.machine.sides(self.turning)
        return area(self.machine.cylinder, other_side(side))


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


def no_findings(loaded: Loaded, limits: Limits) -> Iterator[Finding]:
    """Nothing sets a profile of this kind apart."""
    yield from ()


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A kind of machine: its profile, its engineering, and its words. One that lacks anything is refused.

    Attributes:
        profile: the schema of its profile, whose ``kind`` is a choice of the one word that is its `key`.
        machine: what it is in engineering; None for one that gives no torque.
        build: the machine of a loaded profile as it grips an outside diameter, m, None where not known;
            raises NoAnswer where it must be. Annotated ``-> Machine``, so that mypy names what that lacks.
        limits: what the makers allow, of a loaded profile; mostly `limits_of`.
        source: where its equation comes from.
        to_reading, to_torque: its working, from torque to reading and back. Steps read ``machine``, ``job``
            and ``at``.
        at: what the steps of its working read as ``at``; None where they read nothing more.
        findings: what to know of a profile before it is put into service.
        other_way: what to do for a thread of the other hand, where no side or port is changed for it.
        standing_notices: what whoever uses a machine of this kind must know every time.
    """

    profile: GovernedProfile
    machine: type[Machine] | None
    build: Callable[[Loaded, float | None], Machine]
    limits: Callable[[Loaded], Limits]
    source: Source
    to_reading: tuple[Step, ...]
    to_torque: tuple[Step, ...]
    at: Callable[[Any, Loaded, Turning, ArmPosition], object] | None = None
    findings: Callable[[Loaded, Limits], Iterator[Finding]] = no_findings
    other_way: str = "Reverse its drive, and check which way it turns before you grip the joint."
    standing_notices: tuple[StandingNotice, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what cannot be served.

        Raises:
            TypeError: for a machine that lacks something, and for a tolerance that profile and machine do not
                have alike: it would be left out of every bound, or taken for another amount.
        """
        if self.machine is None:
            return
        check_kind(self.machine)
        taken = {name: tolerance.kind for name, tolerance in self.machine.tolerances.items()}
        if unlike := sorted({name for name, _ in self.profile.sizes.items() ^ taken.items()}):
            both = f"{type(self.profile).__name__} and {self.machine.__name__}"
            raise TypeError(f"{both} do not have the same tolerances: {', '.join(unlike)}")

    @property
    def notices(self) -> tuple[StandingNotice, ...]:
        """The notices that a machine of this kind can have: its own, and that of a gauge at the pump."""
        return (*self.standing_notices, GAUGE_AT_PUMP)

    @property
    def position_required(self) -> bool:
        """Whether a request must say how the arm stands; a kind that has none has a position of its own."""
        return self.machine is not None and self.machine.own_position is None

    @property
    def key(self) -> str:
        """The ``kind`` of its profiles.

        Raises:
            TypeError: where its profile does not declare it.
        """
        return self.profile.key
