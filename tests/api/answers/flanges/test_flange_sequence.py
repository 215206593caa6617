"""Passes of a flange and what to set on a wrench: worked by hand, and every reason to refuse."""

import random
from typing import Any

import pytest
from machines import profile
from rows import every_row
from shop_tables import shop_of

from api.answers.shop import Policy, Shop
from api.batch.cells import in_words
from api.engineering.checks import NoAnswer
from api.registry.calculations import CALCULATIONS
from api.registry.flanges import FLANGE_CALCULATIONS
from schemas.core.faults import InvalidInput
from schemas.flanges.sequence import FlangeSequenceAnswer
from schemas.machines.answer import SettingPart

FLANGE = FLANGE_CALCULATIONS[0]
PRESSURE = next(each for each in CALCULATIONS if each.name == "pressure")
FOOT_POUND = 1.3558179483314004

DIAL = {
    "serial": "W-1",
    "span": "4000 psi",
    "division": "20 psi",
    "accuracy_percent_of_span": 1.0,
    "connected_at": "pump",
}
WRENCH = {
    "id": "invented-wrench",
    "kind": "torque_wrench",
    "revision": "1",
    "status": "approved",
    "approved_by": "workshop manager",
    "approved_on": "2026-01-15",
    "calibration": {"certificate": "EX-0003", "due": "2027-01-15"},
    "torque_factor": {"torque": "1000 ft-lb", "pressure": "2000 psi"},
    "torque_factor_range": {"low": 0.97, "high": 1.03},
    "gauges": {"make_up": DIAL, "break_out": DIAL},
    "relief": {"cracking": "3400 psi", "full_flow": "3480 psi"},
    "rated_pressure": {"wrench": "4000 psi", "hoses": "4000 psi"},
    "torque_rating": "1800 ft-lb",
    "lowest_setting": "200 psi",
}
METRIC_DIAL = {**DIAL, "span": "200 bar", "division": "2 bar"}
METRIC = {
    **WRENCH,
    "torque_factor": {"torque": "1500 N.m", "pressure": "100 bar"},
    "gauges": {"make_up": METRIC_DIAL, "break_out": METRIC_DIAL},
    "relief": {"cracking": "145 bar", "full_flow": "150 bar"},
    "rated_pressure": {"wrench": "200 bar", "hoses": "200 bar"},
    "lowest_setting": "10 bar",
}
STATED = {"family": "stated", "torque_target": "1000 ft-lb", "torque_source": "invented sheet 7"}
ASKED = {**STATED, "bolt_count": 8, "pass_percentages": "30/60/100"}
JOB = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}
BOLT = {
    "family": "bolt",
    "thread": "1-1/2-8 UN",
    "bolt_grade": "B7",
    "yield_share": 0.5,
    "method": "heavy_hex_nut",
    "thread_friction": 0.13,
}


def dial(**changed: Any) -> dict[str, Any]:
    """The wrench with another gauge."""
    return {**WRENCH, "gauges": {key: {**DIAL, **changed} for key in ("make_up", "break_out")}}


def asked(shop: Shop | None = None, units: str = "us", **given: Any) -> dict[str, Any]:
    request = {name: value for name, value in {**ASKED, **given}.items() if value is not None}
    return FLANGE.answer(request, shop or Shop(), units)


def on_wrench(**given: Any) -> dict[str, Any]:
    return asked(**{"machine": WRENCH, **JOB, **given})


def column(answer: dict[str, Any], name: str) -> list[Any]:
    """A member of every pass, quantities without their units."""
    values = [each[name] for each in answer["passes"]]
    return [each["value"] if isinstance(each, dict) else each for each in values]


@pytest.mark.parametrize(
    ("target", "shares", "unit", "torques"),
    [
        ("1000 ft-lb", "30/60/100", "lbf.ft", [300, 600, 1000]),
        ("1000 ft-lb", "30/70/100", "lbf.ft", [300, 700, 1000]),
        ("850 ft-lb", "20/50/100", "lbf.ft", [170, 425, 850]),
        ("850 ft-lb", "33.3/66.6/100", "lbf.ft", [283.05, 566.1, 850]),
        ("2000 N.m", "25/50/75/100", "N.m", [500, 1000, 1500, 2000]),
        ("2 kN.m", "100", "N.m", [2000]),
        ("2 kN.m", "5/10/20/40/80/100.0", "N.m", [100, 200, 400, 800, 1600, 2000]),
    ],
)
def test_torques_worked_by_hand(target: str, shares: str, unit: str, torques: list[float]) -> None:
    answer = asked(torque_target=target, pass_percentages=shares, torque_unit=unit)
    cross = [each for each in answer["passes"] if each["name"] == "cross"]
    assert [each["torque"]["value"] for each in cross] == pytest.approx(torques, rel=1e-9)
    assert {each["torque"]["unit"] for each in cross} == {unit}
    assert cross[-1]["torque"] == answer["torque"]["target"]
    assert column(answer, "name") == ["snug", *["cross"] * len(torques), "circular", "check"]
    assert column(answer, "number") == list(range(1, len(torques) + 4))
    assert answer["passes"][-1]["torque"] == answer["passes"][-2]["torque"] == answer["torque"]["target"]


def test_torques_of_a_published_bolt() -> None:
    """API 6A annex (from memory): 1.5 in, f 0.13: 1677 ft-lbf; 30 and 60 % of it."""
    answer = asked(**{**BOLT, "torque_target": None, "torque_source": None, "bolt_count": 12})
    torques = column(answer, "torque")
    for torque, printed in zip(torques[1:4], (0.3 * 1677, 0.6 * 1677, 1677), strict=True):
        assert torque == pytest.approx(printed, abs=0.6)


def test_orders() -> None:
    answer = asked()
    assert answer["cross_order"] == "1-5-3-7, 2-6-4-8"
    around = "1-2-3-4-5-6-7-8"
    assert column(answer, "order") == [*[answer["cross_order"]] * 4, around, around]


@pytest.mark.parametrize("count", [4, 8, 12, 16, 20, 24])
def test_every_pass_has_every_bolt_once(count: int) -> None:
    for order in column(asked(bolt_count=count), "order"):
        bolts = [int(bolt) for group in order.split(", ") for bolt in group.split("-")]
        assert sorted(bolts) == list(range(1, count + 1))


def test_snug_is_told_as_a_range() -> None:
    """ASME PCC-1 (from memory): 10 to 20 ft-lbf, not above 20 % of the target."""
    snug = on_wrench()["passes"][0]
    assert (snug["torque"], snug["share"], snug["gauge_setting"]) == (None, None, None)
    assert snug["torque_minimum"] == {"value": pytest.approx(10), "unit": "lbf.ft"}
    assert snug["torque_maximum"] == {"value": pytest.approx(20), "unit": "lbf.ft"}
    small = asked(torque_target="40 ft-lb")["passes"][0]
    assert small["torque_minimum"] is None
    assert small["torque_maximum"]["value"] == pytest.approx(8)


def test_without_a_machine_nothing_is_set() -> None:
    answer = asked()
    assert answer["setting"] is None
    assert column(answer, "gauge_setting") == [None] * 6
    assert answer["version"]["profile_id"] is None


@pytest.mark.parametrize(
    ("given", "marks", "torques"),
    [
        # 2 psi to the ft-lbf
        ({}, [600, 1200, 2000], [300, 600, 1000]),
        ({"pass_percentages": "30/70/100"}, [600, 1400, 2000], [300, 700, 1000]),
        # 303 and 606 ft-lbf: 606 psi between 600 and 620, 1212 psi between 1200 and 1220
        ({"torque_target": "1010 ft-lb"}, [600, 1220, 2020], [300, 610, 1010]),
        # 996 ft-lbf: 1992 psi, the nearest mark lies above; 99 % is 1972.08 psi
        (
            {"torque_target": "996 ft-lb", "pass_percentages": "50/99/100"},
            [1000, 1980, 2000],
            [500, 990, 1000],
        ),
        # 2000 psi is nearer, but 1000 ft-lbf and 3 % more are above the maximum: 1980; 98.8 % is 1968.096 psi
        (
            {"torque_target": "996 ft-lb", "torque_maximum": "1025 ft-lb", "pass_percentages": "98.8/100"},
            [1960, 1980],
            [980, 990],
        ),
        # the target is the minimum, so the mark is aimed inside: 2020 and 2040 psi are, 2060 is not, since
        # 1030 ft-lbf and 3 % more are 1060.9; 1020 is nearer the middle, 1031.5
        (
            {"torque_target": "1003 ft-lb", "torque_minimum": "1003 ft-lb", "torque_maximum": "1060 ft-lb"},
            [600, 1200, 2040],
            [300, 600, 1020],
        ),
        # the lowest setting itself may be set: 20 % of 500 ft-lbf is 200 psi
        ({"torque_target": "500 ft-lb", "pass_percentages": "20/50/100"}, [200, 500, 1000], [100, 250, 500]),
        # 10 % of the target off is still near: 300 ft-lbf wanted, 200 given, on marks every 400 psi
        ({"machine": dial(division="400 psi")}, [400, 1200, 2000], [200, 600, 1000]),
    ],
)  # fmt: skip
def test_marks_worked_by_hand(given: dict[str, Any], marks: list[float], torques: list[float]) -> None:
    answer = on_wrench(**given)
    cross = slice(1, len(marks) + 1)
    assert column(answer, "gauge_setting")[cross] == marks
    assert column(answer, "torque_at_gauge_setting")[cross] == pytest.approx(torques, rel=1e-9)
    target = answer["torque"]["target"]["value"]
    shares = [torque / target for torque in torques]
    assert column(answer, "share_at_gauge_setting")[cross] == pytest.approx(shares, rel=1e-9)
    assert column(answer, "gauge_setting")[-2:] == [marks[-1]] * 2


def test_marks_of_a_metric_wrench() -> None:
    """1500 N.m at 100 bar: 900 N.m at 60 bar, 270 at 18, 540 at 36."""
    answer = on_wrench(torque_target="900 N.m", machine=METRIC, units="metric")
    assert column(answer, "gauge_setting") == [None, 18, 36, 60, 60, 60]
    assert answer["passes"][1]["gauge_setting"]["unit"] == "bar"
    assert column(answer, "torque_at_gauge_setting")[1:4] == pytest.approx([0.27, 0.54, 0.9], rel=1e-9)


@pytest.mark.parametrize(
    "joint",
    [
        STATED,
        {**STATED, "torque_minimum": "995 ft-lb", "torque_maximum": "1100 ft-lb"},
        {**STATED, "torque_target": "1003 ft-lb", "torque_tolerance": 0.05},
        {
            **STATED,
            "torque_target": "1003 ft-lb",
            "torque_minimum": "1003 ft-lb",
            "torque_maximum": "1060 ft-lb",
        },
        {**STATED, "torque_target": "30000 ft-lb", "machine": profile()},
        {**STATED, "machine": METRIC, "units": "metric"},
        {**BOLT, "yield_share": 0.4, "torque_tolerance": 0.05, "as_of": "2026-11-24"},
    ],
)
def test_the_last_pass_is_set_as_pressure_sets_it(joint: dict[str, Any]) -> None:
    """Leaf for leaf: setting, torques, bounds, checks, uncertainty; and all that belongs to it."""
    request = {"machine": WRENCH, **JOB, **joint}
    pressure = PRESSURE.answer(request, Shop(), "us")
    answer = FLANGE.answer({**request, "bolt_count": 16, "pass_percentages": "30/60/100"}, Shop(), "us")
    assert answer["setting"] == {name: pressure[name] for name in SettingPart().fields if name in pressure}
    assert answer["torque"] == pressure["torque"]
    assert answer["version"] == pressure["version"]
    assert answer["assumptions"] == pressure["assumptions"]
    last = answer["passes"][3]
    for member in ("gauge_setting", "torque_at_gauge_setting"):
        assert last[member] == pressure[member]
    assert all(source in answer["sources"] for source in pressure["sources"])
    assert all(finding in answer["findings"] for finding in pressure["findings"])


def test_marks_rise_to_the_last_and_never_above_the_target() -> None:
    """Random targets and steps: what is answered rises, and only the last mark may lie above the target."""
    chance = random.Random(7)
    answered = 0
    for _ in range(300):
        percents = sorted(chance.sample(range(5, 100), chance.randint(0, 4)))
        shares = "/".join(map(str, [*percents, 100]))
        target = chance.uniform(120, 1450)
        division = chance.choice([20, 50, 100, 200])
        try:
            answer = on_wrench(
                torque_target=f"{target!r} ft-lb",
                pass_percentages=shares,
                machine=dial(division=f"{division} psi"),
            )
        except NoAnswer as refusal:
            codes = {fault.code for fault in refusal.faults}
            assert codes <= {"no_mark_in_window", "below_lowest_setting", "mark_far_from_target"}
            continue
        answered += 1
        marks = column(answer, "gauge_setting")[1:-2]
        torques = column(answer, "torque_at_gauge_setting")[1:-2]
        assert marks == sorted(set(marks))
        assert all(torque <= target * (1 + 1e-9) for torque in torques[:-1])
        wanted = column(answer, "torque")[1:-2]
        for mark, torque in zip(marks, wanted, strict=True):
            assert abs(mark / 2 - torque) <= max(division / 2, 0.1 * target) * (1 + 1e-9)
    assert answered > 100


@pytest.mark.parametrize(
    ("given", "code", "words"),
    [
        ({"bolt_count": 5}, "no_published_pattern", "makes none up"),
        ({"bolt_count": 6}, "no_published_pattern", ""),
        ({"bolt_count": 7}, "no_published_pattern", ""),
        ({"bolt_count": 10}, "no_published_pattern", ""),
        ({"bolt_count": 28}, "no_published_pattern", ""),
        ({"bolt_count": 128}, "no_published_pattern", ""),
        # 5 % of 1000 ft-lbf is 100 psi, below the lowest setting of 200 psi
        ({"pass_percentages": "5/50/100"}, "below_lowest_setting", "cross pass at 5 %: "),
        # marks every 20 psi are every 10 ft-lbf: 60 and 60.4 % fall on one
        ({"pass_percentages": "60/60.4/100"}, "no_mark_in_window", "falls on 1200 psi"),
        ({"pass_percentages": "50/99.6/100"}, "no_mark_in_window", "falls on 2000 psi"),
        # the first mark, 400 psi, gives 200 ft-lbf: 15 % of the target off 50
        (
            {"machine": dial(division="400 psi"), "pass_percentages": "5/100"},
            "mark_far_from_target",
            "cross pass at 5 %: ",
        ),
        ({"machine": "nobody-knows"}, "unknown_machine", ""),
    ],
)  # fmt: skip
def test_refusals(given: dict[str, Any], code: str, words: str) -> None:
    with pytest.raises(NoAnswer) as refused:
        on_wrench(**given)
    assert {fault.code for fault in refused.value.faults} == {code}
    assert all(words in fault.text for fault in refused.value.faults)


@pytest.mark.parametrize(
    "given",
    [
        {"torque_target": "1900 ft-lb"},
        {"torque_target": "90 ft-lb"},
        {"torque_minimum": "999 ft-lb", "torque_maximum": "1001 ft-lb"},
        {"torque_minimum": "1001 ft-lb"},
        {"torque_tolerance": 0.1, "torque_minimum": "990 ft-lb"},
    ],
)
def test_what_pressure_refuses_is_refused_in_the_same_words(given: dict[str, Any]) -> None:
    with pytest.raises(NoAnswer) as as_pressure:
        PRESSURE.answer({**STATED, "machine": WRENCH, **JOB, **given}, Shop(), "us")
    with pytest.raises(NoAnswer) as refused:
        on_wrench(**given)
    assert refused.value.faults == as_pressure.value.faults


def test_every_pass_that_cannot_be_set_is_named() -> None:
    with pytest.raises(NoAnswer) as refused:
        on_wrench(pass_percentages="5/8/50/100")
    assert [fault.text.partition(":")[0] for fault in refused.value.faults] == [
        "cross pass at 5 %",
        "cross pass at 8 %",
    ]


def test_faults_of_joint_flange_and_machine_come_together() -> None:
    with pytest.raises(NoAnswer) as refused:
        on_wrench(bolt_count=6, machine="nobody-knows", torque_minimum="1001 ft-lb")
    codes = {fault.code for fault in refused.value.faults}
    assert codes == {"no_published_pattern", "unknown_machine", "window_out_of_order"}


def test_counts_that_are_held_are_named() -> None:
    with pytest.raises(NoAnswer) as refused:
        asked(bolt_count=6)
    assert refused.value.faults[0].accepted == "one of: 4, 8, 12, 16, 20, 24"


@every_row(
    ("given", "faults"),
    [
        ({"bolt_count": None}, {"bolt_count": "missing_field"}),
        ({"bolt_count": 3}, {"bolt_count": "out_of_range"}),
        ({"bolt_count": 129}, {"bolt_count": "out_of_range"}),
        ({"bolt_count": -8}, {"bolt_count": "out_of_range"}),
        ({"bolt_count": 4.5}, {"bolt_count": "not_a_number"}),
        ({"bolt_count": "8 bolts"}, {"bolt_count": "not_a_number"}),
        ({"bolt_count": True}, {"bolt_count": "not_a_number"}),
        ({"bolt_count": 1e999}, {"bolt_count": "not_finite"}),
        ({"bolt_count": 10**400}, {"bolt_count": "not_finite"}),
        ({"pass_percentages": None}, {"pass_percentages": "missing_field"}),
        *(
            ({"pass_percentages": shares}, {"pass_percentages": "not_pass_percentages"})
            for shares in (
                "", " ", "100/60", "30/60", "0/100", "4.9/100", "30-60-100", "30/60/100/", "/30/100",
                "30//100", "30/30/100", "30/100/100", "30/60/101", "30/60/99.9999", "-30/100", "+30/100",
                "3e1/100", "30 / 60 / 100", "30/60/100 %", "30%/60%/100%", "0.3/0.6/1", "30,60,100",
                "nan/100", "inf/100", "٣٠/100", "30/60/100\n", "5/10/20/30/40/50/100", "1" * 100,
                "30/60/1000", 100, 100.0, True, [0.3, 0.6, 1], [30, 60, 100], {"first": 30},
            )
        ),
        ({"machine": WRENCH}, dict.fromkeys(("operation", "thread_hand"), "missing_field")),
        ({"machine": WRENCH, **JOB, "operation": "loosen"}, {"operation": "not_a_choice"}),
        ({"machine": WRENCH, **JOB, "thread_hand": "both"}, {"thread_hand": "not_a_choice"}),
        ({"machine": WRENCH, **JOB, "break_out_ratio": 1.2}, {"break_out_ratio": "unknown_field"}),
        ({"machine": 5, **JOB}, {"machine": "not_a_machine"}),
        (JOB, {"machine": "missing_field"}),
        ({"family": "rotary_shouldered"}, {"family": "not_a_choice"}),
        ({"family": None}, {"family": "missing_field"}),
    ],
)  # fmt: skip
def test_bad_input(given: dict[str, Any], faults: dict[str, str]) -> None:
    with pytest.raises(InvalidInput) as refused:
        asked(**given)
    assert {str(fault.path[0]): fault.code for fault in refused.value.faults} == faults
    assert all(fault.accepted for fault in refused.value.faults)


@pytest.mark.parametrize("kind", ["cylinder_on_arm", "torque_wrench"])
def test_any_machine_that_gives_torque(kind: str) -> None:
    machine = {"cylinder_on_arm": profile(), "torque_wrench": WRENCH}[kind]
    target = {"cylinder_on_arm": "30000 ft-lb", "torque_wrench": "1000 ft-lb"}[kind]
    assert on_wrench(machine=machine, torque_target=target)["setting"]["gauge_setting"]["unit"] == "psi"


def test_a_tensioner_is_refused() -> None:
    tensioner = FLANGE_CALCULATIONS[1].example["machine"]
    with pytest.raises(NoAnswer) as refused:
        on_wrench(machine=tensioner)
    assert {fault.code for fault in refused.value.faults} == {"gives_no_torque"}


@pytest.mark.parametrize(
    ("shares", "practices"),
    [
        ("30/60/100", ["steps snug, 20 to 30 %, 50 to 70 %, 100 %", "steps 30/60/100 %"]),
        ("30/70/100", ["steps snug, 20 to 30 %, 50 to 70 %, 100 %", "steps 30/70/100 %"]),
        ("25/65/100", ["steps snug, 20 to 30 %, 50 to 70 %, 100 %"]),
        ("40/80/100", []),
        ("100", []),
    ],
)
def test_published_practices_are_named(shares: str, practices: list[str]) -> None:
    answer = asked(pass_percentages=shares)
    assert [each["what"] for each in answer["agrees_with"]] == practices
    assert all(each in answer["sources"] for each in answer["agrees_with"])
    assert [each["code"] for each in answer["findings"]] == ([] if practices else ["steps_not_published"])


def test_it_is_practice_from_memory_and_a_shop_may_refuse_that() -> None:
    answer = asked()
    assert answer["status"] == "from memory"
    with pytest.raises(NoAnswer) as refused:
        asked(Shop(policy=Policy(accepted_statuses=frozenset({"read", "stated"}))))
    assert {fault.code for fault in refused.value.faults} == {"status_not_accepted"}


def test_a_bolt_of_a_dated_table_needs_the_day_and_no_machine() -> None:
    """Half of 1,000 ft-lb before July, of 1,200 from then on."""
    rows = "A,1000,s,1,,2026-06-30\nA,1200,s,2,2026-07-01,\n"
    shop = shop_of(f"bolt,target [ft-lb],source,revision,effective_from,effective_to\n{rows}")
    given = {"family": "tabulated", "table": "own", "table_key": {"bolt": "A"}, "bolt_count": 8}
    flange = {**given, "pass_percentages": "50/100"}
    with pytest.raises(NoAnswer, match="as_of_required"):
        FLANGE.answer(flange, shop, "us")
    for day, torque in (("2026-06-30", 500.0), ("2026-07-01", 600.0)):
        answer = FLANGE.answer({**flange, "as_of": day}, shop, "us")
        assert answer["passes"][1]["torque"]["value"] == pytest.approx(torque, rel=1e-9)
        assert answer["version"]["table_id"] == "own"


def test_no_pass_on_the_way_is_set_above_the_last() -> None:
    """2000 psi is nearest to 99.9 % of 996 ft-lbf, but the last pass is 1980: the maximum forbids 2000."""
    given = {"torque_target": "996 ft-lb", "torque_maximum": "1025 ft-lb", "pass_percentages": "99.9/100"}
    with pytest.raises(NoAnswer) as refused:
        on_wrench(**given)
    (fault,) = refused.value.faults
    assert fault.code == "no_mark_in_window"
    assert "falls on 1980 psi" in fault.text


def test_loosening_is_refused_with_its_reason() -> None:
    with pytest.raises(NoAnswer) as refused:
        on_wrench(operation="break_out")
    (fault,) = refused.value.faults
    assert (fault.code, fault.field) == ("no_published_pattern", "operation")
    assert "no order for loosening a flange" in fault.text


@pytest.mark.parametrize(
    ("given", "maximum"),
    [
        # 10 % of 180 ft-lbf is 18, 36 psi; the nearest mark, 25 psi, gives 12.5 (2 psi to the ft-lbf)
        (
            {
                "torque_target": "180 ft-lb",
                "pass_percentages": "10/50/100",
                "machine": dial(division="25 psi"),
            },
            12.5,
        ),
        # 20 % of 90 ft-lbf is 18 as well
        (
            {
                "torque_target": "90 ft-lb",
                "pass_percentages": "20/60/100",
                "machine": dial(division="25 psi"),
            },
            12.5,
        ),
        ({"torque_target": "1000 ft-lb"}, 20),
    ],
)
def test_snug_is_no_tighter_than_the_first_pass_as_it_is_set(given: dict[str, Any], maximum: float) -> None:
    machine = {**given.get("machine", WRENCH), "lowest_setting": "20 psi"}
    snug = on_wrench(**{**given, "machine": machine})["passes"][0]
    assert snug["torque_minimum"]["value"] == pytest.approx(10)
    assert snug["torque_maximum"]["value"] == pytest.approx(maximum)


@pytest.mark.parametrize(
    ("division", "shares", "told"),
    [
        # 250 ft-lbf and 750 for 300 and 700; 125 for 50
        (
            "500 psi",
            "30/70/100",
            ["30 % is set to 500 psi, which gives 250 lbf.ft, 25 %", "70 % is set to 1500 psi"],
        ),
        ("250 psi", "5/100", ["5 % is set to 250 psi, which gives 125 lbf.ft, 12.5 %"]),
        ("20 psi", "30/60/100", []),
    ],
)  # fmt: skip
def test_a_step_that_the_gauge_does_not_give_is_told(division: str, shares: str, told: list[str]) -> None:
    answer = on_wrench(pass_percentages=shares, machine=dial(division=division))
    found = [each["text"] for each in answer["findings"] if each["code"] == "pass_far_from_its_step"]
    assert all(text in words for text, words in zip(told, found, strict=True))


def test_a_cell_holds_every_pass_with_its_mark() -> None:
    cell = in_words(
        on_wrench(machine=dial(division="500 psi"))["passes"], FlangeSequenceAnswer().fields["passes"]
    )
    assert "2 cross 30 %: 300.0 lbf.ft, set 500.0 psi = 25 % (1-5-3-7, 2-6-4-8)" in cell
    assert "1 snug: 10.0 lbf.ft to 20.0 lbf.ft (1-5-3-7, 2-6-4-8)" in cell
    assert "5 circular 100 %: 1000.0 lbf.ft, set 2000.0 psi = 100 % (1-2-3-4-5-6-7-8)" in cell


def test_a_shop_that_takes_nothing_from_memory_gets_no_sequence() -> None:
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint", "fitted", "stated"})))
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        FLANGE.answer(ASKED, shop, "us")
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        FLANGE_CALCULATIONS[1].answer(FLANGE_CALCULATIONS[1].example, shop, "us")
    assert asked()["status"] == "from memory"
