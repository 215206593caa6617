"""What ``/v1/trial-make-up/buttress`` answers and refuses, from request to result."""

from math import sqrt
from typing import Any

import pytest

from api.answers.shop import Policy, Shop
from api.answers.tubular.trial_make_up import TRIAL_STEPS, trial_make_up_answer
from api.engineering.checks import NoAnswer
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.core.faults import InvalidInput
from schemas.tubular.trial_make_up import TrialMakeUpAnswer, TrialMakeUpRequest

TRIAL = Calculation(
    "trial-make-up/buttress",
    LOOK_UP,
    "",
    "",
    {"": TrialMakeUpRequest()},
    trial_make_up_answer,
    TrialMakeUpAnswer(),
    (),
    {},
    TRIAL_STEPS,
    body_only=True,
)
PIPE = {"size": "9-5/8", "weight": "47 lb/ft", "pipe_grade": "L80"}


def texts(answer: dict[str, Any]) -> list[str]:
    return [each["text"] for each in answer["findings"]]


def at_base(*torques: float) -> list[dict[str, Any]]:
    return [{"torque": f"{each} ft-lb", "position": "base_to_apex"} for each in torques]


def asked(trials: Any, shop: Shop | None = None, units: str = "us", **request: Any) -> dict[str, Any]:
    return TRIAL.answer({**PIPE, "trials": trials, **request}, shop or Shop(), units)


def test_by_hand() -> None:
    """6000 to 6400: mean 6200; sum of squares 2 x 200^2 + 2 x 100^2 = 100000, over 4: s = sqrt(25000)."""
    answer = asked(at_base(6000, 6100, 6200, 6300, 6400))
    assert answer["torque_for_use"] == {"value": 6200, "unit": "lbf.ft"}
    assert (answer["given"], answer["counted"], answer["left_out"]) == (5, 5, 0)
    assert answer["standard_deviation"]["value"] == pytest.approx(sqrt(25000), rel=1e-9)
    assert answer["standard_deviation_percent"] == pytest.approx(sqrt(25000) / 62, rel=1e-9)
    assert [answer[name]["value"] for name in ("lowest", "highest", "median", "spread")] == [
        6000,
        6400,
        6200,
        400,
    ]
    # MAD 100: 3.5 x 100 / 0.6745 = 518.9, less than 10 % of 6200
    assert answer["departure_limit"]["value"] == pytest.approx(620, rel=1e-9)
    assert answer["standing_apart"] == 0
    assert answer["mean_without_them"] is None
    assert [answer[name] for name in ("size", "weight", "pipe_grade")] == ["9-5/8", "47 lb/ft", "L80"]


@pytest.mark.parametrize(
    ("units", "unit", "factor"),
    [("si", "N.m", 1.3558179483314004), ("metric", "kN.m", 1.3558179483314004e-3)],
)
def test_in_other_units(units: str, unit: str, factor: float) -> None:
    answer = asked(at_base(6000, 6400), units=units)
    assert answer["torque_for_use"] == {"value": pytest.approx(6200 * factor, rel=1e-9), "unit": unit}


def test_each_torque_in_its_own_unit() -> None:
    trials = [
        {"torque": "8 kN.m", "position": "base_to_apex"},
        {"torque": {"value": 9000, "unit": "N.m"}, "position": "base_to_apex"},
    ]
    assert asked(trials, units="si")["torque_for_use"]["value"] == pytest.approx(8500, rel=1e-9)


@pytest.mark.parametrize(
    ("face", "position", "counted"),
    [
        ({"face_short_of_base": "0.3 in"}, "short", False),
        ({"face_short_of_base": "0.2 in"}, "within_one_turn", False),
        ({"face_short_of_base": "0.1 in"}, "within_one_turn", False),
        ({"face_short_of_base": "0 in"}, "base_to_apex", True),
        ({"face_past_base": "0 in"}, "base_to_apex", True),
        ({"face_past_base": "5 mm"}, "base_to_apex", True),
        ({"face_past_base": "0.3248 in"}, "base_to_apex", True),
        ({"face_past_base": "0.35 in"}, "past_apex", False),
        ({"position": "short"}, "short", False),
        ({"position": "within_one_turn"}, "within_one_turn", False),
        ({"position": "base_to_apex"}, "base_to_apex", True),
        ({"position": "past_apex"}, "past_apex", False),
        ({"position": "base_to_apex", "leave_out_because": "galled"}, "base_to_apex", False),
    ],
)
def test_what_counts(face: dict[str, str], position: str, counted: bool) -> None:
    """Only what reached the base and not the far side of the apex is in the mean; the rest says why not."""
    answer = asked([*at_base(6000, 6200), {"torque": "7000 ft-lb", **face}])
    last = answer["trials"][2]
    assert (last["position"], last["counted"], last["number"]) == (position, counted, 3)
    assert (last["left_out_because"] is None) is counted
    assert answer["torque_for_use"]["value"] == pytest.approx(6400 if counted else 6100)
    assert (answer["given"], answer["counted"], answer["left_out"]) == (3, 2 + counted, 1 - counted)


def test_why_the_caller_leaves_one_out_is_kept() -> None:
    trials = [
        *at_base(6000, 6200),
        {**at_base(9000)[0], "leave_out_because": "wrong compound", "joint": "J3"},
    ]
    last = asked(trials)["trials"][2]
    assert last["left_out_because"] == "left out by the caller: wrong compound"
    assert last["joint"] == "J3"
    assert last["stands_apart"] is False


def test_what_stands_apart_is_told_and_counted() -> None:
    """Mean 6825 with 9000 in it, 6100 without; median 6150, |d| 150 50 50 2850, MAD 100."""
    answer = asked(at_base(6000, 6100, 6200, 9000))
    assert answer["torque_for_use"]["value"] == pytest.approx(6825)
    assert answer["mean_without_them"]["value"] == pytest.approx(6100)
    assert answer["standing_apart"] == 1
    assert [each["stands_apart"] for each in answer["trials"]] == [False, False, False, True]
    assert answer["trials"][3]["departure_percent"] == pytest.approx(100 * 2850 / 6150, rel=1e-9)
    assert "of them 1 standing apart" in answer["torque_for_use_basis"]
    assert any("stand apart but count: 4." in each for each in texts(answer))


@pytest.mark.parametrize(("count", "few"), [(2, True), (14, True), (15, False), (16, False)])
def test_few_joints_are_told_with_both_sources(count: int, few: bool) -> None:
    told = [each for each in texts(asked(at_base(*[6000] * count))) if "averaged" in each]
    assert bool(told) is few
    for each in told:
        assert each.startswith(f"Only {count} joints")
        assert "API RP 5C1 4.4 says several (from memory)" in each
        assert "first 15 (reprint)" in each


@pytest.mark.parametrize(
    ("torques", "words"),
    [
        ((6000, 6100), "Two joints"),
        # 25 % of the mean 8000 is 2000
        ((7000, 8000, 9001), "differ by 25 %"),
    ],
)
def test_other_findings(torques: tuple[float, ...], words: str) -> None:
    assert any(words in each for each in texts(asked(at_base(*torques))))


def test_no_finding_without_its_reason() -> None:
    assert asked(at_base(*[6000, 6050, 6100] * 5))["findings"] == []
    assert not any("differ" in each for each in texts(asked(at_base(7000, 8000, 9000))))


@pytest.mark.parametrize("torques", [[], [6000]])
def test_fewer_than_two_are_refused_with_what_was_left_out(torques: list[float]) -> None:
    trials = [*at_base(*torques), {"torque": "5000 ft-lb", "position": "short"}]
    with pytest.raises(NoAnswer) as refusal:
        asked(trials)
    [fault] = refusal.value.faults
    assert (fault.code, fault.field) == ("too_few_trials", "trials")
    assert f"{len(torques)} of {len(trials)}" in fault.text
    assert f"trial {len(trials)}: more than one thread turn short" in fault.text
    assert fault.accepted


def test_a_long_list_of_reasons_is_cut() -> None:
    with pytest.raises(NoAnswer, match=r"trial 5: .*; and 4 more"):
        asked([{"torque": "5000 ft-lb", "position": "short"}] * 9)


def test_one_alone() -> None:
    with pytest.raises(NoAnswer, match="no other was given"):
        asked(at_base(6000))


def test_there_is_no_window() -> None:
    answer = asked(at_base(6000, 6200))
    assert (answer["torque_minimum"], answer["torque_maximum"]) == (None, None)
    assert "no tolerance" in answer["reasons"]["torque_minimum"]


def test_status_and_sources() -> None:
    answer = asked(at_base(6000, 6200))
    assert answer["status"] == "reprint"
    found = {each["status"] for each in answer["sources"]}
    assert found == {"read", "reprint", "from memory", "stated"}
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        asked(at_base(6000, 6200), Shop(policy=Policy(accepted_statuses=frozenset({"read", "stated"}))))


@pytest.mark.parametrize("size", ["16", "20"])
def test_large_sizes_are_made_up_to_the_base_as_well(size: str) -> None:
    assert asked(at_base(20000, 21000), size=size)["torque_for_use"]["value"] == pytest.approx(20500)


def test_steps() -> None:
    shown = {each["symbol"]: each["value"] for each in asked(at_base(6000, 6200), steps=True)["steps"]}
    assert shown["T"] == {"value": 6100, "unit": "lbf.ft"}
    assert shown["n"]["value"] == 2


@pytest.mark.parametrize(("size", "code"), [("95/8", "unclear_size"), ("9-7/8", "unknown_size")])
def test_sizes_refused(size: str, code: str) -> None:
    with pytest.raises(NoAnswer, match=code):
        asked(at_base(6000, 6200), size=size)


BOTH = {"torque": "6000 ft-lb", "position": "base_to_apex", "face_past_base": "1 mm"}
TWO = {"torque": "6000 ft-lb", "face_short_of_base": "1 mm", "face_past_base": "1 mm"}


@pytest.mark.parametrize(
    ("trials", "path", "code"),
    [
        ([{"torque": "6000 ft-lb"}], ("trials", 0, "position"), "missing_field"),
        ([*at_base(6000), BOTH], ("trials", 1, "position"), "contradiction"),
        ([TWO], ("trials", 0, "face_past_base"), "contradiction"),
        ([{"position": "short"}], ("trials", 0, "torque"), "missing_field"),
        ([{"torque": 6000, "position": "short"}], ("trials", 0, "torque"), "bare_number"),
        ([{"torque": "0 ft-lb", "position": "short"}], ("trials", 0, "torque"), "out_of_range"),
        ([{"torque": "6000 psi", "position": "short"}], ("trials", 0, "torque"), "wrong_kind"),
        ([{"torque": "6000 ft-lb", "position": "at base"}], ("trials", 0, "position"), "not_a_choice"),
        (
            [{"torque": "6000 ft-lb", "position": "short", "turns": 3}],
            ("trials", 0, "turns"),
            "unknown_field",
        ),
        ([{**at_base(6000)[0], "joint": "7"}] * 2, ("trials", 1, "joint"), "contradiction"),
        ([], ("trials",), "invalid"),
        ("6000 ft-lb", ("trials",), "not_a_list"),
    ],
)
def test_requests_refused(trials: Any, path: tuple[Any, ...], code: str) -> None:
    with pytest.raises(InvalidInput) as refusal:
        asked(trials)
    assert (path, code) in [(fault.path, fault.code) for fault in refusal.value.faults]


@pytest.mark.parametrize("name", ["size", "weight", "pipe_grade", "trials"])
def test_what_is_required(name: str) -> None:
    given: dict[str, Any] = {**PIPE, "trials": at_base(6000, 6200)}
    del given[name]
    with pytest.raises(InvalidInput, match=f"{name}: missing_field"):
        TRIAL.answer(given, Shop(), "us")


def test_all_faults_at_once() -> None:
    with pytest.raises(InvalidInput) as refusal:
        asked([{"torque": "6000 ft-lb"}, {"torque": "x", "position": "short"}], weight="", size=7)
    assert {fault.path for fault in refusal.value.faults} == {
        ("size",), ("weight",), ("trials", 0, "position"), ("trials", 1, "torque")
    }  # fmt: skip


@pytest.mark.parametrize(
    ("odd", "refused"),
    [("3100.5 ft-lb", False), ("3099 ft-lb", True), ("12400 ft-lb", False), ("1000 kN.m", True)],
)
def test_a_slip_gives_no_torque(odd: str, refused: bool) -> None:
    """Half of and twice the median of 6,200 ft-lb are the ends; a reason takes the trial out."""
    trials = [*at_base(6200, 6200, 6200, 6200, 6200), {"torque": odd, "position": "base_to_apex"}]
    if not refused:
        assert asked(trials)["counted"] == 6
        return
    with pytest.raises(NoAnswer, match="trial_out_of_proportion"):
        asked(trials)
    trials[-1]["leave_out_because"] = "wrong unit in the record"
    assert asked(trials)["torque_for_use"]["value"] == 6200


def test_a_measured_face_rests_on_the_height_of_the_triangle() -> None:
    measured = [{"torque": "6000 ft-lb", "face_past_base": "0.1 in"}]
    assert [each["field"] for each in asked([*at_base(6000, 6100), *measured])["assumptions"]] == [
        "triangle_height"
    ]
    assert asked(at_base(6000, 6100))["assumptions"] == []
