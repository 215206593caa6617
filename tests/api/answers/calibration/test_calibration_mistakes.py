"""Simulated calibrations of a machine that is not what its profile says, or was not read as written down."""

import json
import re
from math import pi
from pathlib import Path
from typing import Any

import pytest
from calibrations import MOTOR, TrueMachine, WrittenDown, motor_readings, readings, request
from machines import profile

from api.answers.calibration.calibration import calibration_answer
from api.answers.shop import Shop
from api.engineering.checks import NoAnswer
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.calibration.answer import CalibrationAnswer
from schemas.calibration.request import CalibrationRequest

CALIBRATION = Calculation(
    "calibration",
    LOOK_UP,
    "",
    "",
    {"": CalibrationRequest()},
    calibration_answer,
    CalibrationAnswer(),
    (),
    {},
)


DEMO = Path(__file__).parents[4] / "deploy" / "demo" / "machines"


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
    assert "find the mistake" in answer["reasons"]["profile"]
    (told,) = (each for each in answer["findings"] if each["code"] == "efficiency_not_plausible")
    assert (told["level"], told["remedy"]) == ("stop", "Find the mistake before you use this calibration.")
    assert told["value"]["value"] == found["efficiency"]["efficiency"]


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
    """Bore, rod and moment arm that a note names, in."""
    return {
        name: float(value)
        for name, value in re.findall(r"(bore|rod|moment arm) of ([0-9.]+) in", note["text"])
    }


def both(true: TrueMachine, cap: str = "EX-9", rod: str = "EX-8") -> tuple[list[dict[str, Any]], ...]:
    return readings("cap", cap, machine=true), readings("rod", rod, machine=true)


@pytest.mark.parametrize(
    ("true", "code", "size"),
    [
        (TrueMachine(bore=4.5), "bore_in_doubt", {"bore": 4.5}),
        (TrueMachine(bore=5.5), "bore_in_doubt", {"bore": 5.5}),
        (TrueMachine(bore=4.0), "bore_in_doubt", {"bore": 4.0}),
        (TrueMachine(bore=4.75), "bore_in_doubt", {"bore": 4.75}),
        (TrueMachine(arm=30.0), "arm_hole_in_doubt", {"moment arm": 30.0}),
        (TrueMachine(arm=45.0), "arm_hole_in_doubt", {"moment arm": 45.0}),
        (TrueMachine(rod=3.0), "rod_in_doubt", {"rod": 3.0}),
        (TrueMachine(rod=2.0), "rod_in_doubt", {"rod": 2.0}),
        (TrueMachine(rod=1.75), "rod_in_doubt", {"rod": 1.75}),
        (TrueMachine(rod=3.0, efficiency=0.92), "rod_in_doubt", {"rod": 3.0}),
        # by cap sqrt(25 x 39/36), by rod sqrt(6.25 + 18.75 x 39/36): 5.204 and 5.154 in
        (TrueMachine(arm=39.0), "bore_or_arm_in_doubt", {"bore": 5.179, "moment arm": 39.0}),
    ],
)
def test_both_sides_tell_which_size(true: TrueMachine, code: str, size: dict[str, float]) -> None:
    answer = answered(**request(*both(true)))
    (note,) = answer["notes"]
    assert note["code"] == code
    assert told(note) == pytest.approx(size, rel=2e-3)
    assert answer["profile"] is None


@pytest.mark.parametrize(
    ("true", "code", "verdicts"),
    [
        # EX-2, 1.6 % of 5000 psi, is so much less exact than EX-1 that its side alone is plausible
        (TrueMachine(bore=4.77), "bore_in_doubt", ["plausible", "low"]),
        (TrueMachine(arm=39.0), "bore_or_arm_in_doubt", ["plausible", "impossible"]),
    ],
)
def test_a_side_is_heard_though_plausible_alone(true: TrueMachine, code: str, verdicts: list[str]) -> None:
    answer = answered(**request(*both(true, "EX-2", "EX-1")))
    assert [side["efficiency"]["verdict"] for side in answer["sides"]] == verdicts
    assert [note["code"] for note in answer["notes"]] == [code]


@pytest.mark.parametrize(
    ("true", "losses"),
    [
        (TrueMachine(efficiency=0.8), "greater losses than its profile allows for would as well"),
        (TrueMachine(arm=45.0), None),  # an efficiency of 1.19 is no matter of losses
    ],
)
def test_losses_change_both_sides_as_an_arm_does(true: TrueMachine, losses: str | None) -> None:
    (note,) = answered(**request(*both(true)))["notes"]
    assert note["code"] == "arm_hole_in_doubt"
    assert ("losses" in note["text"]) == (losses is not None)
    assert losses is None or losses in note["text"]


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
        (WrittenDown(swapped=True), "the side under pressure was not the one named"),
        (WrittenDown(pressure_unit="bar"), "pressure in psi given as bar"),
    ],
)
def test_one_mistake_on_both_sides(written: WrittenDown, text: str) -> None:
    both = (readings("cap", written=written), readings("rod", "EX-8", written=written))
    note = answered(**request(*both))["notes"][0]
    assert note["code"] == "same_mistake"
    assert text in note["text"]


@pytest.mark.parametrize(
    ("cap", "rod", "off"),
    [
        # the cap side alone at 0.8: a bore or an arm would change the rod side too
        (TrueMachine(efficiency=0.76), TrueMachine(), "side cap on gauge EX-9"),
        # the rod side with more than a bore without a rod would give, 25/18.75
        (TrueMachine(), TrueMachine(efficiency=0.95 * 1.4), "side rod on gauge EX-8"),
    ],
)
def test_one_side_off(cap: TrueMachine, rod: TrueMachine, off: str) -> None:
    asked = request(readings("cap", machine=cap), readings("rod", "EX-8", machine=rod))
    (note,) = answered(**asked)["notes"]
    assert note["code"] == "one_side_off"
    assert note["text"].startswith(f"{off} alone is off, which no bore, rod or moment arm explains")


def test_one_side_off_by_more_than_sizes_differ() -> None:
    """Twelve times too little: sizes were not asked for, and are not denied."""
    (note,) = answered(
        **request(readings("cap", written=WrittenDown(torque_unit="in-lb")), readings("rod", "EX-8"))
    )["notes"]
    assert note["code"] == "one_side_off"
    assert "explains" not in note["text"]


def demo_motor(**changed: Any) -> dict[str, Any]:
    """The invented north-bay-8: 24 in3/rev through 60 to 1, 0.744 to 0.798, nominal 0.7708."""
    return {**json.loads((DEMO / "north-bay-8.json").read_text()), **changed}


def demo_motor_readings(efficiency: float) -> list[dict[str, Any]]:
    """Beyond 20 psi of return pressure, 24 x 60 / (2 pi x 12) ft-lb a psi without losses."""
    taken = motor_readings(lambda psi: efficiency * 24 * 60 / (2 * pi * 12) * (psi - 20))
    return [{**each, "gauge": "G-81"} for each in taken]


@pytest.mark.parametrize("efficiency", [0.744, 0.7708, 0.798])
def test_a_sound_motor_with_gears(efficiency: float) -> None:
    """Its efficiency is below that of any cylinder, as its profile says."""
    answer = answered(**request(demo_motor_readings(efficiency), machine=demo_motor()))
    (found,) = answer["sides"]
    assert found["efficiency"]["efficiency"] == pytest.approx(efficiency, rel=1e-6)
    assert found["efficiency"]["verdict"] == "plausible"
    assert mistakes(found) == []
    assert answer["notes"] == []
    assert answer["profile"]["kind"] == "calibrated"


def test_a_motor_whose_displacement_is_per_radian() -> None:
    machine = demo_motor(displacement=f"{24 / (2 * pi)} in3/rev")
    answer = answered(**request(demo_motor_readings(0.7708), machine=machine))
    assert mistakes(answer["sides"][0]) == ["radian_revolution"]
    assert answer["profile"] is None


def test_a_motor_has_neither_bore_nor_arm() -> None:
    answer = answered(**request(demo_motor_readings(0.66), machine=demo_motor()))
    (found,) = answer["sides"]
    assert found["efficiency"]["verdict"] == "low"
    assert mistakes(found) == ["displacement_or_gear_ratio"]
    assert not re.search(r"\b(bore|rod|arm)\b", json.dumps([answer["notes"], found["efficiency"]]))
    assert "the profile has 0.744 to 0.798" in answer["reasons"]["profile"]


@pytest.mark.parametrize(
    ("expected", "efficiency", "verdict"),
    [
        ((0.92, 0.95, 0.98), 0.90, "plausible"),  # within 3 % of the range
        ((0.92, 0.95, 0.98), 0.80, "low"),
        ((0.75, 0.80, 0.85), 0.80, "plausible"),
        ((0.55, 0.60, 0.65), 0.60, "plausible"),
        ((0.55, 0.60, 0.65), 0.50, "low"),
        ((0.55, 0.60, 0.65), 0.95, "high"),  # sound elsewhere, not here
        ((0.5, 0.7, 0.9), 0.5, "plausible"),
    ],
)
def test_a_cylinder_is_held_against_its_own_efficiency(
    expected: tuple[float, float, float], efficiency: float, verdict: str
) -> None:
    machine = profile(efficiency=dict(zip(("low", "nominal", "high"), expected, strict=True)))
    answer = answered(**request(readings("cap", machine=TrueMachine(efficiency=efficiency)), machine=machine))
    assert answer["sides"][0]["efficiency"]["verdict"] == verdict
    assert (answer["profile"] is not None) == (verdict == "plausible")


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
