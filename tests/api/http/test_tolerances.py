"""Stated tolerances of a machine are in its worst case, and in the check of its profile."""

import random
from math import cos, pi, radians, sin, sqrt
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, profile

TOLERANCES = {"bore": "0.01 in", "arm_radius": "0.25 in", "arm_angle": "5 deg", "breakaway_pressure": "5 psi"}


def bounds(client: FlaskClient, machine: dict[str, Any], reading: int, **job: str) -> tuple[float, float]:
    asked = {**JOB, "machine": machine, "gauge_reading": f"{reading} psi", **job}
    answer = client.post("/v1/delivered-torque", json=asked).get_json()
    return answer["torque_lower_bound"]["value"], answer["torque_upper_bound"]["value"]


def test_pushing_by_hand(client: FlaskClient) -> None:
    """5 in bore, 36 in arm, 0.92 to 0.98, 30 psi breakaway; 1 % of 3000 psi and half of 20 psi: 40 psi."""
    low, high = bounds(client, profile(tolerances=TOLERANCES), 1000)
    assert low == pytest.approx(
        35.75 / 12 * cos(radians(5)) * 0.92 * pi / 4 * 4.99**2 * (1000 - 40 - 35), rel=1e-9
    )
    assert high == pytest.approx(36.25 / 12 * 0.98 * pi / 4 * 5.01**2 * (1000 + 40 - 25), rel=1e-9)


def test_pulling_by_hand(client: FlaskClient) -> None:
    """On the rod side a thicker rod gives less: 2.5 in; with 20 psi of return pressure on the cap."""
    machine = profile(tolerances={"rod": "0.02 in", "return_pressure": "4 psi"}, return_pressure="20 psi")
    low, high = bounds(client, machine, 1000, thread_hand="left")
    cap = pi / 4 * 25
    least = 3 * 0.92 * (pi / 4 * (25 - 2.52**2) * (1000 - 40 - 30) - cap * 24)
    most = 3 * 0.98 * (pi / 4 * (25 - 2.48**2) * (1000 + 40 - 30) - cap * 16)
    assert (low, high) == (pytest.approx(least, rel=1e-9), pytest.approx(most, rel=1e-9))


def test_at_a_length_an_angle_counts_both_ways(client: FlaskClient) -> None:
    """36 and 60 in at 60 in: sin(alpha) = 0.95394, and off by 2 deg sin(alpha +- 2 deg)."""
    machine, plain = profile(tolerances={"arm_angle": "2 deg"}), profile()
    low, high = bounds(client, machine, 1000, arm_position="60 in")
    plain_low, plain_high = bounds(client, plain, 1000, arm_position="60 in")
    sine = sqrt(1 - (36**2 + 60**2 - 60**2) ** 2 / (2 * 36 * 60) ** 2)
    cosine = sqrt(1 - sine**2)
    x = radians(2)
    assert low / plain_low == pytest.approx((sine * cos(x) - cosine * sin(x)) / sine, rel=1e-9)
    assert high / plain_high == pytest.approx((sine * cos(x) + cosine * sin(x)) / sine, rel=1e-9)


@pytest.mark.parametrize("position", ["square", "unknown", "44 in", "60 in"])
@pytest.mark.parametrize("hand", ["right", "left"])
def test_no_machine_within_the_tolerances_gives_more_or_less(
    client: FlaskClient, position: str, hand: str
) -> None:
    """Machines drawn at random, their torque by statics alone; the seed stands here."""
    draw = random.Random(7)
    widths = {"bore": 0.05, "rod": 0.03, "arm_radius": 0.5, "base_distance": 0.4}
    tolerances = {name: f"{width} in" for name, width in widths.items()}
    machine = profile(tolerances={**tolerances, "return_pressure": "5 psi"}, return_pressure="30 psi")
    low, high = bounds(client, machine, 1000, arm_position=position, thread_hand=hand)
    stated = None if position in ("square", "unknown") else float(position.removesuffix(" in"))
    seen = []
    for _ in range(4000):
        bore, rod, arm, base = (
            size + draw.uniform(-1, 1) * widths[name]
            for name, size in {"bore": 5, "rod": 2.5, "arm_radius": 36, "base_distance": 60}.items()
        )
        cap, side = pi / 4 * bore**2, pi / 4 * (bore**2 - rod**2)
        driven, other = (cap, side) if hand == "right" else (side, cap)
        length = draw.uniform(40, 62) if position == "unknown" else stated
        lever = arm if length is None else _lever(arm, base, length)
        force = driven * (1000 + draw.uniform(-40, 40) - 30) - other * (30 + draw.uniform(-5, 5))
        seen.append(lever / 12 * draw.uniform(0.92, 0.98) * force)
    assert low <= min(seen)
    assert max(seen) <= high
    # and no wider than it must be: the draws come near both ends
    assert min(seen) - low < 0.25 * (high - low)
    assert high - max(seen) < 0.25 * (high - low)


def _lever(arm: float, base: float, length: float) -> float:
    cosine = (arm**2 + base**2 - length**2) / (2 * arm * base)
    return arm * base * sqrt(1 - cosine**2) / length


@pytest.mark.parametrize(
    ("closed", "length", "base"),
    [
        # 36 and 60 in stand square at 48 in; the lever is least at the end that is farther from it
        (30, 30, 60.4),  # nearer than square a farther base takes from the lever
        (40, 62, 59.6),  # beyond square it adds
    ],
)
def test_in_an_unknown_position_least_and_most_are_at_two_places(
    client: FlaskClient, closed: int, length: float, base: float
) -> None:
    """At square, where the torque is most, the base does not count; where it is least it does."""
    machine = {"cylinder__closed_length": f"{closed} in"}
    plain = bounds(client, profile(**machine), 1000, arm_position="unknown")
    low, high = bounds(
        client, profile(**machine, tolerances={"base_distance": "0.4 in"}), 1000, arm_position="unknown"
    )
    assert low / plain[0] == pytest.approx(_lever(36, base, length) / _lever(36, 60, length), rel=1e-9)
    assert low < plain[0]
    assert high == pytest.approx(plain[1], rel=1e-9)


def test_a_tolerance_too_wide_is_refused_and_told_by_the_check(client: FlaskClient) -> None:
    machine = profile(tolerances={"arm_radius": "4 in"})
    asked = {**JOB, "machine": machine, "gauge_reading": "1000 psi"}
    assert client.post("/v1/delivered-torque", json=asked).get_json()["code"] == "tolerance_too_wide"
    checked = client.post("/v1/profile-check", json=machine).get_json()
    found = checked["findings"][0]
    assert (found["level"], found["code"]) == ("stop", "tolerance_too_wide")
    assert "arm radius is more than 10 %" in found["text"]


def test_an_angle_beyond_reason_is_no_profile(client: FlaskClient) -> None:
    checked = client.post("/v1/profile-check", json=profile(tolerances={"arm_angle": "80 deg"})).get_json()
    assert not checked["valid"]


def test_one_gauge_is_described_once(client: FlaskClient) -> None:
    machine = profile(gauges__break_out__serial="EX-1")
    checked = client.post("/v1/profile-check", json=machine).get_json()
    assert [fault["code"] for fault in checked["faults"]] == ["contradiction"]
    assert checked["faults"][0]["pointer"] == "/gauges/break_out"
