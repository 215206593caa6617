"""What ``/v1/make-up-position/sucker-rod`` answers and refuses, from request to result."""

from math import pi
from typing import Any

import pytest

from api.answers.shop import Policy, Shop
from api.answers.tubular.sucker_rod import ROD_NOTICES, ROD_STEPS, sucker_rod_answer
from api.engineering.checks import NoAnswer
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.core.faults import InvalidInput
from schemas.tubular.sucker_rod import SuckerRodAnswer, SuckerRodRequest

ROD = Calculation(
    "make-up-position/sucker-rod",
    LOOK_UP,
    "",
    "",
    {"": SuckerRodRequest()},
    sucker_rod_answer,
    SuckerRodAnswer(),
    (),
    {},
    ROD_STEPS,
)
JOINT = {"size": "3/4", "rod_grade": "D", "run": "first", "coupling": "full_size"}


def asked(shop: Shop | None = None, units: str = "us", **request: Any) -> dict[str, Any]:
    return ROD.answer({**JOINT, **request}, shop or Shop(), units)


@pytest.mark.parametrize(
    ("size", "run", "printed", "low", "high", "turns"),
    [
        # API RP 11BR table 4 (from memory), in; whole degrees as printed for the first run
        ("5/8", "first", "8/32 to 9/32", 0.25, 0.28125, (19, 21)),
        ("3/4", "first", "9/32 to 11/32", 0.28125, 0.34375, (20, 24)),
        ("7/8", "first", "11/32 to 12/32", 0.34375, 0.375, (22, 24)),
        ("1", "first", "14/32 to 16/32", 0.4375, 0.5, (23, 26)),
        ("1-1/8", "first", "18/32 to 21/32", 0.5625, 0.65625, (27, 32)),
        ("5/8", "rerun", "6/32 to 8/32", 0.1875, 0.25, None),
        ("3/4", "rerun", "7/32 to 17/64", 0.21875, 0.265625, None),
        ("7/8", "rerun", "9/32 to 23/64", 0.28125, 0.359375, None),
        ("1", "rerun", "12/32 to 14/32", 0.375, 0.4375, None),
        ("1-1/8", "rerun", "16/32 to 19/32", 0.5, 0.59375, None),
    ],
)
def test_the_table(
    size: str,
    run: str,
    printed: str,
    low: float,
    high: float,
    turns: tuple[int, int] | None,
) -> None:
    answer = asked(size=size, run=run)
    assert answer["displacement_printed"] == printed
    assert answer["displacement_minimum"] == {"value": low, "unit": "in"}
    assert answer["displacement_maximum"] == {"value": high, "unit": "in"}
    diameter = answer["coupling_outside_diameter"]["value"]
    for end, displacement in (("minimum", low), ("maximum", high)):
        share = displacement / (pi * diameter)
        assert answer[f"turn_{end}"] == {"value": pytest.approx(360 * share, rel=1e-9), "unit": "deg"}
        assert answer[f"axial_travel_{end}"]["value"] == pytest.approx(0.1 * share, rel=1e-9)
    if turns:
        shown = (answer["turn_minimum"]["value"], answer["turn_maximum"]["value"])
        assert tuple(round(each) for each in shown) == turns


@pytest.mark.parametrize("grade", ["C", "D", "K", "d", "grade K", "API Grade C"])
def test_grades(grade: str) -> None:
    answer = asked(rod_grade=grade, run="rerun")
    assert answer["rod_grade"] == grade[-1].upper()
    assert answer["displacement_minimum"]["value"] == 0.21875


@pytest.mark.parametrize(
    ("units", "length", "low", "angle", "turn"),
    [("metric", "mm", 7.14375, "deg", 19.833154), ("si", "m", 0.00714375, "rad", 9 / 16 / 1.625)],
)
def test_in_other_units(units: str, length: str, low: float, angle: str, turn: float) -> None:
    """9/32 in is 7.14375 mm; 2 x 9/32 / 1.625 rad."""
    answer = asked(units=units, displacement="8 mm")
    assert answer["displacement_minimum"] == {"value": pytest.approx(low, rel=1e-9), "unit": length}
    assert answer["turn_minimum"] == {"value": pytest.approx(turn, rel=1e-6), "unit": angle}
    assert answer["verdict"] == "accepted"


@pytest.mark.parametrize(
    ("displacement", "verdict"),
    [
        # 3/4 in, first run: 9/32 to 11/32 in, 7.14375 to 8.73125 mm
        ("0 in", "short"),
        ("8/32 in", "short"),
        ("7.1 mm", "short"),
        ("9/32 in", "accepted"),
        ("7.14375 mm", "accepted"),
        ("0.281 in", "accepted"),
        ("10/32 in", "accepted"),
        ("11/32 in", "accepted"),
        ("8.73125 mm", "accepted"),
        ("8.8 mm", "over"),
        ("12/32 in", "over"),
    ],
)
def test_verdicts(displacement: str, verdict: str) -> None:
    answer = asked(displacement=displacement)
    assert answer["verdict"] == verdict
    assert answer["verdict_basis"]
    assert answer["displacement"]["unit"] == "in"
    assert "displacement" not in answer["reasons"]


def test_nothing_measured_is_no_verdict() -> None:
    answer = asked()
    assert (answer["displacement"], answer["verdict"]) == (None, None)
    assert answer["reasons"]["displacement"]
    assert "displacement" in answer["reasons"]["verdict"]


def test_no_torque_and_no_preload_are_invented() -> None:
    answer = asked()
    assert (answer["torque"], answer["preload"]) == (None, None)
    assert "no torque is published" in answer["reasons"]["torque"]
    assert "too high" in answer["reasons"]["preload"]


@pytest.mark.parametrize("run", ["first", "rerun"])
def test_a_new_joint_is_made_and_broken_first(run: str) -> None:
    told = [(each["level"], each["code"]) for each in asked(run=run)["findings"]]
    assert told == ([("look", "first_make_and_break")] if run == "first" else [])


def test_status_is_from_memory() -> None:
    answer = asked()
    assert answer["status"] == "from memory"
    status = {each["what"]: each["status"] for each in answer["sources"]}
    assert status["diameters of 3/4 in sucker rods"] == "reprint"
    assert status["circumferential displacement of 3/4 in rods, new, first run"] == "from memory"
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        asked(Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint"}))))


def test_what_whoever_makes_it_up_must_know() -> None:
    said = " ".join(notice.text for notice in ROD_NOTICES)
    for words in ("from memory", "Scribe", "at intervals", "standard in force"):
        assert words in said


def test_steps() -> None:
    shown = {each["symbol"]: each["value"]["value"] for each in asked(steps=True)["steps"]}
    assert (shown["CD1"], shown["CD2"], shown["Dc"]) == (0.28125, 0.34375, 1.625)


REFUSED = "no_published_displacement"


@pytest.mark.parametrize(
    ("changed", "found"),
    [
        ({"size": "1-1/4"}, [("unknown_size", "size")]),
        ({"size": "1/2"}, [("unknown_size", "size")]),
        ({"size": "7/8 8"}, [("unclear_size", "size")]),
        ({"size": "11/8"}, [("unclear_size", "size")]),
        ({"size": "19 mm"}, [("unclear_size", "size")]),
        ({"coupling": "slimhole"}, [(REFUSED, "coupling")]),
        ({"rod_grade": "HY"}, [(REFUSED, "rod_grade")]),
        ({"rod_grade": "high strength"}, [(REFUSED, "rod_grade")]),
        ({"rod_grade": "KD"}, [(REFUSED, "rod_grade")]),
        ({"rod_grade": "C"}, [(REFUSED, "run")]),
        ({"rod_grade": "K"}, [(REFUSED, "run")]),
        (
            {"size": "1-1/4", "rod_grade": "HS", "coupling": "slimhole"},
            [("unknown_size", "size"), (REFUSED, "rod_grade"), (REFUSED, "coupling")],
        ),
    ],
)
def test_what_is_not_in_the_table(changed: dict[str, str], found: list[tuple[str, str]]) -> None:
    with pytest.raises(NoAnswer) as refusal:
        asked(**changed)
    assert [(fault.code, fault.field) for fault in refusal.value.faults] == found
    assert all(fault.accepted for fault in refusal.value.faults)


@pytest.mark.parametrize(
    ("changed", "field", "code"),
    [
        ({"run": "second"}, "run", "not_a_choice"),
        ({"coupling": "full"}, "coupling", "not_a_choice"),
        ({"displacement": "0.3"}, "displacement", "bare_number"),
        ({"displacement": "-0.3 in"}, "displacement", "out_of_range"),
        ({"displacement": "20 deg"}, "displacement", "wrong_kind"),
        ({"displacement": "9 in"}, "displacement", "out_of_range"),
        ({"torque": "300 ft-lb"}, "torque", "unknown_field"),
        ({"size": 1}, "size", "not_text"),
    ],
)
def test_requests_refused(changed: dict[str, Any], field: str, code: str) -> None:
    with pytest.raises(InvalidInput) as refusal:
        asked(**changed)
    assert [(fault.path, fault.code) for fault in refusal.value.faults] == [((field,), code)]


@pytest.mark.parametrize("name", JOINT)
def test_nothing_is_assumed(name: str) -> None:
    given = {key: value for key, value in JOINT.items() if key != name}
    with pytest.raises(InvalidInput, match=f"{name}: missing_field"):
        ROD.answer(given, Shop(), "us")
    assert asked()["assumptions"] == []
