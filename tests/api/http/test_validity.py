"""Whether a profile may be relied on at the day of the job."""

from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from policies import REFUSING

from api.app import create_app
from api.settings import Settings

DATED = {
    "effective_from": "2026-01-15",
    "effective_to": "2026-12-31",
    "calibration": {"certificate": "C-1", "due": "2026-06-30"},
}


@pytest.fixture(scope="module")
def strict() -> Flask:
    """A service that refuses profiles which are not fit."""
    return create_app(Settings(policy=REFUSING))


def ask(client: FlaskClient, **given: Any) -> Any:
    return client.post("/v1/pressure", json={**STATED, **JOB, **given})


CASES = [
    # changed in the profile, day of the job, what is not fit
    ({}, "2026-01-15", set()),
    ({}, "2026-06-30", set()),
    ({}, "2026-01-14", {"profile_not_in_force"}),
    ({}, "2026-07-01", {"calibration_overdue"}),
    ({}, "2026-12-31", {"calibration_overdue"}),
    ({}, "2027-01-01", {"profile_not_in_force", "calibration_overdue"}),
    ({"status": "draft"}, "2026-03-01", {"profile_is_draft"}),
    ({"calibration": None}, "2026-03-01", {"calibration_missing"}),
    ({"effective_from": None, "effective_to": None}, "2026-01-15", set()),
    # approved on 2026-01-15
    ({"effective_from": None, "effective_to": None}, "2026-01-14", {"profile_not_in_force"}),
    ({"approved_by": None}, "2026-03-01", {"profile_is_draft"}),
    ({"approved_on": None}, "2026-03-01", {"profile_is_draft"}),
    ({"status": "draft"}, "2027-01-01", {"profile_is_draft", "profile_not_in_force", "calibration_overdue"}),
]


@pytest.mark.parametrize(("changed", "as_of", "unfit"), CASES)
def test_unfit_profile_is_refused_where_the_shop_says_so(
    strict: Flask, changed: dict[str, Any], as_of: str, unfit: set[str]
) -> None:
    machine = profile(**{**DATED, **{name: value for name, value in changed.items() if value is not None}})
    machine = {name: value for name, value in machine.items() if changed.get(name, 0) is not None}
    answer = ask(strict.test_client(), machine=machine, as_of=as_of)
    assert {error["code"] for error in answer.get_json().get("errors", [])} == unfit
    reading = {**JOB, "machine": machine, "as_of": as_of, "gauge_reading": "580 psi"}
    delivered = strict.test_client().post("/v1/delivered-torque", json=reading)
    assert {error["code"] for error in delivered.get_json().get("errors", [])} == unfit


@pytest.mark.parametrize(("changed", "as_of", "unfit"), CASES)
def test_unfit_profile_is_told_elsewhere(
    client: FlaskClient, changed: dict[str, Any], as_of: str, unfit: set[str]
) -> None:
    machine = profile(**{**DATED, **{name: value for name, value in changed.items() if value is not None}})
    machine = {name: value for name, value in machine.items() if changed.get(name, 0) is not None}
    answer = ask(client, machine=machine, as_of=as_of).get_json()
    of_profiles = {code for changed in CASES for code in changed[2]}
    told = [(each["level"], each["code"]) for each in answer["findings"] if each["code"] in of_profiles]
    assert sorted(told) == sorted(("stop", code) for code in unfit)


def test_without_a_day_nothing_is_said_of_dates(client: FlaskClient, strict: Flask) -> None:
    machine = profile(**DATED)
    checks = {check["name"]: check["verdict"] for check in ask(client, machine=machine).get_json()["checks"]}
    assert checks["profile_dates"] == "not_checked"
    assert ask(strict.test_client(), machine=machine).get_json()["code"] == "as_of_required"


@pytest.mark.parametrize(
    "day", ["2026-02-30", "24.11.2026", "2026-1-5", "20260115", "2026-W03-4", "٢٠٢٦-01-15", 20260115]
)
def test_a_day_is_read_one_way(client: FlaskClient, day: Any) -> None:
    answer = ask(client, machine=profile(), as_of=day)
    assert (answer.status_code, answer.get_json()["code"]) == (422, "not_a_date")
