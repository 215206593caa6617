"""Printed figures of bolted joints, row by row; each id names its source and how sure it is.

Rows are computed in the units they are printed in: every formula is the same in any consistent units.
"""

import csv
import json
from collections.abc import Callable
from math import degrees, pi, radians, sqrt
from pathlib import Path
from typing import Any

import pytest
from rows import every_row

from api.engineering.bolts.scatter import lowest_preload, plus_minus_from_tightening_factor
from api.engineering.bolts.service import (
    bolt_force,
    bolt_load_share,
    safety_margin_to_proof,
    safety_margin_to_separation,
)
from api.engineering.bolts.stress import (
    preload_from_combined_stress,
    preload_from_stress,
    stress_from_preload,
)
from api.engineering.bolts.stretch import Section, elongation, stiffness
from api.engineering.bolts.thread import BoltThread
from api.engineering.bolts.torque import (
    NUT_CHAMFER,
    arms_by_api_6a,
    arms_by_exact_helix,
    arms_by_iso_16047,
    arms_by_vdi_2230,
    arms_from_nut_factor,
    bearing_diameter_of_uniform_pressure,
    mean_bearing_diameter,
    nut_factor_from_friction,
    torque_from_preload,
)
from api.engineering.checks import NoAnswer
from api.reference.bolt_grades import strength_of
from api.reference.bolt_threads import find_thread

TABLE = Path(__file__).parents[3] / "published" / "bolting.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

INCH, FOOT, LBF, PSI, MPA = 0.0254, 12.0, 4.4482216152605, 6894.757293168361, 1e6
FTLB = 1.3558179483314004


def metric(d_mm: float, P_mm: float) -> BoltThread:
    return BoltThread(d_mm, P_mm, "ISO 898-1")


def unified(D_in: float, tpi: float, inch: float = 1.0) -> BoltThread:
    return BoltThread(D_in * inch, inch / tpi, "ASME B1.1")


def at_pitch_diameter(d2: float, P: float) -> BoltThread:
    """A thread of which the pitch diameter is printed, and not the nominal one."""
    return BoltThread(d2 + 3 * sqrt(3) / 8 * P, P, "ASME B1.1")


def of_area(area: float) -> BoltThread:
    """A thread of which the stress area is printed: without pitch its diameter gives that area."""
    return BoltThread(sqrt(4 * area / pi), 0.0, "ASME B1.1")


def short_form(K: float, D_in: float, F_lbf: float) -> float:
    return torque_from_preload(arms_from_nut_factor(unified(D_in, 8), K), F_lbf)


def exact(
    F: float, d2: float, P: float, mu_t: float, mu_b: float = 0, Dkm: float = 0, half_angle_deg: float = 30
) -> float:
    arms = arms_by_exact_helix(at_pitch_diameter(d2, P), mu_t, mu_b, Dkm, radians(half_angle_deg))
    return torque_from_preload(arms, F)


def lowering(F: float, d2: float, P: float, mu_t: float, mu_b: float, Dkm: float) -> float:
    """Of a square thread."""
    return F * (arms_by_exact_helix(at_pitch_diameter(d2, P), mu_t, mu_b, Dkm, 0.0).loosening or 0.0)


def api_6a(D_in: float, tpi: float, stress: float, f: float) -> float:
    stud = unified(D_in, tpi, INCH)
    return torque_from_preload(arms_by_api_6a(stud, f), preload_from_stress(stud, stress))


def vdi_preload(
    d_mm: float, P_mm: float, mu: float, Rp02_MPa: float, nu: float, plastic: bool = True
) -> float:
    """kN."""
    thread = metric(d_mm, P_mm)
    arm = arms_by_vdi_2230(thread, mu, mu, 0.0).shank or 0.0
    combined = nu * Rp02_MPa
    return preload_from_combined_stress(thread, combined, arm, "plastic" if plastic else "elastic") / 1e3


def vdi_torque(dw_mm: float, dh_mm: float, **of_preload: Any) -> float:
    """kN.mm."""
    thread, mu = metric(of_preload["d_mm"], of_preload["P_mm"]), of_preload["mu"]
    arms = arms_by_vdi_2230(thread, mu, mu, mean_bearing_diameter(dw_mm, dh_mm))
    return torque_from_preload(arms, vdi_preload(**of_preload))


SIZES = (
    # d, P, across flats ISO 4014, hole ISO 273 medium, mm: first choice of ISO 261, M4 to M36 (memory)
    (4, 0.7, 7, 4.5), (5, 0.8, 8, 5.5), (6, 1, 10, 6.6), (8, 1.25, 13, 9), (10, 1.5, 16, 11),
    (12, 1.75, 18, 13.5), (16, 2, 24, 17.5), (20, 2.5, 30, 22), (24, 3, 36, 26), (30, 3.5, 46, 33),
    (36, 4, 55, 39),
)  # fmt: skip


def mean_nut_factor(mu_thread: float, mu_bearing: float) -> float:
    """Over the sizes of the handbook's table: face 0.95 of the width across flats."""
    found = [
        nut_factor_from_friction(
            metric(d, P), mu_thread, mu_bearing, bearing_diameter_of_uniform_pressure(0.95 * flats, hole)
        )
        for d, P, flats, hole in SIZES
    ]
    return sum(found) / len(found)


def pcc_1(D_in: float, tpi: float, stress_psi: float, mu: float) -> float:
    """50 ksi on the root area; heavy hex face of 1.5 D + 1/8 in on a hole of D + 1/16 in."""
    stud = unified(D_in, tpi)
    face = mean_bearing_diameter(1.5 * D_in + 1 / 8, D_in + 1 / 16)
    return torque_from_preload(arms_by_iso_16047(stud, mu, mu, face), stress_psi * stud.root_area) / FOOT


FUNCTIONS: dict[str, Callable[..., float]] = {
    "api_T_ftlbf": lambda D_in, tpi, stress_psi, f: api_6a(D_in, tpi, stress_psi * PSI, f) / FTLB,
    "api_T_Nm": lambda D_in, tpi, stress_MPa, f: api_6a(D_in, tpi, stress_MPa * MPA, f),
    "api_F_lbf": lambda D_in, tpi, stress_psi: preload_from_stress(unified(D_in, tpi), stress_psi),
    "proof_N": lambda As_mm2, stress_MPa: preload_from_stress(of_area(As_mm2), stress_MPa),
    "proof_lbf": lambda As_in2, stress_psi: preload_from_stress(of_area(As_in2), stress_psi),
    "vdi_FM_kN": vdi_preload,
    "vdi_MA_Nm": vdi_torque,
    "K_mh": mean_nut_factor,
    "pcc1_J": lambda F, P, d2, mu_t, mu_n, De: torque_from_preload(
        arms_by_iso_16047(at_pitch_diameter(d2, P), mu_t, mu_n, De), F
    ),
    "pcc1_T_ftlbf": pcc_1,
    "T_short_ftlbf": lambda **given: short_form(**given) / FOOT,
    "T_short_lbf_in": short_form,
    "T_short_Nm": lambda K, D_mm, F_kN: short_form(K, D_in=D_mm, F_lbf=F_kN),
    "T_long": exact,
    "T_lower": lowering,
    "k_rod": lambda A, E, L: stiffness(A, modulus=E, length=L),
    "k_rod_d": lambda d, E, L: stiffness(BoltThread(d, 1.0, "ASME B1.1").nominal_area, E, L),
    "pm_from_alpha": lambda alphaA: 100 * plus_minus_from_tightening_factor(alphaA),
    "sigma_b": lambda C, P, Fi, At: bolt_force(Fi, P, C) / At,
    "n_sep": lambda C, P, Fi: safety_margin_to_separation(Fi, P, C),
    "C_joint": lambda **given: bolt_load_share(given["kb"], given["km"]),
    "n_load": lambda Sp, At, Fi, C, P: safety_margin_to_proof(Sp * At, Fi, P, C),
    "stretch": lambda F, L, E, D_in, tpi: elongation(F, [Section(L, unified(D_in, tpi).stress_area)], E),
    "lead_deg": lambda D_in, tpi: degrees(unified(D_in, tpi).phi),
}

BY_ID: dict[str, Callable[..., float]] = {
    # one method of the table stands for several things
    **dict.fromkeys(("SHIG-001", "SHIG-009", "SHIG-013"), lambda a, b: stress_from_preload(of_area(b), a)),
    "SCAT-007": lambda a, b: lowest_preload(F_max=a, alpha_A=b),
    **dict.fromkeys(
        ("SHIG-006", "SHIG-008", "SHIG-014"), lambda a, b, c: preload_from_stress(of_area(b), a * c)
    ),
    # British Standard: the stress area of ISO for an inch thread of 8 threads per inch
    **{
        f"AREA-00{number}": lambda a, b, c, D=D: BoltThread(D, 1 / 8, "ISO 898-1").stress_area
        for number, D in ((1, 1), (3, 1.25), (5, 1.5), (6, 2), (8, 3), (9, 4))
    },
}


def mark(row: dict[str, str]) -> str:
    return f"{row['id']} {row['quantity']} ({row['confidence']})"


@every_row("row", ROWS, ids=mark)
def test_printed_figure(row: dict[str, str]) -> None:
    function = BY_ID.get(row["id"]) or FUNCTIONS[row["method"]]
    computed = function(**json.loads(row["inputs_json"]))
    assert computed == pytest.approx(float(row["published"]), abs=float(row["tolerance"]) + 1e-12)


def test_no_row_is_left_out_unsaid() -> None:
    methods = {row["method"] for row in ROWS if row["id"] not in BY_ID}
    assert methods == set(FUNCTIONS)
    assert set(BY_ID) <= {row["id"] for row in ROWS}
    assert len(ROWS) == 658


LOADS = [row for row in ROWS if row["method"] in ("proof_N", "proof_lbf")]
BEYOND_ITS_SIZES = "ISO-P-057"
"""A load printed for M27 5.8, though the properties of 5.8 go through M24: it is refused."""


@every_row("row", [row for row in LOADS if row["id"] != BEYOND_ITS_SIZES], ids=mark)
def test_printed_load_by_thread_and_grade(row: dict[str, str]) -> None:
    """The same loads from our own areas by formula and our own strengths, named as in the row.

    The printed areas have three digits, so that 0.38 % comes on top of the row's tolerance.
    """
    kind, _, designation = row["quantity"].partition(" load ")
    thread = find_thread(designation.split(" ")[0])
    grade = strength_of(designation.partition(" ")[2].replace("gr ", "SAE "), thread)
    stress = grade.proof if kind == "proof" else grade.tensile
    assert stress is not None
    unit = 1.0 if row["unit"] == "N" else LBF
    computed = preload_from_stress(thread.geometry, stress) / unit
    published = float(row["published"])
    assert computed == pytest.approx(published, abs=float(row["tolerance"]) + 0.0038 * published)


def test_a_load_beyond_the_sizes_of_its_grade_is_refused() -> None:
    row = next(row for row in LOADS if row["id"] == BEYOND_ITS_SIZES)
    assert row["quantity"] == "proof load M27 5.8"
    with pytest.raises(NoAnswer, match="grade_not_for_size"):
        strength_of("5.8", find_thread("M27"))


def test_the_chamfer_of_a_heavy_hex_nut() -> None:
    """API 6A: 1/8 in, printed as 3.175 mm."""
    assert pytest.approx(3.175e-3, rel=1e-12) == NUT_CHAMFER
