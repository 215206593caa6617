"""Cylinder, geometry and unit examples printed in textbooks and standards; each id names its source."""

import csv
import json
from math import degrees, pi, radians, sqrt
from pathlib import Path

import pytest
from rows import every_row

from api.engineering.calibration.straight_line import Line, line_with_offset
from api.engineering.gauges.accuracy_class import GAUGE_CLASSES, stated_accuracy
from api.engineering.grip.chain import tension_ratio, tight_tension
from api.engineering.interpolation import slope_between, value_at
from api.engineering.machine_kinds.machine import Efficiency
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machines.arm import Swing, moment_arm
from api.engineering.machines.cylinder import Cylinder, Turning, cap_area, force_from_pressure, rod_side_area
from api.engineering.machines.stroke import arm_angle, stroke_between
from api.engineering.uncertainty.combined import effective_degrees_of_freedom
from schemas.core.units import unit_named

TABLE = Path(__file__).parents[2] / "published" / "hydraulics.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))


def convert(value: float, unit: str, to: str) -> float:
    if to == "kgf_m2":
        return unit_named(unit).to_si(value) / 9.80665
    return unit_named(to.replace("_", ".")).from_si(unit_named(unit.replace("_", ".")).to_si(value))


def fitted(x: list[float], y: list[float], shift: float = 0.0, u: float | None = None) -> Line:
    return line_with_offset([at - shift for at in x], y, u)


LINE_FIGURES = {
    "a": "a", "b": "b", "ua": "u_a", "sa": "u_a", "ub": "u_b", "sb": "u_b", "cov": "covariance", "r": "r",
    "s": "s", "ssr": "ssr", "chi2": "chi_squared",
}  # fmt: skip


def motor_torque(pressure: float, displacement: float) -> float:
    one = Efficiency(1.0, 1.0, 1.0)
    motor = MotorThroughGears(displacement, 1.0, one, one, 0.0, "A")
    return motor.torque_from_reading(pressure, Turning("make_up", "right"), "square", 1.0)


def far_base_swing(stroke: float) -> float:
    """Degrees that a stroke centred on square turns an arm of 1, with the base pin 50 000 arms away."""
    square = sqrt(5e4**2 - 1)
    ends = square - stroke / 2, square + stroke / 2
    return degrees(stroke_between(Swing(Cylinder(0.1, 0.05, *ends), 1.0, 5e4), *ends).rotation)


def band_brake_lever(torque: float, radius: float, mu: float, wrap: float, arm: float, lever: float) -> float:
    """The tight end of the band pulls the lever at ``arm``, a hand at ``lever``."""
    return tight_tension(torque, radius, mu, radians(wrap)) * arm / lever


FUNCTIONS = {
    "area": lambda bore: cap_area(Cylinder(bore, 0.0, 1.0, 2.0)),
    "annulus": lambda bore, rod: rod_side_area(Cylinder(bore, rod, 1.0, 2.0)),
    "push": lambda p, bore: force_from_pressure(Cylinder(bore, 0.0, 1.0, 2.0), "cap", p, 1.0, 0.0, 0.0),
    "pull": lambda p, bore, rod: force_from_pressure(Cylinder(bore, rod, 1, 2), "rod", p, 1.0, 0.0, 0.0),
    "moment_arm": moment_arm,
    "theta_deg": lambda arm, base, length: degrees(arm_angle(arm, base, length)),
    "long_cyl_swing": far_base_swing,
    "capstan": lambda mu, turns: tension_ratio(mu, 2 * pi * turns),
    "capstan_deg": lambda mu, wrap: tension_ratio(mu, radians(wrap)),
    "hold_force": lambda load, mu, wrap: load / tension_ratio(mu, radians(wrap)),
    "band_brake_P": band_brake_lever,
    "motor_T_lbfin": motor_torque,
    "gauge_err_pct": lambda read, true, span: (read - true) / stated_accuracy(1.0).at(true, span),
    "gauge_tol": lambda span, percent: GAUGE_CLASSES[f"EN 837-1 {percent:g}"].at(span / 2, span),
    "grade_tol": lambda grade, span, at: GAUGE_CLASSES[f"ASME B40.100 {grade}"].at(at, span),
    "conv": convert,
    "ols_get": lambda x, y, key, shift=0: getattr(fitted(x, y, shift), LINE_FIGURES[key]),
    "wls_get": lambda x, y, u, key: getattr(fitted(x, y, 0, u), LINE_FIGURES[key]),
    "ols_mean_u": lambda x, y, x0, shift=0: fitted(x, y, shift).mean_uncertainty(x0 - shift),
    "ols_inverse": lambda x, y, y0: fitted(x, y).x_from_y(y0),
    "ols_inverse_u": lambda x, y, y0: fitted(x, y).x_uncertainty(y0),
    "welch": effective_degrees_of_freedom,
    "two_point_slope": lambda x1, y1, x2, y2: slope_between((x1, y1), (x2, y2)),
    "two_point_resid": lambda x1, y1, x2, y2, x, y: y - value_at([(x1, y1), (x2, y2)], x),
}


@every_row("row", ROWS, ids=lambda row: f"{row['id']} {row['source'][:40]} ({row['confidence']})")
def test_published_example(row: dict[str, str]) -> None:
    given = json.loads(row["inputs"])
    if row["function"] == "conv" and given[1:] == ["kgf_cm2", "Pa"]:
        given = [1, "kgf/cm2", "Pa"]
    if row["function"] == "conv" and given[1:] == ["kgf_cm2", "psi"]:
        given = [1, "kgf/cm2", "psi"]
    function = FUNCTIONS[row["function"]]
    value = function(**given) if isinstance(given, dict) else function(*given)
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
