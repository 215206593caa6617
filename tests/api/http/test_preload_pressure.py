"""/v1/preload-pressure: settings worked by hand from p = F LTF / A, and every reason to refuse."""

import csv
import io
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import profile as torque_machine
from policies import REFUSING
from tensioners import QUESTION, dial, rated, relief, tensioner

from api.app import create_app
from api.settings import Settings

PATH = "/v1/preload-pressure"
LBF = 4.4482216152605  # N, exact
METRIC = {
    "gauges": dial(span="2000 bar", division="20 bar"),
    "relief": {"cracking": "1400 bar", "full_flow": "1450 bar"},
    "rated_pressure": {"tensioner": "1500 bar", "hoses": "1600 bar"},
    "lowest_setting": "50 bar",
    "load_rating": "1000 kN",
}
M36 = {"stress_area": "817 mm2", "yield_strength": "1000 MPa"}


def post(client: FlaskClient, **given: Any) -> Any:
    asked = {"machine": tensioner(), **QUESTION, **given}
    return client.post(PATH, json={name: value for name, value in asked.items() if value is not None})


def ask(client: FlaskClient, **given: Any) -> Any:
    answer = post(client, **given)
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def codes(client: FlaskClient, **given: Any) -> set[str]:
    answer = post(client, **given)
    return {error["code"] for error in answer.get_json().get("errors", [])}


def verdicts(answer: Any) -> dict[str, str]:
    return {check["name"]: check["verdict"] for check in answer["checks"]}


@pytest.mark.parametrize(
    ("area", "factor", "target", "pressure", "mark", "preload", "load", "stress"),
    [
        # psi, lbf: 78,000 * 1.25 = 97,500; / 8 = 12,187.5; mark 12,250 pulls 98,000, leaves 78,400
        ("8 in2", 1.25, 78_000, 12_187.5, 12_250, 78_400, 98_000, 98_000 / 1.492),
        # 66,000 * 1.25 = 82,500; / 5.5 = 15,000, a mark
        ("5.5 in2", 1.25, 66_000, 15_000, 15_000, 66_000, 82_500, 82_500 / 1.492),
        # 30,000 * 1.1 = 33,000; / 4 = 8,250, a mark
        ("4 in2", 1.1, 30_000, 8_250, 8_250, 30_000, 33_000, 33_000 / 1.492),
        # no loss: 100,000 / 8 = 12,500
        ("8 in2", 1.0, 100_000, 12_500, 12_500, 100_000, 100_000, 100_000 / 1.492),
        # half is lost: 30,000 * 2 = 60,000; / 6 = 10,000
        ("6 in2", 2.0, 30_000, 10_000, 10_000, 30_000, 60_000, 60_000 / 1.492),
        # 40,100 * 1.2 = 48,120; / 6 = 8,020; mark 8,000 pulls 48,000, leaves 40,000
        ("6 in2", 1.2, 40_100, 8_020, 8_000, 40_000, 48_000, 48_000 / 1.492),
    ],
)
def test_us_case_worked_by_hand(
    client: FlaskClient, area: str, factor: float, target: float, pressure: float, mark: float,
    preload: float, load: float, stress: float,
) -> None:  # fmt: skip
    machine = tensioner(effective_area=area)
    answer = ask(client, machine=machine, load_loss_factor=factor, preload_target=f"{target} lbf")
    assert answer["pressure"] == {"value": pytest.approx(pressure, rel=1e-9), "unit": "psi"}
    assert answer["gauge_setting"] == {"value": mark, "unit": "psi"}
    assert answer["preload_at_gauge_setting"] == {"value": pytest.approx(preload, rel=1e-9), "unit": "lbf"}
    assert answer["tool_load"] == {"value": pytest.approx(load, rel=1e-9), "unit": "lbf"}
    assert answer["stud_stress"] == {"value": pytest.approx(stress, rel=1e-9), "unit": "psi"}
    assert answer["stud_stress_share_of_yield"] == pytest.approx(stress / 105_000, rel=1e-9)


@pytest.mark.parametrize(
    ("area", "factor", "target", "pressure", "mark", "preload", "load"),
    [
        # N, mm2: 400 kN * 1.1 = 440 kN; / 4000 mm2 = 110 MPa = 1100 bar, a mark
        ("4000 mm2", 1.1, 400, 1_100, 1_100, 400, 440),
        # 625 kN * 1.2 = 750 kN; / 6250 mm2 = 120 MPa
        ("62.5 cm2", 1.2, 625, 1_200, 1_200, 625, 750),
        # 302 kN * 1.15 = 347.3 kN; / 5000 mm2 = 69.46 MPa; mark 700 bar pulls 350 kN, leaves 350 / 1.15
        ("5000 mm2", 1.15, 302, 694.6, 700, 350 / 1.15, 350),
        # 216 kN * 1.25 = 270 kN; / 4000 mm2 = 67.5 MPa; mark 680 bar pulls 272 kN, leaves 217.6 kN
        ("4000 mm2", 1.25, 216, 675, 680, 217.6, 272),
    ],
)
def test_metric_case_worked_by_hand(
    client: FlaskClient, area: str, factor: float, target: float, pressure: float, mark: float,
    preload: float, load: float,
) -> None:  # fmt: skip
    machine = tensioner(**METRIC, effective_area=area)
    asked = {"load_loss_factor": factor, "preload_target": f"{target} kN", "units": "metric", **M36}
    answer = ask(client, machine=machine, **asked)
    assert answer["pressure"] == {"value": pytest.approx(pressure, rel=1e-9), "unit": "bar"}
    assert answer["gauge_setting"] == {"value": mark, "unit": "bar"}
    assert answer["preload_at_gauge_setting"] == {"value": pytest.approx(preload, rel=1e-9), "unit": "kN"}
    assert answer["tool_load"] == {"value": pytest.approx(load, rel=1e-9), "unit": "kN"}
    stress = load * 1000 / 817
    assert answer["stud_stress"] == {"value": pytest.approx(stress, rel=1e-9), "unit": "MPa"}
    assert answer["stud_stress_share_of_yield"] == pytest.approx(stress / 1000, rel=1e-9)


def test_a_metric_preload_on_a_dial_in_psi(client: FlaskClient) -> None:
    """300 kN * 1.2 = 360 kN = 80,931.2 lbf; over 8 in2 10,116.4 psi; set 10,000 psi, not 10,250."""
    answer = ask(client, preload_target="300 kN", load_loss_factor=1.2, force_unit="kN")
    assert answer["pressure"]["value"] == pytest.approx(360_000 / LBF / 8, rel=1e-9)
    assert answer["gauge_setting"] == {"value": 10_000.0, "unit": "psi"}
    assert answer["preload_at_gauge_setting"] == {
        "value": pytest.approx(80_000 / 1.2 * LBF / 1000, rel=1e-9),
        "unit": "kN",
    }


@pytest.mark.parametrize(
    ("asked", "force", "factor", "stress"),
    [
        ({}, "lbf", 1.0, "psi"),
        ({"units": "si"}, "N", LBF, "Pa"),
        ({"units": "metric"}, "kN", LBF / 1000, "MPa"),
        ({"force_unit": "kip"}, "kip", 0.001, "psi"),
        ({"force_unit": "kN", "stress_unit": "ksi"}, "kN", LBF / 1000, "ksi"),
    ],
)
def test_units_of_the_answer(
    client: FlaskClient, asked: dict[str, str], force: str, factor: float, stress: str
) -> None:
    answer = ask(client, **asked)
    for name, pounds in {"preload_at_gauge_setting": 78_400, "tool_load": 98_000}.items():
        assert answer[name] == {"value": pytest.approx(pounds * factor, rel=1e-9), "unit": force}
    assert answer["stud_stress"]["unit"] == stress
    assert answer["gauge_setting"] == {"value": 12_250.0, "unit": "psi"}


def test_the_same_preload_in_any_unit_is_the_same_answer(client: FlaskClient) -> None:
    given = {"preload_target": f"{78 * LBF!r} kN", "stress_area": f"{1.492 * 645.16!r} mm2"}
    metric, us = (
        ask(client, **each, yield_strength=strength)
        for each, strength in ((given, "105 ksi"), ({}, "105000 psi"))
    )
    for name in set(us) - {"inputs", "checks", "fingerprint"}:
        assert metric[name] == us[name]


def test_bounds_are_those_of_the_gauge(client: FlaskClient) -> None:
    """1 % of 30,000 psi either way: 11,950 and 12,550 psi, times 8 / 1.25."""
    answer = ask(client)
    assert answer["preload_lower_bound"]["value"] == pytest.approx(76_480, rel=1e-9)
    assert answer["preload_upper_bound"]["value"] == pytest.approx(80_320, rel=1e-9)
    assert answer["gauge_error_share"] == pytest.approx(300 / 12_250, rel=1e-9)


def test_neighbours_have_their_preloads(client: FlaskClient) -> None:
    """12,000 and 12,250 psi, times 8 / 1.25."""
    marks = ask(client)["neighbouring_marks"]
    assert [marks[side]["reading"]["value"] for side in ("below", "above")] == [12_000, 12_250]
    assert [marks[side]["preload"]["value"] for side in ("below", "above")] == [76_800, 78_400]


COARSE = tensioner(gauges=dial(division="5000 psi"))  # 10,000 psi leaves 64,000 lbf, 15,000 psi 96,000


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        # 77,500 lbf: 12,000 psi leaves 76,800, nearest; 12,250 psi leaves 78,400
        ({"preload_target": "77500 lbf"}, 12_000),
        ({"preload_target": "77500 lbf", "preload_minimum": "76800 lbf"}, 12_000),
        ({"preload_target": "77500 lbf", "preload_minimum": "76801 lbf"}, 12_250),
        ({"preload_target": "77500 lbf", "preload_maximum": "78000 lbf"}, 12_000),
        ({"preload_target": "77500 lbf", "preload_minimum": "77500 lbf"}, 12_250),
        ({"preload_target": "77500 lbf", "preload_maximum": "77500 lbf"}, 12_000),
        (
            {"preload_target": "77500 lbf", "preload_minimum": "77000 lbf", "preload_maximum": "78000 lbf"},
            "no_mark_in_window",
        ),
        # an open end takes no mark more than 10 % away: 64,000 of 78,000 is 18 %
        ({"machine": COARSE}, "mark_far_from_target"),
        ({"machine": COARSE, "preload_target": "71111 lbf"}, 10_000),
        ({"machine": COARSE, "preload_target": "71112 lbf"}, "mark_far_from_target"),
        ({"machine": COARSE, "preload_target": "88000 lbf"}, 15_000),
        ({"machine": COARSE, "preload_target": "87272 lbf"}, "mark_far_from_target"),
        ({"machine": COARSE, "preload_minimum": "60000 lbf"}, 10_000),
        # the upper end is stated, the lower one open: 10,000 psi is too far, 15,000 psi is allowed
        ({"machine": COARSE, "preload_maximum": "96000 lbf"}, 15_000),
        ({"machine": COARSE, "preload_maximum": "95999 lbf"}, "mark_far_from_target"),
    ],
)
def test_the_nearest_mark_within_the_window(
    client: FlaskClient, given: dict[str, Any], expected: int | str
) -> None:
    answer = post(client, **given)
    if isinstance(expected, str):
        assert {error["code"] for error in answer.get_json()["errors"]} == {expected}
    else:
        assert answer.get_json()["gauge_setting"]["value"] == expected


def test_a_gauge_too_coarse_is_told_in_forces(client: FlaskClient) -> None:
    window = {"preload_minimum": "77000 lbf", "preload_maximum": "78000 lbf"}
    detail = post(client, preload_target="77500 lbf", **window).get_json()["errors"][0]["detail"]
    assert "gives a preload within the window" in detail
    assert "12000 psi gives 76800 lbf" in detail
    assert "12250 psi gives 78400 lbf" in detail


@pytest.mark.parametrize(
    ("given", "minimum"),
    [
        # 95 % of 69,000 psi is 65,550: the target has 65,348.5, 12,250 psi has 65,683.6, 12,000 has 64,343.2
        ({"yield_strength": "69000 psi"}, "stud_overstressed"),
        # the target pulls 97,500 lbf, 12,250 psi pulls 98,000
        ({"machine": tensioner(load_rating="97800 lbf")}, "load_rating_exceeded"),
    ],
)
def test_where_the_nearest_mark_fails_a_limit_the_other_is_tried(
    client: FlaskClient, given: dict[str, Any], minimum: str
) -> None:
    answer = ask(client, **given)
    assert answer["gauge_setting"]["value"] == 12_000
    (told,) = [each for each in answer["findings"] if each["code"] == "nearest_mark_not_used"]
    assert "12250 psi, fails a limit" in told["text"]
    assert codes(client, **given, preload_minimum="77000 lbf") == {minimum}


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"machine": tensioner(load_rating="97499 lbf")}, {"load_rating_exceeded"}),
        ({"yield_strength": "68787 psi"}, {"stud_overstressed"}),  # 0.95 * 68,787 = 65,347.7 < 65,348.5
        ({"machine": relief(12000, 12500)}, {"capacity_exceeded", "setting_not_below_relief"}),
        ({"machine": relief(12250, 12500), "preload_minimum": "77000 lbf"}, {"setting_not_below_relief"}),
        ({"machine": rated(21000, 20000)}, {"relief_above_rating"}),
        ({"machine": rated(12000, 22000)}, {"capacity_exceeded", "relief_above_rating"}),
        ({"machine": tensioner(lowest_setting="12251 psi")}, {"below_lowest_setting"}),
        (
            {"machine": tensioner(gauges=dial(span="12000 psi"))},
            {"above_gauge", "capacity_exceeded", "relief_above_rating"},
        ),
        ({"machine": "bench-9"}, {"unknown_machine"}),
        ({"machine": "north-bay-2"}, {"gives_no_preload"}),
        ({"machine": torque_machine()}, {"gives_no_preload"}),
        ({"preload_minimum": "78001 lbf"}, {"window_out_of_order"}),
        ({"preload_maximum": "77999 lbf"}, {"window_out_of_order"}),
        ({"machine": "bench-1", "preload_maximum": "77999 lbf"}, {"gives_no_preload", "window_out_of_order"}),
        # no mark, and the stud would not bear the target either
        (
            {"yield_strength": "60000 psi", "preload_minimum": "77000 lbf", "preload_maximum": "78300 lbf"},
            {"no_mark_in_window", "stud_overstressed"},
        ),
    ],
)
def test_refusal_with_every_reason(client: FlaskClient, given: dict[str, Any], expected: set[str]) -> None:
    assert codes(client, **given) == expected


@pytest.mark.parametrize(
    ("given", "place", "code"),
    [
        ({"preload_target": None}, "/preload_target", "missing_field"),
        ({"load_loss_factor": None}, "/load_loss_factor", "missing_field"),
        ({"stress_area": None}, "/stress_area", "missing_field"),
        ({"yield_strength": None}, "/yield_strength", "missing_field"),
        ({"load_loss_factor": 0.99}, "/load_loss_factor", "out_of_range"),
        ({"load_loss_factor": 2.01}, "/load_loss_factor", "out_of_range"),
        ({"load_loss_factor": "1,25"}, "/load_loss_factor", "decimal_comma"),
        ({"preload_target": 78_000}, "/preload_target", "bare_number"),
        ({"preload_target": "78000 psi"}, "/preload_target", "wrong_kind"),
        ({"preload_target": "78000 ft-lb"}, "/preload_target", "wrong_kind"),
        ({"preload_target": "0 lbf"}, "/preload_target", "out_of_range"),
        ({"stress_area": "1.492 in"}, "/stress_area", "wrong_kind"),
        ({"yield_strength": "105 psi"}, "/yield_strength", "out_of_range"),
        ({"torque_target": "100 ft-lb"}, "/torque_target", "unknown_field"),
        ({"machine": tensioner(torque_rating="1000 ft-lb")}, "/machine/torque_rating", "unknown_field"),
        ({"machine": tensioner(load_rating="100 psi")}, "/machine/load_rating", "wrong_kind"),
        (
            {"machine": tensioner(rated_pressure={"hoses": "1 bar"})},
            "/machine/rated_pressure/tensioner",
            "missing_field",
        ),
    ],
)
def test_fields_refused(client: FlaskClient, given: dict[str, Any], place: str, code: str) -> None:
    (error,) = post(client, **given).get_json()["errors"]
    assert (error["pointer"], error["code"]) == (place, code)


DAY = {"as_of": "2026-11-24"}


@pytest.mark.parametrize(
    ("changed", "given", "code", "cautioned"),
    [
        ({}, DAY, set(), set()),
        ({}, {}, {"as_of_required"}, set()),
        ({}, {"as_of": "2027-01-16"}, {"calibration_overdue"}, {"calibration"}),
        ({"status": "draft"}, DAY, {"profile_is_draft"}, {"profile_status"}),
        ({"effective_from": "2026-12-01"}, DAY, {"profile_not_in_force"}, {"profile_dates"}),
    ],
)
def test_an_unfit_profile_is_refused_or_found(
    client: FlaskClient, changed: dict[str, str], given: dict[str, str], code: set[str], cautioned: set[str]
) -> None:
    machine = tensioner(**changed)
    strict = create_app(Settings(policy=REFUSING)).test_client()
    assert codes(strict, machine=machine, **given) == code
    answer = ask(client, machine=machine, **given)
    found = verdicts(answer)
    names = ("profile_status", "profile_dates", "calibration")
    assert {name for name in names if found.get(name) == "caution"} == cautioned
    stops = {each["code"] for each in answer["findings"] if each["level"] == "stop"}
    assert stops == code - {"as_of_required"}


@pytest.mark.parametrize(
    ("given", "name", "verdict"),
    [
        # in the worst case the gauge is 300 psi off: 12,550 psi pulls 100,400 lbf, leaves 80,320
        ({}, "load_rating_worst_case", "pass"),
        ({"machine": tensioner(load_rating="100399 lbf")}, "load_rating_worst_case", "caution"),
        ({"machine": tensioner(load_rating="100400 lbf")}, "load_rating_worst_case", "pass"),
        # 100,400 / 1.492 = 67,292.2 psi; / 0.95 = 70,833.9
        ({"yield_strength": "70833 psi"}, "stud_stress_worst_case", "caution"),
        ({"yield_strength": "70835 psi"}, "stud_stress_worst_case", "pass"),
        # at full relief flow 20,500 * 8 / 1.492 = 109,919.6 psi; / 0.95 = 115,704.8
        ({}, "stud_stress_at_relief", "caution"),
        ({"yield_strength": "115704 psi"}, "stud_stress_at_relief", "caution"),
        ({"yield_strength": "115705 psi"}, "stud_stress_at_relief", "pass"),
        ({}, "preload_maximum_worst_case", "not_checked"),
        ({"preload_maximum": "80319 lbf"}, "preload_maximum_worst_case", "caution"),
        ({"preload_maximum": "80320 lbf"}, "preload_maximum_worst_case", "pass"),
        # 11,950 psi leaves 76,480 lbf
        ({}, "preload_minimum_worst_case", "not_checked"),
        ({"preload_minimum": "76481 lbf"}, "preload_minimum_worst_case", "caution"),
        ({"preload_minimum": "76480 lbf"}, "preload_minimum_worst_case", "pass"),
        ({}, "gauge_working_range", "pass"),
    ],
)
def test_what_may_go_wrong_in_the_worst_case_is_found(
    client: FlaskClient, given: dict[str, Any], name: str, verdict: str
) -> None:
    answer = ask(client, **given)
    assert verdicts(answer)[name] == verdict
    found = [each for each in answer["findings"] if each["code"] == name]
    assert [each["level"] for each in found] == (["look"] if verdict == "caution" else [])


@pytest.mark.parametrize(("factor", "said"), [(1.0, True), (1.09, True), (1.1, False), (1.25, False)])
def test_a_small_load_loss_factor_is_found(client: FlaskClient, factor: float, said: bool) -> None:
    findings = ask(client, load_loss_factor=factor)["findings"]
    assert any(each["code"] == "load_loss_factor_low" for each in findings) == said


def test_the_working_leads_from_preload_to_pressure(client: FlaskClient) -> None:
    steps = {step["symbol"]: step["value"]["value"] for step in ask(client, steps=True)["steps"]}
    assert steps == {"F": 78_000, "LTF": 1.25, "A": 8, "F_tool": 97_500, "p": 12_187.5}


def test_a_table_of_studs(client: FlaskClient) -> None:
    """78,000 lbf as kN in the header's unit; one stud too weak, one machine that turns."""
    text = (
        "stud,machine,preload_target [kN],load_loss_factor,stress_area [mm2],yield_strength [MPa]\n"
        "S-1,bench-2,300,1.2,962.6,724\nS-2,bench-2,300,1.2,962.6,350\nS-3,bench-1,300,1.2,962.6,724\n"
    )
    answer = client.post(f"{PATH}/batch", data=text, content_type="text/csv")
    first, second, third = csv.DictReader(io.StringIO(answer.text, newline=""))
    # 360 kN over 6 in2
    assert float(first["result.pressure"]) == pytest.approx(360_000 / LBF / 6, rel=1e-9)
    assert (first["result.gauge_setting"], first["result.gauge_setting.unit"]) == ("13400.0", "psi")
    assert (second["problem_code"], third["problem_code"]) == ("stud_overstressed", "gives_no_preload")


def test_a_cell(client: FlaskClient) -> None:
    """12,187.5 * 8 / 6 = 16,250 psi on bench-2; 16,200 psi leaves 16,200 * 6 / 1.25 = 77,760 lbf."""
    asked = {**QUESTION, "machine": "bench-2", "format": "text", "answer": "preload_at_gauge_setting"}
    assert client.get(PATH, query_string={**asked, "unit": "lbf"}).text == "77760"
    kilonewtons = client.get(PATH, query_string={**asked, "unit": "kN"}).text
    assert float(kilonewtons) == pytest.approx(77_760 * LBF / 1000, rel=1e-9)
