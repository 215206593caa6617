"""The areas of a cylinder, and which side of it is driven for an operation and a hand of thread."""

from dataclasses import dataclass
from math import pi
from typing import Literal

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
    return cap_area(cylinder) if side == "cap" else rod_side_area(cylinder)


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
    driven = area(cylinder, side) * (pressure - breakaway_pressure)
    returning = area(cylinder, other_side(side)) * return_pressure
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
    returning = area(cylinder, other_side(side)) * return_pressure
    return breakaway_pressure + (force / efficiency + returning) / area(cylinder, side)


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
