"""How well machine and gauge can prove a window, told before the job as after it."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from make_ups import asked, before, doubt
from policies import policy_file

from api.app import create_app
from api.settings import Settings

VERDICT, PRESSURE = "/v1/verdict", "/v1/pressure"


@pytest.fixture(scope="module")
def guarded() -> FlaskClient:
    """A shop whose rule is guarded."""
    return create_app(Settings(policy=policy_file(decision_rule="guarded"))).test_client()


def test_capability_is_told_before_the_job_as_after_it(client: FlaskClient, plain: FlaskClient) -> None:
    setting = client.post(PRESSURE, json=before()).get_json()
    mark = setting["gauge_setting"]["value"]
    assert setting["capability"] == pytest.approx(2500 / (4 * doubt(mark)), rel=1e-6)
    after = client.post(
        VERDICT, json=asked(gauge_reading=f"{mark} psi", ordered_setting=f"{mark} psi")
    ).get_json()
    assert after["capability"] == setting["capability"]
    assert "capability" not in plain.post(PRESSURE, json=before()).get_json()
    open_ended = client.post(PRESSURE, json=before(maximum=None)).get_json()
    assert (open_ended["capability"], open_ended["reasons"]["capability"]) == (
        None,
        "no maximum torque is known",
    )
    out = {**before(), "operation": "break_out", "break_out_ratio": 1.2}
    assert "capability" not in client.post(PRESSURE, json=out).get_json()


def test_a_choice_of_machines_tells_the_capability_of_each(client: FlaskClient) -> None:
    job = {**before(), "gripped_outside_diameter": "6 in"}
    del job["machine"]
    able = client.post("/v1/machine-choice", json=job).get_json()["able"]
    assert len(able) > 3
    for each in able:
        own = client.post(PRESSURE, json={**job, "machine": each["machine"]}).get_json()
        assert each["capability"] == own["capability"], each["machine"]


@pytest.mark.parametrize(
    ("minimum", "maximum", "says"),
    [
        (33000, 35500, "can never pass here"),
        (32150, 36350, "passes only torques near the middle of the window"),
        (30000, 38000, None),
    ],
)
def test_a_window_that_cannot_be_proved_is_told_before(
    client: FlaskClient, guarded: FlaskClient, minimum: float, maximum: float, says: str | None
) -> None:
    """By the guarded rule alone; the rule is then listed. Capabilities: 0.52, 0.88 and 1.67."""
    asked_before = {**before(minimum=minimum, maximum=maximum), "aim": "target"}
    answer = guarded.post(PRESSURE, json=asked_before).get_json()
    told = [each["text"] for each in answer["findings"] if each["code"] == "capability_low"]
    assert len(told) == (says is not None)
    assert says is None or says in told[0]
    assert "decision_rule" in {each["field"] for each in answer["assumptions"]}
    simple = client.post(PRESSURE, json=asked_before).get_json()
    assert "capability_low" not in {each["code"] for each in simple["findings"]}
    assert "decision_rule" not in {each["field"] for each in simple["assumptions"]}


def test_a_choice_of_machines_tells_what_the_guarded_rule_cannot_prove(client: FlaskClient) -> None:
    settings = client.application.extensions["dialset"].settings
    rules = policy_file(decision_rule="guarded")
    shop = create_app(Settings(machines=settings.machines, policy=rules)).test_client()
    job = {**before(), "gripped_outside_diameter": "6 in"}
    del job["machine"]
    answer = shop.post("/v1/machine-choice", json=job).get_json()
    told = {each["machine"] for each in answer["able"] if "capability_low" in map(code, each["findings"])}
    assert told == {each["machine"] for each in answer["able"] if each["capability"] < 1}
    assert 0 < len(told) < len(answer["able"])
    assert "decision_rule" in {each["field"] for each in answer["assumptions"]}


def code(finding: dict[str, Any]) -> str:
    return str(finding["code"])
