"""Machines for the tests that hold for all kinds: those of the invented shop, and a few more."""

from collections.abc import Mapping
from math import inf, radians, sqrt
from pathlib import Path
from typing import NamedTuple

from rows import every_row

from api.answers.machines.profile import Profile, read_folder
from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import ArmPosition, Cylinder, Turning

DEMO = Path(__file__).parents[2] / "deploy" / "demo" / "machines"
SHOP: Mapping[str, Profile] = read_folder(DEMO).profiles
TURNINGS = [Turning(operation, hand) for operation in ("make_up", "break_out") for hand in ("right", "left")]
RIGHT_MAKE_UP = TURNINGS[0]


class Kind(NamedTuple):
    """A machine, a reading that it works at, SI, and the lengths that it can be told, if any.

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


def _of(machine: Machine, reading: float) -> Kind:
    """A machine with every position that it takes."""
    lengths: list[float] = []
    if machine.swing:
        closed, end = machine.swing.cylinder.closed_length, machine.swing.cylinder.open_length
        lengths = [closed + share * (end - closed) for share in (0.0, 0.2, 0.5, 0.8, 1.0)]
    takes = tuple(length for length in lengths if _answers(machine, length))
    return Kind(machine, reading, takes, _answers(machine, "unknown"))


def _answers(machine: Machine, position: ArmPosition) -> bool:
    try:
        machine.moment_arm(position)
    except NoAnswer:
        return False
    return True


def _of_shop(profile: Profile) -> Kind:
    """A machine of the shop as it grips the middle of its range, in the middle of what it reaches."""
    diameters = profile.limits.diameters
    machine = profile.machine(sum(diameters) / 2 if diameters else None)
    low, high = machine.readings(RIGHT_MAKE_UP)
    return _of(machine, profile.limits.highest_reading / 2 if high == inf else sqrt(low * high))


SPREAD = Efficiency(0.90, 0.95, 0.98)
PUSHING = CylinderAtArm(Cylinder(0.127, 0.0635, 1.016, 1.5748), 0.9144, 1.524, "cap")
PULLING = CylinderAtArm(Cylinder(0.1, 0.045, 0.7, 1.2), 0.6, 1.1, "rod")
KINDS = {
    **{name: _of_shop(profile) for name, profile in SHOP.items() if profile.kind.machine},
    "push-pull": _of(TwoCylinders(PUSHING, PULLING, True, SPREAD, 2e5, 1e5), 1e7),
    "push-push": _of(TwoCylinders(PUSHING, PUSHING, True, SPREAD, 2e5, 1e5), 1e7),
    "pull-pull": _of(TwoCylinders(PULLING, PULLING, False, SPREAD, 2e5, 1e5), 1e7),
    "line on load cell": _of(LinePull(1.2, radians(20), 0.004, SPREAD), 1e7),
}
"""By the id of a machine of the shop, or by what they are."""

every_kind = every_row("kind", KINDS.values(), ids=KINDS)
every_turning = every_row(
    "turning", TURNINGS, ids=lambda turning: f"{turning.operation} {turning.thread_hand}"
)
every_position = every_row(
    ("kind", "position"),
    [(kind, position) for kind in KINDS.values() for position in kind.positions],
    ids=[f"{name} {position}" for name, kind in KINDS.items() for position in kind.positions],
)
