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
NARROW = {"torque_minimum": f"{AT_380 * (1 - BIT)!r} ft-lb", "torque_maximum": "20600 ft-lb"}
"""A window of 380 psi alone, the next mark down being 360."""


def codes(client: FlaskClient, given: dict[str, Any]) -> set[str]:
    answer = client.post("/v1/pressure", json={**STATED, **JOB, "machine": profile(), **given})
    assert answer.status_code in (200, 422), answer.text
    return {error["code"] for error in answer.get_json().get("errors", [])}


def limit(code: str, at: dict[str, Any], beyond: dict[str, Any]) -> Any:
    return pytest.param(code, at, beyond, id=code)


def machine(**changed: Any) -> dict[str, Any]:
    return {"machine": profile(**changed)}


def relief(cracking: float, full_flow: float = 700.0) -> dict[str, Any]:
    return machine(relief={"cracking": f"{cracking!r} psi", "full_flow": f"{full_flow!r} psi"})


@pytest.mark.parametrize(
    ("code", "at", "beyond"),
    [
        limit(
            "below_lowest_setting",
            {**NARROW, **machine(lowest_setting="380 psi")},
            {**NARROW, **machine(lowest_setting="380.0001 psi")},
        ),
        # 1.1 x 380 psi, and the efficiency at its highest reaches 60,000 ft-lb at 1,069.379 psi
        limit("relief_cannot_protect", {**NARROW, **relief(418.0 * (1 + BIT))}, {**NARROW, **relief(418.0 * (1 - BIT))}),
        limit("relief_cannot_protect", relief(450.0, 1069.379), relief(450.0, 1069.380)),
        limit("capacity_exceeded", machine(rated_pressure__hoses="520 psi"), machine(rated_pressure__hoses=f"{LOW_NEED * (1 - BIT)!r} psi")),
        limit(
            "joint_maximum_exceeded",
            {**NARROW, "torque_maximum": f"{HIGH_380 * (1 + BIT)!r} ft-lb"},
            {**NARROW, "torque_maximum": f"{HIGH_380 * (1 - BIT)!r} ft-lb"},
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


@pytest.mark.parametrize(
    ("code", "changed"),
    [
        ("capacity_exceeded", {"rated_pressure__cylinder": "399 psi"}),
        ("capacity_exceeded", {"rated_pressure__hoses": "399 psi"}),
        ("capacity_exceeded", {"gauges__make_up__span": "380 psi"}),
        ("relief_cannot_protect", {"rated_pressure__cylinder": "517 psi"}),
        ("relief_cannot_protect", {"rated_pressure__hoses": "517 psi"}),
        ("relief_cannot_protect", {"gauges__make_up__span": "500 psi"}),
    ],
)
def test_every_rating_counts(client: FlaskClient, code: str, changed: dict[str, Any]) -> None:
    assert code in codes(client, {**NARROW, **machine(**changed)})


def test_all_reasons_are_told_at_once(client: FlaskClient) -> None:
    bad = profile(torque_rating="15000 ft-lb", lowest_setting="500 psi", rated_pressure__hoses="2000 psi")
    found = codes(client, {"machine": bad, "gripped_outside_diameter": "12 in"})
    assert found == {
        "torque_rating_exceeded",
        "below_lowest_setting",
        "diameter_not_gripped",
    }
