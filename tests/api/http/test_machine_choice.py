"""One joint against every machine of the invented shop."""

from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from machine_kinds import SHOP
from machines import JOB, STATED
from policies import REFUSING

from api.app import create_app
from api.settings import Settings

COLLAR = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
QUESTION = {**COLLAR, **JOB, "as_of": "2026-11-24"}


@pytest.fixture(scope="module")
def shop(app: Flask) -> FlaskClient:
    """The demo shop as its script runs it: unfit profiles are refused."""
    machines = app.extensions["dialset"].settings.machines
    return create_app(Settings(machines=machines, policy=REFUSING)).test_client()


def ask(client: FlaskClient, **given: Any) -> Any:
    answer = client.post("/v1/machine-choice", json={**QUESTION, **given})
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def reasons(answer: Any) -> dict[str, set[str]]:
    return {each["machine"]: {reason["code"] for reason in each["reasons"]} for each in answer["unable"]}


def test_who_can_and_who_cannot_and_why(shop: FlaskClient) -> None:
    """Of the machines named here; another that is added to the shop stands anywhere among them."""
    able = {"north-bay-2", "north-bay-7", "north-bay-8", "south-bay-1", "south-bay-4", "south-bay-8"}
    able |= {"south-bay-9", "yard-1", "yard-2"}
    unable = {
        "bench-1": "grips_no_pipe",
        "bench-2": "gives_no_torque",
        "north-bay-1": "diameter_not_gripped",
        "north-bay-5": "no_mark_in_window",
        "south-bay-3": "calibration_overdue",
        "south-bay-6": "profile_is_draft",
    }
    answer = ask(shop)
    assert able <= {each["machine"] for each in answer["able"]}
    why = reasons(answer)
    assert {name: code for name, code in unable.items() if code not in why[name]} == {}
    assert answer["able_count"] == len(answer["able"])
    assert answer["unable_count"] == len(answer["unable"])


def test_fit_machines_come_first_and_then_the_surest(client: FlaskClient) -> None:
    """A shop that tells what is unfit; a probability that is not known comes last."""
    able = ask(client)["able"]
    order = [(not each["fit"], -(each["probability_in_window"] or 0.0)) for each in able]
    assert order == sorted(order)
    assert {each["fit"] for each in able} == {True, False}


def test_a_list_is_read_in_pages(shop: FlaskClient) -> None:
    whole = ask(shop)
    pages = [ask(shop, limit=2, offset=start)["able"] for start in range(0, whole["able_count"], 2)]
    assert [each for page in pages for each in page] == whole["able"]


def test_a_choice_says_what_the_single_question_says(shop: FlaskClient) -> None:
    """Leaf for leaf, for those that can and for those that cannot; but remedies are looked for in one alone."""
    answer = ask(shop, break_out_ratio=1.3)
    question = {**QUESTION, "break_out_ratio": 1.3}
    for each in answer["able"]:
        single = shop.post("/v1/pressure", json={**question, "machine": each["machine"]}).get_json()
        shared = set(single) & set(each) - {"findings", "reasons"}
        side = {"cylinder_side"} & set(single)
        set_there = {"gauge_setting", "torque_at_gauge_setting", "probability_in_window", "gauge"}
        assert shared == set_there | {"capability"} | side
        assert {name: each[name] for name in shared} == {name: single[name] for name in shared}
        of_joint = {"bending_strength_ratio"}
        assert [found["code"] for found in each["findings"]] == [
            found["code"] for found in single["findings"] if found["code"] not in of_joint
        ]
        assert each["profile_hash"] == single["version"]["profile_hash"]
        job = {**question, "machine": each["machine"], "operation": "break_out"}
        assert each["can_both"] == (shop.post("/v1/pressure", json=job).status_code == 200)
    for each in answer["unable"]:
        refused = shop.post("/v1/pressure", json={**question, "machine": each["machine"]})
        assert refused.status_code == 422
        errors = refused.get_json()["errors"]
        assert [error["code"] for error in errors] == [reason["code"] for reason in each["reasons"]]
        assert [error["detail"] for error in errors] == [reason["text"] for reason in each["reasons"]]


@pytest.mark.parametrize("site", ["north", "south", "yard", "bench"])
def test_site(shop: FlaskClient, site: str) -> None:
    machines = {name for name, profile in SHOP.items() if profile.given["site"] == site}
    assert len(machines) >= 2
    answer = ask(shop, site=site)
    assert {each["machine"] for each in answer["able"] + answer["unable"]} == machines
    listed = shop.get("/v1/machines", query_string={"site": site}).get_json()["items"]
    assert {each["id"] for each in listed} == machines


def test_v_seat_without_a_diameter_cannot(shop: FlaskClient) -> None:
    answer = shop.post("/v1/machine-choice", json={**STATED, **JOB, "as_of": "2026-11-24"}).get_json()
    assert "gripped_diameter_required" in reasons(answer)["south-bay-4"]


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"site": "west"}, "no_machines"),
        ({"operation": "break_out"}, "break_out_ratio_required"),
        ({"machine": "north-bay-2"}, "unknown_field"),
        ({"connection": "NC51"}, "unknown_connection"),
    ],
)
def test_question_refused(shop: FlaskClient, given: dict[str, Any], code: str) -> None:
    answer = shop.post("/v1/machine-choice", json={**QUESTION, **given})
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)


def test_break_out_of_every_machine(shop: FlaskClient) -> None:
    """What is expected rises with the ratio, and stays below the limit."""
    answer = ask(shop, operation="break_out", break_out_ratio="1.0/1.2/1.4", thread_hand="left")
    assert answer["able"]
    for each in answer["able"]:
        low, likely, high = (each["expected"][name]["value"] for name in ("low", "likely", "high"))
        assert low <= likely <= high
        assert likely <= each["do_not_exceed"]["value"] * 1.5
        assert "gauge_setting" not in each


@pytest.mark.parametrize(
    ("name", "value"), [("status", "draft"), ("status", "approved"), ("kind", "cylinder_on_arm")]
)
def test_listing_filters(shop: FlaskClient, name: str, value: str) -> None:
    listed = shop.get("/v1/machines", query_string={name: value}).get_json()["items"]
    assert listed
    assert all(each[name] == value for each in listed)
