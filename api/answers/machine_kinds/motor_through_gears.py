"""A hydraulic motor turning the pipe through gears, from its profile."""

from math import pi
from types import SimpleNamespace

from api.answers.machine_kinds.machine_kind import (
    EFFICIENCY,
    PRESSURE_READ,
    TORQUE_WANTED,
    Kind,
    Loaded,
    limits_of,
)
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.motor_through_gears import MotorThroughGearsProfile

EQUATION = Source(
    "pressure and torque of the machine",
    "read",
    "torque of a hydraulic motor through gears: T = (p - p_return) V / (2 pi) i e, e at standstill",
)
_PARTS = (
    Step(
        "V", "displacement per revolution", "from the profile", "at.displacement", "displacement", "profile"
    ),
    Step("i", "gear ratio", "from the profile", "machine.gear_ratio", "number", "profile"),
    EFFICIENCY,
    Step("p_return", "return pressure", "from the profile", "machine.return_pressure", "pressure", "profile"),
)
TO_READING = Step(
    "p", "pressure", "p_return + 2 pi T / (V i e)", "job.reading", "pressure", "work of one revolution"
)
TO_TORQUE = Step(
    "T", "torque", "(p - p_return) V / (2 pi) i e", "job.torque", "torque", "work of one revolution"
)


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the machine, whatever it grips."""
    return MotorThroughGears(
        loaded["displacement"] * 2 * pi,  # the SI unit of a displacement is m3/rad
        loaded["gear_ratio"],
        Efficiency(**loaded["starting_efficiency"]),
        Efficiency(**loaded["gear_efficiency"]),
        loaded["return_pressure"],
        loaded["right_hand_make_up_port"],
    )


def motor_at(
    machine: MotorThroughGears, loaded: Loaded, turning: Turning, position: ArmPosition
) -> SimpleNamespace:
    """The displacement of the motor as profiles have it, per radian."""
    return SimpleNamespace(displacement=machine.displacement_per_revolution / (2 * pi))


KIND = Kind(
    profile=MotorThroughGearsProfile(),
    machine=MotorThroughGears,
    build=build,
    limits=limits_of,
    source=EQUATION,
    to_reading=(TORQUE_WANTED, *_PARTS, TO_READING),
    to_torque=(PRESSURE_READ, *_PARTS, TO_TORQUE),
    at=motor_at,
)
