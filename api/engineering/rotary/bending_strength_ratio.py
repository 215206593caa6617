"""Bending strength ratio of drill-collar connections (API Spec 7; accepted ranges of API RP 7G-2)."""

from math import nextafter

from api.engineering.rotary.torque import PIN_SECTION_BEYOND_GAUGE_POINT
from api.engineering.thread_geometry import GAUGE_POINT, INCH, ThreadGeometry


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
