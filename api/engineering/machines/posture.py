"""How a machine stands: what a request says of its arm, and what counts where it says nothing."""

from collections.abc import Iterator
from dataclasses import dataclass

from api.engineering.checks import Amount, Fault, NoAnswer, refuse
from api.engineering.machine_kinds.machine import Machine
from api.engineering.machines.arm import ArmPosition, within_stroke
from api.engineering.machines.cylinder import Cylinder, length_from_rod_exposed
from api.engineering.provenance import Assumption

STATED = "square, unknown, the pin-to-pin length of the cylinder, or rod_exposed in its place"


@dataclass(frozen=True)
class Posture:
    """How the arm of a machine stands, and what was taken for it that nobody stated."""

    position: ArmPosition
    assumptions: tuple[Assumption, ...] = ()


def position_required() -> Fault:
    """The fault of a request that does not say how the arm of its machine stands."""
    text = "the torque of this machine depends on how its arm stands: say how"
    return Fault("arm_position_required", text, "arm_position", accepted=STATED)


def posture_of(machine: Machine, stated: ArmPosition | None, rod_exposed: float | None) -> Posture:
    """How a machine stands for what a request says.

    On a machine without an arm whatever is said is passed over and not listed: a position changes no torque
    there, and a batch or a choice of machines asks one request of kinds with and without an arm.

    Args:
        machine: of any kind, as it grips.
        stated: the position, if it is stated.
        rod_exposed: rod outside the gland in place of it, m; see `length_from_rod_exposed`.

    Raises:
        NoAnswer: ``arm_position_required`` where the position matters and is not stated,
            ``no_cylinder_length`` for rod of a machine whose closed length is not known, ``outside_stroke``.
    """
    own = machine.own_position
    if not machine.has_arm:
        return Posture("square" if own is None else own)
    if rod_exposed is not None:
        cylinder = _cylinder(machine, rod_exposed)
        length = _length(cylinder, rod_exposed)
        return Posture(length, tuple(rod_assumptions(cylinder)))
    if stated is not None:
        return Posture(stated)
    if own is None:
        raise NoAnswer([position_required()])
    shown = own if isinstance(own, str) else f"a cylinder length of {own * 1000:.6g} mm"
    return Posture(own, (Assumption("arm_position", shown, OWN),))


OWN = "not given; the one position at which the torque of this machine is known without more being said"


def rod_assumptions(cylinder: Cylinder) -> Iterator[Assumption]:
    """Tells what is taken of the rod that shows when a cylinder is closed, where its profile is silent."""
    if cylinder.rod_showing_when_closed is None:
        reason = "not in the profile; the rod is taken to be wholly inside at the closed length"
        yield Assumption("rod_showing_when_closed", "0", reason)


def _cylinder(machine: Machine, rod_exposed: float) -> Cylinder:
    if machine.swing is None:
        raise refuse(
            "no_cylinder_length",
            "the profile of this machine gives no closed length to which {rod} of rod could be added",
            "rod_exposed",
            accepted="arm_position",
            rod=Amount("length", rod_exposed),
        )
    return machine.swing.cylinder


def _length(cylinder: Cylinder, rod_exposed: float) -> float:
    length = length_from_rod_exposed(cylinder, rod_exposed)
    if not within_stroke(cylinder, length):
        raise refuse(
            "outside_stroke",
            "with {rod} of rod out the cylinder is {length} long, outside its stroke from {closed} to {open}",
            "rod_exposed",
            rod=Amount("length", rod_exposed),
            length=Amount("length", length),
            closed=Amount("length", cylinder.closed_length),
            open=Amount("length", cylinder.open_length),
        )
    return length
