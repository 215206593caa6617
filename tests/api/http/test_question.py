"""A question has one hash, however it is written; another question has another."""

import json
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, profile
from rows import every_row
from ways import in_every_form

from api.app import create_app
from api.registry.calculations import CALCULATIONS
from api.registry.chart import CHART
from api.settings import Settings
from schemas.core.fields import LEFT_OUT

COLLAR = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6.5 in",
    "pin_bore": "2.8125 in",
}
TORQUE, PRESSURE, CHOICE = "torque/rotary-shouldered", "pressure", "machine-choice"
ON_A_MACHINE = {"family": "rotary_shouldered", **COLLAR, **JOB, "machine": "north-bay-2"}
ON_ANY = {"family": "rotary_shouldered", **COLLAR, **JOB, "site": "north"}
READ = {**JOB, "machine": "south-bay-9", "gauge_reading": "860 psi"}
JUDGED = {"family": "rotary_shouldered", **COLLAR, **READ}
PIPE = {"size": "5-1/2", "weight": "17 lb/ft", "pipe_grade": "J55", "thread_type": "STC"}
BOLT = {"thread": "3/4-10 UNC", "bolt_grade": "B7", "method": "nut_factor", "nut_factor": 0.2}
LOADED = {**BOLT, "yield_share": 0.5, "grip_length": "60 mm"}
RODS = {"size": "7/8", "rod_grade": "D", "run": "rerun", "coupling": "full_size"}
ROW = {"connection": "bay joint 40", "box_outside_diameter": "5 1/4 in", "pin_bore": "2-11/16 in"}
OF_A_TABLE = {"table": "double-shoulder", "table_key": ROW}
BY_NAMES = {"table_key": None, **{f"table_key.{name}": value for name, value in ROW.items()}}
BIT = {**COLLAR, "component": "bit", "connection": "4-1/2 REG"}

ONE: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    # how a quantity is written
    (TORQUE, COLLAR, {"box_outside_diameter": "6 1/2 in"}),
    (TORQUE, COLLAR, {"box_outside_diameter": '6½"', "pin_bore": "2-13/16 in"}),
    (TORQUE, COLLAR, {"box_outside_diameter": {"value": 6.5, "unit": "in"}}),
    (TORQUE, COLLAR, {"box_outside_diameter": "165.1 mm", "pin_bore": "7.14375 cm"}),
    (TORQUE, COLLAR, {"box_outside_diameter": "0.5416666666666667 ft"}),
    (TORQUE, {**COLLAR, "pin_stress_level": "62500 psi"}, {"pin_stress_level": "62.5 ksi"}),
    # names as the tables have them
    (TORQUE, COLLAR, {"connection": "nc50"}),
    (TORQUE, COLLAR, {"connection": "NC 50"}),
    (TORQUE, COLLAR, {"connection": "4-1/2 IF"}),
    ("torque/round-thread", PIPE, {"size": "5 1/2 in", "pipe_grade": "j-55"}),
    ("torque/round-thread", PIPE, {"size": "5.5", "weight": "17"}),
    ("torque/round-thread", PIPE, {"weight": "17#"}),
    ("torque/bolt", LOADED, {"thread": '3/4"-10 unc', "bolt_grade": "ASTM A193 B7"}),
    ("make-up-position/sucker-rod", RODS, {"rod_grade": "API grade d", "size": "0.875"}),
    ("torque/tabulated", OF_A_TABLE, {"table_key": {**ROW, "pin_bore": "2.6875 in"}}),
    ("torque/tabulated", OF_A_TABLE, {"table_key": {**ROW, "connection": "Bay  joint 40"}}),
    ("torque/tabulated", OF_A_TABLE, BY_NAMES),
    # how the answer is shown
    (PRESSURE, ON_A_MACHINE, {"units": "metric", "steps": True, "torque_unit": "kN.m"}),
    # numbers, flags and ratios
    (TORQUE, {**COLLAR, "compound_friction_factor": 1.05}, {"compound_friction_factor": "1.05"}),
    (TORQUE, {**COLLAR, "confirm_size": True}, {"confirm_size": "yes"}),
    (PRESSURE, {**ON_A_MACHINE, "break_out_ratio": 1.2}, {"break_out_ratio": "1.2/1.2/1.2"}),
    ("verdict", {**JUDGED, "held": "90 s", "slips": 0}, {"held": "1.5 min", "slips": "0"}),
    ("conversion", {"quantity": "1 in", "to": "mm"}, {"quantity": "25.4 mm", "to": "millimeter"}),
]
DEFAULTS: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    # what a field means that is left out
    (TORQUE, COLLAR, {"compound_friction_factor": 1.0}),
    (TORQUE, COLLAR, {"edition": "2003", "basis": "formula", "confirm_size": False}),
    (CHOICE, ON_ANY, {"limit": 20, "offset": 0}),
    (CHOICE, ON_ANY, {"gripped_outside_diameter": "6.5 in"}),
    ("delivered-torque", READ, {"gauge_read": "make_up"}),
    ("torque/bolt", LOADED, {"unthreaded_length": "0 mm", "bolt_ends": "grip_only"}),
    ("torque/bolt", LOADED, {"bolt_modulus": "30000 ksi"}),
]
OTHER: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    (TORQUE, COLLAR, {"box_outside_diameter": "6.50000001 in"}),
    (TORQUE, COLLAR, {"component": "tool_joint"}),
    (TORQUE, COLLAR, {"connection": "NC46"}),
    (TORQUE, COLLAR, {"compound_friction_factor": 1.05}),
    (TORQUE, COLLAR, {"edition": "1998"}),
    (PRESSURE, ON_A_MACHINE, {"machine": "north-bay-8"}),
    (PRESSURE, ON_A_MACHINE, {"as_of": "2026-11-24"}),
    (PRESSURE, ON_A_MACHINE, {"thread_hand": "left"}),
    (PRESSURE, ON_A_MACHINE, {"break_out_ratio": "1.0/1.2/1.4"}),
    (PRESSURE, ON_A_MACHINE, {"machine": profile()}),
    (PRESSURE, {**ON_A_MACHINE, "machine": profile()}, {"machine": profile(revision="2")}),
    (CHOICE, ON_ANY, {"offset": 1}),
    # the mark is on a dial, which has one unit
    ("delivered-torque", READ, {"gauge_reading": "59.3 bar"}),
    ("verdict", JUDGED, {"gauge_reading": "862 psi"}),
    ("verdict", JUDGED, {"ordered_setting": "860 psi"}),
    ("verdict", JUDGED, {"moved_in_last_stroke": "not_seen"}),
    ("conversion", {"quantity": "1 in", "to": "mm"}, {"to": "cm"}),
    # no default where the field is refused: a bit has no edition, a bolt without a grip no modulus
    (TORQUE, BIT, {"edition": "2003"}),
    ("torque/bolt", {**LOADED, "grip_length": None}, {"bolt_modulus": "30000 ksi"}),
]


def asked(client: FlaskClient, path: str, question: dict[str, Any]) -> dict[str, Any]:
    given = {name: value for name, value in question.items() if value is not None}
    answer: dict[str, Any] = client.post(f"/v1/{path}", json=given).get_json()
    assert answer["question"], answer
    return answer


@every_row("path, base, written", ONE + DEFAULTS)
def test_one_question_has_one_hash(
    client: FlaskClient, path: str, base: dict[str, Any], written: dict[str, Any]
) -> None:
    one, other = (asked(client, path, question) for question in (base, {**base, **written}))
    assert one["question"] == other["question"]


@every_row("path, base, changed", OTHER)
def test_another_question_has_another(
    client: FlaskClient, path: str, base: dict[str, Any], changed: dict[str, Any]
) -> None:
    one, other = (asked(client, path, question) for question in (base, {**base, **changed}))
    assert one["question"] != other["question"]


@every_row("path, base, stated", DEFAULTS)
def test_what_is_meant_by_a_field_left_out_has_the_same_answer(
    client: FlaskClient, path: str, base: dict[str, Any], stated: dict[str, Any]
) -> None:
    """But for the record of what was given and what was assumed."""
    answers = [asked(client, path, question) for question in (base, {**base, **stated})]
    for answer in answers:
        assert answer["status"]
        del answer["inputs"], answer["assumptions"], answer["fingerprint"]
    assert answers[0] == answers[1]


def test_every_declared_meaning_is_in_the_table() -> None:
    schemas = [schema for calculation in CALCULATIONS for schema in calculation.requests.values()]
    declared = {name for each in schemas for name, field in each.fields.items() if LEFT_OUT in field.metadata}
    assert declared == {name for *_, stated in DEFAULTS for name in stated}
    assert [name for name, field in CHART.request.fields.items() if LEFT_OUT in field.metadata] == [
        "gripped_outside_diameter",
        "every",
    ]


def test_the_path_and_the_family_are_part_of_it(client: FlaskClient) -> None:
    bare = {name: value for name, value in ON_ANY.items() if name != "site"}
    answers = [
        asked(client, PRESSURE, ON_A_MACHINE),
        asked(client, CHOICE, bare),
        asked(client, TORQUE, COLLAR),
    ]
    assert [each["asked"]["path"] for each in answers] == [
        f"/v1/{path}" for path in (PRESSURE, CHOICE, TORQUE)
    ]
    assert len({each["question"] for each in answers}) == 3


def test_every_form_of_a_question_has_its_hash(client: FlaskClient) -> None:
    forms = in_every_form(client, f"/v1/{PRESSURE}", ON_A_MACHINE)
    assert {each["question"] for each in forms.values()} == {
        asked(client, PRESSURE, ON_A_MACHINE)["question"]
    }
    wanted = {"path": "/v1/pressure", "detail": "full", "units": "us"}
    assert all(each["asked"] == wanted for each in forms.values())


def test_a_refusal_by_engineering_has_one_and_bad_input_none(client: FlaskClient) -> None:
    refused = {**ON_A_MACHINE, "connection": "NC51"}
    for answer in in_every_form(client, f"/v1/{PRESSURE}", refused).values():
        assert answer["code"] == "unknown_connection"
        assert answer["question"] == asked(client, PRESSURE, {**refused, "connection": "nc51"})["question"]
    for answer in in_every_form(client, f"/v1/{PRESSURE}", {**refused, "arm_position": "bent"}).values():
        assert (answer["code"], answer["question"]) == ("not_a_choice", None)


def test_a_chart_has_one_too(client: FlaskClient) -> None:
    def chart(machine: str, **query: str) -> dict[str, Any]:
        answer: dict[str, Any] = client.get(f"/v1/machines/{machine}/chart", query_string=query).get_json()
        return answer

    stand = {"thread_hand": "right", "arm_position": "square"}
    answer = chart("north-bay-2", **stand)
    wanted = {"path": "/v1/machines/north-bay-2/chart", "detail": "full", "units": "us"}
    assert answer["asked"] == wanted
    same = chart("north-bay-2", **stand, every="no")["question"]
    others = [chart("north-bay-2", **stand, every="yes"), chart("south-bay-9", **stand)]
    assert answer["question"] == same
    assert same not in {each["question"] for each in others}


@pytest.mark.parametrize("folder", ["machines", "nowhere"])
def test_it_does_not_depend_on_what_the_machine_is(client: FlaskClient, tmp_path: Path, folder: str) -> None:
    """Not on what it holds, nor on whether it is there: that is in the edition."""
    shop = tmp_path / folder
    shop.mkdir()
    if folder == "machines":
        (shop / "own.json").write_text(json.dumps(profile(id="north-bay-2")), "utf-8")
    theirs = create_app(Settings(machines=shop)).test_client()
    one, other = asked(client, PRESSURE, ON_A_MACHINE), asked(theirs, PRESSURE, ON_A_MACHINE)
    assert one["question"] == other["question"]
    assert one["service_edition"] != other["service_edition"]
