"""What ``/v1/torque/round-thread`` answers and refuses, from request to result."""

from typing import Any

import pytest
from rows import every_row

from api.answers.shop import Policy, Shop
from api.answers.tubular.round_thread import ROUND_THREAD_STEPS, round_thread_answer, round_thread_window
from api.engineering.checks import NoAnswer
from api.reference.pipe_grades import PIPE_GRADES, PipeGrade
from api.reference.tubulars import TUBULARS, Tubular
from api.registry.calculation import Calculation, requests_for
from api.registry.families import FAMILY
from api.registry.tags import LOOK_UP
from schemas.core.faults import InvalidInput, load
from schemas.machines.request import MachineJob
from schemas.tubular.round_thread import RoundThreadAnswer, RoundThreadJoint

CASING = {"size": "5-1/2", "weight": "17 lb/ft", "pipe_grade": "J55", "thread_type": "STC"}
TUBING = {"size": "2-3/8", "weight": "4.7 lb/ft", "pipe_grade": "J55", "thread_type": "EUE"}
MEASURED = {
    "pipe_outside_diameter": "5.5 in",
    "pipe_inside_diameter": "4.892 in",
    "engaged_length": "2.171 in",
    "threads_per_inch": 8,
    "pipe_yield_strength": "55000 psi",
    "pipe_tensile_strength": "75000 psi",
}
TORQUE = Calculation(
    "torque/round-thread",
    LOOK_UP,
    "",
    "",
    {"": RoundThreadJoint()},
    round_thread_answer,
    RoundThreadAnswer(),
    (),
    CASING,
    ROUND_THREAD_STEPS,
)


def asked(given: dict[str, Any], shop: Shop | None = None, units: str = "us", **more: Any) -> dict[str, Any]:
    return TORQUE.answer({**given, **more}, shop or Shop(), units)


def refused(given: dict[str, Any]) -> list[tuple[str, str | None]]:
    with pytest.raises((NoAnswer, InvalidInput)) as refusal:
        asked(given)
    error = refusal.value
    if isinstance(error, InvalidInput):
        return [(fault.code, str(fault.path[-1])) for fault in error.faults]
    assert isinstance(error, NoAnswer)
    return [(fault.code, fault.field) for fault in error.faults]


def accepted(given: dict[str, Any]) -> str:
    with pytest.raises(NoAnswer) as refusal:
        asked(given)
    return " ".join(fault.accepted or "" for fault in refusal.value.faults)


def target(answer: dict[str, Any]) -> float:
    value: float = answer["torque"]["target"]["value"]
    return value


def test_casing() -> None:
    """Hand-worked in tests/api/engineering/tubular/test_round_thread.py; printed 2290/1720/2860.

    75 and 125 % of 2290.823 are 1718.117 and 2863.529: the printed ends are the narrower.
    """
    answer = asked(CASING)
    window = answer["torque"]
    assert [window[end]["value"] for end in ("minimum", "target", "maximum")] == pytest.approx(
        [1720, 2290.823, 2860], abs=0.001
    )
    assert answer["published_rounding"] == {
        "optimum": {"value": 2290.0, "unit": "lbf.ft"},
        "minimum": {"value": 1720.0, "unit": "lbf.ft"},
        "maximum": {"value": 2860.0, "unit": "lbf.ft"},
    }
    assert answer["pull_out_strength"]["value"] == pytest.approx(229082.3, abs=0.1)
    assert answer["fracture_strength"]["value"] == pytest.approx(0.95 * 3.7472551 * 75000, rel=1e-7)
    assert answer["joint_strength"] == answer["pull_out_strength"]
    assert answer["governing_mode"] == "pull_out"
    assert answer["area_under_last_perfect_thread"]["value"] == pytest.approx(3.7472551, abs=1e-7)
    assert answer["engaged_length"] == {"value": 2.171, "unit": "in"}
    assert answer["preload"] is None
    assert "radial interference" in answer["reasons"]["preload"]
    assert (answer["torque_adjustment"], answer["torque_adjustment_factor"]) == (None, 1.0)
    assert answer["weight"] == {"value": 17.0, "unit": "lb/ft"}
    assert [answer[name] for name in ("size", "pipe_grade", "thread_type")] == ["5-1/2", "J55", "STC"]
    assert answer["status"] == window["target_status"] == "from memory"
    assert answer["assumptions"] == []


def test_external_upset_tubing() -> None:
    """Hand-worked in the engineering tests; printed 1290/970/1610. D is that of the upset, 2.594 in."""
    answer = asked(TUBING)
    assert target(answer) == pytest.approx(1293.160, abs=0.001)
    assert [each["value"] for each in answer["published_rounding"].values()] == [1290, 970, 1610]
    assert answer["dimensions"]["pipe_outside_diameter"] == {"value": 2.594, "unit": "in"}
    # API Bul 5C2, 2-3/8 in 4.70 lb/ft J55 EUE: 71,730 lbf (from memory), the yield of the pipe body
    assert answer["joint_strength"]["value"] == pytest.approx(71730, rel=1e-3)
    assert answer["governing_mode"] == "yield"
    assert answer["fracture_strength"] is None
    assert "casing" in answer["reasons"]["fracture_strength"]


def test_other_tubing() -> None:
    plain = asked({**TUBING, "thread_type": "NUE", "weight": "4.6 lb/ft"})
    assert [each["value"] for each in plain["published_rounding"].values()] == [730, 550, 910]
    # By hand: 55,000 x 0.8990988 in2, the area under the last perfect thread
    assert plain["joint_strength"]["value"] == pytest.approx(49450.4, abs=0.1)
    integral = asked({**TUBING, "size": "1.900", "weight": "2.76 lb/ft", "thread_type": "IJ"})
    assert [each["value"] for each in integral["published_rounding"].values()] == [580, 440, 730]
    assert (integral["joint_strength"], integral["governing_mode"]) == (None, None)
    assert "box" in integral["reasons"]["joint_strength"]


@every_row("weight", ["17 lb/ft", "17.00 lb/ft", "25.30 kg/m", "25.3 kg/m", "17 ppf", "17 #/ft"])
@every_row("size", ["5-1/2", "5 1/2", '5-1/2"', "5½ in", "5.5", "5.500 inch"])
def test_ways_of_writing_it(size: str, weight: str) -> None:
    assert target(asked({**CASING, "size": size, "weight": weight, "pipe_grade": "j-55"})) == target(
        asked(CASING)
    )


@pytest.mark.parametrize("size", ["2.063", "2-1/16", '2 1/16"'])
def test_integral_joint_size_by_either_name(size: str) -> None:
    pipe = {"size": size, "weight": "3.25 lb/ft", "pipe_grade": "H40", "thread_type": "IJ"}
    assert asked(pipe)["published_rounding"]["optimum"]["value"] == 570


def test_dimensions_in_either_system_are_the_same_joint() -> None:
    in_mm = {
        "pipe_outside_diameter": "139.7 mm",
        "pipe_inside_diameter": "124.2568 mm",
        "engaged_length": "55.1434 mm",
        "thread_height": "1.80975 mm",
        "pipe_yield_strength": "379.2116511 MPa",
        "pipe_tensile_strength": "517.1067970 MPa",
    }
    catalogue, measured, metric = asked(CASING), asked(MEASURED), asked(in_mm, units="metric")
    assert target(measured) == target(catalogue)
    assert metric["torque"]["target"] == {"value": pytest.approx(3.1059, abs=1e-4), "unit": "kN.m"}
    assert target(metric) * 1000 == pytest.approx(target(measured) * 1.3558179483314004, rel=1e-9)
    assert metric["published_rounding"] == catalogue["published_rounding"]


def test_what_dimensions_do_not_say() -> None:
    answer = asked(MEASURED)
    assert [answer[name] for name in ("size", "weight", "pipe_grade", "thread_type")] == [None] * 4
    assert (answer["joint_strength"], answer["governing_mode"]) == (None, None)
    assert answer["fracture_strength"] is not None
    position = answer["made_up_position"]
    assert (position["criteria"], position["turns_past_hand_tight"]) == (None, None)
    assert position["axial_travel_per_turn"] == {"value": 0.125, "unit": "in"}
    assert (answer["status"], answer["torque"]["maximum_status"]) == ("reprint", "from memory")
    height = {**MEASURED, "thread_height": "0.07125 in"}
    del height["threads_per_inch"]
    assert target(asked(height)) == target(answer)
    assert asked(height)["made_up_position"]["axial_travel_per_turn"] is None
    ten = asked({**MEASURED, "threads_per_inch": 10})
    assert ten["dimensions"]["thread_height"] == {"value": 0.0556, "unit": "in"}


@pytest.mark.parametrize(
    ("adjustment", "factor"), [("tin_plated_coupling", 0.8), ("ptfe_ring", 0.7), (None, 1.0)]
)
def test_an_adjustment_only_where_it_is_asked_for(adjustment: str | None, factor: float) -> None:
    """80 and 70 % of the torque: API RP 5C1, notes, from memory."""
    plain = asked(CASING)
    answer = asked(CASING, **({"torque_adjustment": adjustment} if adjustment else {}))
    for end in ("minimum", "target", "maximum"):
        value = answer["torque"][end]["value"]
        assert value == pytest.approx(factor * plain["torque"][end]["value"], rel=1e-9)
        assert ("as asked for" in answer["torque"][f"{end}_basis"]) == (adjustment is not None)
    assert (answer["torque_adjustment"], answer["torque_adjustment_factor"]) == (adjustment, factor)
    named = [source["what"] for source in answer["sources"] if "% of the torque for" in source["what"]]
    assert len(named) == (adjustment is not None)
    # An unadjusted figure never stands beside an adjusted one.
    assert (answer["published_rounding"] is None) == (adjustment is not None)
    assert answer["pull_out_strength"] == plain["pull_out_strength"]


@pytest.mark.parametrize(
    ("size", "weight", "grade", "thread", "turns", "standoff", "travel"),
    [
        # API RP 5C1 4.4 (handbook copy): 3 to 7 in, 3-1/2 from 7-5/8 in, 4 for three exceptions
        ("4-1/2", 11.6, "P110", "LTC", 3, 3, 0.125),
        ("7", 26, "N80", "LTC", 3, 3, 0.125),
        ("7-5/8", 26.4, "N80", "LTC", 3.5, 3.5, 0.125),
        ("9-5/8", 47, "N80", "LTC", 3.5, 3.5, 0.125),
        ("9-5/8", 47, "P110", "LTC", 4, 3.5, 0.125),
        ("10-3/4", 51, "P110", "STC", 4, 3.5, 0.125),
        ("11-3/4", 60, "P110", "STC", 3.5, 3.5, 0.125),
        ("20", 94, "J55", "STC", 4, 3.5, 0.125),
        ("20", 94, "K55", "LTC", 4, 3.5, 0.125),
        ("20", 94, "H40", "STC", 3.5, 3.5, 0.125),
        # tubing: A of API 5B; one turn is 1/10 in on 10 threads per inch
        ("2-3/8", 4.6, "N80", "NUE", 2, 2, 0.1),
        ("2-3/8", 4.7, "N80", "EUE", 2, 2, 0.125),
    ],
)
def test_turns(
    size: str, weight: float, grade: str, thread: str, turns: float, standoff: float, travel: float
) -> None:
    pipe = {"size": size, "weight": f"{weight} lb/ft", "pipe_grade": grade, "thread_type": thread}
    position = asked(pipe)["made_up_position"]
    assert position["turns_past_hand_tight"] == turns
    assert position["hand_tight_standoff_turns"] == standoff
    assert position["axial_travel_per_turn"]["value"] == pytest.approx(travel)
    assert position["hand_tight_standoff"]["value"] == pytest.approx(standoff * travel)


def test_positions_of_casing_and_none_of_tubing() -> None:
    verdicts = [each["verdict"] for each in asked(CASING)["made_up_position"]["criteria"]]
    assert verdicts == ["satisfactory", "questionable", "more_torque", "questionable"]
    tubing = asked(TUBING)
    assert tubing["made_up_position"]["criteria"] is None
    assert "tubing is judged by its turns" in tubing["reasons"]["made_up_position.criteria"]


LARGE = {"size": "20", "weight": "94 lb/ft", "pipe_grade": "J55", "thread_type": "STC"}


@pytest.mark.parametrize(
    ("given", "told", "words"),
    [
        (CASING, {}, ""),
        (LARGE, {"made_up_to_position": "look", "triangle_stamp": "note"}, "only a guide"),
        ({**LARGE, "pipe_grade": "N80"}, {"made_up_to_position": "look"}, "vanish point"),
        ({**CASING, "pipe_grade": "C75"}, {"pipe_grade_note": "note"}, "C75: deleted from API 5CT"),
        ({**CASING, "pipe_grade": "C95"}, {"pipe_grade_note": "note"}, "replaced by R95"),
        (MEASURED, {"pipe_as_given": "look"}, "dimensions are as given"),
    ],
)
def test_findings(given: dict[str, Any], told: dict[str, str], words: str) -> None:
    findings = asked(given)["findings"]
    assert {each["code"]: each["level"] for each in findings} == told
    assert words in " ".join(each["text"] for each in findings)


def test_a_break_out_is_not_told_of_the_make_up() -> None:
    window = round_thread_window({**load(RoundThreadJoint(), LARGE), "operation": "break_out"}, Shop())
    assert window.findings == ()


@pytest.mark.parametrize("weight", [17, 17.0, "17", "17#", " 17.00 # ", "17."])
def test_a_weight_is_a_label(weight: Any) -> None:
    answer = asked({**CASING, "weight": weight})
    assert answer["torque"] == asked(CASING)["torque"]
    assert [(each["field"], each["value"]) for each in answer["assumptions"]] == [("weight", "17 lb/ft")]


def test_dimensions_have_no_printed_limits() -> None:
    """75 and 125 % of 2290.823 ft-lb, by hand."""
    window = asked(MEASURED)["torque"]
    assert [window[end]["value"] for end in ("minimum", "maximum")] == pytest.approx(
        [1718.117, 2863.529], abs=0.001
    )


def test_an_adjustment_is_of_the_narrower_ends() -> None:
    """80 % of 1720 and 2860 ft-lb."""
    window = asked({**CASING, "torque_adjustment": "tin_plated_coupling"})["torque"]
    assert [window[end]["value"] for end in ("minimum", "maximum")] == pytest.approx([1376, 2288])


@every_row("row", TUBULARS, ids=lambda row: row.name)
@every_row("grade", PIPE_GRADES, ids=lambda grade: grade.name)
def test_every_row_in_every_grade_answers_or_is_refused_by_rule(row: Tubular, grade: PipeGrade) -> None:
    pipe = {
        "size": row.size,
        "weight": f"{row.printed_weight} lb/ft",
        "pipe_grade": grade.name,
        "thread_type": row.thread_type,
    }
    if row.product not in grade.products:
        assert refused(pipe) == [("no_such_tubular", "pipe_grade")]
        return
    window = round_thread_window(load(RoundThreadJoint(), pipe), Shop())
    low, high = window.minimum.torque.value, window.maximum.torque.value
    assert low is not None
    assert high is not None
    assert 0 < low < window.goal < high


REASONS = [
    ("buttress", {**CASING, "thread_type": "BTC"}, [("no_torque_defined", "thread_type")]),
    ("buttress alone", {"thread_type": "BTC"}, [("no_torque_defined", "thread_type")]),
    ("no such size", {**CASING, "size": "6"}, [("unknown_size", "size")]),
    ("size of another thread", {**CASING, "thread_type": "NUE"}, [("no_such_tubular", "thread_type")]),
    ("size that lost its space", {**CASING, "size": "51/2"}, [("unclear_size", "size")]),
    ("size in mm", {**CASING, "size": "139.7 mm"}, [("unclear_size", "size")]),
    ("near weight", {**CASING, "weight": "17.1 lb/ft"}, [("no_such_tubular", "weight")]),
    ("near weight in kg/m", {**CASING, "weight": "25.31 kg/m"}, [("no_such_tubular", "weight")]),
    ("weight of another thread", {**TUBING, "weight": "4.6 lb/ft"}, [("no_such_tubular", "weight")]),
    ("weight in pounds", {**CASING, "weight": "17 lb"}, [("wrong_kind", "weight")]),
    ("weight as a force", {**CASING, "weight": "17 lbf/ft"}, [("unknown_unit", "weight")]),
    ("weight that no pipe has", {**CASING, "weight": "26#"}, [("no_such_tubular", "weight")]),
    ("weight as a fraction", {**CASING, "weight": "17 1/2"}, [("bare_number", "weight")]),
    ("weight with a comma", {**CASING, "weight": "17,0"}, [("decimal_comma", "weight")]),
    ("negative weight", {**CASING, "weight": -17}, [("out_of_range", "weight")]),
    ("flag as a weight", {**CASING, "weight": True}, [("not_a_quantity", "weight")]),
    ("bare engaged length", {**MEASURED, "engaged_length": 2.171}, [("bare_number", "engaged_length")]),
    ("no such grade", {**CASING, "pipe_grade": "J56"}, [("unknown_pipe_grade", "pipe_grade")]),
    ("grade of casing", {**TUBING, "pipe_grade": "K55"}, [("no_such_tubular", "pipe_grade")]),
    ("thread by another word", {**CASING, "thread_type": "SC"}, [("not_a_choice", "thread_type")]),
    (
        "all of it",
        {"size": "6", "weight": "17 lb/ft", "pipe_grade": "J56", "thread_type": "STC"},
        [("unknown_size", "size"), ("unknown_pipe_grade", "pipe_grade")],
    ),
    ("nothing", {}, [("missing_field", name) for name in CASING]),
    ("no weight", {k: v for k, v in CASING.items() if k != "weight"}, [("missing_field", "weight")]),
    (
        "no weight, and no such grade",
        {"size": "5-1/2", "thread_type": "STC", "pipe_grade": "?"},
        [("missing_field", "weight"), ("unknown_pipe_grade", "pipe_grade")],
    ),
    ("both", {**CASING, **MEASURED}, [("catalogue_or_dimensions", "pipe_outside_diameter")]),
    (
        "own strength of a listed pipe",
        {**CASING, "pipe_yield_strength": "60000 psi"},
        [("catalogue_or_dimensions", "pipe_yield_strength")],
    ),
    (
        "both heights",
        {**MEASURED, "thread_height": "0.07125 in"},
        [("contradiction", "thread_height")],
    ),
    (
        "neither height nor length",
        {k: v for k, v in MEASURED.items() if k not in ("threads_per_inch", "engaged_length")},
        [("missing_field", "engaged_length"), ("missing_field", "thread_height")],
    ),
    ("9 threads", {**MEASURED, "threads_per_inch": 9}, [("out_of_range", "threads_per_inch")]),
    ("8.5 threads", {**MEASURED, "threads_per_inch": 8.5}, [("out_of_range", "threads_per_inch")]),
    (
        "no metal",
        {**MEASURED, "pipe_inside_diameter": "5.3575 in"},
        [("impossible_geometry", "pipe_inside_diameter")],
    ),
    (
        "friction factor",
        {**CASING, "compound_friction_factor": 1.0},
        [("friction_factor_not_applicable", "compound_friction_factor")],
    ),
    (
        "friction factor of any sort",
        {**CASING, "compound_friction_factor": "?"},
        [("friction_factor_not_applicable", "compound_friction_factor")],
    ),
    ("tolerance", {**CASING, "torque_tolerance": 0.05}, [("tolerance_not_needed", "torque_tolerance")]),
    ("unknown field", {**CASING, "wall": "0.3 in"}, [("unknown_field", "wall")]),
    ("unknown adjustment", {**CASING, "torque_adjustment": "tin"}, [("not_a_choice", "torque_adjustment")]),
]


@every_row(("given", "reasons"), [each[1:] for each in REASONS], ids=[each[0] for each in REASONS])
def test_refused(given: dict[str, Any], reasons: list[tuple[str, str]]) -> None:
    assert refused(given) == reasons


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({**CASING, "thread_type": "BTC"}, "STC, LTC, NUE, EUE, IJ"),
        ({**CASING, "size": "6"}, "near it: 5, 5-1/2, 6-5/8, 7"),
        ({**CASING, "weight": "17.1 lb/ft"}, "for 5-1/2 in STC: 14, 15.5, 17, 20, 23 lb/ft"),
        (
            {**CASING, "thread_type": "NUE"},
            "for 5-1/2 in: STC, LTC; with NUE near it: 2-7/8, 3-1/2, 4, 4-1/2",
        ),
        ({**CASING, "pipe_grade": "J56"}, "near it: J55"),
        ({**TUBING, "pipe_grade": "M65"}, "one of: H40, J55, C75, L80, N80, C90, T95, R95, P110"),
        ({**CASING, "engaged_length": "2 in"}, "all of size, weight, pipe_grade and thread_type; or instead"),
    ],
)
def test_a_refusal_tells_what_exists(given: dict[str, Any], told: str) -> None:
    assert told in accepted(given)


def test_buttress_is_shown_where_its_position_is() -> None:
    with pytest.raises(NoAnswer, match=r"/v1/make-up-position/buttress.*/v1/trial-make-up/buttress"):
        asked({**CASING, "thread_type": "BTC"})


def test_on_a_machine_the_reasons_are_the_same() -> None:
    """The family's own words for a name that it does not have go into the request of every task."""
    request = requests_for(FAMILY, MachineJob, "Pressure")["round_thread"]
    job = {"family": "round_thread", "machine": "a", "operation": "make_up", "thread_hand": "right"}
    whole = {**CASING, **job, "arm_position": "square"}
    with pytest.raises(InvalidInput) as refusal:
        load(request, {**whole, "compound_friction_factor": 1.1})
    assert [fault.code for fault in refusal.value.faults] == ["friction_factor_not_applicable"]
    values = load(request, {**whole, "torque_tolerance": 0.05})
    with pytest.raises(NoAnswer, match="tolerance_not_needed"):
        round_thread_window(values, Shop())


def test_a_shop_that_takes_nothing_from_memory() -> None:
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint", "stated"})))
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        asked(CASING, shop)
    answer = asked(MEASURED, shop)
    assert answer["torque"]["minimum"] is answer["torque"]["maximum"] is None
    assert target(answer) == target(asked(MEASURED))
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        asked(MEASURED, shop, torque_adjustment="ptfe_ring")


def test_working() -> None:
    steps = {step["symbol"]: step["value"]["value"] for step in asked(CASING, steps=True)["steps"]}
    assert steps["L"] == 2.171
    assert steps["P"] == pytest.approx(229082.3, abs=0.1)
    assert steps["T0"] == steps["T"] == pytest.approx(2290.823, abs=0.001)
    adjusted = asked(CASING, steps=True, torque_adjustment="ptfe_ring")["steps"]
    assert {step["symbol"]: step["value"]["value"] for step in adjusted}["T"] == pytest.approx(
        1603.576, abs=0.001
    )


def test_position_speaks_of_the_torques_of_the_answer() -> None:
    """With a ring the torque is 70 %: 125 % of the table torque would be far above its maximum."""
    ringed = asked(CASING, torque_adjustment="ptfe_ring")["made_up_position"]["criteria"]
    words = " ".join(each["made_up_position"] + each["action"] for each in ringed)
    assert "table" not in words
    assert "%" not in words


def test_an_integral_joint_has_no_coupling_to_plate() -> None:
    integral = {"size": "2.063", "weight": "3.25 lb/ft", "pipe_grade": "J55", "thread_type": "IJ"}
    with pytest.raises(NoAnswer, match="contradiction"):
        asked(integral, torque_adjustment="tin_plated_coupling")
    asked(integral, torque_adjustment="ptfe_ring")


def test_what_may_be_tubing_is_from_memory() -> None:
    """Up to 5 in a diameter may be that of tubing or its upset; the row does not print withheld ends."""
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint", "stated"})))
    tubing = {**MEASURED, "pipe_outside_diameter": "5 in", "pipe_inside_diameter": "4.3 in"}
    assert asked(tubing)["status"] == "from memory"
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        asked(tubing, shop)
    printed = asked(MEASURED, shop)["published_rounding"]
    assert printed["optimum"] is not None
    assert printed["minimum"] is printed["maximum"] is None
