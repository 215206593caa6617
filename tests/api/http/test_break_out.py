"""A break-out over HTTP: what to expect and where to stop, worked by hand from areas and levers.

The example machine breaks a right-hand thread out with the rod side of a 5 in bore, 2.5 in rod:
pi/4 (25 - 6.25) = 14.726216 in2 on an arm of 36 in; 30 psi are lost. At 0.95 it gives 41.969716 ft-lb/psi,
at its highest efficiency of 0.98 it gives 43.295075. It makes up with the cap side: 19.634954 in2,
55.959619 ft-lb/psi. Its break-out dial ends at 5000 psi with a mark every 100.
"""

import json
from math import pi
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED
from machines import profile as machine
from policies import policy_file
from rows import every_row

from api.app import create_app
from api.settings import Settings

PATH = "/v1/pressure"
DEMO_MACHINES = Path(__file__).parents[3] / "deploy" / "demo" / "machines"
ROD = pi / 4 * (25 - 6.25)
OUT, OUT_HIGH, UP = 36 / 12 * 0.95 * ROD, 36 / 12 * 0.98 * ROD, 36 / 12 * 0.95 * pi / 4 * 25
BREAK_OUT = {**STATED, **JOB, "operation": "break_out", "break_out_ratio": 1.3}


def post(client: FlaskClient, **given: Any) -> Any:
    asked = {**BREAK_OUT, "machine": machine(), **given}
    return client.post(PATH, json={name: value for name, value in asked.items() if value is not None})


def ask(client: FlaskClient, **given: Any) -> Any:
    answer = post(client, **given)
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def codes(answer: Any) -> list[str]:
    return [finding["code"] for finding in answer["findings"]]


def marks(answer: Any) -> tuple[float, float, float]:
    low, likely, high = (answer["expected"][name] for name in ("low", "likely", "high"))
    assert low["unit"] == likely["unit"] == high["unit"]
    return low["value"], likely["value"], high["value"]


def test_constants_by_hand() -> None:
    assert pytest.approx(41.969716, rel=1e-7) == OUT
    assert pytest.approx(43.295075, rel=1e-7) == OUT_HIGH
    assert pytest.approx(55.959619, rel=1e-7) == UP


@every_row(
    ("made_up", "ratio", "torques", "psi", "dial"),
    [
        # 26,000 / 41.969716 + 30 = 649.49: down to 600, nearest 600, up to 700
        ("20000 ft-lb", 1.3, (26000, 26000, 26000), 649.494, (600, 600, 700)),
        # 20,000: 506.53; 26,000: 649.49; 32,000: 792.45
        ("20000 ft-lb", "1.0/1.3/1.6", (20000, 26000, 32000), 649.494, (500, 600, 800)),
        # 10,000: 268.27; 25,000: 625.67; 40,000: 983.07
        ("25000 ft-lb", "0.4/1.0/1.6", (10000, 25000, 40000), 625.668, (200, 600, 1000)),
        # 27.116 kN.m is 20,000 ft-lb
        ("27.116359 kN.m", 1.2, (24000, 24000, 24000), 601.841, (600, 600, 700)),
    ],
)
def test_expected_from_a_recorded_torque(
    client: FlaskClient,
    made_up: str,
    ratio: Any,
    torques: tuple[float, float, float],
    psi: float,
    dial: tuple[float, float, float],
) -> None:
    answer = ask(client, made_up_torque=made_up, break_out_ratio=ratio)
    found = tuple(answer["break_out_torque"][name]["value"] for name in ("low", "likely", "high"))
    assert found == pytest.approx(torques, rel=1e-6)
    assert answer["pressure"]["value"] == pytest.approx(psi, abs=0.001)
    assert marks(answer) == dial
    assert answer["cylinder_side"] == "rod"
    assert answer["gauge"] == "EX-2"
    assert "made_up_torque" not in {each["field"] for each in answer["assumptions"]}


def test_expected_in_bar(client: FlaskClient) -> None:
    """100 mm bore, 56 mm rod, 0.6 m, 0.93; 3 bar lost and 2 bar of return on the cap side.

    Rod side pi/4 (0.1^2 - 0.056^2) = 5.391052e-3 m2, cap side 7.853982e-3 m2. 12,500 N.m x 1.3 = 16,250:
    / (0.6 x 0.93) = 29,121.9 N; + 7.853982e-3 x 200,000 = 30,692.7 N; / 5.391052e-3 = 56.9326 bar; + 3 =
    59.933 bar. At 1.0 12,500 N.m: 47.467 bar; at 1.6 20,000: 72.398. The dial has a mark every 5 bar.
    """
    asked = {"machine": "south-bay-1", "made_up_torque": "12.5 kN.m", "torque_target": "12.5 kN.m"}
    answer = ask(client, **asked, break_out_ratio="1.0/1.3/1.6", units="si", pressure_unit="bar")
    assert answer["pressure"]["value"] == pytest.approx(59.933, abs=0.001)
    assert marks(answer) == (45, 60, 75)
    assert answer["expected"]["likely"]["unit"] == "bar"
    assert answer["break_out_torque"]["likely"] == {"value": 16250, "unit": "N.m"}


def test_expected_from_the_mark_that_would_be_set(client: FlaskClient) -> None:
    """20,000 ft-lb: 20,000 / 55.959619 + 30 = 387.4 psi, nearest mark 380: 350 x 55.959619 = 19,585.9 ft-lb.

    1.3 times that is 25,461.6 ft-lb: 636.67 psi.
    """
    answer = ask(client)
    assert answer["break_out_torque"]["likely"]["value"] == pytest.approx(1.3 * 350 * UP, rel=1e-9)
    assert answer["pressure"]["value"] == pytest.approx(636.666, abs=0.001)
    (assumed,) = (each for each in answer["assumptions"] if each["field"] == "made_up_torque")
    assert assumed["value"] == "that at 380 psi"
    # with a window the make-up is aimed inside it: 19,000 to 22,000 sets a higher mark, so more is expected
    aimed = ask(client, **WINDOW)
    mark = client.post(PATH, json={**STATED, **WINDOW, **JOB, "machine": machine()}).get_json()
    assert mark["torque_at_gauge_setting"]["value"] > 350 * UP
    assert aimed["break_out_torque"]["likely"]["value"] == pytest.approx(
        1.3 * mark["torque_at_gauge_setting"]["value"], rel=1e-8
    )


def test_where_this_machine_cannot_make_it_up_the_target_stands_in(client: FlaskClient) -> None:
    coarse = machine(gauges__make_up__division="750 psi", gauges__make_up__span="3000 psi")
    answer = ask(client, machine=coarse)
    assert answer["break_out_torque"]["likely"]["value"] == pytest.approx(26000)
    (assumed,) = (each for each in answer["assumptions"] if each["field"] == "made_up_torque")
    assert assumed["value"] == "the target torque"


WINDOW = {"torque_minimum": "19900 ft-lb", "torque_maximum": "22000 ft-lb"}


def test_where_both_ends_are_known_the_middle_of_the_window_stands_in(client: FlaskClient) -> None:
    """(19,900 + 22,000) / 2 = 20,950 ft-lb, times 1.3 27,235: 678.92 psi. A mark every 750 psi."""
    coarse = machine(gauges__make_up__division="750 psi", gauges__make_up__span="3000 psi")
    answer = ask(client, machine=coarse, **WINDOW)
    assert answer["break_out_torque"]["likely"]["value"] == pytest.approx(27235)
    assert answer["pressure"]["value"] == pytest.approx(678.92, abs=0.01)
    (assumed,) = (each for each in answer["assumptions"] if each["field"] == "made_up_torque")
    assert assumed["value"] == "the middle of the window"


def test_nothing_is_set(client: FlaskClient) -> None:
    answer = ask(client)
    of_a_make_up = {
        "gauge_setting", "torque_at_gauge_setting", "aim", "probability_in_window",
        "probability_below_minimum", "probability_above_maximum", "torque_lower_bound", "torque_upper_bound",
        "neighbouring_marks", "uncertainty",
    }  # fmt: skip
    assert of_a_make_up & (answer.keys() | answer["reasons"].keys()) == set()
    assert answer["do_not_exceed"]["unit"] == "psi"
    assert "Stop at" in answer["if_it_does_not_move"]


PULL_GAUGE = {
    "serial": "L-1", "span": "20000 lbf", "division": "200 lbf", "accuracy_percent_of_span": 1.0,
    "connected_at": "work_port",
}  # fmt: skip


def line(gauge: dict[str, Any] = PULL_GAUGE, **changed: Any) -> dict[str, Any]:
    """A line on an arm of 4 ft, without a relief valve: 4 ft-lb for each lbf."""
    return {
        "id": "line-1", "kind": "line_pull", "revision": "1", "status": "approved", "approved_by": "x",
        "approved_on": "2026-01-15", "arm_radius": "48 in",
        "efficiency": {"low": 0.97, "nominal": 1.0, "high": 1.0},
        "rated_pull": {"line": "18000 lbf", "cell": "20000 lbf"}, "largest_pull": "15000 lbf",
        "lowest_pull": "500 lbf", "torque_rating": "65000 ft-lb",
        "outside_diameter": {"minimum": "4 in", "maximum": "12 in"},
        "gauges": {"make_up": gauge, "break_out": gauge}, **changed,
    }  # fmt: skip


NC38 = {
    "family": "rotary_shouldered", "connection": "NC38", "component": "tool_joint",
    "box_outside_diameter": "4 3/4 in", "pin_bore": "2 11/16 in",
    "torque_target": None, "torque_source": None, "made_up_torque": "10000 ft-lb",
}  # fmt: skip
GRIPPING = {
    "jaws": {"rated_squeeze": "300000 lbf"},
    "grip_supply": "separate",
    "grip_cylinder": {
        "bore": "12 in", "rod": "3 in", "squeezing_side": "cap", "stroke": "18 in", "open_diameter": "10 in",
        "travel_per_diameter": 2.4, "efficiency": 0.85, "rated_pressure": "5000 psi",
    },
}  # fmt: skip

CALIBRATED = {
    **json.loads((DEMO_MACHINES / "south-bay-9.json").read_text("utf-8")),
    "relief": {"lowest": "400 psi", "highest": "2900 psi", "override": "60 psi"},
}
GRIPPED = {
    "machine": machine(**GRIPPING),
    "gripped_outside_diameter": "6.5 in",
    "made_up_torque": "10000 ft-lb",
}

SMALL_DIAL = machine(gauges__break_out__span="800 psi")
FAR = "0.9/1.3/5.0"
"""Ratios whose high expectation lies beyond every limit: then relief is set as high as the machine bears."""
WEAK_LINE = {"line": "13000 lbf", "cell": "20000 lbf"}
LAST_KNOWN = "last reading at which the torque is known"
LIMITS = [
    # relief for 25,461.6 ft-lb, 636.7 psi, 700 on the dial: 770, so 800, which lets 727.3 through
    ({"break_out_ratio": 1.3}, 700, "relief"),
    # for 1.6 times that, 776.7 psi, 800 on the dial: 880, so 900: 818.2
    ({"break_out_ratio": "1.0/1.3/1.6"}, 800, "relief"),
    # 60,000 / 43.295075 + 30 = 1415.8 psi less 100 of override: relief cracks at 1300; 10 % below it 1181.8
    ({}, 1100, "relief window"),
    # the valve is set no higher than 1200 psi: 1090.9
    ({"machine": machine(relief__highest="1200 psi")}, 1000, "relief window"),
    # and if it is fixed there
    ({"machine": machine(relief={"cracking": "1200 psi", "full_flow": "1250 psi"})}, 1000, "relief window"),
    # hoses for 1000 psi: relief at 900, 818.2
    ({"machine": machine(rated_pressure__hoses="1000 psi")}, 800, "relief window"),
    # a dial of 800 psi: relief at 700, 636.4; 18,000 x 1.3: 587.5
    ({"machine": SMALL_DIAL, "made_up_torque": "18000 ft-lb"}, 600, "relief window"),
    # a line: 15,000 lbf of the largest pull, before 65,000 / 4 = 16,250
    ({"machine": line()}, 15000, "largest line pull"),
    # 50,300 / 4 = 12,575 lbf
    ({"machine": line(torque_rating="50300 ft-lb")}, 12400, "torque rating"),
    # the line itself for 13,000 lbf
    ({"machine": line(rated_pull=WEAK_LINE, largest_pull="13000 lbf")}, 13000, "largest line pull"),
    ({"machine": line({**PULL_GAUGE, "span": "12000 lbf"})}, 12000, "gauge"),
    # torsional yield 18,071 ft-lb (published): / 43.295075 + 30 = 447.4 psi
    (NC38, 400, "torsional yield of the joint"),
    # 300,000 lbf x 0.4 x 3.25 in / 12 / 1.5 = 21,666.7 ft-lb: 530.4 psi; likely 13,000: 339.7
    ({**GRIPPED, "grip_friction": 0.4, "grip_margin": 1.5}, 500, "grip"),
    # without a margin of its own: 32,500 ft-lb, 780.7 psi
    ({**GRIPPED, "grip_friction": 0.4, "grip_margin": 1.0}, 700, "grip"),
    # half the friction: 10,833.3 ft-lb, 280.2 psi
    ({**GRIPPED, "grip_friction": 0.2, "grip_margin": 1.5, "made_up_torque": "5000 ft-lb"}, 200, "grip"),
    # known of a calibrated machine up to 2500 psi; relief at 2900 would let 2636 through
    ({"machine": CALIBRATED, "made_up_torque": "30000 ft-lb"}, 2500, LAST_KNOWN),
]  # fmt: skip


@every_row(("given", "limit", "basis"), LIMITS)
def test_do_not_exceed(client: FlaskClient, given: dict[str, Any], limit: float, basis: str) -> None:
    answer = ask(client, **{"break_out_ratio": FAR, **given})
    assert answer["do_not_exceed"]["value"] == limit
    assert answer["do_not_exceed_basis"] == f"set by the {basis}"
    assert answer["if_it_does_not_move"].startswith(f"Stop at {limit:g} ")
    assert f"set by the {basis}." in answer["if_it_does_not_move"]


@pytest.mark.parametrize(("margin", "limit"), [(0.0, 1200), (0.05, 1200), (0.2, 1000)])
def test_do_not_exceed_follows_the_relief_margin_of_the_shop(margin: float, limit: float) -> None:
    """Relief at 1300 psi lets what is below it, 1238 and 1083 psi through with such a margin."""
    shop = create_app(Settings(policy=policy_file(relief_margin=margin))).test_client()
    assert ask(shop, break_out_ratio=FAR)["do_not_exceed"]["value"] == limit


def test_refused_where_even_the_likely_one_is_beyond(client: FlaskClient) -> None:
    """Stop at 1100 psi, which gives 1070 x 41.969716 = 44,907.6 ft-lb: over 1.3 that is 34,544.3 made up."""
    assert "break_out_beyond" not in codes(ask(client, made_up_torque="34544 ft-lb"))
    refused = post(client, made_up_torque="34545 ft-lb")
    (error,) = refused.get_json()["errors"]
    assert (refused.status_code, error["code"]) == (422, "break_out_beyond_machine")
    assert "1100 psi" in error["detail"]
    assert "machine-choice" in error["accepted"]


def test_where_only_the_high_one_is_beyond_it_is_a_finding(client: FlaskClient) -> None:
    """1.6 x 34,000 = 54,400 ft-lb is beyond 44,907.6; 1.3 x 34,000 = 44,200 is not."""
    answer = ask(client, made_up_torque="34000 ft-lb", break_out_ratio="1.0/1.3/1.6")
    (found,) = (each for each in answer["findings"] if each["code"] == "break_out_beyond")
    assert found["level"] == "look"
    assert found["step"] == "break_out"
    assert found["value"]["value"] == pytest.approx(54400, rel=1e-9)
    assert found["limit"]["value"] == pytest.approx(1070 * OUT, rel=1e-9)
    # 1.6 x 28,000 = 44,800: within
    within = ask(client, made_up_torque="28000 ft-lb", break_out_ratio="1.0/1.3/1.6")
    assert "break_out_beyond" not in codes(within)


@pytest.mark.parametrize(("target", "beyond"), [(34000, False), (35000, True)])
def test_a_make_up_that_this_machine_may_not_break_out(
    client: FlaskClient, target: float, beyond: bool
) -> None:
    """Made up at the nearest mark of 20 psi. It stops at 44,907.6 ft-lb, which over 1.3 is 34,544.3 ft-lb.

    34,000: 637.6 psi, 640: 34,135. 35,000: 655.5 psi, 660: 35,254.6, times 1.3 45,830.9.
    """
    given = {"operation": "make_up", "torque_target": f"{target} ft-lb"}
    answer = ask(client, **given)
    found = [each for each in answer["findings"] if each["code"] == "break_out_beyond"]
    assert bool(found) == beyond
    if found:
        assert found[0]["level"] == "look"
        assert found[0]["value"]["value"] == pytest.approx(1.3 * 630 * UP, rel=1e-9)
        assert found[0]["limit"]["value"] == pytest.approx(1070 * OUT, rel=1e-9)
    # and it is so: the break-out of what was made up is answered or refused
    made_up = answer["torque_at_gauge_setting"]
    refused = post(client, made_up_torque=made_up).status_code == 422
    assert refused == beyond
    without = ask(client, **given, break_out_ratio=None)
    assert "break_out_beyond" not in codes(without)
    assert without["break_out_torque"] is None


def test_the_ratio_is_required_or_the_policy_of_the_shop(client: FlaskClient) -> None:
    refused = post(client, break_out_ratio=None)
    assert (refused.status_code, refused.get_json()["code"]) == (422, "break_out_ratio_required")
    shop = create_app(Settings(policy=policy_file(break_out_ratio="1.0/1.3/1.6"))).test_client()
    answer = ask(shop, break_out_ratio=None, made_up_torque="20000 ft-lb")
    assert marks(answer) == (500, 600, 800)
    (assumed,) = (each for each in answer["assumptions"] if each["field"] == "break_out_ratio")
    assert assumed["value"] == "1/1.3/1.6"
    # that of the request counts before it, and then nothing is assumed
    own = ask(shop, break_out_ratio=1.2, made_up_torque="20000 ft-lb")
    assert marks(own) == (600, 600, 700)
    assert "break_out_ratio" not in {each["field"] for each in own["assumptions"]}


def test_a_recorded_torque_is_that_of_a_break_out_alone(client: FlaskClient) -> None:
    refused = post(client, operation="make_up", made_up_torque="20000 ft-lb")
    assert (refused.status_code, refused.get_json()["code"]) == (422, "made_up_already")


def test_a_higher_ratio_never_makes_a_break_out_possible(client: FlaskClient) -> None:
    """An NC38 collar on a dial of 100 psi: the ratio moves what is expected, not whether it is answered.

    9,986 ft-lb made up (published): 1.2 is 11,983 ft-lb on the cap side, 55.959619 ft-lb/psi: 244.1 psi.
    1.3: 262.0; 1.4: 279.8; 1.5: 297.7.
    """
    collar = {
        "family": "rotary_shouldered", "connection": "NC38", "component": "drill_collar",
        "box_outside_diameter": "4 3/4 in", "pin_bore": "2 1/4 in", "machine": "north-bay-2",
        "torque_target": None, "torque_source": None, "made_up_torque": "9986.4 ft-lb",
    }  # fmt: skip
    expected = {
        1.2: (244.1, 200, 300),
        1.3: (262.0, 300, 300),
        1.4: (279.8, 300, 300),
        1.5: (297.7, 300, 300),
    }
    for ratio, (psi, likely, high) in expected.items():
        answer = ask(client, **collar, break_out_ratio=ratio)
        assert answer["pressure"]["value"] == pytest.approx(psi, abs=0.1)
        assert marks(answer) == (200, likely, high)
        # yield of the joint at the highest efficiency
        assert answer["do_not_exceed"]["value"] == 300
        assert answer["do_not_exceed_basis"] == "set by the torsional yield of the joint"


def test_a_calibrated_machine_whose_low_expectation_lies_below_its_points(client: FlaskClient) -> None:
    """South-bay-9 is known from 14,300 ft-lb at 500 psi on: 13,000 lies below, 16,900 at 583.3 psi.

    500 + 500 (16,900 - 14,300) / (29,900 - 14,300) = 583.3; 20,800: 708.3. Marks every 50 psi.
    """
    given = {"machine": "south-bay-9", "torque_target": "13000 ft-lb", "made_up_torque": "13000 ft-lb"}
    answer = ask(client, **given, break_out_ratio="1.0/1.3/1.6")
    assert marks(answer) == (500, 600, 750)
    assert answer["pressure"]["value"] == pytest.approx(583.333, abs=0.001)
    assert "expected.low" in {each["field"] for each in answer["assumptions"]}
    refused = post(client, **{**given, "made_up_torque": "60000 ft-lb"})
    assert refused.get_json()["code"] == "outside_calibration"


def test_relief_of_a_break_out_lets_the_high_expectation_through(client: FlaskClient) -> None:
    """32,000 ft-lb: 792.45 psi, 800 on the dial; 10 % above that 880, up to the next mark 900 psi."""
    answer = ask(client, made_up_torque="20000 ft-lb", break_out_ratio="1.0/1.3/1.6")
    relief = answer["relief"]
    assert relief["lower"]["value"] == pytest.approx(880, rel=1e-9)
    assert relief["set_to"] == {"value": 900, "unit": "psi"}
    assert relief["upper_machine"]["value"] == pytest.approx(60000 / OUT_HIGH + 30 - 100, rel=1e-9)
