"""Two cylinders on one arm or ring, from their profile."""

from collections.abc import Iterator
from types import SimpleNamespace

from api.answers.machine_kinds.machine_kind import (
    EFFICIENCY,
    LOST_PRESSURES,
    PRESSURE_READ,
    TORQUE_WANTED,
    Kind,
    Loaded,
    limits_of,
)
from api.engineering.checks import Finding
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.arm import distance_at
from api.engineering.machines.cylinder import ArmPosition, Cylinder, Turning, area, other_side
from api.engineering.machines.limits import Limits
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.two_cylinders import TwoCylindersProfile

STATICS = Source(
    "pressure and torque of the machine",
    "read",
    "statics of two cylinders at one pressure: T = e sum of h (A (p - p_breakaway) - A' p_return)",
)
_PARTS = (
    *(
        step
        for number in (1, 2)
        for step in (
            Step(f"h{number}", f"moment arm of cylinder {number}", "square: a; else a b sin(theta) / L", f"at.arm_{number}", "length", "statics"),
            Step(f"A{number}", "its driven area", "cap: pi/4 D^2; rod: pi/4 (D^2 - d^2)", f"at.driven_{number}", "area", "statics"),
            Step(f"A{number}'", "its returning area", "the other of the two", f"at.returning_{number}", "area", "statics"),
        )
    ),
    EFFICIENCY,
    *LOST_PRESSURES,
)  # fmt: skip
TO_READING = Step(
    "p", "pressure", "p_breakaway + (T/e + p_return (A1' h1 + A2' h2)) / (A1 h1 + A2 h2)", "job.reading", "pressure", "statics"
)  # fmt: skip
TO_TORQUE = Step(
    "T", "torque", "e sum of h (A (p - p_breakaway) - A' p_return)", "job.torque", "torque", "statics"
)


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the machine for an outside diameter in its grip.

    Raises:
        NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
    """
    first, second = (
        CylinderAtArm(
            Cylinder(**each["cylinder"]),
            distance_at(each["arm_radius"], gripped),
            distance_at(each["base_distance"], gripped),
            each["right_hand_make_up_side"],
        )
        for each in loaded["cylinders"]
    )
    return TwoCylinders(
        first,
        second,
        loaded["on_opposite_sides"],
        Efficiency(**loaded["efficiency"]),
        loaded["breakaway_pressure"],
        loaded["return_pressure"],
    )


def cylinders_at(
    machine: TwoCylinders, loaded: Loaded, turning: Turning, position: ArmPosition
) -> SimpleNamespace:
    """The areas and the moment arm of each cylinder at this position."""
    at = SimpleNamespace()
    for number, (each, side) in enumerate(
        zip((machine.first, machine.second), machine.sides(turning), strict=True), 1
    ):
        setattr(at, f"arm_{number}", each.moment_arm(position))
        setattr(at, f"driven_{number}", area(each.cylinder, side))
        setattr(at, f"returning_{number}", area(each.cylinder, other_side(side)))
    return at


def findings(loaded: Loaded, limits: Limits) -> Iterator[Finding]:
    """The force that two cylinders leave across one pipe."""
    sides = {each["right_hand_make_up_side"] for each in loaded["cylinders"]}
    if loaded["on_opposite_sides"] and len(sides) == 2:
        yield Finding(
            level="note",
            code="no_pure_couple",
            text="One cylinder pushes and one pulls. At one pressure that is no pure couple.",
            step="prepare_pipe",
            remedy="See side_load in each answer.",
        )
    if not loaded["on_opposite_sides"]:
        yield Finding(
            level="note",
            code="forces_add_up",
            text="Both cylinders stand on one side of the pipe. Their forces add up across it.",
            step="prepare_pipe",
            remedy="See side_load in each answer.",
        )


KIND = Kind(
    profile=TwoCylindersProfile(),
    machine=TwoCylinders,
    build=build,
    limits=limits_of,
    source=STATICS,
    to_reading=(TORQUE_WANTED, *_PARTS, TO_READING),
    to_torque=(PRESSURE_READ, *_PARTS, TO_TORQUE),
    at=cylinders_at,
    findings=findings,
)
