"""Joints other than rotary shouldered ones on the machines of the demonstration, and in a batch."""

import csv
from typing import Any

import pytest
from flask.testing import FlaskClient

TURN = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}
CASING = {
    "family": "round_thread", "size": "9-5/8", "weight": "47 lb/ft", "pipe_grade": "P110",
    "thread_type": "LTC",
}  # fmt: skip
STUD = {
    "family": "bolt", "thread": "M42", "bolt_yield_strength": "724 MPa", "method": "simplified_helix",
    "thread_friction": "0.145", "bearing_friction": "0.155", "bearing_outside_diameter": "63 mm",
    "bearing_hole_diameter": "44.1 mm", "yield_share": "0.745",
}  # fmt: skip


def test_a_window_on_a_machine_is_that_of_its_own_question(client: FlaskClient) -> None:
    answer = client.get("/v1/pressure", query_string={**CASING, **TURN, "machine": "north-bay-2"}).get_json()
    own = {name: value for name, value in CASING.items() if name != "family"}
    assert answer["torque"] == client.get("/v1/torque/round-thread", query_string=own).get_json()["torque"]
    minimum, maximum = (answer["torque"][end]["value"] for end in ("minimum", "maximum"))
    assert minimum <= answer["torque_at_gauge_setting"]["value"] <= maximum


def settings(client: FlaskClient, joint: dict[str, str]) -> list[dict[str, Any]]:
    """What is set on every machine that can do a joint."""
    asked = {**joint, **TURN, "gripped_outside_diameter": "5 in"}
    able = client.get("/v1/machine-choice", query_string=asked).get_json()["able"]
    machines = [each["machine"] for each in able]
    assert machines
    return [
        client.get("/v1/pressure", query_string={**asked, "machine": machine}).get_json()
        for machine in machines
    ]


def told(answer: dict[str, Any]) -> list[str]:
    """The level of the finding that the worst case yields the joint; empty where it does not."""
    found = [each for each in answer["findings"] if each["code"] == "torsional_yield_worst_case"]
    return [each["level"] for each in found]


@pytest.mark.parametrize(
    "more", [{}, {"yield_share": "0.5"}, {"yield_share": "0.6"}, {"torque_tolerance": "0.03"}]
)
def test_a_worst_case_beyond_yield_is_a_stop(client: FlaskClient, more: dict[str, str]) -> None:
    """On every machine that can: said exactly where the upper bound lies above the torque at yield."""
    own = {name: value for name, value in {**STUD, **more}.items() if name != "family"}
    limit = client.get("/v1/torque/bolt", query_string=own).get_json()["torsional_yield"]["value"]
    for answer in settings(client, {**STUD, **more}):
        beyond = answer["torque_upper_bound"]["value"] > limit
        assert told(answer) == (["stop"] if beyond else [])


def test_there_is_such_a_machine(client: FlaskClient) -> None:
    assert ["stop"] in [told(answer) for answer in settings(client, STUD)]


@pytest.mark.parametrize(
    ("path", "column", "value", "code"),
    [
        ("torque/round-thread", "compound_friction_factor", "1.1", "friction_factor_not_applicable"),
        ("torque/round-thread", "torque_tolerance", "0.05", "tolerance_not_needed"),
        ("preload/rotary-shouldered", "pin_stress_level", "62500 psi", "unknown_field"),
        ("preload/rotary-shouldered", "torque_tolerance", "0.05", "unknown_field"),
    ],
)
def test_what_a_question_cannot_take_is_refused_in_a_batch_not_carried(
    client: FlaskClient, path: str, column: str, value: str, code: str
) -> None:
    joints = {
        "torque/round-thread": {name: text for name, text in CASING.items() if name != "family"},
        "preload/rotary-shouldered": {
            "connection": "NC50", "component": "drill_collar", "box_outside_diameter": "6.5 in",
            "pin_bore": "2-13/16 in", "applied_torque": "29679 ft-lb",
        },
    }  # fmt: skip
    joint = joints[path]
    lines = [[*joint, column], [*joint.values(), ""], [*joint.values(), value]]
    table = "".join(",".join(line) + "\n" for line in lines)
    answer = client.post(f"/v1/{path}/batch", data=table, content_type="text/csv")
    rows = list(csv.DictReader(answer.text.splitlines()))
    assert [(row["line_status"], row["problem_code"]) for row in rows] == [
        ("answered", ""),
        ("refused", code),
    ]
    given = client.post(f"/v1/{path}/batch", json={"lines": [{**joint, column: 1.0}]}).get_json()["lines"][0]
    assert given["problem_code"] == code


@pytest.mark.parametrize("name", ["grip_length", "bolt_ends", "bolt_modulus", "unthreaded_length"])
def test_what_says_nothing_of_a_setting_is_not_taken(client: FlaskClient, name: str) -> None:
    asked = {**STUD, **TURN, "machine": "bench-1", name: "100 mm"}
    problem = client.get("/v1/pressure", query_string=asked).get_json()
    assert ("unknown_field", name) in [(each["code"], each.get("parameter")) for each in problem["errors"]]
