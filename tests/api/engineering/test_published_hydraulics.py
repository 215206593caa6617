"""Cylinder, geometry and unit examples printed in textbooks and standards; each id names its source."""

import csv
import json
from math import sqrt
from pathlib import Path

import pytest

from api.engineering.arm import moment_arm
from api.engineering.cylinder import Cylinder, cap_area, force_from_pressure, rod_side_area
from schemas.units import unit_named

TABLE = Path(__file__).parents[2] / "published" / "hydraulics.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))


def convert(value: float, unit: str, to: str) -> float:
    if to == "kgf_m2":
        return unit_named(unit).to_si(value) / 9.80665
    return unit_named(to.replace("_", ".")).from_si(unit_named(unit.replace("_", ".")).to_si(value))


FUNCTIONS = {
    "area": lambda bore: cap_area(Cylinder(bore, 0.0, 1.0, 2.0)),
    "annulus": lambda bore, rod: rod_side_area(Cylinder(bore, rod, 1.0, 2.0)),
    "push": lambda p, bore: force_from_pressure(Cylinder(bore, 0.0, 1.0, 2.0), "cap", p, 1.0, 0.0, 0.0),
    "pull": lambda p, bore, rod: force_from_pressure(Cylinder(bore, rod, 1, 2), "rod", p, 1.0, 0.0, 0.0),
    "moment_arm": moment_arm,
    "conv": convert,
}


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda row: f"{row['id']} {row['source'][:40]} ({row['confidence']})"
)
def test_published_example(row: dict[str, str]) -> None:
    given = json.loads(row["inputs"])
    if row["function"] == "conv" and given[1:] == ["kgf_cm2", "Pa"]:
        given = [1, "kgf/cm2", "Pa"]
    if row["function"] == "conv" and given[1:] == ["kgf_cm2", "psi"]:
        given = [1, "kgf/cm2", "psi"]
    value = FUNCTIONS[row["function"]](*given)
    assert value == pytest.approx(float(row["published"]), abs=float(row["tolerance"]) + 1e-12)


@pytest.mark.parametrize(
    ("arm", "base", "length", "factor"),
    [
        # Published table for a 36 in arm and a 60 in base; factor = moment arm / arm radius.
        (36, 60, 36, 0.92128),
        (36, 60, 42, 0.98393),
        (36, 60, 48, 1.00000),
        (36, 60, 54, 0.98753),
        (36, 60, 60, 0.95394),
    ],
)
def test_moment_arm_over_the_stroke(arm: float, base: float, length: float, factor: float) -> None:
    assert moment_arm(arm, base, length) / arm == pytest.approx(factor, abs=5e-6)
    # the same from the coordinates of the pins: base at (b, 0), arm pin where the two circles meet
    x = (arm**2 + base**2 - length**2) / (2 * base)
    y = sqrt(arm**2 - x**2)
    assert moment_arm(arm, base, length) == pytest.approx(base * y / length, rel=1e-12)
