"""Simulated calibrations of a machine that is not what its profile says, or was not read as written down."""

import re
from typing import Any

import pytest
from calibrations import MOTOR, TrueMachine, WrittenDown, motor_readings, readings, request
from machines import profile

from api.answers.calibration import calibration_answer
from api.answers.shop import Shop
from api.calculation import Calculation
from api.engineering.faults import NoAnswer
from schemas.calibration import CalibrationRequest
from schemas.calibration_answer import CalibrationAnswer

CALIBRATION = Calculation(
    "calibration", "", "", {"": CalibrationRequest()}, calibration_answer, CalibrationAnswer(), (), {}
)


def answered(**asked: Any) -> dict[str, Any]:
    return CALIBRATION.answer(asked, Shop(), "us")


def mistakes(side: dict[str, Any]) -> list[str]:
    return [mistake["code"] for mistake in side["efficiency"]["likely_mistakes"]]


IN_FEET = profile(
    arm_radius="36 ft",
    base_distance="60 ft",
    cylinder__closed_length="40 ft",
    cylinder__open_length="62 ft",
)
TWICE = profile(
    arm_radius="72 in",
    base_distance="120 in",
    cylinder__closed_length="80 in",
    cylinder__open_length="124 in",
)


@pytest.mark.parametrize(
    ("side", "written", "machine", "verdict", "code"),
    [
        ("cap", WrittenDown(), profile(), "plausible", None),
        ("rod", WrittenDown(), profile(), "plausible", None),
        # the other side was under pressure
        ("rod", WrittenDown(swapped=True), profile(), "low", "wrong_side"),
        ("cap", WrittenDown(swapped=True), profile(), "impossible", "wrong_side"),
        # units of torque
        ("cap", WrittenDown(torque_unit="N.m"), profile(), "low", "newton_metre_foot_pound"),
        ("cap", WrittenDown(torque_factor=1.3558179), profile(), "impossible", "newton_metre_foot_pound"),
        ("rod", WrittenDown(torque_unit="in-lb"), profile(), "low", "inch_foot"),
        ("rod", WrittenDown(torque_factor=12), profile(), "impossible", "inch_foot"),
        ("rod", WrittenDown(torque_factor=0.13558179, torque_unit="N.m"), profile(), "low", "factor_ten"),
        # units of pressure: psi taken for bar, bar for psi, a dial marked x10
        ("cap", WrittenDown(pressure_unit="bar"), profile(), "low", "psi_bar"),
        ("rod", WrittenDown(pressure_factor=1 / 14.503774), profile(), "impossible", "psi_bar"),
        ("cap", WrittenDown(pressure_factor=0.1), profile(), "impossible", "factor_ten"),
        # the profile: inches given as feet, the diameter of the arm as its radius
        ("cap", WrittenDown(), IN_FEET, "low", "inch_foot"),
        ("rod", WrittenDown(), TWICE, "low", "radius_diameter"),
        # two at once
        (
            "rod",
            WrittenDown(swapped=True, torque_unit="N.m"),
            profile(),
            "low",
            "newton_metre_foot_pound+wrong_side",
        ),
    ],
)
def test_mistake_is_named(
    side: str, written: WrittenDown, machine: dict[str, Any], verdict: str, code: str | None
) -> None:
    answer = answered(**request(readings(side, written=written), machine=machine))
    (found,) = answer["sides"]
    assert found["efficiency"]["verdict"] == verdict
    assert mistakes(found)[:1] == ([code] if code else [])
    if code is None:
        assert found["efficiency"]["efficiency"] == pytest.approx(0.95, abs=0.005)
        assert answer["profile"] is not None
        return
    first = found["efficiency"]["likely_mistakes"][0]
    assert first["efficiency_without"] == pytest.approx(0.95, abs=0.005)
    assert answer["profile"] is None
    assert "find the mistake" in answer["profile_reason"]
    assert any("find the mistake" in caution for caution in answer["cautions"])


def test_psi_read_as_bar_on_a_dial_marked_x10() -> None:
    """MPa for psi: two slips at once, 145.04."""
    taken = readings("cap", written=WrittenDown(pressure_unit="MPa"), levels=(100, 150, 200, 250, 300))
    (found,) = answered(**request(taken))["sides"]
    assert mistakes(found)[0] == "psi_bar+factor_ten"


def test_displacement_per_radian() -> None:
    """24 in3/rad given as per revolution; 24 in3/rad through 40 to 1 at 1000 psi and 0.8: 64,000 ft-lb."""
    taken = motor_readings(lambda psi: 64 * 0.88 / 0.8 * psi)
    answer = answered(**request(taken, machine=MOTOR))
    (found,) = answer["sides"]
    assert mistakes(found) == ["radian_revolution"]
    assert found["efficiency"]["likely_mistakes"][0]["efficiency_without"] == pytest.approx(0.88, abs=1e-6)


def told(note: dict[str, Any]) -> dict[str, float]:
    """Bore and moment arm that a note names, in."""
    return {
        name: float(value) for name, value in re.findall(r"(bore|moment arm) of ([0-9.]+) in", note["text"])
    }


@pytest.mark.parametrize(
    ("true", "code", "size"),
    [
        (TrueMachine(bore=4.5), "bore_in_doubt", {"bore": 4.5}),
        (TrueMachine(bore=5.5), "bore_in_doubt", {"bore": 5.5}),
        (TrueMachine(bore=4.0), "bore_in_doubt", {"bore": 4.0}),
        (TrueMachine(arm=30.0), "arm_hole_in_doubt", {"moment arm": 30.0}),
        (TrueMachine(arm=45.0), "arm_hole_in_doubt", {"moment arm": 45.0}),
    ],
)
def test_both_sides_tell_bore_from_arm_hole(true: TrueMachine, code: str, size: dict[str, float]) -> None:
    answer = answered(**request(readings("cap", machine=true), readings("rod", "EX-8", machine=true)))
    assert answer["notes"][-1]["code"] == code
    assert told(answer["notes"][-1]) == pytest.approx(size, rel=1e-3)
    assert answer["profile"] is None


def test_one_side_names_both_sizes() -> None:
    """0.81 of the torque: 5 in x sqrt(0.81), 36 in x 0.81."""
    answer = answered(**request(readings("cap", machine=TrueMachine(bore=4.5))))
    (found,), (note,) = answer["sides"], answer["notes"]
    assert mistakes(found) == ["bore_or_arm_hole"]
    assert note["code"] == "bore_or_arm_in_doubt"
    assert told(note) == pytest.approx({"bore": 4.5, "moment arm": 29.16}, rel=1e-3)


@pytest.mark.parametrize(
    ("written", "text"),
    [
        (WrittenDown(torque_unit="N.m"), "torque in foot-pounds given as N.m"),
        (WrittenDown(swapped=True), "the other side was under pressure than the one named"),
        (WrittenDown(pressure_unit="bar"), "pressure in psi given as bar"),
    ],
)
def test_one_mistake_on_both_sides(written: WrittenDown, text: str) -> None:
    both = (readings("cap", written=written), readings("rod", "EX-8", written=written))
    note = answered(**request(*both))["notes"][0]
    assert note["code"] == "same_mistake"
    assert text in note["text"]


def test_one_side_off() -> None:
    """A rod of 3 in instead of 2.5 changes the rod side alone: (25 - 9)/18.75 of the torque."""
    both = (readings("cap"), readings("rod", "EX-8", machine=TrueMachine(rod=3.0)))
    answer = answered(**request(*both))
    assert [side["efficiency"]["verdict"] for side in answer["sides"]] == ["plausible", "low"]
    (note,) = answer["notes"]
    assert note["code"] == "one_side_off"
    assert note["text"].startswith("side rod on gauge EX-8")


def test_a_gauge_of_the_machine_names_its_unit_itself() -> None:
    """EX-1 is a gauge of the profile and reads in psi: what cannot be is refused, not guessed at."""
    with pytest.raises(NoAnswer) as refusal:
        answered(**request(readings("cap", "EX-1", written=WrittenDown(pressure_unit="bar"))))
    (fault,) = refusal.value.faults
    assert fault.code == "not_dial_unit"
    assert "EX-1 reads in psi, not in bar" in fault.text


def test_a_sound_machine_has_no_note() -> None:
    answer = answered(**request(readings("cap", "EX-1"), readings("rod", "EX-1")))
    assert answer["notes"] == []
    assert [side["efficiency"]["verdict"] for side in answer["sides"]] == ["plausible", "plausible"]
