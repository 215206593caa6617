"""Stress in a bolt under its preload, and under tension and torsion together while it is tightened.

VDI 2230: ``sigma_red = sqrt(sigma^2 + 3 tau^2)`` on the stress diameter ``d0``, ``tau = M_G / Wp``. Wp is
that of a shank which is plastic throughout, ``pi d0^3/12`` (VDI 2230 from 2001), or elastic, ``pi d0^3/16``
(older VDI 2230; JIS B 1083). The preloads that they allow differ by 7 to 9 %. SI throughout.

A bolt is judged by plastic torsion (VDI 2230 since 2001); elastic torsion gives a finding. A nut factor
does not tell the torsion: the checks take that of the pitch alone, the least it can be, so they refuse what
certainly yields.
"""

from dataclasses import dataclass
from math import pi, sqrt
from typing import Literal

from api.engineering.bolts.thread import BoltThread

Torsion = Literal["plastic", "elastic"]
"""How the shear stress is spread over the shank."""

_SECTION: dict[Torsion, float] = {"plastic": 12, "elastic": 16}

PERMISSIBLE_SHARE = 0.9
"""nu: the share of the yield strength that VDI 2230 lets the combined stress reach."""


@dataclass(frozen=True)
class TighteningStress:
    """Stress while tightening, Pa: tension, shear, and both together."""

    tension: float
    shear: float
    combined: float


def stress_from_preload(thread: BoltThread, F: float) -> float:
    """Tension on the stress area, Pa: ``sigma = F / At``.

    25 kip in 3/4-16 UNF is printed as 67.02 kpsi (Shigley, example 8-3, on 0.373 in2):

    >>> round(stress_from_preload(BoltThread(0.75, 1 / 16, "ASME B1.1"), 25))
    67
    """
    return F / thread.stress_area


def preload_from_stress(thread: BoltThread, stress: float) -> float:
    """Preload N of a tension on the stress area: ``F = sigma At``.

    1-1/2-8 at 52 500 psi is printed as 78 322 lbf (API 6A, annex table):

    >>> round(preload_from_stress(BoltThread(1.5, 0.125, "ASME B1.1"), 52500))
    78322
    """
    return stress * thread.stress_area


def tightening_stress(
    thread: BoltThread, F: float, shank_torque: float, torsion: Torsion
) -> TighteningStress:
    """Combined stress while tightening (VDI 2230).

    Args:
        thread: the thread.
        F: preload, N.
        shank_torque: torque that twists the shank, N.m: of pitch and thread friction.
        torsion: which section modulus.

    M12 8.8 with friction 0.14 is printed with 41.9 kN at 90 % of 640 MPa (VDI 2230:2003):

    >>> M12 = BoltThread(0.012, 0.00175, "ISO 898-1")
    >>> arm = 0.00175 / (2 * pi) + 0.14 * M12.d2 / sqrt(3)
    >>> round(tightening_stress(M12, 41.9e3, 41.9e3 * arm, "plastic").combined / 640e6, 2)
    0.9
    """
    tension = stress_from_preload(thread, F)
    shear = shank_torque * _SECTION[torsion] / (pi * thread.d0**3)
    return TighteningStress(tension, shear, sqrt(tension**2 + 3 * shear**2))


def preload_from_combined_stress(
    thread: BoltThread, combined: float, shank_arm: float, torsion: Torsion
) -> float:
    """Preload N at which the combined stress has a value: F_M of VDI 2230 for ``nu Rp0.2``.

    ``F_M = A0 sigma_red / sqrt(1 + 3 [k (d2/d0) (P/(pi d2) + 1.155 mu_G)]^2)``, k = 1.5 plastic and 2
    elastic; the bracket with d2/2 is the arm of the shank torque.

    M14x1.5 8.8 with friction 0.10 at 90 % of 640 MPa is printed as 66.4 kN (VDI 2230:2001):

    >>> fine = BoltThread(0.014, 0.0015, "ISO 898-1")
    >>> arm = 0.0015 / (2 * pi) + 0.10 * fine.d2 / sqrt(3)
    >>> round(preload_from_combined_stress(fine, 0.9 * 640e6, arm, "plastic") / 1e3, 1)
    66.4
    """
    shear_per_tension = shank_arm * _SECTION[torsion] / (4 * thread.d0)
    return thread.stress_area * combined / sqrt(1 + 3 * shear_per_tension**2)
