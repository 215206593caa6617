"""Worst-case bounds and delivered torque, worked by hand from areas and levers."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from hand_worked_machine_cases import CASES, MachineCase
from machines import JOB, STATED, V_SEAT, profile
from rows import every_row

# The example machine: bore 5 in, rod 2.5 in, arm 36 in, base 60 in, stroke 40 to 62 in, efficiency 0.92, 0.95,
# 0.98, breakaway 30 psi, make-up gauge 0 to 3000 psi by 20 psi, 1 % of span = 30 psi; cap side makes up right hand.
CAP = 19.634954084936208  # pi/4 5^2, in2
ROD = 14.726215563702156  # pi/4 (5^2 - 2.5^2), in2
OPEN_ARM = 33.78993380930145  # moment arm at 62 in: 36 * 60 * sin(acos(1052/4320)) / 62, in
# cos(theta) = (36^2 + 60^2 - 62^2)/(2 36 60) = 1052/4320; sin = 0.9698962; 36 * 60 * 0.9698962 / 62 = 33.78993


def post(client: FlaskClient, path: str, **given: Any) -> Any:
    return client.post(path, json={**JOB, "machine": profile(), **given})


def ask(client: FlaskClient, path: str, **given: Any) -> Any:
    answer = post(client, path, **given)
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def bounds(answer: Any) -> tuple[float, float]:
    return answer["torque_lower_bound"]["value"], answer["torque_upper_bound"]["value"]


def test_bounds_of_a_setting(client: FlaskClient) -> None:
    """20,000 ft-lb: 20,000 * 12 / (36 * 0.95 * 19.634954) + 30 = 387.4 psi, so 380 psi is set.

    Least: 36 * 0.92 * 19.634954 * (380 - 30 - 30) / 12; most: 36 * 0.98 * 19.634954 * (380 + 30 - 30) / 12.
    """
    answer = ask(client, "/v1/pressure", **STATED)
    assert answer["gauge_setting"]["value"] == 380
    least, most = bounds(answer)
    assert least == pytest.approx(36 * 0.92 * CAP * 320 / 12, rel=1e-9)
    assert most == pytest.approx(36 * 0.98 * CAP * 380 / 12, rel=1e-9)


def test_unknown_position_widens_the_lower_bound_only(client: FlaskClient) -> None:
    """The largest arm of the stroke is 36 in (square, at 48 in); the smallest 33.79 in, at 62 in."""
    answer = ask(client, "/v1/pressure", **STATED, arm_position="unknown")
    least, most = bounds(answer)
    assert answer["gauge_setting"]["value"] == 380
    assert least == pytest.approx(OPEN_ARM * 0.92 * CAP * 320 / 12, rel=1e-9)
    assert most == pytest.approx(36 * 0.98 * CAP * 380 / 12, rel=1e-9)


@pytest.mark.parametrize(
    ("operation", "hand", "area", "other", "gauge", "reading", "margin"),
    [
        # the margin is 1 % of 3000 psi and half of 20 psi, or 1.6 % of 5000 psi and half of 100 psi
        ("make_up", "right", CAP, ROD, "EX-1", "580 psi", 40.0),
        ("make_up", "left", ROD, CAP, "EX-1", "580 psi", 40.0),
        ("break_out", "right", ROD, CAP, "EX-2", "1500 psi", 130.0),
        ("break_out", "left", CAP, ROD, "EX-2", "1500 psi", 130.0),
    ],
)
def test_delivered_torque(
    client: FlaskClient,
    operation: str,
    hand: str,
    area: float,
    other: float,
    gauge: str,
    reading: str,
    margin: float,
) -> None:
    """T = 36 e (A (p - 30) - A' 10) / 12 with a return pressure of 10 psi."""
    answer = ask(
        client,
        "/v1/delivered-torque",
        operation=operation,
        thread_hand=hand,
        gauge_reading=reading,
        machine=profile(return_pressure="10 psi"),
    )
    pressure = float(reading.split(maxsplit=1)[0])

    def torque(p: float, efficiency: float) -> float:
        return 36 * efficiency * (area * (p - 30) - other * 10) / 12

    assert answer["gauge"] == gauge
    assert answer["delivered_torque"]["value"] == pytest.approx(torque(pressure, 0.95), rel=1e-9)
    least, most = bounds(answer)
    assert least == pytest.approx(torque(pressure - margin, 0.92), rel=1e-9)
    assert most == pytest.approx(torque(pressure + margin, 0.98), rel=1e-9)


@every_row("case", CASES, ids=lambda case: case.name)
def test_delivered_torque_of_every_hand_worked_case(client: FlaskClient, case: MachineCase) -> None:
    """The torque behind the hand-worked pressure is the torque it was worked out for."""
    length, unit, torque = ("in", "psi", "ft-lb") if case.unit_system == "us" else ("mm", "bar", "N.m")
    dial = {
        "serial": "H-1",
        "span": f"4000 {unit}",
        "division": f"10 {unit}",
        "accuracy_percent_of_span": 1.0,
    }
    machine = profile(
        cylinder__bore=f"{case.bore!r} {length}",
        cylinder__rod=f"{case.rod!r} {length}",
        cylinder__closed_length=f"{case.closed_length!r} {length}",
        cylinder__open_length=f"{case.open_length!r} {length}",
        arm_radius=f"{case.arm_radius!r} {length}",
        base_distance=f"{case.base_distance!r} {length}",
        right_hand_make_up_side=case.right_hand_make_up_side,
        efficiency={"low": case.efficiency, "nominal": case.efficiency, "high": case.efficiency},
        breakaway_pressure=f"{case.breakaway_pressure!r} {unit}",
        return_pressure=f"{case.return_pressure!r} {unit}",
        gauges={name: {**dial, "connected_at": "work_port"} for name in ("make_up", "break_out")},
    )
    position = case.arm_position if isinstance(case.arm_position, str) else f"{case.arm_position!r} {length}"
    answer = ask(
        client,
        "/v1/delivered-torque",
        machine=machine,
        operation=case.operation,
        thread_hand=case.thread_hand,
        arm_position=position,
        gauge_reading=f"{case.expected_pressure!r} {unit}",
        torque_unit=torque,
    )
    assert answer["cylinder_side"] == case.expected_side
    expected = case.make_up_torque * (case.break_out_ratio or 1.0)
    assert answer["delivered_torque"]["value"] == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("position", ["square", "42 in", "60 in", "unknown"])
@pytest.mark.parametrize("hand", ["right", "left"])
def test_pressure_and_delivered_torque_are_inverse(client: FlaskClient, position: str, hand: str) -> None:
    given = {"arm_position": position, "thread_hand": hand}
    pressure = ask(client, "/v1/pressure", **{**STATED, **given, "pressure_unit": "psi"})["pressure"]["value"]
    back = ask(client, "/v1/delivered-torque", **given, gauge_reading=f"{pressure!r} psi")
    assert back["delivered_torque"]["value"] == pytest.approx(20000, rel=1e-9)


def test_either_gauge_can_be_read(client: FlaskClient) -> None:
    answer = ask(client, "/v1/delivered-torque", gauge_reading="500 psi", gauge_read="break_out")
    assert (answer["gauge"], answer["cylinder_side"]) == ("EX-2", "cap")


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"gauge_reading": "40 bar"}, "not_dial_unit"),
        ({"gauge_reading": "3000 psi"}, None),
        ({"gauge_reading": "3000.1 psi"}, "above_gauge"),
        ({"gauge_reading": "30 psi"}, "below_breakaway"),
        ({"gauge_reading": "30.1 psi"}, None),
        ({"gauge_reading": "580"}, "bare_number"),
        ({"gauge_reading": "0 psi"}, "out_of_range"),
        ({}, "missing_field"),
        ({"gauge_reading": "580 psi", "arm_position": "30 in"}, "outside_stroke"),
    ],
)
def test_reading_refused(client: FlaskClient, given: dict[str, Any], code: str | None) -> None:
    answer = post(client, "/v1/delivered-torque", **given)
    assert answer.status_code == (422 if code else 200)
    assert answer.get_json().get("code") == code


def test_an_overload_is_told_and_not_refused(client: FlaskClient) -> None:
    answer = ask(
        client, "/v1/delivered-torque", gauge_reading="2900 psi", machine=profile(torque_rating="50000 ft-lb")
    )
    verdicts = {check["name"]: check["verdict"] for check in answer["checks"]}
    assert verdicts["torque_rating"] == "caution"


@pytest.mark.parametrize(
    ("diameter", "arm", "base"),
    [
        # straight between the measured ones: 34.8 at 4 in, 37.6 at 8, 39 at 10; base 60 at 4, 63 at 10
        ("4 in", 34.8, 60.0),
        ("5 in", 35.5, 60.5),
        ("6.5 in", 36.55, 61.25),
        ("8 in", 37.6, 62.0),
        ("9 in", 38.3, 62.5),
        ("254 mm", 39.0, 63.0),
    ],
)
def test_v_seat_depends_on_the_diameter_gripped(
    client: FlaskClient, diameter: str, arm: float, base: float
) -> None:
    answer = ask(
        client,
        "/v1/delivered-torque",
        machine=profile(**V_SEAT),
        gripped_outside_diameter=diameter,
        gauge_reading="580 psi",
        steps=True,
    )
    steps = {step["symbol"]: step["value"]["value"] for step in answer["steps"]}
    assert (steps["a"], steps["b"]) == (pytest.approx(arm, rel=1e-9), pytest.approx(base, rel=1e-9))
    assert answer["delivered_torque"]["value"] == pytest.approx(arm * 0.95 * CAP * 550 / 12, rel=1e-9)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({}, "gripped_diameter_required"),
        ({"gripped_outside_diameter": "3.99 in"}, "diameter_not_in_table"),
        ({"gripped_outside_diameter": "10.01 in"}, "diameter_not_in_table"),
        ({"gripped_outside_diameter": "4 in"}, None),
        ({"gripped_outside_diameter": "10 in"}, None),
    ],
)
def test_v_seat_is_never_extrapolated(client: FlaskClient, given: dict[str, Any], code: str | None) -> None:
    answer = post(client, "/v1/pressure", **STATED, machine=profile(**V_SEAT), **given)
    assert answer.get_json().get("code") == code


def test_v_seat_takes_the_box_diameter_of_the_joint_and_says_so(client: FlaskClient) -> None:
    joint = {
        "family": "rotary_shouldered",
        "connection": "NC50",
        "component": "drill_collar",
        "box_outside_diameter": "6.5 in",
        "pin_bore": "2.8125 in",
    }
    answer = ask(client, "/v1/pressure", **joint, machine=profile(**V_SEAT))
    assert answer["moment_arm"]["value"] == pytest.approx(36.55, rel=1e-9)
    assert "gripped_outside_diameter" in {each["field"] for each in answer["assumptions"]}
    given = ask(client, "/v1/pressure", **joint, machine=profile(**V_SEAT), gripped_outside_diameter="8 in")
    assert given["moment_arm"]["value"] == pytest.approx(37.6, rel=1e-9)
    assert "gripped_outside_diameter" not in {each["field"] for each in given["assumptions"]}
