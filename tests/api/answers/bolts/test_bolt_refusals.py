"""What a bolt is refused for, and what is said of one that is not."""

from typing import Any

import pytest
from bolts import PRELOAD, TORQUE
from rows import every_row

from api.answers.bolts.torque import bolt_window
from api.answers.shop import Shop
from api.engineering.checks import NoAnswer
from api.refusals.errors import errors_of
from api.registry.calculation import Calculation
from schemas.core.faults import InvalidInput, load

EXACT = {
    "thread": "M20",
    "bolt_grade": "8.8",
    "method": "exact_helix",
    "thread_friction": 0.12,
    "bearing_friction": 0.12,
    "bearing_outside_diameter": "28 mm",
    "bearing_hole_diameter": "22 mm",
    "preload": "100 kN",
}
SCATTERED = {**EXACT, "tightening_method": "torque_wrench_unlubricated"}
"""Plus and minus 35 %."""
SHORT = {"thread": "M20", "bolt_grade": "8.8", "method": "nut_factor", "nut_factor": 0.2, "preload": "100 kN"}
FLANGE = {
    "thread": "1-1/2-8 UN",
    "bolt_grade": "B7",
    "method": "heavy_hex_nut",
    "thread_friction": 0.13,
    "yield_share": 0.5,
}


def without(request: dict[str, Any], *names: str) -> dict[str, Any]:
    return {name: value for name, value in request.items() if name not in names}


def refused(request: dict[str, Any], calculation: Calculation = TORQUE) -> dict[str, str]:
    """Code by field; every error must say what would be accepted, or its sentence does."""
    with pytest.raises((NoAnswer, InvalidInput)) as refusal:
        calculation.answer(request, Shop(), "us")
    errors = errors_of(refusal.value, request, "us")
    assert all(error.get("accepted") or len(error["detail"]) > 40 for error in errors), errors
    assert "{" not in "".join(error["detail"] for error in errors)
    return {(error["pointer"] or "").removeprefix("/"): error["code"] for error in errors}


@every_row(
    ("request_", "faults"),
    [
        ({**EXACT, "thread_friction": 1.0}, {"thread_friction": "implausible_friction"}),
        ({**EXACT, "bearing_friction": 12}, {"bearing_friction": "implausible_friction"}),
        ({**EXACT, "bearing_friction": 0}, {"bearing_friction": "implausible_friction"}),
        ({**EXACT, "bearing_friction": -0.1}, {"bearing_friction": "out_of_range"}),
        ({**EXACT, "bearing_friction": 10**400}, {"bearing_friction": "not_finite"}),
        ({**SHORT, "nut_factor": 1.0}, {"nut_factor": "implausible_nut_factor"}),
        ({**SHORT, "nut_factor": 0.04}, {"nut_factor": "implausible_nut_factor"}),
        ({**SHORT, "nut_factor": "0.2 K"}, {"nut_factor": "not_a_number"}),
        ({**EXACT, "method": "guess"}, {"method": "not_a_choice"}),
        # exactly the coefficients of the method
        ({**SHORT, "thread_friction": 0.1}, {"thread_friction": "coefficient_not_taken"}),
        ({**EXACT, "nut_factor": 0.2}, {"nut_factor": "coefficient_not_taken"}),
        ({**FLANGE, "bearing_friction": 0.13}, {"bearing_friction": "coefficient_not_taken"}),
        (
            {**FLANGE, "bearing_outside_diameter": "2 in", "nut_factor": 0.2},
            {"bearing_outside_diameter": "coefficient_not_taken", "nut_factor": "coefficient_not_taken"},
        ),
        (without(SHORT, "nut_factor"), {"nut_factor": "coefficient_required"}),
        (without(FLANGE, "thread_friction"), {"thread_friction": "coefficient_required"}),
        (
            without(EXACT, "bearing_friction", "bearing_hole_diameter"),
            {"bearing_friction": "coefficient_required", "bearing_hole_diameter": "coefficient_required"},
        ),
        # VDI 2230: the face of a metric hexagon head where it is held, else required
        (
            {**without(EXACT, "bearing_outside_diameter", "bearing_hole_diameter"), "method": "rounded_helix",
             "thread": "M7", "preload": "5 kN"},
            {"bearing_outside_diameter": "coefficient_required",
             "bearing_hole_diameter": "coefficient_required"},
        ),
        (
            {**without(EXACT, "bearing_outside_diameter"), "method": "rounded_helix", "thread": "3/4-10 UNC",
             "bolt_grade": "SAE 5"},
            {"bearing_outside_diameter": "coefficient_required"},
        ),
        # a bearing face that cannot be
        ({**without(EXACT, "bearing_outside_diameter"), "method": "rounded_helix"},
         {"bearing_outside_diameter": "coefficient_required"}),
        ({**EXACT, "bearing_hole_diameter": "19 mm"}, {"bearing_hole_diameter": "impossible_geometry"}),
        ({**EXACT, "bearing_hole_diameter": "28 mm"}, {"bearing_outside_diameter": "impossible_geometry"}),
        ({**EXACT, "bearing_outside_diameter": "81 mm"}, {"bearing_outside_diameter": "impossible_geometry"}),
        # how far
        (without(EXACT, "preload"), {"preload": "bolt_load_required"}),
        ({**EXACT, "proof_share": 0.7, "bolt_stress": "400 MPa"},
         {"proof_share": "contradiction", "bolt_stress": "contradiction"}),
        ({**without(EXACT, "preload"), "proof_share": 75}, {"proof_share": "out_of_range"}),
        ({**without(FLANGE, "yield_share"), "proof_share": 0.7}, {"proof_share": "no_proof_stress"}),
        # how strong
        (without(EXACT, "bolt_grade"), {"bolt_grade": "bolt_strength_required"}),
        ({**without(EXACT, "bolt_grade"), "bolt_proof_stress": "600 MPa"},
         {"bolt_grade": "bolt_strength_required"}),
        ({**EXACT, "bolt_yield_strength": "660 MPa"}, {"bolt_yield_strength": "contradiction"}),
        ({**without(EXACT, "bolt_grade"), "bolt_yield_strength": "600 MPa", "bolt_proof_stress": "660 MPa"},
         {"bolt_proof_stress": "contradiction"}),
        ({**EXACT, "bolt_grade": "B7"}, {"bolt_grade": "grade_not_for_thread"}),
        ({**EXACT, "thread": "M42", "bearing_hole_diameter": "45 mm", "bearing_outside_diameter": "60 mm"},
         {"bolt_grade": "grade_not_for_size"}),
        # API 6A
        ({**FLANGE, "thread": "M36", "bolt_grade": "8.8"}, {"thread": "thread_not_of_method"}),
        ({**FLANGE, "thread": "1-1/2-6 UNC"}, {"thread": "thread_not_of_method"}),
        ({**FLANGE, "thread": "9/16-12 UNC"}, {"thread": "thread_not_of_method"}),
        # what would have no effect
        ({**EXACT, "bolt_modulus": "200000 MPa"}, {"bolt_modulus": "grip_length_required"}),
        ({**EXACT, "grip_length": "50 mm", "unthreaded_length": "51 mm"},
         {"unthreaded_length": "impossible_geometry"}),
        ({**EXACT, "tightening_method": "hydraulic_tensioner"},
         {"tightening_method": "tightened_without_torque"}),
        # too far: 660 MPa on 244.79 mm2 are 161.6 kN of tension alone
        ({**EXACT, "preload": "162 kN"}, {"preload": "bolt_overstressed"}),
        ({**EXACT, "preload": "150 kN"}, {"preload": "bolt_overstressed"}),
        ({**SHORT, "preload": "162 kN"}, {"preload": "bolt_overstressed"}),
        ({**without(EXACT, "preload"), "bolt_stress": "661 MPa"}, {"bolt_stress": "bolt_overstressed"}),
        ({**without(EXACT, "preload"), "proof_share": 1.0}, {"proof_share": "bolt_overstressed"}),
        # all at once
        ({"thread": "3/4", "bolt_grade": "B8", "method": "exact_helix", "nut_factor": 0.2,
          "thread_friction": 0.1},
         {"thread": "ambiguous_thread", "bolt_grade": "ambiguous_bolt_grade",
          "nut_factor": "coefficient_not_taken", "bearing_friction": "coefficient_required",
          "bearing_outside_diameter": "coefficient_required",
          "bearing_hole_diameter": "coefficient_required", "preload": "bolt_load_required"}),
    ],
)  # fmt: skip
def test_refusals(request_: dict[str, Any], faults: dict[str, str]) -> None:
    assert refused(request_) == faults


@pytest.mark.parametrize(
    ("request_", "faults"),
    [
        ({**EXACT, "applied_torque": "300 N.m"}, {"preload": "unknown_field"}),
        ({**without(EXACT, "preload"), "applied_torque": "600 N.m"}, {"applied_torque": "bolt_overstressed"}),
        (without(EXACT, "preload"), {"applied_torque": "missing_field"}),
        ({**without(SHORT, "preload", "nut_factor"), "applied_torque": "9 N.m"},
         {"nut_factor": "coefficient_required"}),
    ],
)  # fmt: skip
def test_refusals_of_a_preload(request_: dict[str, Any], faults: dict[str, str]) -> None:
    assert refused(request_, PRELOAD) == faults


@every_row(
    ("request_", "found"),
    [
        # M20 8.8 by hand: tension is 660 MPa at 161.6 kN and 600 MPa at 146.9 kN; the shank arm is 1.681 mm,
        # so that tension and torsion are 660 MPa at 144.8 kN plastic and 134.9 kN elastic, 0.9 of it at 130.3
        (SHORT, set()),
        ({**SHORT, "nut_factor": 0.08}, {"look nut_factor_not_published"}),
        ({**SHORT, "nut_factor": 0.09}, set()),
        ({**SHORT, "preload": "146 kN"}, {"stop tension_near_yield"}),
        ({**SHORT, "preload": "145 kN"}, set()),
        ({**SHORT, "preload": "147 kN"}, {"stop above_proof_stress", "stop tension_near_yield"}),
        ({**EXACT, "preload": "131 kN"}, {"look combined_stress_high"}),
        ({**EXACT, "preload": "130 kN"}, set()),
        ({**EXACT, "preload": "136 kN"}, {"look combined_stress_high", "look surface_yields_if_elastic"}),
        ({**EXACT, "preload": "134 kN"}, {"look combined_stress_high"}),
        (FLANGE, set()),
        ({**FLANGE, "yield_share": 0.51}, {"look above_half_of_yield"}),
        ({**FLANGE, "thread_friction": 0.10}, {"note friction_not_printed"}),
        ({**FLANGE, "thread": "2-5/8-8 UN", "bolt_grade": "BD"}, {"look grade_differs_by_edition"}),
        ({**FLANGE, "thread": "2-1/2-8 UN", "bolt_grade": "BD"}, set()),
        ({**SCATTERED, "preload": "108 kN"}, {"stop scatter_reaches_yield"}),
        ({**SCATTERED, "preload": "107 kN"}, set()),
        (
            {**SHORT, "preload": "140 kN", "tightening_method": "torque_wrench_lubricated"},
            {"stop scatter_reaches_yield"},
        ),
    ],
)
def test_findings(request_: dict[str, Any], found: set[str]) -> None:
    findings = TORQUE.answer(request_, Shop(), "us")["findings"]
    assert {f"{each['level']} {each['code']}" for each in findings} == found
    assert len(findings) == len(found)


@every_row(
    ("request_", "code", "value", "limit"),
    [
        # on 244.794 mm2: 147 kN are 600.5 MPa, against 600 of proof; alone against 0.9 of 660
        ({**SHORT, "preload": "147 kN"}, "above_proof_stress", 600.5, 600),
        ({**SHORT, "preload": "147 kN"}, "tension_near_yield", 600.5, 594),
        # 131 kN: 594 MPa at 130.3
        ({**EXACT, "preload": "131 kN"}, "combined_stress_high", 594 * 131 / 130.3, 594),
        ({**EXACT, "preload": "136 kN"}, "surface_yields_if_elastic", 660 * 136 / 134.9, 660),
        # 105 ksi are 723.95 MPa
        ({**FLANGE, "yield_share": 0.51}, "above_half_of_yield", 0.51 * 723.95, 0.5 * 723.95),
    ],
)
def test_a_finding_has_its_numbers(request_: dict[str, Any], code: str, value: float, limit: float) -> None:
    findings = TORQUE.answer({**request_, "stress_unit": "MPa"}, Shop(), "us")["findings"]
    (found,) = [each for each in findings if each["code"] == code]
    assert found["value"] == {"value": pytest.approx(value, rel=1e-3), "unit": "MPa"}
    assert found["limit"] == {"value": pytest.approx(limit, rel=1e-3), "unit": "MPa"}
    assert found["text"].endswith(found["remedy"])
    assert found["remedy"]


@every_row(
    "request_",
    [
        {**SHORT, "preload": "147 kN", "tightening_method": "by_feel"},
        {**EXACT, "preload": "132 kN", "tightening_method": "power_driver"},
        {**FLANGE, "yield_share": 0.51, "thread_friction": 0.1},
    ],
)
def test_the_window_of_a_bolt_carries_its_findings(request_: dict[str, Any]) -> None:
    """What its own question finds reaches whoever asks a machine for it."""
    window = bolt_window(load(TORQUE.requests[""], request_), Shop())
    answer = TORQUE.answer(request_, Shop(), "us")
    assert {each.code for each in window.findings} == {each["code"] for each in answer["findings"]}
    assert window.findings


def test_stretch_and_scatter() -> None:
    """100 kN over 80 mm of thread of M20: F L / (A E), and the angle at 2.5 mm a turn; 25 % either way."""
    more = {"grip_length": "80 mm", "bolt_modulus": "205000 MPa", "tightening_method": "torque_wrench"}
    answer = TORQUE.answer({**EXACT, **more, "units": "metric"}, Shop(), "us")
    stretched = 100e3 * 80 / (244.7944 * 205e3)
    assert answer["stretch"]["elongation"]["value"] == pytest.approx(stretched, rel=1e-6)
    assert answer["stretch"]["nut_angle"]["value"] == pytest.approx(360 * stretched / 2.5, rel=1e-6)
    scatter = answer["scatter"]
    assert (scatter["preload_lower_bound"]["value"], scatter["preload_upper_bound"]["value"]) == (75, 125)
    assert scatter["preload_lowest_if_highest"]["value"] == pytest.approx(100 * 0.75 / 1.25)
    assert {each["field"] for each in answer["assumptions"]} == {"unthreaded_length", "bolt_ends"}
    plain = TORQUE.answer(EXACT, Shop(), "us")
    assert (plain["stretch"], plain["reasons"]["stretch"]) == (None, "needs grip_length")
    assert (plain["scatter"], plain["reasons"]["scatter"]) == (None, "needs tightening_method")
    assert plain["assumptions"] == []
    assert plain["torque"]["target"]["value"] == pytest.approx(
        answer["torque"]["target"]["value"] * 1e3 / 1.3558179483314004, rel=1e-9
    )


def test_of_several_published_scatters_the_largest_is_used() -> None:
    """Ultrasonic measurement is printed as 1 and as 10 %."""
    answer = TORQUE.answer({**EXACT, "tightening_method": "ultrasonic", "units": "metric"}, Shop(), "us")
    scatter = answer["scatter"]
    assert (scatter["plus_minus_share"], scatter["plus_minus_share_least"]) == (0.1, 0.01)
    assert (scatter["preload_lower_bound"]["value"], scatter["preload_upper_bound"]["value"]) == (90, 110)
    named = [each["source"] for each in answer["sources"] if each["what"].startswith("scatter of preload")]
    assert len(named) == 2
    assert scatter["source"] in named
