"""Torque of a bolt from its preload, and back: five published forms, each a lever arm of the preload.

``T = F arm`` in every form, so that each inverse is exact. Symbols: ``F`` preload N, ``mu_t`` and ``mu_b``
friction in thread and bearing, ``Dkm`` mean bearing diameter m, ``K`` nut factor, ``rho'`` friction angle
of the thread; arms in m, torques in N.m.
"""

from dataclasses import dataclass
from math import atan, cos, pi, radians, tan

from api.engineering.bolts.thread import BoltThread

FLANK = radians(30)
"""Half of the thread angle of ISO 68-1 and ASME B1.1."""

NUT_CHAMFER = 0.125 * 0.0254
"""K of API 6A: what the chamfer of a heavy hex nut takes, 1/8 in."""


@dataclass(frozen=True)
class TorqueArms:
    """Torque per preload, and its three parts, m.

    Attributes:
        total: of the whole torque.
        pitch: of the part that stretches the bolt.
        thread: of friction in the thread; None where a nut factor holds it with the next.
        bearing: of friction under the turned face; likewise.
        shank: of the torque that twists the shank while tightening; None where it is not known.
        loosening: of the torque that loosens at the same friction; None where it is not known.
    """

    total: float
    pitch: float
    thread: float | None = None
    bearing: float | None = None
    shank: float | None = None
    loosening: float | None = None


def torque_from_preload(arms: TorqueArms, F: float) -> float:
    """Tightening torque N.m of a preload N: ``T = F arm``."""
    return F * arms.total


def preload_from_torque(arms: TorqueArms, T: float) -> float:
    """Preload N that a tightening torque N.m gives: ``F = T / arm``."""
    return T / arms.total


def arms_from_nut_factor(thread: BoltThread, K: float) -> TorqueArms:
    """The short form ``T = K d F`` (Shigley Eq. 8-27; ASME PCC-1 App. K), K > 0.

    M20 at 132.3 kN with K = 0.18 is printed as 476 N.m (Shigley, solution 8-29):

    >>> M20 = BoltThread(0.020, 0.0025, "ISO 898-1")
    >>> round(torque_from_preload(arms_from_nut_factor(M20, 0.18), 132.3e3))
    476
    """
    return TorqueArms(K * thread.d, thread.P / (2 * pi))


def arms_by_exact_helix(
    thread: BoltThread, mu_t: float, mu_b: float, Dkm: float, flank: float = FLANK
) -> TorqueArms:
    """``T = F [d2/2 tan(phi + rho') + mu_b Dkm/2]``, ``tan(rho') = mu_t / cos(flank)``, no simplification.

    The same as Shigley Eq. 8-26 and ASME PCC-1 App. J. ``flank`` is half of the thread angle, rad. The
    loosening arm is ``d2/2 tan(rho' - phi) + mu_b Dkm/2``.

    3/4-16 UNF at 25 000 lbf, both frictions 0.15 and Dkm = 1.25 d, is printed as 3551 lbf.in (Shigley,
    example 8-3; from memory), here in lbf and in:

    >>> arms = arms_by_exact_helix(BoltThread(0.75, 1 / 16, "ASME B1.1"), 0.15, 0.15, 1.25 * 0.75)
    >>> abs(torque_from_preload(arms, 25000) - 3551) < 3
    True
    """
    friction_angle = atan(mu_t / cos(flank))
    shank = thread.d2 / 2 * tan(thread.phi + friction_angle)
    pitch = thread.P / (2 * pi)
    bearing = mu_b * Dkm / 2
    loosening = thread.d2 / 2 * tan(friction_angle - thread.phi) + bearing
    return TorqueArms(shank + bearing, pitch, shank - pitch, bearing, shank, loosening)


def arms_by_iso_16047(thread: BoltThread, mu_t: float, mu_b: float, Dkm: float) -> TorqueArms:
    """``T = F [P/2pi + mu_t d2 / (2 cos 30) + mu_b Dkm/2]`` (ISO 16047; ASME PCC-1 App. J, simplified).

    Up to 1 % below the exact helix. 1-1/4-8 at 234 359 N, both frictions 0.12 and Dkm = 42.8625 mm, is
    printed as 1 203 177 N.mm (calculation note after PCC-1 App. J, with rounded diameters):

    >>> stud = BoltThread(31.75e-3, 3.175e-3, "ASME B1.1")
    >>> arms = arms_by_iso_16047(stud, 0.12, 0.12, 42.8625e-3)
    >>> abs(torque_from_preload(arms, 234359) / 1203.177 - 1) < 0.001
    True
    """
    pitch = thread.P / (2 * pi)
    friction = mu_t * thread.d2 / (2 * cos(FLANK))
    return _linear(thread, mu_t, mu_b, Dkm, pitch, friction)


def arms_by_vdi_2230(thread: BoltThread, mu_t: float, mu_b: float, Dkm: float) -> TorqueArms:
    """``M_A = F_M [0.16 P + 0.58 d2 mu_G + mu_K DKm/2]`` (VDI 2230), its coefficients as printed.

    The torque in the shank, which is compared with the yield strength, keeps unrounded coefficients.

    M12 8.8 at 41.9 kN with friction 0.14 and DKm of ISO 4014 on ISO 273 is printed as 93 N.m:

    >>> M12 = BoltThread(0.012, 0.00175, "ISO 898-1")
    >>> round(torque_from_preload(arms_by_vdi_2230(M12, 0.14, 0.14, (16.63e-3 + 13.5e-3) / 2), 41.9e3))
    93
    """
    return _linear(thread, mu_t, mu_b, Dkm, 0.16 * thread.P, 0.58 * thread.d2 * mu_t)


def _linear(
    thread: BoltThread, mu_t: float, mu_b: float, Dkm: float, pitch: float, friction: float
) -> TorqueArms:
    """The arms of a form that adds pitch and friction; it loosens with the pitch taken off."""
    bearing = mu_b * Dkm / 2
    shank = thread.P / (2 * pi) + mu_t * thread.d2 / (2 * cos(FLANK))
    loosening = friction - pitch + bearing
    return TorqueArms(pitch + friction + bearing, pitch, friction, bearing, shank, loosening)


def arms_by_api_6a(thread: BoltThread, f: float) -> TorqueArms:
    """``T = F E (P + pi f E S) / [2 (pi E - P f S)] + F f (H + D + K) / 4`` (API 6A, flange bolts).

    E is the pitch diameter, S = sec 30, and H = 1.5 D + K the heavy hex nut. It is the exact helix with the
    mean bearing diameter ``(H + D + K) / 2`` and one friction f in thread and bearing.

    1-1/2-8 at 52 500 psi with f = 0.13 is printed as 1677 ft-lb (API 6A, annex table), here in lbf and m:

    >>> stud = BoltThread(1.5 * 0.0254, 0.0254 / 8, "ASME B1.1")
    >>> F = 52500 * stud.stress_area / 0.0254**2
    >>> round(torque_from_preload(arms_by_api_6a(stud, 0.13), F) / 0.3048)
    1677
    """
    return arms_by_exact_helix(thread, f, f, mean_bearing_diameter(*heavy_hex_face(thread.d)))


def heavy_hex_face(d: float) -> tuple[float, float]:
    """Outside and hole diameter of the face of a heavy hex nut, m: ``H = 1.5 d + K``, ``d + K`` (API 6A)."""
    return 1.5 * d + NUT_CHAMFER, d + NUT_CHAMFER


def mean_bearing_diameter(outside: float, hole: float) -> float:
    """Mean bearing diameter ``(Do + Di) / 2``, m (VDI 2230; ISO 16047; ASME PCC-1)."""
    return (outside + hole) / 2


def bearing_diameter_of_uniform_pressure(outside: float, hole: float) -> float:
    """Bearing diameter of uniform pressure, m: ``2/3 (Do^3 - Di^3) / (Do^2 - Di^2)`` (JIS B 1083)."""
    return 2 / 3 * (outside**3 - hole**3) / (outside**2 - hole**2)


def nut_factor_from_friction(thread: BoltThread, mu_t: float, mu_b: float, Dw: float) -> float:
    """K of the short form from friction (JIS B 1083; Machinery's Handbook 31, eqs. 13 and 14).

    ``K = [P/pi + mu_t d2 sec(beta') + mu_b Dw] / 2 d`` with ``tan(beta') = tan(30) cos(phi)``.

    M12 with friction 0.10 in the thread and 0.08 in the bearing, which is 0.95 of 18 mm across flats on a
    hole of 13.5 mm; the mean over M4 to M36 is printed as 0.127 (Machinery's Handbook 31, Table 3):

    >>> Dw = bearing_diameter_of_uniform_pressure(0.95 * 18, 13.5)
    >>> round(nut_factor_from_friction(BoltThread(12, 1.75, "ISO 898-1"), 0.10, 0.08, Dw), 3)
    0.127
    """
    normal_flank = atan(tan(FLANK) * cos(thread.phi))
    sum_of_arms = thread.P / pi + mu_t * thread.d2 / cos(normal_flank) + mu_b * Dw
    return sum_of_arms / (2 * thread.d)
