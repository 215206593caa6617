"""What ``/v1/make-up-position/buttress`` answers and refuses, from request to result."""

from typing import Any

import pytest

from api.answers.shop import Policy, Shop
from api.answers.tubular.buttress import BUTTRESS_NOTICES, BUTTRESS_STEPS, buttress_answer
from api.engineering.checks import NoAnswer
from api.engineering.tubular.make_up_position import POSITIONS
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.core.faults import InvalidInput
from schemas.tubular import trial_make_up
from schemas.tubular.buttress import ButtressPositionAnswer, ButtressPositionRequest

POSITION = Calculation(
    "make-up-position/buttress",
    LOOK_UP,
    "",
    "",
    {"": ButtressPositionRequest()},
    buttress_answer,
    ButtressPositionAnswer(),
    (),
    {},
    BUTTRESS_STEPS,
)


def asked(shop: Shop | None = None, units: str = "us", **request: Any) -> dict[str, Any]:
    return POSITION.answer({"size": "9-5/8", **request}, shop or Shop(), units)


@pytest.mark.parametrize(
    ("units", "unit", "base", "coupling", "low", "high"),
    [
        # 4-13/16 in less 1/5 in, and plus 3/8 in x 0.8660254
        ("us", "in", 4.8125, 10.625, 4.6125, 5.1372595),
        ("metric", "mm", 122.2375, 269.875, 117.1575, 130.4863920),
        ("si", "m", 0.1222375, 0.269875, 0.1171575, 0.1304863920),
    ],
)
def test_where_the_face_belongs(
    units: str, unit: str, base: float, coupling: float, low: float, high: float
) -> None:
    answer = asked(units=units)
    shown = {
        name: answer["window"][name] for name in ("pipe_end_to_face_minimum", "pipe_end_to_face_maximum")
    } | {name: answer[name] for name in ("triangle_base", "coupling_length")}
    assert {each["unit"] for each in shown.values()} == {unit}
    assert shown["triangle_base"]["value"] == pytest.approx(base, rel=1e-9)
    assert shown["coupling_length"]["value"] == pytest.approx(coupling, rel=1e-9)
    assert shown["pipe_end_to_face_minimum"]["value"] == pytest.approx(low, rel=1e-7)
    assert shown["pipe_end_to_face_maximum"]["value"] == pytest.approx(high, rel=1e-7)
    assert answer["triangle_base_printed"] == "4-13/16"


@pytest.mark.parametrize("size", ["9-5/8", "9 5/8", '9 5/8"', "9⅝ in", "9.625", "9.625 inch"])
def test_a_size_in_the_usual_ways_of_writing_it(size: str) -> None:
    assert asked(size=size)["size"] == "9-5/8"


@pytest.mark.parametrize("size", ["4-1/2", "9-5/8", "13-3/8", "16", "20"])
def test_no_torque_and_no_preload_are_invented(size: str) -> None:
    answer = asked(size=size)
    assert answer["torque"] is None
    assert "no buttress torque" in answer["reasons"]["torque"]
    assert "/v1/trial-make-up/buttress" in answer["reasons"]["torque"]
    assert answer["preload"] is None
    assert "not defined" in answer["reasons"]["preload"]
    assert "lbf" not in str({name: answer[name] for name in answer if name != "inputs"})


@pytest.mark.parametrize(
    ("size", "measured", "position", "verdict", "turns"),
    [
        # to 13-3/8 in: from one turn (0.2 in, 5.08 mm) short of the base to the apex (0.32476 in, 8.24889 mm)
        ("7", {"face_short_of_base": "0.3 in"}, "short", "not_accepted", 1.5),
        ("7", {"face_short_of_base": "0.201 in"}, "short", "not_accepted", 1.005),
        ("7", {"face_short_of_base": "0.2 in"}, "within_one_turn", "accepted", 1),
        ("7", {"face_short_of_base": "5.08 mm"}, "within_one_turn", "accepted", 1),
        ("7", {"face_short_of_base": "1/8 in"}, "within_one_turn", "accepted", 0.625),
        ("7", {"face_short_of_base": "0 in"}, "base_to_apex", "accepted", 0),
        ("7", {"face_past_base": "0 mm"}, "base_to_apex", "accepted", 0),
        ("7", {"face_past_base": "3/16 in"}, "base_to_apex", "accepted", 0),
        ("7", {"face_past_base": "0.3247595264 in"}, "base_to_apex", "accepted", 0),
        ("7", {"face_past_base": "8.25 mm"}, "base_to_apex", "accepted", 0),
        ("7", {"face_past_base": "8.3 mm"}, "past_apex", "not_accepted", 0),
        ("7", {"face_past_base": "3/8 in"}, "past_apex", "not_accepted", 0),
        # 16 in and larger: to the base
        ("20", {"face_short_of_base": "0.2 in"}, "within_one_turn", "not_accepted", 1),
        ("16", {"face_short_of_base": "0 in"}, "base_to_apex", "accepted", 0),
        ("18-5/8", {"face_past_base": "0.2 in"}, "base_to_apex", "accepted", 0),
        ("16", {"face_past_base": "0.33 in"}, "past_apex", "not_accepted", 0),
    ],
)
def test_verdicts(size: str, measured: dict[str, str], position: str, verdict: str, turns: float) -> None:
    answer = asked(size=size, **measured)
    assert (answer["position"], answer["verdict"]) == (position, verdict)
    assert answer["turns_to_base"] == pytest.approx(turns, rel=1e-9)
    assert answer["verdict_basis"]
    stops = [each["code"] for each in answer["findings"] if each["level"] == "stop"]
    assert stops == (["past_apex"] if position == "past_apex" else [])


def test_the_ends_of_the_window_as_answered_are_accepted() -> None:
    window = asked()["window"]
    for name, field in (("short_of_base", "face_short_of_base"), ("past_base", "face_past_base")):
        assert asked(**{field: window[name]})["verdict"] == "accepted"


def test_the_face_from_the_pipe_end() -> None:
    assert asked(face_short_of_base="0.1 in")["pipe_end_to_face"]["value"] == pytest.approx(4.7125)
    assert asked(face_past_base="0.1 in")["pipe_end_to_face"]["value"] == pytest.approx(4.9125)
    large = asked(size="20", face_past_base="0.1 in")
    assert large["pipe_end_to_face"] is None
    assert "doubt" in large["reasons"]["pipe_end_to_face"]


def test_nothing_measured_is_no_verdict() -> None:
    answer = asked()
    for name in ("position", "verdict", "turns_to_base", "pipe_end_to_face"):
        assert answer[name] is None
        assert "face_short_of_base" in answer["reasons"][name]


@pytest.mark.parametrize("size", ["16", "18-5/8", "20"])
def test_large_sizes_have_no_base_but_a_rule(size: str) -> None:
    answer = asked(size=size)
    assert answer["triangle_base"] is answer["triangle_base_printed"] is None
    assert "doubt" in answer["reasons"]["triangle_base"]
    assert answer["coupling_length"] is None
    assert answer["window"]["pipe_end_to_face_maximum"] is None
    assert answer["window"]["short_of_base"]["value"] == 0
    (found,) = answer["findings"]
    assert (found["level"], found["code"]) == ("look", "made_up_to_base")
    assert "minimum torque that is its guide" in found["text"]
    assert "in doubt" in found["text"]


@pytest.mark.parametrize(("size", "status"), [("9-5/8", "from memory"), ("20", "reprint")])
def test_status_is_that_of_the_weakest_figure(size: str, status: str) -> None:
    answer = asked(size=size)
    assert answer["status"] == status
    assert {each["status"] for each in answer["sources"]} >= {"read", "reprint", status}


def test_a_shop_that_accepts_no_memory_gets_no_base() -> None:
    strict = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint"})))
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        asked(strict)
    assert asked(strict, size="20")["status"] == "reprint"


def test_the_reading_of_the_stamp_is_an_assumption() -> None:
    """Side or height of the triangle: the smaller is used, and it is said."""
    [assumption] = asked()["assumptions"]
    assert (assumption["field"], assumption["value"]) == ("triangle_height", "0.3248 in")
    assert "0.375" in assumption["reason"]


def test_what_whoever_makes_it_up_must_know() -> None:
    said = " ".join(notice.text for notice in BUTTRESS_NOTICES)
    for words in (
        "both",
        "questionable",
        "reshopping",
        "cross-threading",
        "standard in force",
        "from memory",
    ):
        assert words in said


def test_steps() -> None:
    shown = {each["symbol"]: each["value"]["value"] for each in asked(steps=True)["steps"]}
    assert shown["A1"] == 4.8125
    assert shown["x2"] == shown["h"] == pytest.approx(0.3247595, rel=1e-6)
    assert "A1" not in {each["symbol"] for each in asked(size="20", steps=True)["steps"]}


@pytest.mark.parametrize(
    ("size", "code"),
    [
        ("95/8", "unclear_size"),
        ("244.5 mm", "unclear_size"),
        ("9,625", "unclear_size"),
        ("7-3/4", "unknown_size"),
        ("2-7/8", "unknown_size"),
        ("24", "unknown_size"),
    ],
)
def test_sizes_refused(size: str, code: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        asked(size=size)
    [fault] = refusal.value.faults
    assert (fault.code, fault.field) == (code, "size")
    assert fault.accepted


@pytest.mark.parametrize(
    ("changed", "found"),
    [
        ({"face_short_of_base": "0.1 in", "face_past_base": "0.1 in"}, {("face_past_base", "contradiction")}),
        ({"face_short_of_base": "0 in", "face_past_base": "0 in"}, {("face_past_base", "contradiction")}),
        ({"face_short_of_base": "0.1"}, {("face_short_of_base", "bare_number")}),
        ({"face_past_base": "-0.1 in"}, {("face_past_base", "out_of_range")}),
        ({"face_past_base": "0.1 psi"}, {("face_past_base", "wrong_kind")}),
        ({"face_past_base": "7 in"}, {("face_past_base", "out_of_range")}),
        ({"size": 9.625}, {("size", "not_text")}),
        ({"torque": "5000 ft-lb"}, {("torque", "unknown_field")}),
        ({"size": 7, "face_past_base": "2"}, {("size", "not_text"), ("face_past_base", "bare_number")}),
    ],
)
def test_requests_refused(changed: dict[str, Any], found: set[tuple[str, str]]) -> None:
    with pytest.raises(InvalidInput) as refusal:
        asked(**changed)
    assert {(str(fault.path[0]), fault.code) for fault in refusal.value.faults} == found


def test_a_size_is_required() -> None:
    with pytest.raises(InvalidInput, match="missing_field"):
        POSITION.answer({}, Shop(), "us")


def test_positions_have_one_name_on_both_sides_of_the_border() -> None:
    assert trial_make_up.POSITIONS == POSITIONS
