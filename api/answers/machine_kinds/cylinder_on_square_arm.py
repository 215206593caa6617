"""An arm swung by one cylinder, of which only the arm is measured, from its profile."""

from collections.abc import Mapping
from typing import Any

from api.answers.machine_kinds.machine_kind import (
    ARM_RADIUS,
    EFFICIENCY,
    LOST_PRESSURES,
    OFF_SQUARE_ARM,
    PISTON_AREAS,
    PISTON_TO_READING,
    PISTON_TO_TORQUE,
    PRESSURE_READ,
    TORQUE_WANTED,
    Kind,
    Loaded,
    by_diameter,
    piston_at,
)
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.machine import ArmPosition, Efficiency
from api.engineering.machines.arm import distance_at
from api.engineering.machines.cylinder import Piston, Turning
from api.engineering.provenance import Source

STATICS = Source(
    "pressure and torque of the machine",
    "read",
    "statics of a cylinder square to its arm: T = a e (A (p - p_breakaway) - A' p_return)",
)
_PARTS = (ARM_RADIUS, OFF_SQUARE_ARM, *PISTON_AREAS, EFFICIENCY, *LOST_PRESSURES)


def build(loaded: Loaded, gripped: float | None) -> CylinderOnSquareArm:
    """The machine as it grips an outside diameter.

    Raises:
        NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
    """
    return CylinderOnSquareArm(
        Piston(**loaded["cylinder"]),
        distance_at(by_diameter(loaded["arm_radius"]), gripped),
        loaded.get("largest_angle_off_square"),
        loaded["right_hand_make_up_side"],
        Efficiency(**loaded["efficiency"]),
        loaded["breakaway_pressure"],
        loaded["return_pressure"],
    )


def working(
    machine: CylinderOnSquareArm, loaded: Loaded, turning: Turning, position: ArmPosition
) -> Mapping[str, Any]:
    """The machine and what it is at this position."""
    return {"machine": machine, "at": piston_at(machine, turning, position)}


KIND = Kind(
    build,
    STATICS,
    (TORQUE_WANTED, *_PARTS, *PISTON_TO_READING),
    (PRESSURE_READ, *_PARTS, *PISTON_TO_TORQUE),
    working,
)
