"""An arm swung by one cylinder, of which only the arm is measured, from its profile."""

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
    PistonAt,
    limits_of,
)
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machines.arm import distance_at
from api.engineering.machines.cylinder import Piston
from api.engineering.provenance import Source
from schemas.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArmProfile

STATICS = Source(
    "pressure and torque of the machine",
    "read",
    "statics of a cylinder square to its arm: T = a e (A (p - p_breakaway) - A' p_return)",
)
_PARTS = (ARM_RADIUS, OFF_SQUARE_ARM, *PISTON_AREAS, EFFICIENCY, *LOST_PRESSURES)


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the machine for an outside diameter in its grip.

    Raises:
        NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
    """
    return CylinderOnSquareArm(
        distance_at(loaded["arm_radius"], gripped),
        loaded.get("largest_angle_off_square"),
        Piston(**loaded["cylinder"]),
        loaded["right_hand_make_up_side"],
        Efficiency(**loaded["efficiency"]),
        loaded["breakaway_pressure"],
        loaded["return_pressure"],
    )


KIND = Kind(
    profile=CylinderOnSquareArmProfile(),
    machine=CylinderOnSquareArm,
    build=build,
    limits=limits_of,
    source=STATICS,
    to_reading=(TORQUE_WANTED, *_PARTS, *PISTON_TO_READING),
    to_torque=(PRESSURE_READ, *_PARTS, *PISTON_TO_TORQUE),
    at=PistonAt,
)
