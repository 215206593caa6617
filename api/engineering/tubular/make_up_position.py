"""Made-up position of API buttress casing: where the coupling face may stand about the triangle stamp.

The base of the stamp lies across the pipe at A1 from its end, the apex farther from that end; the coupling
face comes from the pipe end and is made up to the base. Everything is in SI: m.
"""

from dataclasses import dataclass
from math import sqrt

from api.engineering.rotary.sizes import INCH

TRIANGLE_SIDE = 0.375 * INCH
"""Side of the equilateral die stamp, 3/8 in (API 5B errata)."""

LEAD = 0.2 * INCH
"""One thread turn, 5 threads per inch."""

LEGIBLE = 0.0005 * INCH
"""Half of 0.001 in, which no rule on a joint tells: a limit typed with three decimals is that limit."""

POSITIONS = ("short", "within_one_turn", "base_to_apex", "past_apex")
"""Where the face stands, in the order of making up; the middle two are about the base."""


def triangle_height(side: float) -> float:
    """The height of an equilateral triangle, base to apex, m: ``side sqrt(3) / 2`` (geometry).

    >>> round(triangle_height(0.375), 4)
    0.3248
    """
    return side * sqrt(3) / 2


@dataclass(frozen=True)
class FaceWindow:
    """How far the coupling face may stand short of the base, and past it towards the apex; m."""

    short_of_base: float
    past_base: float

    def accepts(self, face: float) -> bool:
        """Whether a face this far past the base, m, negative for short of it, is within; ends are."""
        return -self.short_of_base - LEGIBLE <= face <= self.past_base + LEGIBLE


def face_window(to_base: bool) -> FaceWindow:
    """The window runs from one thread turn short of the base, or from the base itself, to the apex.

    Args:
        to_base: whether the base must be reached, as for 16 in and larger (API RP 5C1 4.4).

    >>> window = face_window(to_base=False)
    >>> round(window.short_of_base / INCH, 3), round(window.past_base / INCH, 4)
    (0.2, 0.3248)
    """
    return FaceWindow(0.0 if to_base else LEAD, triangle_height(TRIANGLE_SIDE))


def position_of_face(face: float) -> str:
    """Which of `POSITIONS` a coupling face is in.

    Args:
        face: distance of the face past the base, m; negative for short of it.

    >>> [position_of_face(each * INCH) for each in (-0.25, -0.2, -0.1, 0.0, 0.32, 0.33)]
    ['short', 'within_one_turn', 'within_one_turn', 'base_to_apex', 'base_to_apex', 'past_apex']
    """
    if face_window(to_base=True).accepts(face):
        return "base_to_apex"
    if face > 0:
        return "past_apex"
    return "within_one_turn" if face_window(to_base=False).accepts(face) else "short"


def turns_to_base(face: float) -> float:
    """Turns that still bring the face to the base, 0 where it is there: ``-face / lead`` (geometry).

    Args:
        face: distance of the face past the base, m; negative for short of it.
    """
    return max(0.0, -face / LEAD)
