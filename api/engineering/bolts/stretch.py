"""How far a preload stretches a bolt, and the angle that the nut turns for it. SI: N, m, m2, Pa, rad."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import pi

from api.engineering.bolts.thread import BoltThread


@dataclass(frozen=True)
class Section:
    """A length of a bolt with one area, m and m2."""

    length: float
    area: float


@dataclass(frozen=True)
class Ends:
    """Lengths by which head, engaged thread and nut add to the compliance, in nominal diameters.

    Attributes:
        shank: on the nominal area: head, and nut or tapped hole (VDI 2230).
        root: on the root area: the engaged thread (VDI 2230).
        threaded: on the stress area: half a nut height at either end of a stud.
    """

    shank: float = 0.0
    root: float = 0.0
    threaded: float = 0.0


ENDS = {
    "grip_only": Ends(),
    "hexagon_bolt_and_nut": Ends(shank=0.5 + 0.4, root=0.5),
    "hexagon_bolt_in_tapped_hole": Ends(shank=0.5 + 0.33, root=0.5),
    "socket_screw_and_nut": Ends(shank=0.4 + 0.4, root=0.5),
    "socket_screw_in_tapped_hole": Ends(shank=0.4 + 0.33, root=0.5),
    "stud_and_two_nuts": Ends(threaded=1.0),
}
"""Head 0.5 d (socket 0.4 d), nut 0.4 d, tapped hole 0.33 d, engaged thread 0.5 d (VDI 2230); of a stud one
nut height of 1 d. All from memory."""


def stiffness(area: float, modulus: float, length: float) -> float:
    """Stiffness of a rod, N/m: ``k = A E / L``.

    3/8-16, threaded over 0.5025 in, is printed as 4.63 Mlbf/in (Shigley, solution 8-27):

    >>> round(stiffness(0.0775, 30, 0.5025), 2)
    4.63
    """
    return area * modulus / length


def elongation(F: float, sections: Iterable[Section], modulus: float) -> float:
    """Elongation m of a stepped bolt: ``dL = F sum(Li / (Ai E))``.

    7/8-9 at 10 000 lbf over 5 in, E = 30e6 psi, is printed as 0.0036 in (engineering reference):

    >>> area = BoltThread(0.875, 1 / 9, "ASME B1.1").stress_area
    >>> round(elongation(10000, [Section(5, area)], 30e6), 4)
    0.0036
    """
    return sum(F / stiffness(each.area, modulus, each.length) for each in sections)


def bolt_sections(thread: BoltThread, grip: float, shank: float, ends: Ends) -> tuple[Section, ...]:
    """The sections of a bolt in its joint: shank, thread in the grip, and what its ends add.

    Args:
        thread: the thread.
        grip: length between the faces of head and nut, m.
        shank: part of it without thread, at the nominal diameter, m; 0 <= shank <= grip.
        ends: what head, nut and engaged thread add.
    """
    lengths = (
        (shank + ends.shank * thread.d, thread.nominal_area),
        (grip - shank + ends.threaded * thread.d, thread.stress_area),
        (ends.root * thread.d, thread.root_area),
    )
    return tuple(Section(length, area) for length, area in lengths if length > 0)


def nut_angle_from_travel(P: float, travel: float) -> float:
    """Angle rad by which a nut turns for an axial travel m: ``2 pi dL / P``.

    One pitch is one turn:

    >>> nut_angle_from_travel(0.0025, 0.0025) == 2 * pi
    True
    """
    return 2 * pi * travel / P
