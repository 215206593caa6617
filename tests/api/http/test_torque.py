"""/v1/torque/rotary-shouldered: window, strengths, refusals."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from rotary_shouldered_us import make_up

PATH = "/v1/torque/rotary-shouldered"
COLLAR = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6.5 in",
    "pin_bore": "2.8125 in",
}
TOOL_JOINT = {
    "connection": "NC50",
    "component": "tool_joint",
    "box_outside_diameter": "6 5/8 in",
    "pin_bore": "3 1/4 in",
}


def ask(client: FlaskClient, **given: Any) -> Any:
    answer = client.post(PATH, json=given)
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def refusal(client: FlaskClient, **given: Any) -> dict[str, Any]:
    answer = client.post(PATH, json=given)
    assert answer.status_code == 422, answer.text
    errors = answer.get_json()["errors"]
    assert len(errors) == 1
    return dict(errors[0])


def independent_nc50() -> float:
    """NC50, 6-1/2 x 2-13/16 in at 62,500 psi by the independent implementation, ft-lb."""
    made = make_up(
        tpi=4, taper_in_per_ft=2, C=5.0417, Lpc=4.5, Qc=5.3125, H=0.216005, Srs=0.038, half_angle_deg=30,
        OD=6.5, ID=2.8125, pin_stress=62500, box_stress=62500, compound_factor=1.0, capped=True,
    )  # fmt: skip
    return made["torque_ftlb"]


def value(quantity: Any) -> float:
    return float(quantity["value"])


def test_collar_window_is_the_value_to_ten_percent_above(client: FlaskClient) -> None:
    """29,679 ft-lb: API RP 7G Table 14, NC50, 6-1/2 x 2-13/16 in; the 10 % from memory."""
    window = ask(client, **COLLAR)["torque"]
    assert value(window["target"]) == pytest.approx(29679, rel=5e-4)
    assert window["minimum"] == window["target"]
    assert value(window["maximum"]) == pytest.approx(1.1 * value(window["target"]), rel=1e-9)
    assert window["maximum_status"] == "from memory"


def test_tool_joint_has_no_window_of_its_own(client: FlaskClient) -> None:
    """30,730 and 51,217 ft-lb, capped: a data sheet of 2011 prints 30,700 and 51,200 (rounded to 100)."""
    answer = ask(client, **TOOL_JOINT)
    window = answer["torque"]
    assert value(window["target"]) == pytest.approx(30700, abs=50)
    assert value(answer["torsional_yield"]) == pytest.approx(51200, abs=50)
    assert window["minimum"] is None
    assert window["maximum"] is None
    assert "torque_tolerance" in answer["reasons"]["torque.minimum"]
    assert answer["bending_strength_ratio"] is None
    assert "tool joints" in answer["reasons"]["bending_strength_ratio"]


def test_tool_joint_at_break_in_stress(client: FlaskClient) -> None:
    """The same sheet gives 25,600 ft-lb at 60,000 psi."""
    answer = ask(client, **TOOL_JOINT, pin_stress_level="60000 psi", box_stress_level="60 ksi")
    assert value(answer["torque"]["target"]) == pytest.approx(25600, abs=50)


def test_stated_tolerance_makes_a_window(client: FlaskClient) -> None:
    window = ask(client, **TOOL_JOINT, torque_tolerance=0.05)["torque"]
    target = value(window["target"])
    assert value(window["minimum"]) == pytest.approx(0.95 * target, rel=1e-9)
    assert value(window["maximum"]) == pytest.approx(1.05 * target, rel=1e-9)


def test_published_friction_factor_example(client: FlaskClient) -> None:
    """21,914 x 1.1 = 24,105 ft-lb: public text on API RP 7A1, NC50, 6-3/32 x 3-1/4 in (OD inferred)."""
    worn = {**TOOL_JOINT, "box_outside_diameter": "6 3/32 in"}
    assert value(ask(client, **worn)["torque"]["target"]) == pytest.approx(21914, rel=5e-4)
    factored = ask(client, **worn, compound_friction_factor=1.1)
    assert value(factored["torque"]["target"]) == pytest.approx(24105, rel=5e-4)
    assert value(factored["preload"]) == value(ask(client, **worn)["preload"])
    assert factored["torsional_yield_friction_factor"] == 1.1


@pytest.mark.parametrize(
    ("connection", "component", "psi"),
    [
        # API RP 7G: collars 62,500, H-90 56,200, 2-7/8 PAC 87,500; tool joints 72,000 psi
        ("NC50", "drill_collar", 62500),
        ("5-1/2 H-90", "drill_collar", 56200),
        ("2-7/8 PAC", "drill_collar", 87500),
        ("NC50", "tool_joint", 72000),
        ("5-1/2 H-90", "tool_joint", 72000),
    ],
)
def test_usual_stress_level_is_stated(
    client: FlaskClient, connection: str, component: str, psi: float
) -> None:
    given = {"connection": connection, "component": component, "pin_bore": "1 in", "confirm_size": True}
    answer = ask(client, **given, box_outside_diameter="7 in")
    assert value(answer["pin_stress_level"]) == psi
    assumed = {each["field"]: each["value"] for each in answer["assumptions"]}
    assert assumed["pin_stress_level"] == f"{psi:,} psi"
    assert assumed["compound_friction_factor"] == "1.0"
    assert assumed["edition"] == "2003"


def test_mixed_mates_take_the_lower_force(client: FlaskClient) -> None:
    """Pin of a collar in the box of a tool joint: 62,500 x 12.4978 against 72,000 x 11.5355 in2.

    781,111 lbf against 830,559 lbf: the pin, though its area is the larger.
    """
    answer = ask(client, **COLLAR, box_stress_level="72000 psi")
    assert answer["weaker_member"] == "pin"
    assert value(answer["preload"]) == pytest.approx(62500 * 12.49777, rel=1e-6)


def test_torsional_yield_of_a_collar_is_that_of_its_steel(client: FlaskClient) -> None:
    """The same formula at 110,000 psi, or what is given, instead of 62,500 psi."""
    answer = ask(client, **COLLAR)
    target = value(answer["torque"]["target"])
    assert value(answer["torsional_yield"]) == pytest.approx(110 / 62.5 * target, rel=1e-9)
    assumed = {each["field"]: each["value"] for each in answer["assumptions"]}
    assert assumed["pin_yield_strength"] == assumed["box_yield_strength"] == "110,000 psi"
    given = ask(client, **COLLAR, pin_yield_strength="130000 psi", box_yield_strength="130000 psi")
    assert value(given["torsional_yield"]) == pytest.approx(130 / 62.5 * target, rel=1e-9)
    assert given["status"] == answer["status"] == "read"


@pytest.mark.parametrize(
    ("connection", "diameter", "bore", "low_torque_face", "printed"),
    [
        # API RP 7G Table 14 and its low-torque-face rows; from memory
        ("7-5/8 REG", "9.25 in", "3.75 in", False, 74529),
        ("7 H-90", "8.25 in", "3 in", False, 63738),
        ("7 H-90", "9 in", "3.75 in", True, 58131),
        ("8-5/8 H-90", "11 in", "3 in", True, 110781),
    ],
)
def test_low_torque_face_is_asked_for(
    client: FlaskClient, connection: str, diameter: str, bore: str, low_torque_face: bool, printed: float
) -> None:
    big = {**COLLAR, "connection": connection, "box_outside_diameter": diameter, "pin_bore": bore}
    assert refusal(client, **big)["code"] == "low_torque_face_required"
    answer = ask(client, **big, low_torque_face=low_torque_face)
    assert value(answer["torque"]["target"]) == pytest.approx(printed, rel=5e-4)


@pytest.mark.parametrize(
    ("changed", "has_window"),
    [
        ({}, True),
        ({"pin_stress_level": "62500 psi", "box_stress_level": "62.5 ksi"}, True),
        ({"pin_stress_level": "30000 psi", "box_stress_level": "30000 psi"}, False),
        # the pin of a collar in the box of a tool joint: the pin is weaker, and at its usual stress
        ({"box_stress_level": "72000 psi"}, True),
        # the box is weaker, and not at its usual stress
        ({"box_stress_level": "50000 psi"}, False),
    ],
)
def test_a_collar_has_its_window_only_at_the_stress_of_the_standard(
    client: FlaskClient, changed: dict[str, Any], has_window: bool
) -> None:
    answer = ask(client, **COLLAR, **changed)
    window = answer["torque"]
    assert (window["minimum"] is not None) == (window["maximum"] is not None) == has_window
    if not has_window:
        assert "torque_tolerance" in answer["reasons"]["torque.minimum"]


def test_all_faults_of_a_joint_are_told_at_once(client: FlaskClient) -> None:
    bad = {
        **COLLAR,
        "edition": "1998",
        "box_outside_diameter": "5 in",
        "pin_bore": "5 in",
        "low_torque_face": True,
    }
    answer = client.post(PATH, json=bad)
    assert {error["code"] for error in answer.get_json()["errors"]} == {
        "edition_not_for_collars",
        "no_low_torque_face",
        "impossible_geometry",
    }
    assert len(answer.get_json()["errors"]) == 4


@pytest.mark.parametrize("options", [{"units": "metric"}, {"length_unit": "mm"}])
def test_a_refusal_speaks_in_the_units_asked_for(client: FlaskClient, options: dict[str, str]) -> None:
    """The published neighbours of a missing row, whose field has no unit of its own."""
    asked = {**COLLAR, "basis": "table"}
    for answer in (
        client.post(PATH, json={**asked, **options}),
        client.post(PATH, json=asked, query_string=options),
        client.get(PATH, query_string={**asked, **options}),
    ):
        assert "158.75 mm x 71.4375 mm" in answer.get_json()["detail"]


@pytest.mark.parametrize("name", ["4-1/2 IF", "4 1/2 if", '4½" IF', "4-1/2 Internal Flush", "5 XH", "nc 50"])
def test_former_names_are_found(client: FlaskClient, name: str) -> None:
    answer = ask(client, **{**COLLAR, "connection": name})
    assert answer["connection"] == "NC50"


@pytest.mark.parametrize(
    ("changed", "field", "code", "said"),
    [
        (
            {"compound_friction_factor": 0.08},
            "compound_friction_factor",
            "implausible_friction_factor",
            "0.8 to 1.25",
        ),
        ({"compound_friction_factor": 0.0}, "compound_friction_factor", "implausible_friction_factor", "1.0"),
        ({"compound_friction_factor": 8}, "compound_friction_factor", "out_of_range", "8"),
        ({"compound_friction_factor": -1}, "compound_friction_factor", "out_of_range", "-1"),
        ({"box_outside_diameter": "5 5/16 in"}, "box_outside_diameter", "impossible_geometry", "5.3125 in"),
        ({"box_outside_diameter": "130 mm"}, "box_outside_diameter", "impossible_geometry", "134.9375 mm"),
        ({"pin_bore": "4.5 in"}, "pin_bore", "impossible_geometry", "4.5 in"),
        ({"pin_bore": "3 mm"}, "pin_bore", "out_of_range", "3 mm"),  # 3 in under the wrong unit
        ({"pin_bore": "6 mm"}, "pin_bore", "out_of_range", "6 mm"),
        ({"pin_bore": "4.9 in"}, "pin_bore", "impossible_geometry", "4.5 in"),
        ({"box_outside_diameter": "16 in"}, "box_outside_diameter", "impossible_geometry", "15.9375 in"),
        ({"connection": "NC51"}, "connection", "unknown_connection", "NC50"),
        ({"connection": "NC50 DS"}, "connection", "not_defined_by_formula", "family=stated"),
        ({"connection": "5 in double shoulder"}, "connection", "not_defined_by_formula", "family=stated"),
        ({"low_torque_face": True}, "low_torque_face", "no_low_torque_face", "NC50"),
        ({"edition": "1998"}, "edition", "edition_not_for_collars", "tool joints"),
        ({"torque_tolerance": 0.05}, "torque_tolerance", "tolerance_not_needed", "already"),
        (
            {"pin_yield_strength": "60000 psi"},
            "pin_stress_level",
            "above_yield_strength",
            "62500 psi",
        ),
        ({"pin_stress_level": "72 psi"}, "pin_stress_level", "out_of_range", "5000 psi"),
    ],
)
def test_refusal(client: FlaskClient, changed: dict[str, Any], field: str, code: str, said: str) -> None:
    error = refusal(client, **{**COLLAR, **changed})
    assert (error["pointer"], error["code"]) == (f"/{field}", code)
    assert said in error["detail"] + error.get("accepted", "")


@pytest.mark.parametrize(
    "spelling",
    [
        {"box_outside_diameter": "6 1/2 in", "pin_bore": "2-13/16 in"},
        {"box_outside_diameter": '6½"', "pin_bore": '2 13/16"'},
        {"box_outside_diameter": "165.1 mm", "pin_bore": "71.4375 mm"},
        {
            "box_outside_diameter": {"value": 16.51, "unit": "cm"},
            "pin_bore": {"value": 0.0714375, "unit": "m"},
        },
    ],
)
@pytest.mark.parametrize("units", ["us", "si", "metric"])
def test_the_answer_does_not_depend_on_units(
    client: FlaskClient, spelling: dict[str, Any], units: str
) -> None:
    factor = {"us": 1.3558179483314004, "si": 1.0, "metric": 1000.0}[units]
    answer = ask(client, **{**COLLAR, **spelling, "units": units})
    expected = independent_nc50() * 1.3558179483314004
    assert value(answer["torque"]["target"]) * factor == pytest.approx(expected, rel=1e-9)


def test_every_source_has_a_status_and_the_answer_the_weakest_of_its_target(client: FlaskClient) -> None:
    answer = ask(
        client, **{**COLLAR, "connection": "3-1/2 FH", "box_outside_diameter": "5 in", "pin_bore": "2 in"}
    )
    assert answer["status"] == "from memory"
    assert all(each["status"] and each["source"] for each in answer["sources"])
    assert ask(client, **COLLAR)["status"] == "read"


def test_steps_show_areas_and_arms(client: FlaskClient) -> None:
    """Ap 12.4978 in2, Rt 2.35939 in, OD_eq 6.59357 in: the worked example of the formula page."""
    steps = {step["symbol"]: step["value"] for step in ask(client, **COLLAR, steps=True)["steps"]}
    assert value(steps["Ap"]) == pytest.approx(12.4978, abs=5e-5)
    assert value(steps["Ab"]) == pytest.approx(11.5355, abs=5e-5)
    assert value(steps["Rt"]) == pytest.approx(2.35939, abs=5e-6)
    assert value(steps["OD_eq"]) == pytest.approx(6.59357, abs=5e-6)
    assert value(steps["T"]) == pytest.approx(29679.37, abs=0.01)
    assert "steps" not in ask(client, **COLLAR)
