"""Stress while tightening, stretch and scatter against other forms of their equations."""

import random
from math import pi, sqrt

import pytest
from rows import every_row

from api.engineering.bolts.scatter import (
    lowest_preload,
    plus_minus_from_tightening_factor,
    preload_bounds,
    tightening_factor_from_plus_minus,
)
from api.engineering.bolts.stress import (
    Torsion,
    preload_from_combined_stress,
    preload_from_stress,
    stress_from_preload,
    tightening_stress,
)
from api.engineering.bolts.stretch import ENDS, Section, bolt_sections, elongation, nut_angle_from_travel
from api.engineering.bolts.thread import BoltThread

M12 = BoltThread(0.012, 0.00175, "ISO 898-1")
M20 = BoltThread(0.020, 0.0025, "ISO 898-1")
STUD = BoltThread(1.5 * 0.0254, 0.0254 / 8, "ASME B1.1")
THREADS = [M12, M20, STUD]
K: dict[Torsion, float] = {"plastic": 1.5, "elastic": 2.0}


def shank_arm(thread: BoltThread, mu: float) -> float:
    return thread.d2 / 2 * (thread.P / (pi * thread.d2) + 1.155 * mu)


@pytest.mark.parametrize("mu", [0.08, 0.14, 0.24])
@pytest.mark.parametrize("torsion", ["plastic", "elastic"])
@pytest.mark.parametrize("thread", THREADS, ids=["M12", "M20", "1-1/2-8"])
def test_permissible_preload_as_the_guideline_writes_it(
    thread: BoltThread, torsion: Torsion, mu: float
) -> None:
    """VDI 2230: ``A0 nu Rp / sqrt(1 + 3 [k (d2/d0) (P/(pi d2) + 1.155 mu)]^2)``."""
    bracket = K[torsion] * thread.d2 / thread.d0 * (thread.P / (pi * thread.d2) + 1.155 * mu)
    expected = thread.stress_area * 0.9 * 640e6 / sqrt(1 + 3 * bracket**2)
    F = preload_from_combined_stress(thread, 0.9 * 640e6, shank_arm(thread, mu), torsion)
    assert pytest.approx(expected, rel=1e-12) == F
    there = tightening_stress(thread, F, F * shank_arm(thread, mu), torsion)
    assert there.combined == pytest.approx(0.9 * 640e6, rel=1e-12)
    assert there.tension == pytest.approx(F / thread.stress_area, rel=1e-12)


def test_stress_by_hand() -> None:
    """M20: d0 = 20 - 0.938194 x 2.5 = 17.654515 mm; 100 kN, and 100 N.m in the shank."""
    d0 = 17.654515e-3
    At = pi / 4 * d0**2
    stress = tightening_stress(M20, 100e3, 100.0, "elastic")
    assert stress.tension == pytest.approx(100e3 / At, rel=1e-6)
    assert stress.shear == pytest.approx(100 / (pi * d0**3 / 16), rel=1e-6)
    assert stress.combined == pytest.approx(sqrt(stress.tension**2 + 3 * stress.shear**2), rel=1e-12)
    assert tightening_stress(M20, 100e3, 100.0, "plastic").shear == pytest.approx(0.75 * stress.shear)


@every_row("seed", range(50))
def test_stress_and_preload_are_inverse(seed: int) -> None:
    draw = random.Random(seed)
    thread, F, arm = draw.choice(THREADS), draw.uniform(1e3, 1e6), draw.uniform(1e-4, 5e-3)
    assert preload_from_stress(thread, stress_from_preload(thread, F)) == pytest.approx(F, rel=1e-12)
    combined = tightening_stress(thread, F, F * arm, "plastic").combined
    assert preload_from_combined_stress(thread, combined, arm, "plastic") == pytest.approx(F, rel=1e-12)


def test_a_stepped_bolt_is_springs_in_a_row() -> None:
    """Shigley: ``kb = Ad At E / (Ad lt + At ld)``."""
    Ad, At, E, lt, ld = pi / 4 * 0.02**2, M20.stress_area, 205e9, 0.03, 0.05
    kb = Ad * At * E / (Ad * lt + At * ld)
    sections = bolt_sections(M20, lt + ld, ld, ENDS["grip_only"])
    assert elongation(100e3, sections, E) == pytest.approx(100e3 / kb, rel=1e-12)


@pytest.mark.parametrize(
    ("ends", "on_nominal", "on_root", "on_stress"),
    [
        # VDI 2230 and studs, in nominal diameters; from memory
        ("grip_only", 0, 0, 0),
        ("hexagon_bolt_and_nut", 0.9, 0.5, 0),
        ("hexagon_bolt_in_tapped_hole", 0.83, 0.5, 0),
        ("socket_screw_and_nut", 0.8, 0.5, 0),
        ("socket_screw_in_tapped_hole", 0.73, 0.5, 0),
        ("stud_and_two_nuts", 0, 0, 1),
    ],
)
def test_ends_add_their_lengths(ends: str, on_nominal: float, on_root: float, on_stress: float) -> None:
    F, E, grip, d = 100e3, 205e9, 0.08, 0.02
    bare = F * grip / (M20.stress_area * E)
    added = d * (
        on_nominal / (pi / 4 * d**2) + on_root / (pi / 4 * M20.d3**2) + on_stress / M20.stress_area
    ) * F / E  # fmt: skip
    assert elongation(F, bolt_sections(M20, grip, 0.0, ENDS[ends]), E) == pytest.approx(
        bare + added, rel=1e-12
    )


def test_a_nut_turns_once_a_pitch() -> None:
    assert nut_angle_from_travel(0.0025, 0.0025 / 6) == pytest.approx(pi / 3, rel=1e-12)
    assert elongation(1.0, [Section(2.0, 0.5)], 4.0) == 1.0


@pytest.mark.parametrize("g", [0.0, 0.05, 0.25, 0.35, 0.6])
def test_scatter_both_ways(g: float) -> None:
    factor = tightening_factor_from_plus_minus(g)
    low, high = preload_bounds(1000.0, g)
    assert plus_minus_from_tightening_factor(factor) == pytest.approx(g, abs=1e-12)
    assert high / low == pytest.approx(factor, rel=1e-12)
    assert lowest_preload(high, factor) == pytest.approx(low, rel=1e-12)
    assert (low + high) / 2 == pytest.approx(1000.0, rel=1e-12)
