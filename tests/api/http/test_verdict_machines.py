"""A verdict on every machine of the invented shop: what was set is as ordered, its capability the same."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from machine_kinds import DEMO, SHOP
from make_ups import TOLD
from policies import policy_file

from api.app import create_app
from api.settings import Settings

MACHINES = [name for name, profile in SHOP.items() if profile.kind.machine]
UNFIT = {"profile_is_draft", "profile_not_in_force", "calibration_missing", "calibration_overdue"}
STANDS = {"arm_position": "square", "gripped_outside_diameter": "5 in", "operation": "make_up"}


def marks(client: FlaskClient, machine: str, hand: str) -> list[dict[str, Any]]:
    """The marks of its chart, which lie within what the machine may be set to."""
    stands = {"arm_position": "square", "gripped_outside_diameter": "5 in"}
    query = {**stands, "thread_hand": hand, "every": "yes"}
    charts = client.get(f"/v1/machines/{machine}/chart", query_string=query).get_json()["charts"]
    return next(each["marks"] for each in charts if each["operation"] == "make_up")


def question(machine: str, hand: str, torque: Any, tolerance: float = 0.05) -> dict[str, Any]:
    stated = {"family": "stated", "torque_source": "the chart", "torque_target": torque}
    job = {**STANDS, "thread_hand": hand, "machine": machine, "as_of": TOLD["as_of"]}
    return {**stated, **job, "torque_tolerance": tolerance}


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("machine", MACHINES)
def test_what_is_set_is_as_ordered(client: FlaskClient, machine: str, hand: str) -> None:
    """Without an ordered setting too: it is worked out as the setting is."""
    job = question(machine, hand, marks(client, machine, hand)[1]["torque_at_gauge_setting"]["metric"])
    setting = client.post("/v1/pressure", json=job)
    assert setting.status_code == 200, setting.text
    before = setting.get_json()
    mark = before["gauge_setting"]
    reading = f"{mark['value']} {mark['unit']}"
    zero = f"0 {mark['unit']}"
    answers = [
        client.post("/v1/verdict", json={**job, **TOLD, "gauge_reading": reading, "gauge_zero": zero, **more})
        for more in ({}, {"ordered_setting": reading})
    ]
    for answer in answers:
        assert answer.status_code == 200, answer.text
        told = answer.get_json()
        assert told["ordered_setting"] == mark
        assert told["reading_less_mark"]["value"] == 0
        assert told["capability"] == before["capability"]
        assert told["delivered_torque"] == before["torque_at_gauge_setting"]
        fit = not {each["code"] for each in told["findings"]} & UNFIT
        assert told["work"] == ("as_ordered" if fit else "cannot_tell")


@pytest.mark.parametrize("rule", ["simple", "guarded"])
@pytest.mark.parametrize("machine", MACHINES)
def test_a_higher_reading_is_never_a_lower_verdict(machine: str, rule: str) -> None:
    """From the first mark to the last, over a window that most of them miss; low, then pass, then high."""
    shop = create_app(Settings(machines=DEMO, policy=policy_file(decision_rule=rule))).test_client()
    given = [each["gauge_setting"] for each in marks(shop, machine, "right")]
    first, last, unit = given[0]["value"], given[-1]["value"], given[0]["unit"]
    read = {
        **STANDS,
        "thread_hand": "right",
        "machine": machine,
        "gauge_reading": f"{(first + last) / 2} {unit}",
    }
    middle = shop.post("/v1/delivered-torque", json=read).get_json()["delivered_torque"]
    job = {**question(machine, "right", middle, 0.15), **TOLD, "ordered_setting": given[-1]}
    seen = []
    for part in range(16):
        reading = f"{first + part * (last - first) / 15} {unit}"
        answer = shop.post("/v1/verdict", json={**job, "gauge_reading": reading, "gauge_zero": f"0 {unit}"})
        assert answer.status_code == 200, answer.text
        seen.append(answer.get_json()["torque_verdict"])
    told = [each for each in seen if each != "cannot_tell"]
    assert told == sorted(told, key=("low", "pass", "high").index)
    # a dial of 500 psi a division is so coarse that the guarded rule tells nothing between its two marks
    assert {"low", "high"} <= set(told) or (rule, machine) == ("guarded", "north-bay-5")
