"""A line pulling an arm, from its profile."""

from types import SimpleNamespace

from api.answers.machine_kinds.machine_kind import (
    ARM_RADIUS,
    EFFICIENCY,
    OFF_SQUARE_ARM,
    TORQUE_WANTED,
    Kind,
    Loaded,
)
from api.answers.standing_notices import LINE_ONLY_PULLS
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machines.arm import distance_at
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.machines.limits import Limits
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.line_pull import LinePullProfile

STATICS = Source(
    "line pull and torque of the machine", "read", "statics of a line square to its arm: T = F a e"
)
_PARTS = (ARM_RADIUS, OFF_SQUARE_ARM, EFFICIENCY)
PULL_WANTED = Step("F", "line pull", "T / (h e)", "job.side_load", "force", "statics")
PULL_READ = Step("F", "line pull read", "as given; of a load cell p A", "job.side_load", "force", "statics")
_CELL = Step(
    "A", "area of the load cell", "from the profile", "machine.cell_area", "area", "certificate of the cell"
)
CELL_WANTED = (
    _CELL,
    Step("p", "pressure of the load cell", "F / A", "job.cell_pressure", "pressure", "statics"),
)
CELL_READ = (
    Step("p", "pressure read on the load cell", "as given", "job.cell_pressure", "pressure", "statics"),
    _CELL,
)
TORQUE = Step("T", "torque", "F h e", "job.torque", "torque", "statics")


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the machine for an outside diameter in its grip.

    Raises:
        NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
    """
    return LinePull(
        distance_at(loaded["arm_radius"], gripped),
        loaded.get("largest_angle_off_square"),
        loaded.get("cell_area"),
        Efficiency(**loaded["efficiency"]),
    )


def limits(loaded: Loaded) -> Limits:
    """The limits of the makers as readings: pressures of a load cell, or pulls."""
    area = loaded.get("cell_area", 1.0)
    diameter = loaded["outside_diameter"]
    return Limits(
        rated={name: pull / area for name, pull in loaded["rated_pull"].items()},
        torque_rating=loaded["torque_rating"],
        diameters=(diameter["minimum"], diameter["maximum"]),
        lowest_setting=loaded["lowest_pull"] / area,
        relief=None,
        largest_pull=loaded["largest_pull"] / area,
    )


def arm_at(machine: LinePull, loaded: Loaded, turning: Turning, position: ArmPosition) -> SimpleNamespace:
    """The arm of the machine."""
    return SimpleNamespace(moment_arm=machine.moment_arm(position))


KIND = Kind(
    profile=LinePullProfile(),
    machine=LinePull,
    build=build,
    limits=limits,
    source=STATICS,
    to_reading=(TORQUE_WANTED, *_PARTS, PULL_WANTED, *CELL_WANTED),
    to_torque=(*CELL_READ, PULL_READ, *_PARTS, TORQUE),
    at=arm_at,
    other_way="Lead the line to the other side of the arm before you pull.",
    standing_notices=(LINE_ONLY_PULLS,),
)
