"""The sizes of a rotary shouldered joint: its thread, and what they say before any torque is asked.

The thread is that of API Spec 7-2 and ISO 10424-2. The bending strength ratio of a drill-collar connection is
that of API Spec 7, its accepted ranges those of API RP 7G-2. The moment that opens a shoulder is an own
derivation from beam theory.
"""

from dataclasses import dataclass
from math import nextafter, pi

INCH = 0.0254

GAUGE_POINT = 0.625 * INCH
"""Distance of the gauge point, where C is measured, from the pin shoulder (API Spec 7-2)."""

PIN_SECTION_BEYOND_GAUGE_POINT = 0.125 * INCH
"""The pin area is taken 3/4 in from the shoulder, 1/8 in beyond the gauge point (API RP 7G App. A)."""


@dataclass(frozen=True)
class ThreadGeometry:
    """The dimensions of a connection that enter its torque, SI (API Spec 7-2; ISO 10424-2).

    Attributes:
        lead: axial advance in one turn, m.
        taper: change of diameter per length, m/m (1/6, 1/4 or 1/8 for 2, 3 and 1.5 in/ft).
        pitch_diameter: C, at the gauge point 5/8 in from the shoulder, m.
        pin_length: Lpc, m.
        counterbore: Qc, box counterbore, an exact 1/64 in, m; that of the low torque face where one is cut.
        thread_height: H, of the sharp thread, m.
        root_truncation: Srs, m.
        half_angle: half of the thread angle, rad (30 deg V-forms, 45 deg 90-V-0.050).
        nose_diameter: DS, over the crests at the pin nose, m; None where it is not held.
    """

    lead: float
    taper: float
    pitch_diameter: float
    pin_length: float
    counterbore: float
    thread_height: float
    root_truncation: float
    half_angle: float
    nose_diameter: float | None = None


def pin_nose_diameter(thread: ThreadGeometry) -> float:
    """Largest diameter of the pin at its small end, m: DS, else that of the thread not truncated.

    ``C - tpr (Lpc - 5/8 in) + H``, which is a little more than DS.
    """
    if thread.nose_diameter is not None:
        return thread.nose_diameter
    nose_pitch = thread.pitch_diameter - thread.taper * (thread.pin_length - GAUGE_POINT)
    return nose_pitch + thread.thread_height


def pin_nose_root_diameter(thread: ThreadGeometry) -> float:
    """Thread root diameter at the small end of the pin, m: ``C - tpr (Lpc - 5/8 in) - 2 (H/2 - Srs)``."""
    depth = thread.thread_height / 2 - thread.root_truncation
    return thread.pitch_diameter - thread.taper * (thread.pin_length - GAUGE_POINT) - 2 * depth


def bending_strength_ratio(thread: ThreadGeometry, outside_diameter: float, bore: float) -> float:
    """Section modulus of the box at the end of the pin over that of the pin 3/4 in from its shoulder.

    ``[(D^4 - b^4)/D] / [(R^4 - d^4)/R]`` with ``b = C - tpr (Lpc - 5/8 in) + 2 ded``,
    ``R = C - 2 ded - tpr/8 in`` and ``ded = H/2 - Srs`` (API Spec 7, drill-collar table).

    Args:
        thread: the connection.
        outside_diameter: D, m, larger than the counterbore.
        bore: d, m, smaller than the pin thread root.

    Returns:
        The ratio, without unit.

    NC38-50, 5 x 2-1/4 in, is printed as 2.38:

    >>> from math import pi
    >>> nc38 = ThreadGeometry(0.25 * INCH, 1 / 6, 3.808 * INCH, 4 * INCH, 4.078125 * INCH,
    ...                       0.216005 * INCH, 0.038 * INCH, pi / 6)
    >>> round(bending_strength_ratio(nc38, 5 * INCH, 2.25 * INCH), 2)
    2.38
    """
    dedendum = thread.thread_height / 2 - thread.root_truncation
    box_root = thread.pitch_diameter - thread.taper * (thread.pin_length - GAUGE_POINT) + 2 * dedendum
    pin_root = thread.pitch_diameter - 2 * dedendum - thread.taper * PIN_SECTION_BEYOND_GAUGE_POINT
    box = (outside_diameter**4 - box_root**4) / outside_diameter
    pin = (pin_root**4 - bore**4) / pin_root
    return box / pin


def accepted_range(outside_diameter: float) -> tuple[float, float]:
    """Lowest and highest ratio that API RP 7G-2 accepts for a drill collar of this OD (m).

    OD below 6 in: 1.90 to 2.50; 6 to 8 in: 2.25 to 2.75; above 8 in: 2.50 to 3.20.

    >>> accepted_range(6 * INCH), accepted_range(8 * INCH), accepted_range(8.25 * INCH)
    ((2.25, 2.75), (2.25, 2.75), (2.5, 3.2))
    """
    if outside_diameter < nextafter(6 * INCH, 0):
        return 1.90, 2.50
    if outside_diameter <= nextafter(8 * INCH, 1):
        return 2.25, 2.75
    return 2.50, 3.20


NARROWEST_SHOULDER = INCH / 16
"""Width of a shoulder, m, below which a joint is worn away (own judgement; print: 5/32 in and more)."""

USUAL_WEAR = INCH / 8
"""Outside diameter, m, by which a joint in use is below the smallest printed (own judgement, no source)."""

AS_MEASURED = INCH / 64
"""A size this much (m) beyond print is still the printed one, as measured or turned into millimetres."""

MOST_TIMES_ACCEPTED = 2.0
"""Bending strength ratio over the highest accepted from which a size is rather a slip.

Own judgement; the rows of API RP 7G reach 0.95 of it with drill collars and 0.55 with tool joints.
"""


def shoulder_width(thread: ThreadGeometry, outside_diameter: float) -> float:
    """Width of the shoulder that is left, m: ``(OD - Qc) / 2`` (geometry).

    Args:
        thread: the connection, with the counterbore of its low torque face if that is cut.
        outside_diameter: actual (worn) box OD, m, larger than the counterbore.

    NC50 worn to 5-3/8 in: (5.375 - 5.3125) / 2 = 1/32 in.

    >>> from math import pi
    >>> nc50 = ThreadGeometry(0.25 * INCH, 1 / 6, 5.0417 * INCH, 4.5 * INCH, 5.3125 * INCH,
    ...                       0.216005 * INCH, 0.038 * INCH, pi / 6)
    >>> round(shoulder_width(nc50, 5.375 * INCH) / INCH, 6)
    0.03125
    """
    return (outside_diameter - thread.counterbore) / 2


def highest_plausible_ratio(outside_diameter: float) -> float:
    """Bending strength ratio beyond which a size must be confirmed: twice the highest accepted at an OD (m).

    >>> highest_plausible_ratio(8 * INCH), highest_plausible_ratio(12 * INCH)
    (5.5, 6.4)
    """
    return MOST_TIMES_ACCEPTED * accepted_range(outside_diameter)[1]


def shoulder_opening_moment(preload: float, outside_diameter: float, counterbore: float) -> float:
    """Bending moment at which the shoulder opens at its edge: ``M = F0 I / (A c)``, N.m.

    The preload presses the shoulder ring with ``F0 / A``. Bending takes ``M c / I`` off at its outer edge,
    and where both are equal nothing is left there. With ``A = pi/4 (OD^2 - Qc^2)``,
    ``I = pi/64 (OD^4 - Qc^4)`` and ``c = OD/2`` this is ``F0 (OD^2 + Qc^2) / (8 OD)``. No source was found:
    derived here from beam theory. The ring is taken to carry all of the moment. The pin beside it carries a
    part, so the true moment is larger: on the safe side. A bevel makes the ring narrower: take its diameter
    in place of OD where it is known.

    Args:
        preload: F0, of the made-up joint, N, >= 0.
        outside_diameter: OD of the shoulder, m, larger than the counterbore.
        counterbore: Qc, inner diameter of the shoulder, m, > 0.

    A ring of 5 in by 3 in at 100,000 lbf, by hand ``100000 (25 + 9) / 40``:

    >>> round(shoulder_opening_moment(100_000, 5, 3), 6)
    85000.0
    """
    area = pi / 4 * (outside_diameter**2 - counterbore**2)
    second_moment = pi / 64 * (outside_diameter**4 - counterbore**4)
    return preload * second_moment / (area * outside_diameter / 2)
