"""Whether the sizes of a rotary shouldered joint are such as print knows them."""

from api.engineering.rotary.bending_strength_ratio import accepted_range
from api.engineering.thread_geometry import INCH, ThreadGeometry

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
