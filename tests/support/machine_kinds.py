"""One invented machine of every kind there is, for the tests that hold for all of them."""

from collections.abc import Mapping
from math import radians
from typing import NamedTuple

from rows import every_row

from api.engineering.machine_kinds.calibrated import Calibrated, CalibratedSide
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import ArmPosition, Driven, Efficiency, Machine
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machine_kinds.torque_wrench import TorqueWrench
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import Cylinder, Piston, Turning


class Kind(NamedTuple):
    """An invented machine, a reading that it works at, SI, and the lengths that it can be told, if any.

    ``may_be_unknown``: whether it answers where its position is not known.
    """

    machine: Machine
    reading: float
    lengths: tuple[float, ...] = ()
    may_be_unknown: bool = True

    @property
    def positions(self) -> tuple[ArmPosition, ...]:
        return ("square", *(["unknown"] if self.may_be_unknown else []), *self.lengths)

    def known(self, turning: Turning, *shares: float) -> list[float]:
        """Those shares of its reading at which its torque is known."""
        low, high = self.machine.readings(turning)
        return [share for share in shares if low <= share * self.reading <= high]


SPREAD = Efficiency(0.90, 0.95, 0.98)
CYLINDER = Cylinder(0.127, 0.0635, 1.016, 1.5748)
STROKE = (1.016, 1.1, 1.2192, 1.4, 1.5748)
PUSHING = CylinderAtArm(CYLINDER, 0.9144, 1.524, "cap")
PULLING = CylinderAtArm(Cylinder(0.1, 0.045, 0.7, 1.2), 0.6, 1.1, "rod")

MEASURED: Mapping[Driven, CalibratedSide] = {
    "cap": CalibratedSide("G-1", ((2e6, 2.0e4), (8e6, 9.1e4), (1.5e7, 1.8e5), (4e7, 4.9e5))),
    "rod": CalibratedSide("G-1", ((2e6, 1.5e4), (8e6, 6.8e4), (1.5e7, 1.3e5), (4e7, 3.6e5))),
}
KINDS = {
    "cylinder on arm": Kind(CylinderOnArm(CYLINDER, 0.9144, 1.524, "rod", SPREAD, 2e5, 1e5), 1e7, STROKE),
    "square arm": Kind(
        CylinderOnSquareArm(Piston(0.1, 0.045), 0.9, radians(15), "cap", SPREAD, 2e5, 1e5), 1e7
    ),
    "push-pull": Kind(TwoCylinders(PUSHING, PULLING, True, SPREAD, 2e5, 1e5), 1e7),
    "push-push": Kind(TwoCylinders(PUSHING, PUSHING, True, SPREAD, 2e5, 1e5), 1e7, STROKE),
    "pull-pull": Kind(TwoCylinders(PULLING, PULLING, False, SPREAD, 2e5, 1e5), 1e7, (0.7, 0.9, 1.2)),
    "motor": Kind(MotorThroughGears(1e-4, 60.0, SPREAD, Efficiency(0.94, 0.96, 0.98), 5e5, "B"), 1e7),
    "line on load cell": Kind(LinePull(1.2, radians(20), 0.004, SPREAD), 1e7),
    "line on pull gauge": Kind(LinePull(1.2, radians(20), None, SPREAD), 4e4),
    "torque wrench": Kind(TorqueWrench(2.5e-4, Efficiency(0.97, 1.0, 1.03), 0.2), 4e7),
    "calibrated": Kind(Calibrated(MEASURED, "rod", "square", 0.02), 1e7, may_be_unknown=False),
}
TURNINGS = [Turning(operation, hand) for operation in ("make_up", "break_out") for hand in ("right", "left")]
RIGHT_MAKE_UP = TURNINGS[0]

every_kind = every_row("kind", KINDS.values(), ids=KINDS)
every_turning = every_row(
    "turning", TURNINGS, ids=lambda turning: f"{turning.operation} {turning.thread_hand}"
)
every_position = every_row(
    ("kind", "position"),
    [(kind, position) for kind in KINDS.values() for position in kind.positions],
    ids=[f"{name} {position}" for name, kind in KINDS.items() for position in kind.positions],
)
