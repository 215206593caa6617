"""Geometry of parallel 60-degree bolt threads: ISO 68-1 and ISO 724, and ASME B1.1.

Symbols are those of VDI 2230: ``d`` nominal, ``d2`` pitch and ``d3`` minor diameter, ``P`` pitch, ``phi``
lead angle, all m, m2 and rad. The two standards differ in the root that enters the areas, and so in the
stress area of the same thread by about 1 %: one definition a standard.
"""

from dataclasses import dataclass
from math import atan, pi, sqrt
from typing import Literal

Standard = Literal["ISO 898-1", "ASME B1.1"]
"""Whose stress area a thread has."""

STRESS_DEPTH: dict[Standard, float] = {"ISO 898-1": 13 * sqrt(3) / 24, "ASME B1.1": 0.9743}
"""What the stress diameter is below d, in pitches: 0.938194, and 0.9743 as printed in ASME B1.1."""

ROOT_DEPTH: dict[Standard, float] = {"ISO 898-1": 17 * sqrt(3) / 24, "ASME B1.1": 3 * sqrt(3) / 4}
"""What the root diameter is below d, in pitches: 1.226869, and 1.299038 for the areas of ASME B1.1."""


@dataclass(frozen=True)
class BoltThread:
    """An external single-start thread.

    Attributes:
        d: nominal diameter, m.
        P: pitch, which is the lead, m; small enough that a core is left.
        standard: whose stress area counts.

    M20, areas printed in ISO 898-1 (245 mm2), and 3/4-10 UNC, in ASME B1.1 (0.334 and 0.302 in2):

    >>> round(BoltThread(0.020, 0.0025, "ISO 898-1").stress_area * 1e6)
    245
    >>> inch = 0.0254
    >>> thread = BoltThread(0.75 * inch, inch / 10, "ASME B1.1")
    >>> round(thread.stress_area / inch**2, 3), round(thread.root_area / inch**2, 3)
    (0.334, 0.302)

    Pitch diameters printed 18.376 mm for M20 and 0.6850 in for 3/4-10:

    >>> round(BoltThread(20, 2.5, "ISO 898-1").d2, 3), round(thread.d2 / inch, 4)
    (18.376, 0.685)
    """

    d: float
    P: float
    standard: Standard

    @property
    def d2(self) -> float:
        """Pitch diameter: ``d - 3 sqrt(3)/8 P = d - 0.649519 P`` (ISO 724; ASME B1.1)."""
        return self.d - 3 * sqrt(3) / 8 * self.P

    @property
    def d3(self) -> float:
        """Root diameter of the areas: ``d - 1.226869 P`` (ISO 898-1), ``d - 1.299038 P`` (ASME B1.1)."""
        return self.d - ROOT_DEPTH[self.standard] * self.P

    @property
    def D1(self) -> float:
        """Minor diameter of the internal thread: ``d - 5 sqrt(3)/8 P = d - 1.082532 P`` (ISO 724)."""
        return self.d - 5 * sqrt(3) / 8 * self.P

    @property
    def d0(self) -> float:
        """Stress diameter: the mean of d2 and the root diameter (ISO 898-1; ASME B1.1; VDI 2230)."""
        return self.d - STRESS_DEPTH[self.standard] * self.P

    @property
    def stress_area(self) -> float:
        """Tensile stress area ``pi/4 d0^2`` (ISO 898-1; ASME B1.1)."""
        return pi / 4 * self.d0**2

    @property
    def root_area(self) -> float:
        """Area at the root ``pi/4 d3^2``, which the early ASME PCC-1 puts its bolt stress on."""
        return pi / 4 * self.d3**2

    @property
    def nominal_area(self) -> float:
        """Area of a shank of the nominal diameter."""
        return pi / 4 * self.d**2

    @property
    def phi(self) -> float:
        """Lead angle at the pitch diameter, ``tan(phi) = P / (pi d2)``.

        1-1/4-8 UN is printed as 1 deg 57 min (Machinery's Handbook 31, Table 5c):

        >>> from math import degrees
        >>> round(degrees(BoltThread(1.25, 0.125, "ASME B1.1").phi), 2)
        1.95
        """
        return atan(self.P / (pi * self.d2))
