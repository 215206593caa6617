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
    able = [
        "north-bay-8",
        "yard-2",
        "south-bay-1",
        "yard-1",
        "south-bay-9",
        "south-bay-8",
        "south-bay-4",
        "north-bay-7",
        "north-bay-2",
    ]
    unable = {
        "bench-1": {"above_gauge", "torque_rating_exceeded", "capacity_exceeded"},
        "bench-2": {"gives_no_torque"},
        "north-bay-1": {"above_gauge", "diameter_not_gripped", "torque_rating_exceeded", "capacity_exceeded"},
        "north-bay-5": {"no_mark_in_window"},
        "south-bay-3": {"calibration_overdue"},
        "south-bay-6": {"profile_is_draft"},
    }
    answer = ask(shop)
    assert [each["machine"] for each in answer["able"] if each["machine"] in able] == able
    assert {name: why for name, why in reasons(answer).items() if name in unable} == unable


def test_the_finest_gauge_comes_first(shop: FlaskClient) -> None:
    shares = [each["division_share_of_target"] for each in ask(shop)["able"]]
    assert shares == sorted(shares)
    # north-bay-2 by hand: 36 * 0.95 * 14.726216 * 50 / 12 over 29,679.37 ft-lb
    assert shares[-1] == pytest.approx(36 * 0.95 * 14.726215563702156 * 50 / 12 / 29679.37092, rel=1e-8)


def test_a_choice_says_what_the_single_question_says(shop: FlaskClient) -> None:
    """Leaf for leaf, for those that can and for those that cannot."""
    answer = ask(shop)
    for each in answer["able"]:
        single = shop.post("/v1/pressure", json={**QUESTION, "machine": each["machine"]}).get_json()
        record = {
            "status",
            "reasons",
            "assumptions",
            "sources",
            "cautions",
            "inputs",
            "version",
            "service_edition",
        }
        shared = set(single) - {"torque", *record}
        assert len(shared) == 17
        of_window = {name for name in single["reasons"] if name.startswith("torque.")}
        assert each["reasons"].items() == {
            (name, why) for name, why in single["reasons"].items() if name not in of_window
        }
        assert {name: each[name] for name in shared} == {name: single[name] for name in shared}
        assert each["cautions"] == single["cautions"][: len(each["cautions"])]
        assert len(single["cautions"]) == len(each["cautions"]) + 2
        assert each["profile_hash"] == single["version"]["profile_hash"]
    for each in answer["unable"]:
        refused = shop.post("/v1/pressure", json={**QUESTION, "machine": each["machine"]})
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
    answer = ask(shop, operation="break_out", break_out_ratio=1.2, thread_hand="left")
    assert answer["able"]
    for each in answer["able"]:
        assert each["break_out_torque"]["value"] == pytest.approx(1.2 * 29679.37092, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "value"), [("status", "draft"), ("status", "approved"), ("kind", "cylinder_on_arm")]
)
def test_listing_filters(shop: FlaskClient, name: str, value: str) -> None:
    listed = shop.get("/v1/machines", query_string={name: value}).get_json()["items"]
    assert listed
    assert all(each[name] == value for each in listed)
