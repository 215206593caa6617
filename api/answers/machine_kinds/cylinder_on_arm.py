"""An arm swung by one cylinder, from its profile."""

from collections.abc import Iterator

from api.answers.machine_kinds.machine_kind import (
    ARM_RADIUS,
    EFFICIENCY,
    LOST_PRESSURES,
    PISTON_AREAS,
    PISTON_TO_READING,
    PISTON_TO_TORQUE,
    PRESSURE_READ,
    TORQUE_WANTED,
    Kind,
    Loaded,
    PistonAt,
    limits_of,
)
from api.engineering.checks import Amount, Finding, NoAnswer
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machines.arm import distance_at
from api.engineering.machines.cylinder import Cylinder
from api.engineering.machines.limits import Limits
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.cylinder_on_arm import CylinderOnArmProfile

STATICS = Source(
    "pressure and torque of the machine",
    "read",
    "statics of cylinder and arm: T = h e (A (p - p_breakaway) - A' p_return)",
)
_PARTS = (
    ARM_RADIUS,
    Step("b", "base distance", "from the profile", "machine.base_distance", "length", "profile"),
    Step("h", "moment arm", "square: a; else a b sin(theta) / L", "at.moment_arm", "length", "statics"),
    *PISTON_AREAS,
    EFFICIENCY,
    *LOST_PRESSURES,
)


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the machine for an outside diameter in its grip.

    Raises:
        NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
    """
    return CylinderOnArm(
        Cylinder(**loaded["cylinder"]),
        distance_at(loaded["arm_radius"], gripped),
        distance_at(loaded["base_distance"], gripped),
        loaded["right_hand_make_up_side"],
        Efficiency(**loaded["efficiency"]),
        loaded["breakaway_pressure"],
        loaded["return_pressure"],
    )


def findings(loaded: Loaded, limits: Limits) -> Iterator[Finding]:
    """A finding for each gripped outside diameter with which an end of the stroke cannot be used."""
    assert limits.diameters is not None
    smallest, largest = limits.diameters
    diameters = {smallest, largest}
    for name in ("arm_radius", "base_distance"):
        measured = [] if isinstance(loaded[name], float) else loaded[name]
        diameters |= {diameter for diameter, _ in measured if smallest <= diameter <= largest}
    for diameter in sorted(diameters):
        try:
            machine = build(loaded, diameter)
            for length in (loaded["cylinder"]["closed_length"], loaded["cylinder"]["open_length"]):
                machine.moment_arm(length)
        except NoAnswer as refusal:
            yield Finding(
                level="look",
                code="end_of_stroke_unusable",
                text="With {value} in the grip an end of the stroke cannot be used: "
                f"{refusal.faults[0].code.replace('_', ' ')}.",
                step="choose",
                remedy="Check the lengths of the cylinder, the arm radius and the base distance.",
                value=Amount("length", diameter),
            )


KIND = Kind(
    profile=CylinderOnArmProfile(),
    machine=CylinderOnArm,
    build=build,
    limits=limits_of,
    source=STATICS,
    to_reading=(TORQUE_WANTED, *_PARTS, *PISTON_TO_READING),
    to_torque=(PRESSURE_READ, *_PARTS, *PISTON_TO_TORQUE),
    at=PistonAt,
    findings=findings,
)
