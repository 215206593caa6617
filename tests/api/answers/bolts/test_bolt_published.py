"""Printed torques and preloads of bolts through the whole calculation, units and rounding included."""

import csv
import json
from pathlib import Path

import pytest
from bolts import TORQUE
from rows import every_row

from api.answers.shop import Shop

PUBLISHED = Path(__file__).parents[3] / "published" / "bolting.csv"
with PUBLISHED.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
FLANGE_BOLTS = [row for row in ROWS if row["method"].startswith("api_")]
GUIDELINE = [row for row in ROWS if row["method"].startswith("vdi_") and "plastic" not in row["inputs_json"]]
"""VDI 2230 of 2001 and 2003; that of 1986 has elastic torsion, of which no permissible preload is told."""

COARSE = {"0.5": "1/2-13 UNC", "0.625": "5/8-11 UNC", "0.75": "3/4-10 UNC", "0.875": "7/8-9 UNC"}


@every_row("row", FLANGE_BOLTS, ids=lambda row: f"{row['id']} {row['quantity']}")
def test_the_table_of_api_6a(row: dict[str, str]) -> None:
    """To 0.6 of the last printed unit in both systems (API 6A, annex table; public reprint)."""
    given = json.loads(row["inputs_json"])
    size = str(given["D_in"])
    thread = COARSE.get(size, f"{size}-8 UN")
    stress = f"{given['stress_psi']} psi" if "stress_psi" in given else f"{given['stress_MPa']} MPa"
    unit = "N.m" if row["unit"] == "N.m" else "ft-lb"
    request = {"thread": thread, "bolt_grade": "B7", "bolt_stress": stress, "method": "heavy_hex_nut"}
    given_friction = given.get("f", 0.13)
    answer = TORQUE.answer({**request, "thread_friction": given_friction, "torque_unit": unit}, Shop(), "us")
    computed = answer["preload"]["value"] if row["unit"] == "lbf" else answer["torque"]["target"]["value"]
    assert computed == pytest.approx(float(row["published"]), abs=0.6)
    half = answer["yield_strength"]["value"] / 2
    assert answer["bolt_stress"]["value"] == pytest.approx(half, rel=0.006)


GRADE = {640: "8.8", 660: "8.8", 940: "10.9", 1100: "12.9"}
"""By the Rp0.2 that VDI 2230 takes, MPa."""


@every_row("row", GUIDELINE, ids=lambda row: f"{row['id']} {row['quantity']}")
def test_the_tables_of_vdi_2230(row: dict[str, str]) -> None:
    """Preload and torque at 0.9 of Rp0.2 by grade and thread alone: the face is that of ISO 4014."""
    given = json.loads(row["inputs_json"])
    friction = {"thread_friction": given["mu"], "bearing_friction": given["mu"]}
    request = {
        "thread": f"M{given['d_mm']}x{given['P_mm']}", "bolt_grade": GRADE[given["Rp02_MPa"]],
        "method": "rounded_helix", "preload": "1 kN", "torque_unit": "N.m", "force_unit": "kN", **friction,
    }  # fmt: skip
    answer = TORQUE.answer(request, Shop(), "si")
    part = answer["permissible"]["torque" if row["method"] == "vdi_MA_Nm" else "preload"]["value"]
    assert part == pytest.approx(float(row["published"]), abs=float(row["tolerance"]) + 1e-12)
    assert answer["yield_strength"]["value"] == given["Rp02_MPa"] * 1e6
    share = answer["torsional_yield"]["value"] / answer["permissible"]["torque"]["value"]
    assert share == pytest.approx(1 / 0.9, rel=1e-9)
    assumed = [each["field"] for each in answer["assumptions"]]
    assert assumed == ["bearing_outside_diameter", "bearing_hole_diameter"]
    assert answer["status"] == "from memory"


def test_a_printed_stretch() -> None:
    """7/8-9 at 10 000 lbf over 5 in is printed as 0.0036 in, at the modulus 30e6 psi that is assumed."""
    request = {
        "thread": "7/8-9 UNC", "bolt_grade": "SAE 5", "preload": "10000 lbf", "method": "nut_factor",
        "nut_factor": 0.2, "grip_length": "5 in",
    }  # fmt: skip
    answer = TORQUE.answer(request, Shop(), "us")
    assert answer["stretch"]["elongation"]["value"] == pytest.approx(0.0036, abs=6e-5)
    assumed = [each["field"] for each in answer["assumptions"]]
    assert assumed == ["bolt_modulus", "unthreaded_length", "bolt_ends"]
