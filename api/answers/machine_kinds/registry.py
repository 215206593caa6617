"""Every kind of machine, by the ``kind`` of its profile."""

from collections.abc import Mapping

from api.answers.machine_kinds import (
    calibrated,
    cylinder_on_arm,
    cylinder_on_square_arm,
    line_pull,
    motor_through_gears,
    stud_tensioner,
    torque_wrench,
    two_cylinders,
)
from api.answers.machine_kinds.machine_kind import Kind

KINDS: Mapping[str, Kind] = {
    "cylinder_on_arm": cylinder_on_arm.KIND,
    "cylinder_on_square_arm": cylinder_on_square_arm.KIND,
    "two_cylinders": two_cylinders.KIND,
    "motor_through_gears": motor_through_gears.KIND,
    "line_pull": line_pull.KIND,
    "torque_wrench": torque_wrench.KIND,
    "calibrated": calibrated.KIND,
    "stud_tensioner": stud_tensioner.KIND,
}
