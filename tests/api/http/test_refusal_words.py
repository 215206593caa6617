"""What a refusal and a finding say: what to do, in few digits, in sentences that are true."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED, V_SEAT, profile
from rows import every_row

from api.engineering.checks import Amount
from schemas.core.quantity_fields import MANY, OutputUnits, rounded

PATH = "/v1/pressure"
NC50 = {
    "family": "rotary_shouldered", "connection": "NC50", "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in", "pin_bore": "2-13/16 in", **JOB,
}  # fmt: skip
OUT = {**STATED, **JOB, "operation": "break_out", "break_out_ratio": 1.3, "machine": profile()}

TO_DO = [
    # asked, code, what to do
    ({"arm_position": "80 in"}, "outside_stroke", "measure it again, or stand the arm square"),
    ({"arm_position": None, "rod_exposed": "60 in"}, "outside_stroke", "rod within the stroke"),
    ({"gripped_outside_diameter": "12 in"}, "diameter_not_gripped", "ask /v1/machine-choice"),
    ({"machine": profile(**V_SEAT)}, "gripped_diameter_required", "such as 6 1/2 in"),
    (
        {"machine": profile(**V_SEAT), "gripped_outside_diameter": "3.5 in"},
        "diameter_not_in_table",
        "a machine that is measured for this diameter",
    ),
    ({"machine": profile(lowest_setting="900 psi")}, "below_lowest_setting", "a smaller machine"),
]


@every_row(("given", "code", "to_do"), TO_DO)
def test_a_refusal_says_what_to_do(client: FlaskClient, given: dict[str, Any], code: str, to_do: str) -> None:
    asked = {**STATED, **JOB, "machine": profile(), **given}
    answer = client.post(PATH, json={name: each for name, each in asked.items() if each is not None})
    (error,) = answer.get_json()["errors"]
    assert error["code"] == code
    assert to_do in error["accepted"]


def test_so_does_a_choice_of_machines(client: FlaskClient) -> None:
    """No grip of the invented shop takes pipe of 2 in."""
    asked = {**STATED, **JOB, "gripped_outside_diameter": "2 in", "as_of": "2026-11-24", "limit": 100}
    unable = client.post("/v1/machine-choice", json=asked).get_json()["unable"]
    reasons = [reason for each in unable for reason in each["reasons"]]
    not_gripped = [each for each in reasons if each["code"] == "diameter_not_gripped"]
    assert len(not_gripped) > 5
    assert all("ask /v1/machine-choice" in each["accepted"] for each in not_gripped)


@every_row(
    ("value", "text"),
    [
        (3007.986, "3008"),
        (30218.194, "30218"),
        (0.0007375621, "0.00073756"),
        (73756214.9, "73756000"),
        (0.00001234567, "0.000012346"),
        (999_994_000.0, "999990000"),
        (2040.1764, "2040.2"),
        (0.0, "0"),
    ],
)
def test_five_digits_without_an_exponent(value: float, text: str) -> None:
    assert rounded(value, MANY["other"]) == text


def test_more_digits_only_where_two_would_look_alike() -> None:
    amounts = {"value": Amount("torque", 30218.19), "limit": Amount("torque", 30217.6)}
    assert OutputUnits("si").fill("{value} {limit}", amounts) == "30218.2 N.m 30217.6 N.m"


def test_a_bound_is_written_out(client: FlaskClient) -> None:
    """0.001 N.m and 100,000 kN.m in ft-lb."""
    asked = {**STATED, **JOB, "torque_target": "100000000 ft-lb", "machine": profile()}
    (error,) = client.post(PATH, json=asked).get_json()["errors"]
    assert error["detail"] == "100000000 lbf.ft is not between 0.00073756 and 73756000 lbf.ft"


@pytest.mark.parametrize(
    ("made_up", "end"), [("15000 ft-lb", "begins at 18000"), ("25000 ft-lb", "ends at 22000")]
)
def test_a_window_begins_and_ends(client: FlaskClient, made_up: str, end: str) -> None:
    """20,000 ft-lb without a window: 10 % to either side."""
    answer = client.post(PATH, json={**OUT, "made_up_torque": made_up}).get_json()
    (told,) = (each for each in answer["findings"] if each["code"] == "made_up_outside_window")
    assert f"Its window {end} lbf.ft." in told["text"]


def test_what_to_do_is_in_sentences(client: FlaskClient) -> None:
    """The first sentences name the mark, what to check and that the limit holds; the last what then."""
    told = client.post(PATH, json={**OUT, "made_up_torque": "20000 ft-lb"}).get_json()["if_it_does_not_move"]
    assert ":" not in told.replace(": ask", "")
    assert "Do not exceed the limit, even if all is right. It needs more than was expected." in told


def test_a_gauge_that_may_be_off_by_more_than_the_reading(client: FlaskClient) -> None:
    """650 ft-lb / 41.969716 + 30 = 45.5 psi on a dial of 5000 psi with 1.6 %, 80 psi."""
    answer = client.post(PATH, json={**OUT, "made_up_torque": "500 ft-lb"}).get_json()
    (told,) = (each for each in answer["findings"] if each["code"] == "gauge_low")
    assert (
        "45.49 psi is 0.91 % of the dial: the gauge may be off by more than the reading itself."
        in told["text"]
    )
