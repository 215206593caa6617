"""What a shop may refuse: figures that are not sure enough for it."""

import pytest
from policies import policy_file

from api.app import create_app
from api.registry.calculations import CALCULATIONS
from api.settings import Settings

COLLAR = {"component": "drill_collar", "box_outside_diameter": "6.5 in", "pin_bore": "2 in"}


@pytest.mark.parametrize(
    ("connection", "statuses", "status"),
    [
        ("NC50", {"read"}, 200),
        ("4-1/2 REG", {"read"}, 422),
        ("4-1/2 REG", {"read", "from memory"}, 200),
    ],
)
def test_accepted_statuses(connection: str, statuses: set[str], status: int) -> None:
    client = create_app(Settings(policy=policy_file(accepted_statuses=sorted(statuses)))).test_client()
    answer = client.post("/v1/torque/rotary-shouldered", json={**COLLAR, "connection": connection})
    assert answer.status_code == status
    if status == 200 and "from memory" not in statuses:
        window = answer.get_json()["torque"]
        assert window["maximum"] is None
        assert "withheld" in answer.get_json()["reasons"]["torque.maximum"]
        assert window["minimum"] == window["target"]
    if status == 422:
        assert answer.get_json()["code"] == "status_not_accepted"


def test_what_the_caller_states_is_always_accepted() -> None:
    pressure = next(each for each in CALCULATIONS if each.name == "pressure")
    client = create_app(Settings(policy=policy_file(accepted_statuses=["read"]))).test_client()
    stated = {"family": "stated", "torque_target": "20000 ft-lb", "torque_source": "invented sheet"}
    job = {name: pressure.example[name] for name in ("machine", "operation", "thread_hand", "arm_position")}
    assert client.post("/v1/pressure", json={**stated, **job}).status_code == 200
