"""A stud tensioner among torque machines: it is never asked for torque, and its own dangers are told."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED
from tensioners import tensioner

from api.answers.machine_kinds import stud_tensioner
from api.registry.examples import EXAMPLE_CALIBRATION

TENSIONERS = ["bench-2", tensioner()]


@pytest.mark.parametrize("machine", TENSIONERS, ids=["by id", "inline"])
@pytest.mark.parametrize(
    ("path", "asked"),
    [
        ("/v1/pressure", {**STATED, **JOB}),
        ("/v1/pressure", {**STATED, **JOB, "operation": "break_out", "break_out_ratio": 1.25}),
        ("/v1/delivered-torque", {**JOB, "gauge_reading": "1000 psi"}),
        ("/v1/stroke", {"lost_motion": "1 deg"}),
        ("/v1/grip", {"torque": "1000 ft-lb", "outside_diameter": "5 in", "friction": 0.3, "margin": 1.5}),
        ("/v1/calibration", dict(EXAMPLE_CALIBRATION)),
    ],
)
def test_a_question_of_torque_is_refused(
    client: FlaskClient, machine: Any, path: str, asked: dict[str, Any]
) -> None:
    refused = client.post(path, json={**asked, "machine": machine})
    assert (refused.status_code, refused.get_json()["code"]) == (422, "gives_no_torque")
    assert "/v1/preload-pressure" in refused.get_json()["detail"]


def test_in_a_choice_of_machines_it_stands_among_the_unable(client: FlaskClient) -> None:
    choice = client.post("/v1/machine-choice", json={**STATED, **JOB, "site": "bench"}).get_json()
    reasons = {each["machine"]: each["reasons"] for each in choice["unable"]}
    assert [reason["code"] for reason in reasons["bench-2"]] == ["gives_no_torque"]
    assert "/v1/preload-pressure" in reasons["bench-2"][0]["text"]


@pytest.mark.parametrize(
    ("rating", "findings"),
    [
        # 8 in2 * 21,000 psi = 168,000 lbf; a rating rounded by 1 % is none to speak of
        ("168000 lbf", 0),
        ("166340 lbf", 0),
        ("166330 lbf", 1),
        ("747.3 kN", 0),
        ("700 kN", 1),
    ],
)
def test_a_profile_whose_figures_do_not_go_together(client: FlaskClient, rating: str, findings: int) -> None:
    checked = client.post("/v1/profile-check", json=tensioner(load_rating=rating)).get_json()
    assert (checked["valid"], len(checked["findings"])) == (True, findings)


@pytest.mark.parametrize("word", ["axis of the stud", "stroke", "engage sound", "codes come first"])
def test_everybody_is_told_the_dangers(word: str) -> None:
    assert any(word in notice.text for notice in stud_tensioner.KIND.standing_notices)
