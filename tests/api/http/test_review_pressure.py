"""Jobs of a shop put to its machines, each worked by hand: what a foreman would set, expect or refuse.

Machines give, at nominal efficiency, for each psi above what is lost: north-bay-1 20 in x 0.95 x 7.0686 in2
/ 12 = 11.191924 ft-lb (cap); north-bay-2 41.969716 (rod) and 55.959619 (cap); south-bay-3 35.814158 (rod);
south-bay-8 41.783182; south-bay-4, gripping 8 in, 44.828 in x 0.95 x 28.274334 in2 / 12 = 100.342 (cap).
"""

import json
from math import pi, sqrt
from statistics import NormalDist
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from machine_kinds import DEMO
from machines import JOB
from policies import policy_file
from rows import every_row

from api.app import create_app
from api.settings import Settings

PRESSURE, DELIVERED = "/v1/pressure", "/v1/delivered-torque"
COLLAR = {"family": "rotary_shouldered", "component": "drill_collar", **JOB}
NC38 = {**COLLAR, "connection": "NC38", "box_outside_diameter": "4 3/4 in", "pin_bore": "2 1/4 in"}
NC46 = {**COLLAR, "connection": "NC46", "box_outside_diameter": "6 1/4 in", "pin_bore": "2 13/16 in"}
NC50 = {**COLLAR, "connection": "NC50", "box_outside_diameter": "6 1/2 in", "pin_bore": "2 13/16 in"}
REG = {**COLLAR, "connection": "6-5/8 REG", "box_outside_diameter": "8 in", "pin_bore": "2 13/16 in"}
WORN = {
    **COLLAR, "component": "tool_joint", "connection": "NC50", "box_outside_diameter": "5 3/8 in",
    "pin_bore": "3 1/4 in",
}  # fmt: skip
STATED = {"family": "stated", "torque_source": "invented", **JOB}
NARROW = {
    **STATED, "torque_target": "30000 ft-lb", "torque_minimum": "27000 ft-lb",
    "torque_maximum": "30500 ft-lb",
}  # fmt: skip


def ask(client: FlaskClient, asked: dict[str, Any], path: str = PRESSURE, **given: Any) -> Any:
    answer = client.post(path, json={**asked, **given})
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def refused(client: FlaskClient, asked: dict[str, Any], **given: Any) -> dict[str, Any]:
    answer = client.post(PRESSURE, json={**asked, **given})
    assert answer.status_code == 422, answer.text
    return dict(answer.get_json()["errors"][0])


def found(answer: Any) -> dict[str, Any]:
    return {each["code"]: each for each in answer["findings"]}


SETTINGS = [
    # number of the job, asked, torque of the joint, mark, torque there, side
    # 1: 29,679 is the minimum, the maximum 10 % above: 750 psi, 720 x 41.969716
    (1, {**NC50, "machine": "north-bay-2"}, 29679, 750, 30218, "rod"),
    # 2: 940 psi was nearest; 960 is 1.84 and 2.5 uncertainties inside, 930 x 11.191924
    (2, {**NC38, "machine": "north-bay-1"}, 9986, 960, 10408, "cap"),
    # 3: measured 19,150 at 500 psi and 39,950 at 1000: 100 x 41.6 more
    (3, {**NC46, "machine": "south-bay-9"}, 22426, 600, 23310, "cap"),
    # 4: 560 x 100.342
    (4, {**REG, "machine": "south-bay-4"}, 53346, 590, 56192, "cap"),
    # 18: 0.6 m x 0.93 (7.853982e-3 m2 x 99 bar - 5.391052e-3 x 2 bar) = 42,786 N.m = 31,557 ft-lb
    (18, {**STATED, "torque_target": "43 kN.m", "machine": "south-bay-1"}, 31715, 102, 31557, "cap"),
    # 20: 12.98 kN.m at 34 bar; at 32 it was 12.11 kN.m
    (20, {**STATED, "torque_target": "12.5 kN.m", "torque_minimum": "12 kN.m", "torque_maximum": "13.5 kN.m",
          "machine": "south-bay-1"}, 9220, 34, 9577, "cap"),
    # 26: 2,302 by 1 % of pull-out; 210 x 11.191924
    (26, {**JOB, "family": "round_thread", "size": "2 7/8 in", "weight": "6.5 lb/ft", "pipe_grade": "N80",
          "thread_type": "EUE", "machine": "north-bay-1"}, 2302, 240, 2350, "cap"),
    # 27: 210 x 41.783182
    (27, {**JOB, "family": "round_thread", "size": "9 5/8 in", "weight": "47 lb/ft", "pipe_grade": "L80",
          "thread_type": "LTC", "machine": "south-bay-8"}, 8925, 240, 8774, "cap"),
    # 37: a pair of cylinders, 41.783182 x (1240 - 30)
    (37, {**COLLAR, "connection": "NC56", "box_outside_diameter": "7 3/4 in", "pin_bore": "2 13/16 in",
          "machine": "south-bay-8"}, 48221, 1240, 50558, "cap"),
    # 39: 24 in3 / (2 pi) x 60 x 0.82 x 0.94 / 12 = 14.7212 ft-lb/psi, 20 psi of return
    (39, {**NC38, "machine": "north-bay-8"}, 9986, 740, 10599, "absent"),
    # 40: 4 ft-lb for each lbf of line
    (40, {**NC50, "machine": "yard-1"}, 29679, 8000, 32000, "absent"),
]  # fmt: skip


@every_row(("number", "asked", "target", "mark", "torque", "side"), SETTINGS, ids=lambda row: f"job {row[0]}")
def test_settings(
    client: FlaskClient,
    number: int,
    asked: dict[str, Any],
    target: float,
    mark: float,
    torque: float,
    side: str,
) -> None:
    answer = ask(client, asked)
    assert answer["torque"]["target"]["value"] == pytest.approx(target, abs=1), number
    assert answer["gauge_setting"]["value"] == mark
    assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(torque, abs=1)
    assert answer.get("cylinder_side", "absent") == side
    assert "arm_position_unknown" not in found(answer)


def test_job_1_says_how_many_such_collars_are_too_loose(client: FlaskClient) -> None:
    """Of 720 psi 30 of the gauge and 12.5 of reading, over sqrt(3): 2.406 and 1.002 %; efficiency 1.823 %."""
    answer = ask(client, NC50, machine="north-bay-2")
    share = sqrt((30 / 720) ** 2 + (12.5 / 720) ** 2 + (0.03 / 0.95) ** 2) / sqrt(3)
    below = NormalDist(30218.194, 30218.194 * share).cdf(29679.371)
    assert answer["probability_below_minimum"] == pytest.approx(below, abs=1e-6)
    assert round(below, 2) == 0.29
    told = found(answer)["below_minimum_likely"]
    assert told["text"].startswith("29 of 100 such settings miss the window: 29 fall below 29680 lbf.ft.")
    assert told["step"] == "make_up"
    # and the joint has its own word: the box is the weaker
    assert found(answer)["bending_strength_ratio"]["level"] == "look"
    worst = answer["torque_lower_bound"]["value"], answer["torque_upper_bound"]["value"]
    # 0.92 and 0.98 in place of 0.95, 30 psi of the gauge
    k = 36 / 12 * pi / 4 * (25 - 6.25)
    assert worst == pytest.approx((k * 0.92 * 690, k * 0.98 * 750), rel=1e-9)


def test_collars_are_aimed_inside_their_window(client: FlaskClient) -> None:
    """At the mark nearest the minimum one in six or more would be too loose."""
    for asked, machine, most in (
        (NC38, "north-bay-1", 0.04),
        (NC46, "south-bay-9", 0.01),
        (REG, "south-bay-4", 0.01),
    ):
        answer = ask(client, asked, machine=machine)
        at_target = ask(client, asked, machine=machine, aim="target")
        assert answer["probability_below_minimum"] < most
        assert at_target["probability_below_minimum"] > 0.15
        assert at_target["gauge_setting"]["value"] < answer["gauge_setting"]["value"]
        assert answer["aim"]["reason"] != at_target["aim"]["reason"]
        assert answer["torque"]["target"] == at_target["torque"]["target"]


def test_job_5_asks_for_the_low_torque_face(client: FlaskClient) -> None:
    asked = {**COLLAR, "connection": "7-5/8 REG", "box_outside_diameter": "9 1/2 in", "pin_bore": "3 in"}
    assert refused(client, asked, machine="south-bay-4")["code"] == "low_torque_face_required"
    answer = ask(client, asked, machine="south-bay-4", low_torque_face=True)
    assert answer["torque"]["target"]["value"] == pytest.approx(86463, abs=20)


def test_job_10_a_break_out_is_expected_not_set(client: FlaskClient) -> None:
    """At the mark 30,218.2 were made up: times 1.3 39,283.7, over 55.959619 and 30 more 732.0 psi."""
    asked = {**NC50, "operation": "break_out", "machine": "north-bay-2", "break_out_ratio": 1.3}
    answer = ask(client, asked)
    assert answer["pressure"]["value"] == pytest.approx(1.3 * 30218.194 / 55.959619 + 30, abs=0.001)
    assert {name: mark["value"] for name, mark in answer["expected"].items()} == {
        "low": 700,
        "likely": 700,
        "high": 800,
    }
    assert "gauge_setting" not in answer
    assert answer["cylinder_side"] == "cap"
    # the torque that was recorded counts before it
    recorded = ask(client, asked, made_up_torque="29679.37 ft-lb")
    assert recorded["break_out_torque"]["likely"]["value"] == pytest.approx(38583.2, abs=0.1)


def test_job_11_the_ratio_may_be_the_policy_of_the_shop(app: Flask, client: FlaskClient) -> None:
    asked = {**NC50, "operation": "break_out", "machine": "north-bay-2"}
    assert refused(client, asked)["code"] == "break_out_ratio_required"
    machines = app.extensions["dialset"].settings.machines
    shop = create_app(Settings(machines=machines, policy=policy_file(break_out_ratio=1.3))).test_client()
    answer = ask(shop, asked)
    assert answer["pressure"]["value"] == pytest.approx(732.0, abs=0.1)
    assert "break_out_ratio" in {each["field"] for each in answer["assumptions"]}


def test_job_12_left_hand_names_side_and_gauge(client: FlaskClient) -> None:
    """Rod side of a 6 in bore with a 4 in rod: 15.708 of 28.274 in2."""
    asked = {**REG, "box_outside_diameter": "7 3/4 in", "pin_bore": "3 in", "machine": "south-bay-4"}
    answer = ask(client, asked, thread_hand="left")
    assert answer["cylinder_side"] == "rod"
    told = found(answer)["left_hand"]
    assert told["level"] == "look"
    assert "rod" in told["text"]
    assert "S-41" in told["text"]
    right = ask(client, asked)
    assert "left_hand" not in found(right)
    assert (answer["pressure"]["value"] - 30) / (right["pressure"]["value"] - 30) == pytest.approx(36 / 20)


OTHER_WAY = [
    ("yard-1", {**NC50}, "Lead the line to the other side of the arm"),
    ("yard-2", {**NC50}, "Lead the line to the other side of the arm"),
    ("bench-1", {**STATED, "torque_target": "1676.9 ft-lb"}, "Reverse the wrench or its drive"),
]


@pytest.mark.parametrize("operation", ["make_up", "break_out"])
@pytest.mark.parametrize(("machine", "asked", "remedy"), OTHER_WAY)
def test_a_machine_without_a_side_must_turn_the_other_way(
    client: FlaskClient, machine: str, asked: dict[str, Any], remedy: str, operation: str
) -> None:
    job = {**asked, "machine": machine, "operation": operation, "break_out_ratio": 1.1}
    told = found(ask(client, job, thread_hand="left"))["left_hand"]
    assert (told["level"], told["step"]) == ("look", operation)
    assert "must turn the other way" in told["text"]
    assert remedy in told["remedy"]
    assert "left_hand" not in found(ask(client, job))


def test_job_8_a_worn_tool_joint_stops(client: FlaskClient) -> None:
    """Shoulder left (5.375 - 5.3125) / 2 = 1/32 in."""
    answer = ask(client, WORN, machine="yard-2")
    first = answer["findings"][0]
    assert (first["level"], first["code"]) == ("stop", "worn_shoulder")
    assert first["value"] == {"value": 0.03125, "unit": "in"}


def test_job_17_a_double_shoulder_joint_between_its_rows(client: FlaskClient) -> None:
    """5.3 in lies at 0.4 of the way from 5 1/4 to 5 3/8: 16,900 + 0.4 x 1,300 = 17,420 ft-lb."""
    key = {"connection": "bay joint 40", "box_outside_diameter": "5.3 in", "pin_bore": "2 11/16 in"}
    asked = {"family": "tabulated", "table": "double-shoulder", "table_key": key, **JOB}
    answer = ask(client, asked, machine="south-bay-3", gripped_outside_diameter="5.3 in")
    assert answer["torque"]["target"]["value"] == pytest.approx(17420)
    # 17,420 / 35.814158 + 30 = 516.4 psi; the target lies in the middle of 15,680 to 19,160
    assert answer["pressure"]["value"] == pytest.approx(516.40, abs=0.01)
    assert answer["gauge_setting"]["value"] == 520


@pytest.mark.parametrize(
    ("machine", "given"),
    [("bench-1", {}), ("north-bay-8", {}), ("bench-1", {"arm_position": "unknown"})],
)
def test_jobs_30_and_39_no_word_of_an_arm_where_there_is_none(
    client: FlaskClient, machine: str, given: dict[str, Any]
) -> None:
    asked = {**STATED, "torque_target": "1676.9 ft-lb", "gripped_outside_diameter": "5 in", **given}
    if machine == "north-bay-8":
        asked["torque_target"] = "10000 ft-lb"
    del asked["arm_position"]
    answer = ask(client, asked, machine=machine, **given)
    assert all("arm" not in finding["text"] for finding in answer["findings"] if finding["step"] != "relief")
    if machine == "bench-1":
        # 0.5 ft-lb/psi: 3353.8 psi, marks every 100
        assert answer["gauge_setting"]["value"] == 3400


def test_job_38_an_unknown_position_is_looked_at_on_an_arm(client: FlaskClient) -> None:
    asked = {**STATED, "torque_target": "36000 ft-lb", "gripped_outside_diameter": "6 in"}
    answer = ask(client, asked, machine="north-bay-7", arm_position="unknown")
    assert found(answer)["arm_position_unknown"]["level"] == "look"


@pytest.mark.parametrize(
    ("length", "told"),
    [
        ("48 in", None),  # sqrt(60^2 - 36^2): square
        ("44 in", None),  # 2 x 786.64 / 44 = 35.76 in, 0.7 % below 36
        ("60 in", "4.6 % below"),  # sides 36, 60, 60 in: area 1030.25 in2, 2 x 1030.25 / 60 = 34.34 in
        ("62 in", "6.1 % below"),  # sides 36, 60, 62 in: area 1047.5 in2, 33.79 in
    ],
)
def test_an_arm_off_square_is_looked_at(client: FlaskClient, length: str, told: str | None) -> None:
    answer = ask(client, NC50, machine="north-bay-2", arm_position=length)
    finding = found(answer).get("arm_not_square")
    assert finding is None if told is None else finding["level"] == "look" and told in finding["text"]


def test_an_end_that_the_shop_does_not_accept_is_not_aimed_by_but_holds() -> None:
    """The maximum of a collar, 10 % above its minimum, is from memory: 29,679 and 32,647 ft-lb.

    South-bay-9 is calibrated, so sure that 5 of 100 below its minimum is well under the maximum.
    """
    policy = policy_file(accepted_statuses=["read", "reprint"])
    shop = create_app(Settings(machines=DEMO, policy=policy)).test_client()
    answer = ask(shop, NC50, machine="south-bay-9")
    assert answer["torque"]["maximum"] is None
    assert answer["aim"]["reason"].startswith("no maximum is known: the lowest mark")
    assert answer["probability_below_minimum"] <= 0.05
    assert answer["probability_above_maximum"] is answer["probability_in_window"] is None
    assert answer["reasons"]["probability_in_window"] == "the maximum torque is withheld"
    assert answer["relief"]["upper_joint"] is None
    # on paper alone north-bay-2 is not sure enough: 3 % to either side of its efficiency, the gauge beside it
    rough = ask(shop, NC50, machine="north-bay-2")
    at_highest = rough["torque_at_gauge_setting"]["value"] * 0.98 / 0.95
    assert at_highest <= 1.1 * 29679.371


def test_relief_is_judged_by_an_end_that_is_withheld(client: FlaskClient) -> None:
    """35,504.6 ft-lb / 43.295075 + 30 = 850.1 psi, less 40 of override 810.1: relief is set at 950.

    Full flow at 990 psi gives 960 x 43.295075 = 41,563 ft-lb, which does not hold the joint.
    """
    shop = create_app(
        Settings(machines=DEMO, policy=policy_file(accepted_statuses=["read", "reprint"]))
    ).test_client()
    asked = {**NC50, "box_outside_diameter": "6 3/4 in", "machine": "north-bay-2"}
    told, withheld = ask(client, asked), ask(shop, asked)
    assert told["relief"]["upper_joint"]["value"] == pytest.approx(810.06, abs=0.01)
    assert withheld["relief"]["upper_joint"] is None
    assert withheld["reasons"]["relief.upper_joint"].startswith("withheld: the maximum of this joint")
    for answer in (told, withheld):
        assert (answer["relief"]["set_to"]["value"], answer["relief"]["protects"]) == (950, "machine")
        assert found(answer)["limit_alone_holds"]["value"]["value"] == pytest.approx(
            960 * 43.295075, rel=1e-7
        )
    alone = found(withheld)["limit_alone_holds"]
    assert alone["limit"] is None
    assert "beyond this joint's maximum, which is withheld" in alone["text"]
    assert "relief_below_joint" not in {check["name"] for check in withheld["checks"]}


def chances(answer: Any) -> tuple[float, float]:
    """Probability below the minimum and above the maximum, by the budget of the answer."""
    budget, window = answer["uncertainty"], answer["torque"]
    mean = budget["best_estimate"]["value"]
    torque = NormalDist(mean, budget["combined_share"] * mean)
    return torque.cdf(window["minimum"]["value"]), 1 - torque.cdf(window["maximum"]["value"])


BOTH_ENDS = [
    # 460 psi gives 430 x 11.191924 = 4,812.5 ft-lb in 4,606.4 to 5,067.1: 9.8 and 5.5 of 100
    ({**COLLAR, "connection": "NC26", "box_outside_diameter": "3 1/2 in", "pin_bore": "1 1/2 in",
      "machine": "north-bay-1"}, "15 of 100 such settings miss the window: 10 fall below 4606 lbf.ft."),
    # 850 psi, 34,415 ft-lb in 32,277 to 35,505: 8.7 and 7.1 of 100
    ({**NC50, "box_outside_diameter": "6 3/4 in", "arm_position": "unknown", "machine": "north-bay-2"},
     "16 of 100 such settings miss the window: 9 fall below 32280 lbf.ft."),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "text"), BOTH_ENDS)
def test_both_ends_together_are_told_where_neither_alone_is_likely(
    client: FlaskClient, asked: dict[str, Any], text: str
) -> None:
    answer = ask(client, asked)
    below, above = chances(answer)
    assert max(below, above) < 0.10 < below + above
    told = found(answer)["below_minimum_likely"]
    assert told["text"].startswith(text)
    assert told["value"]["value"] == pytest.approx(below + above, abs=1e-6)
    assert "above_maximum_likely" not in found(answer)


def test_job_44_strokes(client: FlaskClient) -> None:
    """From 40 to 62 in the arm turns from acos(3296 / 4320) to acos(1052 / 4320), 35.63 deg: twice for 60."""
    asked = {"machine": "north-bay-2", "rotation": "60 deg", "lost_motion": "0 deg"}
    answer = client.post("/v1/stroke", json=asked).get_json()
    assert answer["rotation_per_stroke"]["value"] == pytest.approx(35.632, abs=0.001)
    assert answer["wanted"]["strokes"] == 2


def test_job_46_the_torque_of_a_reading(client: FlaskClient) -> None:
    """720 x 41.969716; 665 psi at 0.92 and 775 at 0.98: 30 psi of gauge and half a division."""
    answer = ask(client, JOB, DELIVERED, machine="north-bay-2", gauge_reading="750 psi")
    assert answer["delivered_torque"]["value"] == pytest.approx(30218, abs=1)
    assert answer["torque_lower_bound"]["value"] == pytest.approx(27029, abs=1)
    assert answer["torque_upper_bound"]["value"] == pytest.approx(33554, abs=1)


class TestTwoDials:
    """A joint of 30,000 ft-lb within 27,000 to 30,500 on a dial of 50 psi and on one of 20 psi."""

    def test_the_coarse_one(self, client: FlaskClient) -> None:
        """750 psi gives 31,172 at the highest efficiency; 700: 670 x 41.969716."""
        answer = ask(client, NARROW, machine="north-bay-2")
        assert answer["gauge_setting"]["value"] == 700
        assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(28120, abs=1)

    def test_the_fine_one_is_answered_too_and_does_better(self, client: FlaskClient) -> None:
        """860 psi is 30,664 at the highest efficiency: 830 x 35.814158 x 0.98 / 0.95."""
        answer = ask(client, NARROW, machine="south-bay-3")
        assert answer["gauge_setting"]["value"] == 840
        assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(29009, abs=1)
        at_high = {check["name"]: check for check in answer["checks"]}["joint_maximum"]["value"]["value"]
        assert at_high == pytest.approx(29925, abs=1)
        coarse = ask(client, NARROW, machine="north-bay-2")
        assert answer["probability_in_window"] > coarse["probability_in_window"]


@pytest.mark.parametrize(
    ("tolerance", "answered"),
    [
        (0.02, {"south-bay-9", "north-bay-8"}),
        (0.025, {"south-bay-9", "north-bay-8", "south-bay-3"}),
        (0.03, {"south-bay-9", "north-bay-8", "south-bay-3", "south-bay-4"}),
        (0.05, {"south-bay-9", "north-bay-8", "south-bay-3", "south-bay-4", "north-bay-2"}),
    ],
)
def test_a_narrow_window_is_refused_only_where_no_mark_holds_its_maximum(
    client: FlaskClient, tolerance: float, answered: set[str]
) -> None:
    """30,000 ft-lb: the highest of its marks at nominal efficiency 0.95 / 0.98 of the maximum, by hand.

    south-bay-3 within 30,600 at most 29,663, its mark below that 29,009, which is under 29,400; within 30,750
    at most 29,809, and its mark 29,726.
    """
    asked = {
        **STATED,
        "torque_target": "30000 ft-lb",
        "torque_tolerance": tolerance,
        "gripped_outside_diameter": "6 in",
    }
    for machine in ("south-bay-9", "north-bay-8", "south-bay-3", "south-bay-4", "north-bay-2"):
        answer = client.post(PRESSURE, json={**asked, "machine": machine})
        assert (answer.status_code == 200) == (machine in answered), machine
        if answer.status_code == 422:
            (error,) = answer.get_json()["errors"]
            assert error["code"] == "joint_maximum_exceeded"
            assert "marks every" in error["accepted"]


def north_bay_2(**changed: Any) -> dict[str, Any]:
    """That machine with a torque rating of 60,000 ft-lb."""
    given = json.loads((DEMO / "north-bay-2.json").read_text("utf-8"))
    return {**given, "torque_rating": "60000 ft-lb", **changed}


class TestReliefOfTheJob:
    """An NC50 collar on north-bay-2: 750 psi, its maximum at 784.1, the rating of the machine at 1415.8."""

    def test_it_is_set_for_the_job(self, client: FlaskClient) -> None:
        relief = ask(client, NC50, machine=north_bay_2())["relief"]
        assert relief["lower"]["value"] == pytest.approx(825)
        # 32,647.3 / 43.295075 + 30 = 784.07, less 40 of override
        assert relief["upper_joint"]["value"] == pytest.approx(784.07 - 40, abs=0.01)
        assert relief["upper_machine"]["value"] == pytest.approx(60000 / 43.295075 + 30 - 40, abs=0.01)
        assert relief["set_to"]["value"] == 850
        assert relief["protects"] == "machine"

    def test_then_the_limit_alone_holds(self, client: FlaskClient) -> None:
        """890 psi at the highest efficiency: 860 x 43.295075 = 37,233.8 ft-lb."""
        told = found(ask(client, NC50, machine=north_bay_2()))["limit_alone_holds"]
        assert told["level"] == "note"
        assert told["value"]["value"] == pytest.approx(37233.8, abs=0.1)
        assert "open grips" in told["remedy"]

    def test_a_fixed_valve_above_the_machine_is_refused(self, client: FlaskClient) -> None:
        """2500 and 2750 psi would let 117,763 ft-lb through, where the machine bears 60,000."""
        error = refused(
            client, NC50, machine=north_bay_2(relief={"cracking": "2500 psi", "full_flow": "2750 psi"})
        )
        assert error["code"] == "relief_cannot_protect"
        assert "torque rating" in error["detail"]

    def test_grip_pressure_counts_on_a_common_supply(self, client: FlaskClient) -> None:
        """1.5 x 30,218.2 x 12 / (0.4 x 3.25) = 418,405 lbf of squeeze.

        2 x 2.4 of travel x 0.85 x 50.265 in2 = 205.083 lbf for each psi: 2,040.2 psi. With 10 % 2,244.2,
        above the rating of the machine at 1,415.8 less 40.
        """
        common = north_bay_2(grip_supply="common")
        given = {"grip_friction": 0.4, "grip_margin": 1.5}
        error = refused(client, NC50, machine=common, **given)
        assert error["code"] == "relief_cannot_protect"
        assert "crack at or above 2244" in error["detail"]
        assert "the 2040.2 psi needed" in error["detail"]
        strong = {**common, "torque_rating": "150000 ft-lb"}
        relief = ask(client, NC50, machine=strong, **given)["relief"]
        assert relief["grip_pressure"]["value"] == pytest.approx(418405 / 205.08317, abs=0.01)
        assert relief["set_to"]["value"] == 2250
        separate = ask(client, NC50, machine=north_bay_2(), **given)
        assert separate["relief"]["grip_pressure"] is None


class TestTooStrictBefore:
    """Refusals that are answered now."""

    def test_numbers_with_commas_by_the_policy_of_the_shop(self, app: Flask, client: FlaskClient) -> None:
        asked = {**STATED, "torque_target": "30,000 ft-lb", "machine": "north-bay-2"}
        assert client.post(PRESSURE, json=asked).status_code == 422
        machines = app.extensions["dialset"].settings.machines
        shop = create_app(
            Settings(machines=machines, policy=policy_file(numbers="comma_thousands"))
        ).test_client()
        answer = ask(shop, asked)
        assert answer["torque"]["target"]["value"] == pytest.approx(30000)
        assert any("30,000" in json.dumps(each) for each in answer["assumptions"])
        assert client.post(PRESSURE, json={**asked, "torque_target": "30,00 ft-lb"}).status_code == 422

    @pytest.mark.parametrize("weight", ["47", "47#", "47 lb/ft"])
    def test_a_weight_is_a_label(self, client: FlaskClient, weight: str) -> None:
        asked = {
            **JOB, "family": "round_thread", "size": "9 5/8 in", "pipe_grade": "L80", "thread_type": "LTC",
            "machine": "south-bay-8", "weight": weight,
        }  # fmt: skip
        assert ask(client, asked)["gauge_setting"]["value"] == 240

    @pytest.mark.parametrize("part", ["sub", "stabilizer", "jar", "kelly", "saver_sub"])
    def test_parts_of_the_string_by_their_names(self, client: FlaskClient, part: str) -> None:
        answer = ask(client, {**NC46, "component": part}, machine="south-bay-9")
        assert answer["torque"]["target"]["value"] == pytest.approx(22426, abs=1)
        assert answer["gauge_setting"]["value"] == 600


class TestTooLaxBefore:
    """Answers that are stopped, or looked at, now."""

    def test_a_box_far_too_large(self, client: FlaskClient) -> None:
        assert (
            refused(client, {**NC38, "box_outside_diameter": "12 in"}, machine="south-bay-4")["code"]
            == "size_to_confirm"
        )
        asked = {**NC38, "box_outside_diameter": "8 in", "confirm_size": True}
        told = found(ask(client, asked, machine="north-bay-8"))
        assert {"outside_printed_range", "bending_strength_ratio"} <= set(told)

    def test_what_grips_pipe_does_not_turn_any_nut(self, client: FlaskClient) -> None:
        """Job 30: the nut of a 1-1/2 in stud. North-bay-2 grips 3 to 10 in; bench-1 turns nuts."""
        stud = {
            **JOB, "family": "bolt", "thread": "1-1/2-8 UN", "bolt_grade": "B7", "yield_share": 0.5,
            "method": "heavy_hex_nut", "thread_friction": 0.13, "as_of": "2026-11-24",
        }  # fmt: skip
        assert ask(client, stud, machine="bench-1")["gauge_setting"]["value"] == 3400
        error = refused(client, stud, machine="north-bay-2")
        assert error["code"] == "gripped_diameter_required"
        assert (
            error["accepted"] == "the outside diameter of the nut in the grip, or a machine that turns nuts"
        )
        # a heavy hex nut for 1-1/2 in is 2-3/8 in across its flats
        small = refused(client, stud, machine="north-bay-2", gripped_outside_diameter="2 3/8 in")
        assert small["code"] == "diameter_not_gripped"
        choice = ask(client, {**stud, "break_out_ratio": 1.3}, "/v1/machine-choice")
        assert [each["machine"] for each in choice["able"]] == ["bench-1"]

    def test_a_make_up_whose_break_out_is_beyond(self, client: FlaskClient) -> None:
        """Some 45,000 ft-lb made up: 1.3 times that is beyond what relief with its margin lets through."""
        asked = {
            **STATED, "torque_target": "45000 ft-lb", "torque_tolerance": 0.1, "machine": north_bay_2(),
        }  # fmt: skip
        told = found(ask(client, asked, break_out_ratio=1.3))["break_out_beyond"]
        assert told["level"] == "look"
        assert told["limit"]["value"] < 60000 < told["value"]["value"] * 1.1
        assert "can_both" in told["remedy"]

    def test_findings_of_the_joint_reach_the_machine(self, client: FlaskClient) -> None:
        own = client.post("/v1/torque/rotary-shouldered", json={
            name: value for name, value in NC50.items() if name not in (*JOB, "family")
        }).get_json()  # fmt: skip
        assert own["findings"]
        answer = ask(client, NC50, machine="north-bay-2")
        for finding in own["findings"]:
            assert finding in answer["findings"]
