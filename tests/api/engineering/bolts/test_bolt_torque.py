"""Torque and preload of bolts against other forms of the same equations, and what must always hold."""

import random
from math import atan, cos, pi, radians, sqrt, tan

import pytest
from rows import every_row

from api.engineering.bolts.thread import BoltThread
from api.engineering.bolts.torque import (
    TorqueArms,
    arms_by_api_6a,
    arms_by_exact_helix,
    arms_by_iso_16047,
    arms_by_vdi_2230,
    arms_from_nut_factor,
    bearing_diameter_of_uniform_pressure,
    heavy_hex_face,
    mean_bearing_diameter,
    nut_factor_from_friction,
    preload_from_torque,
    torque_from_preload,
)

INCH = 0.0254
SEED = 20261124
SEC_30 = 2 / sqrt(3)

METRIC = [(5, 0.8), (8, 1.25), (12, 1.75), (20, 2.5), (30, 3.5), (42, 4.5), (64, 6)]
UNIFIED = [(0.5, 13), (0.75, 10), (0.75, 16), (1, 8), (2, 8), (4, 8)]
THREADS = [BoltThread(d / 1e3, P / 1e3, "ISO 898-1") for d, P in METRIC] + [
    BoltThread(D * INCH, INCH / n, "ASME B1.1") for D, n in UNIFIED
]


def random_arms(method: str, seed: int) -> TorqueArms:
    draw = random.Random(f"{SEED} {method} {seed}")
    thread = draw.choice(THREADS)
    mu_t, mu_b, Dkm = draw.uniform(0.02, 0.6), draw.uniform(0.02, 0.6), thread.d * draw.uniform(1.1, 2.5)
    return {
        "nut_factor": lambda: arms_from_nut_factor(thread, draw.uniform(0.07, 0.6)),
        "exact_helix": lambda: arms_by_exact_helix(thread, mu_t, mu_b, Dkm),
        "simplified_helix": lambda: arms_by_iso_16047(thread, mu_t, mu_b, Dkm),
        "rounded_helix": lambda: arms_by_vdi_2230(thread, mu_t, mu_b, Dkm),
        "heavy_hex_nut": lambda: arms_by_api_6a(thread, mu_t),
    }[method]()


@every_row("seed", range(100))
@every_row("method", ["nut_factor", "exact_helix", "simplified_helix", "rounded_helix", "heavy_hex_nut"])
def test_torque_and_preload_are_inverse_and_the_parts_are_the_whole(method: str, seed: int) -> None:
    arms = random_arms(method, seed)
    F = 10 ** random.Random(seed).uniform(2, 7)
    T = torque_from_preload(arms, F)
    assert preload_from_torque(arms, T) == pytest.approx(F, rel=1e-12)
    assert torque_from_preload(arms, 2 * F) == pytest.approx(2 * T, rel=1e-12)
    if arms.thread is not None and arms.bearing is not None:
        assert arms.pitch + arms.thread + arms.bearing == pytest.approx(arms.total, rel=1e-12)
        assert min(arms.pitch, arms.thread, arms.bearing) > 0
    else:
        assert method == "nut_factor"
        assert arms.shank is arms.loosening is None


@every_row("mu_t", [0.02, 0.08, 0.15, 0.4])
@every_row("thread", THREADS, ids=lambda thread: f"{thread.d * 1e3:.3f} mm")
def test_the_exact_helix_is_that_of_the_textbook(thread: BoltThread, mu_t: float) -> None:
    """Shigley Eq. 8-26: ``F dm/2 (l + pi f dm sec a) / (pi dm - f l sec a) + F fc dc/2``, dc = 1.25 d."""
    dm, lead, dc = thread.d2, thread.P, 1.25 * thread.d
    raising = dm / 2 * (lead + pi * mu_t * dm * SEC_30) / (pi * dm - mu_t * lead * SEC_30)
    lowering = dm / 2 * (pi * mu_t * dm * SEC_30 - lead) / (pi * dm + mu_t * lead * SEC_30)
    arms = arms_by_exact_helix(thread, mu_t, 0.1, dc)
    assert arms.total == pytest.approx(raising + 0.1 * dc / 2, rel=1e-12)
    assert arms.shank == pytest.approx(raising, rel=1e-12)
    assert arms.loosening == pytest.approx(lowering + 0.1 * dc / 2, rel=1e-12)


@pytest.mark.parametrize("f", [0.07, 0.13, 0.3])
@pytest.mark.parametrize(("D", "n"), UNIFIED)
def test_flange_bolts_as_the_annex_writes_it(D: float, n: int, f: float) -> None:
    """API 6A: E, S, H = 1.5 D + K, K = 1/8 in; here in inches."""
    P, S, K = 1 / n, SEC_30, 1 / 8
    E, H = D - 0.649519053 * P, 1.5 * D + 1 / 8
    expected = E * (P + pi * f * E * S) / (2 * (pi * E - P * f * S)) + f * (H + D + K) / 4
    thread = BoltThread(D * INCH, INCH / n, "ASME B1.1")
    assert arms_by_api_6a(thread, f).total / INCH == pytest.approx(expected, rel=1e-9)
    mean = mean_bearing_diameter(*heavy_hex_face(thread.d))
    assert mean / INCH == pytest.approx(1.25 * D + 0.125, rel=1e-12)


def test_one_flange_bolt_in_steps() -> None:
    """Worked in steps: API 6A, 1-1/2 in, 8 TPI, 52.5 ksi, f = 0.13."""
    stud = BoltThread(1.5 * INCH, INCH / 8, "ASME B1.1")
    F = 52500 * stud.stress_area / INCH**2
    arms = arms_by_api_6a(stud, 0.13)
    in_feet = F / (12 * INCH)
    assert stud.stress_area / INCH**2 == pytest.approx(1.49184, abs=5e-6)
    assert pytest.approx(78321.6, abs=0.05) == F
    assert stud.d2 / INCH == pytest.approx(1.418810, abs=5e-7)
    assert (arms.shank or 0) * in_feet == pytest.approx(828.37, abs=0.005)
    assert (arms.bearing or 0) * in_feet == pytest.approx(848.48, abs=0.005)
    assert arms.total * in_feet == pytest.approx(1676.85, abs=0.005)


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: f"{thread.d * 1e3:.3f} mm")
def test_the_linear_forms_as_they_are_written(thread: BoltThread) -> None:
    """VDI 2230: ``0.16 P + 0.58 d2 mu_G + mu_K DKm/2``; ISO 16047 with 0.159155 and 0.577350."""
    mu_t, mu_b, Dkm, P, d2 = 0.11, 0.13, 1.4 * thread.d, thread.P, thread.d - 0.649519 * thread.P
    vdi = 0.16 * P + 0.58 * d2 * mu_t + mu_b * Dkm / 2
    iso = 0.159155 * P + 0.577350 * mu_t * d2 + mu_b * Dkm / 2
    assert arms_by_vdi_2230(thread, mu_t, mu_b, Dkm).total == pytest.approx(vdi, rel=1e-6)
    assert arms_by_iso_16047(thread, mu_t, mu_b, Dkm).total == pytest.approx(iso, rel=1e-6)


@every_row("mu", [0.04, 0.07, 0.13, 0.20, 0.30])
@every_row("thread", THREADS, ids=lambda thread: f"{thread.d * 1e3:.3f} mm")
def test_how_far_the_simplified_forms_are_off(thread: BoltThread, mu: float) -> None:
    """Formula sheet: ISO 16047 is up to 0.96 % low, the coefficients of VDI 2230 within 0.75 %."""
    exact = arms_by_exact_helix(thread, mu, mu, 1.4 * thread.d).total
    assert -0.0096 < arms_by_iso_16047(thread, mu, mu, 1.4 * thread.d).total / exact - 1 < 0
    assert abs(arms_by_vdi_2230(thread, mu, mu, 1.4 * thread.d).total / exact - 1) < 0.0075


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: f"{thread.d * 1e3:.3f} mm")
def test_without_friction_a_turn_does_the_work_of_a_pitch(thread: BoltThread) -> None:
    """``2 pi T = F P``, and it runs back as it came."""
    for arms in (arms_by_exact_helix(thread, 0, 0, 0.1), arms_by_iso_16047(thread, 0, 0, 0.1)):
        assert 2 * pi * torque_from_preload(arms, 1.0) == pytest.approx(thread.P, rel=1e-12)
        assert arms.loosening == pytest.approx(-arms.total, rel=1e-12)


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: f"{thread.d * 1e3:.3f} mm")
def test_a_thread_holds_itself_from_a_friction_on(thread: BoltThread) -> None:
    """Just where the friction angle is the lead angle: ``mu_t = cos 30 tan phi``."""
    limit = cos(radians(30)) * tan(thread.phi)
    for mu_t, sign in ((0.99 * limit, -1), (1.01 * limit, 1)):
        arms = arms_by_exact_helix(thread, mu_t, 0.0, 0.1)
        assert (arms.loosening or 0) * sign > 0


def test_bearing_diameter_of_uniform_pressure_by_summing_rings() -> None:
    """Torque of friction over force of friction, twice: ``2 sum(r^2 dr) / sum(r dr)``."""
    outside, hole, rings = 33.25, 22.0, 20_000
    step = (outside - hole) / 2 / rings
    radii = [hole / 2 + (number + 0.5) * step for number in range(rings)]
    summed = 2 * sum(r * r for r in radii) / sum(radii)
    assert bearing_diameter_of_uniform_pressure(outside, hole) == pytest.approx(summed, rel=1e-8)


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: f"{thread.d * 1e3:.3f} mm")
def test_nut_factor_of_jis_is_that_of_the_exact_helix(thread: BoltThread) -> None:
    """JIS takes the flank angle normal to the helix and adds the pitch: within 1 % of T / (F d)."""
    exact = arms_by_exact_helix(thread, 0.12, 0.12, 1.3 * thread.d).total / thread.d
    assert nut_factor_from_friction(thread, 0.12, 0.12, 1.3 * thread.d) == pytest.approx(exact, rel=0.01)
    normal = atan(tan(radians(30)) * cos(thread.phi))
    by_hand = (
        thread.P / pi + 0.12 * thread.d2 / cos(normal) + 0.12 * 1.3 * thread.d
    ) / (2 * thread.d)  # fmt: skip
    assert nut_factor_from_friction(thread, 0.12, 0.12, 1.3 * thread.d) == pytest.approx(by_hand, rel=1e-12)
