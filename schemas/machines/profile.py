"""Profiles of machines: one schema a kind."""

from collections.abc import Mapping
from typing import Any

from schemas.core.faults import chosen, load
from schemas.core.fields import Request
from schemas.machine_kinds.calibrated import CalibratedProfile
from schemas.machine_kinds.cylinder_on_arm import CylinderOnArmProfile
from schemas.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArmProfile
from schemas.machine_kinds.line_pull import LinePullProfile
from schemas.machine_kinds.motor_through_gears import MotorThroughGearsProfile
from schemas.machine_kinds.stud_tensioner import StudTensionerProfile
from schemas.machine_kinds.torque_wrench import TorqueWrenchProfile
from schemas.machine_kinds.two_cylinders import TwoCylindersProfile

PROFILES: Mapping[str, Request] = {
    "cylinder_on_arm": CylinderOnArmProfile(),
    "cylinder_on_square_arm": CylinderOnSquareArmProfile(),
    "two_cylinders": TwoCylindersProfile(),
    "motor_through_gears": MotorThroughGearsProfile(),
    "line_pull": LinePullProfile(),
    "torque_wrench": TorqueWrenchProfile(),
    "calibrated": CalibratedProfile(),
    "stud_tensioner": StudTensionerProfile(),
}
"""The schema of a profile by its ``kind``."""


def load_profile(given: Any) -> dict[str, Any]:
    """A profile as plain values in SI.

    Raises:
        InvalidInput: with every fault, or with that of the kind alone, on which the other fields depend.
    """
    return load(chosen(PROFILES, given, "kind"), given)
