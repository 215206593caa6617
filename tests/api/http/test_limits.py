"""Every limit of a machine: accepted at the bound, refused just beyond."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED, profile

# 20,000 ft-lb on the example machine: exact 387.4 psi, set 380 psi (square, cap side, efficiency 0.95).
CAP = 19.634954084936208
AT_380 = 36 * 0.95 * CAP * 350 / 12  # torque at the setting, ft-lb
HIGH_380 = 36 * 0.98 * CAP * 350 / 12
LOW_NEED = 20000 * 12 / (36 * 0.92 * CAP) + 30  # pressure needed at the lowest efficiency, psi
BIT = 1e-9


def codes(client: FlaskClient, given: dict[str, Any]) -> set[str]:
    answer = client.post("/v1/pressure", json={**STATED, **JOB, "machine": profile(), **given})
    assert answer.status_code in (200, 422), answer.text
    return {error["code"] for error in answer.get_json().get("errors", [])}


def limit(code: str, at: dict[str, Any], beyond: dict[str, Any]) -> Any:
    return pytest.param(code, at, beyond, id=code)


def machine(**changed: Any) -> dict[str, Any]:
    return {"machine": profile(**changed)}


def relief(cracking: float) -> dict[str, Any]:
    return machine(relief={"cracking": f"{cracking!r} psi", "full_flow": "2000 psi"})


def full_flow(pressure: float) -> dict[str, Any]:
    return machine(relief={"cracking": "2500 psi", "full_flow": f"{pressure!r} psi"})


@pytest.mark.parametrize(
    ("code", "at", "beyond"),
    [
        limit("torque_rating_exceeded", machine(torque_rating="20000 ft-lb"), machine(torque_rating="19999.9999 ft-lb")),
        limit("below_lowest_setting", machine(lowest_setting="400 psi"), machine(lowest_setting="400.0001 psi")),
        limit("capacity_exceeded", relief(LOW_NEED * (1 + BIT)), relief(LOW_NEED * (1 - BIT))),
        limit("relief_above_rating", full_flow(3000.0), full_flow(3000.0001)),
        limit(
            "joint_maximum_exceeded",
            {"torque_maximum": f"{HIGH_380 * (1 + BIT)!r} ft-lb"},
            {"torque_maximum": f"{HIGH_380 * (1 - BIT)!r} ft-lb"},
        ),
        limit(
            "no_mark_in_window",
            {"torque_minimum": f"{AT_380 * (1 - BIT)!r} ft-lb", "torque_maximum": "20600 ft-lb"},
            {"torque_minimum": f"{AT_380 * (1 + BIT)!r} ft-lb", "torque_maximum": "20600 ft-lb"},
        ),
        limit("diameter_not_gripped", {"gripped_outside_diameter": "10 in"}, {"gripped_outside_diameter": "10.0001 in"}),
        limit("diameter_not_gripped", {"gripped_outside_diameter": "3 in"}, {"gripped_outside_diameter": "2.9999 in"}),
        limit("outside_stroke", {"arm_position": "40 in"}, {"arm_position": "39.9999 in"}),
        limit("outside_stroke", {"arm_position": "62 in"}, {"arm_position": "62.0001 in"}),
        limit(
            "square_not_reached",
            machine(cylinder__closed_length="48 in"),
            machine(cylinder__closed_length="48.0001 in"),
        ),
    ],
)  # fmt: skip
def test_limit(client: FlaskClient, code: str, at: dict[str, Any], beyond: dict[str, Any]) -> None:
    assert codes(client, at) == set()
    assert code in codes(client, beyond)


@pytest.mark.parametrize(("cracking", "refused"), [(380.0001, False), (380.0, True), (379.9, True)])
def test_the_setting_lies_below_relief_cracking_and_not_at_it(
    client: FlaskClient, cracking: float, refused: bool
) -> None:
    assert ("setting_not_below_relief" in codes(client, relief(cracking))) == refused


@pytest.mark.parametrize(
    ("code", "changed"),
    [
        ("capacity_exceeded", {"rated_pressure__cylinder": "399 psi"}),
        ("capacity_exceeded", {"rated_pressure__hoses": "399 psi"}),
        ("capacity_exceeded", {"gauges__make_up__span": "380 psi"}),
        ("relief_above_rating", {"rated_pressure__cylinder": "2749 psi"}),
        ("relief_above_rating", {"rated_pressure__hoses": "2749 psi"}),
        ("relief_above_rating", {"gauges__make_up__span": "2740 psi"}),
    ],
)
def test_every_rating_counts(client: FlaskClient, code: str, changed: dict[str, Any]) -> None:
    assert code in codes(client, machine(**changed))


def test_all_reasons_are_told_at_once(client: FlaskClient) -> None:
    bad = profile(torque_rating="15000 ft-lb", lowest_setting="500 psi", rated_pressure__hoses="2000 psi")
    found = codes(client, {"machine": bad, "gripped_outside_diameter": "12 in"})
    assert found == {
        "torque_rating_exceeded",
        "below_lowest_setting",
        "relief_above_rating",
        "diameter_not_gripped",
    }
