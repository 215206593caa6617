"""A cylinder: its areas, which side of it is driven for an operation and a hand of thread, and how it stands.

How it stands is what a request says of the arm, and what counts where it says nothing.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import pi
from typing import Literal, Protocol

from api.engineering.checks import NOISE, Amount, Fault, NoAnswer, refuse
from api.engineering.provenance import Assumption

Side = Literal["cap", "rod"]
"""The side under pressure: *cap* pushes the rod out, *rod* pulls it in."""


def other_side(side: Side) -> Side:
    """The side that returns oil while ``side`` is driven."""
    return "rod" if side == "cap" else "cap"


@dataclass(frozen=True)
class Piston:
    """The bore and rod diameter of a cylinder, m: all that its force needs."""

    bore: float
    rod: float

    @cached_property
    def areas(self) -> Mapping[Side, float]:
        """The areas that pressure on each side acts on, m2."""
        return {"cap": cap_area(self), "rod": rod_side_area(self)}


@dataclass(frozen=True)
class Cylinder(Piston):
    """A cylinder with its pin-to-pin lengths, m.

    Attributes:
        closed_length, open_length: pin to pin, rod in and rod out.
        rod_showing_when_closed: rod that a tape finds outside the gland with the rod in; None if not stated.
    """

    closed_length: float
    open_length: float
    rod_showing_when_closed: float | None = None


def within_stroke(cylinder: Cylinder, length: float) -> bool:
    """Whether a cylinder reaches a pin-to-pin length; both ends of the stroke are reached."""
    return cylinder.closed_length * (1 - NOISE) <= length <= cylinder.open_length * (1 + NOISE)


def length_from_rod_exposed(cylinder: Cylinder, rod_exposed: float) -> float:
    """Pin-to-pin length at which so much rod is outside the gland, m.

    ``L = L_closed + rod out - rod showing when closed``: the rod moves as the pins do. Where nobody has
    stated how much rod shows when the cylinder is closed, none does: then ``L = L_closed + rod out``.

    Args:
        cylinder: with its closed length.
        rod_exposed: by the tape, from the gland to the same end as when closed, m, >= 0.

    >>> length_from_rod_exposed(Cylinder(5, 2.5, 40, 62), 8)
    48
    >>> length_from_rod_exposed(Cylinder(5, 2.5, 40, 62, 1.5), 9.5)
    48.0
    """
    return cylinder.closed_length + rod_exposed - (cylinder.rod_showing_when_closed or 0)


def rod_exposed_at_length(cylinder: Cylinder, length: float) -> float:
    """Rod outside the gland at a pin-to-pin length, m: the inverse of `length_from_rod_exposed`.

    >>> rod_exposed_at_length(Cylinder(5, 2.5, 40, 62), 48)
    8
    """
    return length - cylinder.closed_length + (cylinder.rod_showing_when_closed or 0)


def cap_area(cylinder: Piston) -> float:
    """``A = pi/4 D^2``, m2.

    A 4 in bore has 12.57 in2 (a published fluid-power problem):

    >>> round(cap_area(Piston(4, 2)), 2)
    12.57
    """
    return pi / 4 * cylinder.bore**2


def rod_side_area(cylinder: Piston) -> float:
    """``a = pi/4 (D^2 - d^2)``, m2.

    A 4 in bore with a 2 in rod has 9.42 in2 (the same problem):

    >>> round(rod_side_area(Piston(4, 2)), 2)
    9.42
    """
    return pi / 4 * (cylinder.bore**2 - cylinder.rod**2)


def area(cylinder: Piston, side: Side) -> float:
    """The area that pressure on ``side`` acts on, m2."""
    return cylinder.areas[side]


def force_from_pressure(
    cylinder: Piston,
    side: Side,
    pressure: float,
    efficiency: float,
    breakaway_pressure: float,
    return_pressure: float,
) -> float:
    """``F = efficiency (A (p - p_breakaway) - A' p_return)``, N (statics of the piston).

    Args:
        cylinder: bore and rod.
        side: the driven side; A is its area, A' that of the other side.
        pressure: gauge pressure on the driven side, Pa.
        efficiency: force at the pin over hydraulic force, 0 < efficiency <= 1.
        breakaway_pressure: pressure at which the piston begins to move unloaded, Pa, >= 0.
        return_pressure: gauge pressure on the returning side, Pa, >= 0.

    75 mm bore, 14 mm rod, 5 MPa pulling gives 21,320 N (published from rounded areas):

    >>> rounded = force_from_pressure(Piston(0.075, 0.014), "rod", 5e6, 1.0, 0.0, 0.0)
    >>> abs(rounded - 21320) < 2.5
    True
    """
    areas = cylinder.areas
    driven = areas[side] * (pressure - breakaway_pressure)
    returning = areas[other_side(side)] * return_pressure
    return efficiency * (driven - returning)


def pressure_from_force(
    cylinder: Piston,
    side: Side,
    force: float,
    efficiency: float,
    breakaway_pressure: float,
    return_pressure: float,
) -> float:
    """The inverse of `force_from_pressure`: ``p = p_breakaway + (F/efficiency + A' p_return)/A``, Pa.

    >>> press = Piston(5, 2.5)
    >>> round(pressure_from_force(press, "cap", 2000 * cap_area(press), 1.0, 0.0, 0.0), 9)
    2000.0
    """
    areas = cylinder.areas
    returning = areas[other_side(side)] * return_pressure
    return breakaway_pressure + (force / efficiency + returning) / areas[side]


Operation = Literal["make_up", "break_out"]
Hand = Literal["right", "left"]


@dataclass(frozen=True)
class Turning:
    """A turning of a joint: making up or breaking out a right-hand or left-hand thread."""

    operation: Operation
    thread_hand: Hand


def cylinder_side(right_hand_make_up_side: Side, turning: Turning) -> Side:
    """The side of the cylinder to put under pressure (statics).

    The thread hand and the operation each reverse the sense of turning. Whether pin or box is turned
    does not matter: seen from behind the turned part, right-hand make-up is clockwise for both.

    Args:
        right_hand_make_up_side: the side that makes up a right-hand thread at this arm station.
        turning: operation and hand of thread.

    >>> cylinder_side("rod", Turning("make_up", "right"))
    'rod'
    >>> cylinder_side("rod", Turning("break_out", "right"))
    'cap'
    >>> cylinder_side("rod", Turning("break_out", "left"))
    'rod'
    """
    reversed_hand = turning.thread_hand == "left"
    reversed_operation = turning.operation == "break_out"
    if reversed_hand != reversed_operation:
        return other_side(right_hand_make_up_side)
    return right_hand_make_up_side


ArmPosition = Literal["square", "unknown"] | float
"""How the arm stands: square to the cylinder, not known, or at a pin-to-pin length of the cylinder, m."""

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


class Swung(Protocol):
    """An arm that one cylinder swings."""

    @property
    def cylinder(self) -> Cylinder:
        """The cylinder."""


class Stands(Protocol):
    """What its posture asks of a machine; `Machine` in `api.engineering.machine_kinds.machine` has it."""

    @property
    def has_arm(self) -> bool:
        """Whether its torque depends on how an arm stands."""

    @property
    def own_position(self) -> ArmPosition | None:
        """The position that counts where none is stated; None where one must be."""

    @property
    def swing(self) -> Swung | None:
        """Its arm, where one length of the cylinder says how it stands."""


def posture_of(machine: Stands, stated: ArmPosition | None, rod_exposed: float | None) -> Posture:
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


def _cylinder(machine: Stands, rod_exposed: float) -> Cylinder:
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
            "rod within the stroke: measure it again, and what shows of it when closed",
            rod=Amount("length", rod_exposed),
            length=Amount("length", length),
            closed=Amount("length", cylinder.closed_length),
            open=Amount("length", cylinder.open_length),
        )
    return length
