"""The bending moment that opens the shoulder of a rotary shouldered joint (own derivation, beam theory)."""

from math import pi


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
