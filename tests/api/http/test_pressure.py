"""/v1/pressure: settings worked by hand from areas and levers, and every reason to refuse."""

from math import pi
from typing import Any

import pytest
from flask.testing import FlaskClient
from hand_worked_machine_cases import CASES, MachineCase
from machines import JOB, STATED
from machines import profile as machine
from policies import policy_file
from rows import every_row

from api.app import create_app
from api.settings import Settings

PATH = "/v1/pressure"


def post(client: FlaskClient, **given: Any) -> Any:
    asked = {**STATED, **JOB, "machine": machine(), **given}
    return client.post(PATH, json={name: value for name, value in asked.items() if value is not None})


def ask(client: FlaskClient, **given: Any) -> Any:
    answer = post(client, **given)
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def codes(client: FlaskClient, **given: Any) -> set[str]:
    answer = post(client, **given)
    assert answer.status_code == 422, answer.text
    return {error["code"] for error in answer.get_json()["errors"]}


@every_row("case", CASES, ids=lambda case: case.name)
def test_hand_worked_case_over_http(client: FlaskClient, case: MachineCase) -> None:
    """Exact pressure and side of every hand-worked case, through the inline profile."""
    length, pressure, torque = ("in", "psi", "ft-lb") if case.unit_system == "us" else ("mm", "bar", "N.m")
    dial = {
        "serial": "H-1",
        "span": f"4000 {pressure}",
        "division": f"10 {pressure}",
        "accuracy_percent_of_span": 1.0,
        "connected_at": "work_port",
    }
    profile = machine(
        cylinder={
            "bore": f"{case.bore!r} {length}",
            "rod": f"{case.rod!r} {length}",
            "closed_length": f"{case.closed_length!r} {length}",
            "open_length": f"{case.open_length!r} {length}",
        },
        arm_radius=f"{case.arm_radius!r} {length}",
        base_distance=f"{case.base_distance!r} {length}",
        right_hand_make_up_side=case.right_hand_make_up_side,
        efficiency={"low": case.efficiency, "nominal": case.efficiency, "high": case.efficiency},
        breakaway_pressure=f"{case.breakaway_pressure!r} {pressure}",
        return_pressure=f"{case.return_pressure!r} {pressure}",
        gauges={"make_up": dial, "break_out": dial},
        relief={"cracking": f"3500 {pressure}", "full_flow": f"3800 {pressure}"},
        rated_pressure={"cylinder": f"4000 {pressure}", "hoses": f"4000 {pressure}"},
        torque_rating="70000000 ft-lb",
        lowest_setting=f"0 {pressure}",
    )
    position = case.arm_position if isinstance(case.arm_position, str) else f"{case.arm_position!r} {length}"
    ratio: dict[str, Any] = {}
    if case.break_out_ratio is not None:
        made_up = f"{case.make_up_torque!r} {torque}"
        ratio = {"break_out_ratio": case.break_out_ratio, "made_up_torque": made_up}
    answer = ask(
        client,
        torque_target=f"{case.make_up_torque!r} {torque}",
        machine=profile,
        operation=case.operation,
        thread_hand=case.thread_hand,
        arm_position=position,
        pressure_unit=pressure,
        length_unit=length,
        **ratio,
    )
    assert answer["cylinder_side"] == case.expected_side
    assert answer["pressure"]["value"] == pytest.approx(case.expected_pressure, rel=1e-9)
    assert answer["moment_arm"]["value"] == pytest.approx(case.expected_moment_arm, rel=1e-9)


def test_main_job_worked_by_hand(client: FlaskClient) -> None:
    """NC50 collar, 6-1/2 x 2-13/16 in, on north-bay-2: rod side, square, a 36 in arm.

    Target 29,679.37 ft-lb = 356,152.45 lbf.in; force at the arm pin 356,152.45 / 36 = 9,893.1236 lbf;
    over 0.95: 10,413.814 lbf. Rod-side area pi/4 (5^2 - 2.5^2) = 14.726216 in2: 707.1616 psi; with the
    breakaway of 30 psi: 737.1616 psi. Marks every 50 psi; 700 would fall below the minimum: 750 psi.
    Torque at 750: 36 * 0.95 * 14.726216 * 720 / 12 = 30,218.195 ft-lb.
    """
    query = {
        "family": "rotary_shouldered",
        "connection": "NC50",
        "component": "drill_collar",
        "box_outside_diameter": "6 1/2 in",
        "pin_bore": "2-13/16 in",
        "machine": "north-bay-2",
        **JOB,
    }
    answer = client.get(PATH, query_string=query).get_json()
    assert answer["cylinder_side"] == "rod"
    assert answer["pressure"]["value"] == pytest.approx(737.1616, abs=5e-5)
    assert answer["gauge_setting"] == {"value": 750.0, "unit": "psi"}
    assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(30218.195, abs=0.001)
    assert answer["neighbouring_marks"]["below"]["reading"] == {"value": 700.0, "unit": "psi"}
    assert answer["version"]["profile_id"] == "north-bay-2"


@pytest.mark.parametrize("units", ["us", "si", "metric"])
def test_a_setting_stays_in_the_unit_of_its_dial(client: FlaskClient, units: str) -> None:
    assert ask(client, units=units)["gauge_setting"]["unit"] == "psi"
    assert ask(client, machine="south-bay-1", units=units)["gauge_setting"]["unit"] == "bar"


def test_break_out_takes_the_other_side_and_gauge(client: FlaskClient) -> None:
    """1.25 x 20,000 = 25,000 ft-lb on the rod side: 25,000 * 12 / (36 * 0.95 * 14.726216) + 30 psi."""
    answer = ask(client, operation="break_out", break_out_ratio=1.25, made_up_torque="20000 ft-lb")
    assert answer["cylinder_side"] == "rod"
    assert answer["gauge"] == "EX-2"
    expected = 25000 * 12 / (36 * 0.95 * pi / 4 * (25 - 6.25)) + 30
    assert answer["pressure"]["value"] == pytest.approx(expected, rel=1e-9)
    assert answer["break_out_torque"]["likely"]["value"] == pytest.approx(25000)
    assert "gauge_setting" not in answer


def test_make_up_tells_the_break_out_torque_when_the_ratio_is_known(client: FlaskClient) -> None:
    """From the torque at the mark: 380 psi gives 36 * 0.95 * 19.634954 * 350 / 12 = 19,585.87 ft-lb."""
    answer = ask(client)
    assert (answer["break_out_torque"], answer["gauge_setting"]["value"]) == (None, 380)
    at_mark = 36 * 0.95 * pi / 4 * 25 * 350 / 12
    told = ask(client, break_out_ratio="1.0/1.2/1.5")["break_out_torque"]
    expected = {"low": at_mark, "likely": 1.2 * at_mark, "high": 1.5 * at_mark}
    assert {name: torque["value"] for name, torque in told.items()} == pytest.approx(expected)


def test_break_out_ratio_has_no_default(client: FlaskClient) -> None:
    assert codes(client, operation="break_out") == {"break_out_ratio_required"}


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"machine": machine(torque_rating="19999 ft-lb")}, {"torque_rating_exceeded"}),
        # 420 psi is the last mark within 10 % of the target, at 21,824 ft-lb
        ({"machine": machine(lowest_setting="421 psi")}, {"below_lowest_setting"}),
        ({"machine": machine(relief={"cracking": "380 psi", "full_flow": "420 psi"})}, {"capacity_exceeded"}),
        ({"machine": machine(relief={"cracking": "2900 psi", "full_flow": "3100 psi"})}, {"relief_cannot_protect"}),
        ({"machine": machine(rated_pressure__hoses="300 psi")}, {"capacity_exceeded"}),
        ({"torque_minimum": "19900 ft-lb", "torque_maximum": "20100 ft-lb"}, {"no_mark_in_window"}),
        # 360 psi, the next mark down, gives 18,467 ft-lb: 19,050 at the highest efficiency
        ({"torque_maximum": "20200 ft-lb", "torque_minimum": "18500 ft-lb"}, {"joint_maximum_exceeded"}),
        # the last mark, 900 psi, gives 48,685 ft-lb
        ({"torque_target": "59000 ft-lb", "machine": machine(gauges__make_up__span="900 psi")}, {"above_gauge", "capacity_exceeded"}),
        ({"machine": machine(base_distance="35 in", cylinder__closed_length="10 in")}, {"square_not_reached"}),
        ({"arm_position": "39 in"}, {"outside_stroke"}),
        ({"machine": "north-bay-3"}, {"unknown_machine"}),
        ({"torque_minimum": "20001 ft-lb"}, {"window_out_of_order"}),
        ({"torque_maximum": "19999 ft-lb"}, {"window_out_of_order"}),
        ({"torque_maximum": "30000 ft-lb", "torque_tolerance": 0.1}, {"tolerance_not_needed"}),
    ],
)  # fmt: skip
def test_refusal_with_every_reason(client: FlaskClient, given: dict[str, Any], expected: set[str]) -> None:
    assert codes(client, **given) == expected


@pytest.mark.parametrize(
    ("diameter", "fits"),
    [("5.9 in", False), ("6 in", True), ("6.5 in", True), ("165.1 mm", True), ("6.6 in", False)],
)
def test_grip_range_is_closed(client: FlaskClient, diameter: str, fits: bool) -> None:
    joint = {
        "family": "rotary_shouldered",
        "connection": "NC46",
        "component": "drill_collar",
        "box_outside_diameter": diameter,
        "pin_bore": "2 in",
        "machine": machine(outside_diameter={"minimum": "6 in", "maximum": "6.5 in"}),
    }
    answer = client.post(PATH, json={**JOB, **joint})
    assert answer.status_code == (200 if fits else 422)
    if not fits:
        assert answer.get_json()["code"] == "diameter_not_gripped"


def told(answer: dict[str, Any]) -> set[tuple[str, str]]:
    """Level and code of every finding."""
    return {(each["level"], each["code"]) for each in answer["findings"]}


def test_torque_at_full_relief_flow_is_told_beside_the_maximum(client: FlaskClient) -> None:
    """380 psi; relief at 380 x 1.1 = 418, set to 420 psi, full flow at 520 psi."""
    answer = ask(client, torque_maximum="22000 ft-lb", torque_minimum="19000 ft-lb")
    checks = {check["name"]: check for check in answer["checks"]}
    relief = answer["relief"]
    least = 1.1 * answer["gauge_setting"]["value"]
    assert relief["set_to"]["value"] - 20 < least <= relief["set_to"]["value"] * (1 + 1e-12)
    # 36 * 0.98 * pi/4 * 25 * (set_to + 100 - 30) / 12 ft-lb
    expected = 36 * 0.98 * pi / 4 * 25 * (relief["set_to"]["value"] + 70) / 12
    assert checks["relief_torque"]["value"]["value"] == pytest.approx(expected, rel=1e-9)
    assert ("note", "limit_alone_holds") in told(answer)


def test_unknown_arm_position_says_that_the_minimum_is_not_assured(client: FlaskClient) -> None:
    answer = ask(client, arm_position="unknown", torque_minimum="19000 ft-lb")
    checks = {check["name"]: check["verdict"] for check in answer["checks"]}
    assert checks["joint_minimum"] == "caution"
    (found,) = (each for each in answer["findings"] if each["code"] == "arm_position_unknown")
    # 40 to 62 in about a 36 in arm and a 60 in base: the smallest moment arm is 0.93861 of the largest
    assert found["value"]["value"] == pytest.approx(0.93861, abs=5e-6)
    assert "6.1 % less" in found["text"]
    assert "its minimum is not assured" in found["text"]


def test_draft_profile_is_named_as_such(client: FlaskClient) -> None:
    answer = ask(client, machine=machine(status="draft"))
    assert answer["findings"][0]["code"] == "profile_is_draft"
    assert answer["findings"][0]["level"] == "stop"


def test_all_profile_faults_are_told_with_their_place(client: FlaskClient) -> None:
    bad = machine(cylinder__rod="6 in", efficiency__low=0.97, gauges__make_up__division="70 psi", site="")
    del bad["torque_rating"]
    errors = post(client, machine=bad).get_json()["errors"]
    assert {(error["pointer"], error["code"]) for error in errors} == {
        ("/machine/cylinder/rod", "contradiction"),
        ("/machine/efficiency/nominal", "contradiction"),
        ("/machine/gauges/make_up/division", "contradiction"),
        ("/machine/site", "not_text"),
        ("/machine/torque_rating", "missing_field"),
    }


COARSE = {
    "gauges__make_up__span": "3000 psi",
    "gauges__make_up__division": "750 psi",
    "relief": {"cracking": "850 psi", "full_flow": "900 psi"},
}


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        # 750 psi, the lowest mark but zero, gives 36 * 0.95 * 19.634954 * 720 / 12 = 40,291 ft-lb
        ({"machine": machine(**COARSE)}, {"mark_far_from_target"}),
        ({"machine": machine(**COARSE), "torque_maximum": "45000 ft-lb"}, set()),
        ({"machine": machine(**COARSE), "torque_target": "37000 ft-lb"}, set()),
        ({"machine": machine(**COARSE), "torque_target": "36600 ft-lb"}, {"mark_far_from_target"}),
        ({"machine": machine(**COARSE), "torque_target": "45000 ft-lb"}, {"mark_far_from_target", "capacity_exceeded"}),
        # below breakaway a mark gives no torque: 300 psi is none, though nearest to 331.8 psi
        ({"torque_target": "100 ft-lb", "machine": machine(breakaway_pressure="330 psi", gauges__make_up__division="100 psi")}, {"mark_far_from_target"}),
        ({"torque_target": "100 ft-lb", "torque_maximum": "4500 ft-lb", "machine": machine(breakaway_pressure="330 psi", gauges__make_up__division="100 psi")}, set()),
    ],
)  # fmt: skip
def test_without_a_window_a_far_mark_is_refused(
    client: FlaskClient, given: dict[str, Any], expected: set[str]
) -> None:
    answer = post(client, **given)
    assert {error["code"] for error in answer.get_json().get("errors", [])} == expected


def test_a_setting_that_would_yield_the_joint_is_refused(client: FlaskClient) -> None:
    """NC38 tool joint, 5 x 2-11/16 in: 10,843 ft-lb, torsional yield 18,071 ft-lb (Addendum 1, 2003).

    At a stress level just below yield the target itself is at the yield strength.
    """
    joint = {
        "family": "rotary_shouldered",
        "connection": "NC38",
        "component": "tool_joint",
        "box_outside_diameter": "4.75 in",
        "pin_bore": "2 11/16 in",
    }
    checks = {check["name"]: check for check in ask(client, **unstated(joint))["checks"]}
    assert checks["torsional_yield"]["limit"]["value"] == pytest.approx(18071, rel=5e-4)
    near = {"pin_stress_level": "119900 psi", "box_stress_level": "119900 psi", "torque_tolerance": 0.06}
    coarse = machine(gauges__make_up__division="40 psi")
    assert codes(client, machine=coarse, **unstated({**joint, **near})) == {"torsional_yield_exceeded"}


def unstated(joint: dict[str, Any]) -> dict[str, Any]:
    """A joint in place of the stated one."""
    return {**dict.fromkeys(STATED), **joint}


def test_faults_of_joint_and_machine_are_told_at_once(client: FlaskClient) -> None:
    joint = {
        "family": "rotary_shouldered",
        "connection": "NC51",
        "component": "drill_collar",
        "box_outside_diameter": "1 in",
        "pin_bore": "30 in",
    }
    answer = client.post(PATH, json={**JOB, **joint, "machine": "north-bay-9", "operation": "break_out"})
    assert {error["code"] for error in answer.get_json()["errors"]} == {
        "unknown_connection",
        "unknown_machine",
        "break_out_ratio_required",
    }


def test_a_break_out_is_expected_between_marks_of_a_coarse_dial(client: FlaskClient) -> None:
    coarse = machine(gauges__break_out__span="3000 psi", gauges__break_out__division="750 psi")
    coarse["gauges"]["system"] = {**coarse["gauges"]["make_up"], "serial": "EX-9"}
    given = {"operation": "break_out", "break_out_ratio": 1.0, "made_up_torque": "20000 ft-lb"}
    expected = ask(client, machine=coarse, **given)["expected"]
    # 20,000 * 12 / (36 * 0.95 * 14.726216) + 30 = 506.5 psi
    assert {name: reading["value"] for name, reading in expected.items()} == {
        "low": 0,
        "likely": 750,
        "high": 750,
    }


def test_where_the_nearest_mark_fails_a_limit_the_next_is_set(client: FlaskClient) -> None:
    """Target 20,300 ft-lb, window 19,000 to 20,800: marks at 380 and 400 psi give 19,586 and 20,705 ft-lb.

    400 psi is nearest, but at the highest efficiency gives 36 * 0.98 * 19.634954 * 370 / 12 = 21,359.
    """
    window = {
        "torque_target": "20300 ft-lb",
        "torque_minimum": "19000 ft-lb",
        "torque_maximum": "20800 ft-lb",
    }
    answer = ask(client, **window)
    assert answer["gauge_setting"]["value"] == 380
    assert codes(client, **{**window, "torque_minimum": "19600 ft-lb"}) == {"joint_maximum_exceeded"}


@pytest.mark.parametrize("changed", [{}, {"arm_position": "unknown"}])
def test_the_minimum_is_compared_with_the_lower_bound(client: FlaskClient, changed: dict[str, Any]) -> None:
    answer = ask(client, torque_minimum="19900 ft-lb", **changed)
    checks = {check["name"]: check for check in answer["checks"]}
    assert checks["joint_minimum"]["value"] == answer["torque_lower_bound"]
    below = answer["torque_lower_bound"]["value"] < 19900
    assert checks["joint_minimum"]["verdict"] == ("caution" if below else "pass")


def test_relief_is_told_at_break_out_too(client: FlaskClient) -> None:
    answer = ask(client, operation="break_out", break_out_ratio=1.25)
    assert "relief_torque" in {check["name"] for check in answer["checks"]}
    assert answer["relief"]["set_to"]["value"] >= 1.1 * answer["pressure"]["value"]


def test_a_rating_that_may_be_passed_in_the_worst_case_is_a_finding(client: FlaskClient) -> None:
    """A fixed valve that cracks at 435 psi, 1.1 x 380 = 418, and whose full flow at 445 psi is within it."""
    wide = machine(
        torque_rating="24500 ft-lb",
        relief={"cracking": "435 psi", "full_flow": "440 psi"},
        gauges__make_up__accuracy_percent_of_span=3.0,
    )
    answer = ask(client, machine=wide)
    verdicts = {check["name"]: check["verdict"] for check in answer["checks"]}
    assert (verdicts["torque_rating"], verdicts["torque_rating_worst_case"]) == ("pass", "caution")
    assert ("look", "torque_rating_worst_case") in told(answer)


@pytest.mark.parametrize(
    ("given", "code", "said"),
    [
        (
            {"thread_hand": "left"},
            "left_hand",
            "Left-hand: pressure on the rod side, read gauge EX-1. Check both before you pull the lever.",
        ),
        (
            {"gauge_read": "break_out"},
            "other_gauge",
            "Gauge EX-2 is that of break-out. Make sure that it reads the driven side.",
        ),
    ],
)
def test_findings_of_the_gauge_stand_with_settings_and_readings(
    client: FlaskClient, given: dict[str, Any], code: str, said: str
) -> None:
    job = {**JOB, "machine": machine(), "gauge_reading": "600 psi", **given}
    delivered = client.post("/v1/delivered-torque", json=job).get_json()
    assert {each["code"]: each["text"] for each in delivered["findings"]}[code] == said
    if "gauge_read" not in given:
        assert {each["code"]: each["text"] for each in ask(client, **given)["findings"]}[code] == said


def test_a_withheld_maximum_still_limits_the_setting() -> None:
    """The stricter policy must not be the looser one: 10 % above a collar's value is from memory."""
    joint = {
        "family": "rotary_shouldered",
        "connection": "NC50",
        "component": "drill_collar",
        "box_outside_diameter": "6.5 in",
        "pin_bore": "2.8125 in",
        "machine": machine(gauges__make_up__division="200 psi"),
    }
    loose, strict = (
        create_app(Settings(policy=rules)).test_client().post(PATH, json={**JOB, **joint})
        for rules in (None, policy_file(accepted_statuses=["read"]))
    )
    assert loose.status_code == strict.status_code == 422
    assert loose.get_json()["code"] == strict.get_json()["code"]


@pytest.mark.parametrize("units", ["us", "si", "metric"])
def test_the_pressure_does_not_depend_on_units(client: FlaskClient, units: str) -> None:
    """The example machine and 20,000 ft-lb, told in metric units; 387.4 psi worked by hand in test_bounds."""
    metric = machine(
        cylinder={"bore": "127 mm", "rod": "6.35 cm", "closed_length": "1.016 m", "open_length": "1574.8 mm"},
        arm_radius="914.4 mm",
        base_distance="5 ft",
        breakaway_pressure={"value": 30 * 0.06894757293168362, "unit": "bar"},
        torque_rating="81349.07689988402 N.m",
    )
    given = {
        "machine": metric,
        "torque_target": "27.116358966628008 kN.m",
        "units": units,
        "pressure_unit": "psi",
    }
    assert ask(client, **given)["pressure"]["value"] == pytest.approx(
        ask(client)["pressure"]["value"], rel=1e-9
    )
