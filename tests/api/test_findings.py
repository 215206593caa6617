"""Every finding is short, has a remedy where it asks for something, and is provoked by an answer.

Nothing that is true of every job is a finding: the 500 work orders of the invented shop are asked.
"""

import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from calibrations import WrittenDown, readings, request
from findings import ROOT, codes_written, findings_in, findings_written, too_long
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from policies import policy, policy_file
from shop_tables import shop_of
from tensioners import QUESTION, dial, tensioner

from api.app import create_app
from api.engineering.checks import WORDS
from api.registry.calculations import CALCULATIONS
from api.settings import Settings

DEMO = ROOT / "deploy" / "demo"
DEMO_MACHINES, DEMO_TABLES = DEMO / "machines", DEMO / "tables"
OWN_WORDS = ("Note of row ",)
"""How a finding begins that repeats what the shop wrote."""

# what provokes them, thin: what is asked, and no more than provokes one

BOLT = {"thread": "M20", "bolt_grade": "8.8", "method": "nut_factor", "nut_factor": 0.2, "preload": "100 kN"}
EXACT = {
    **{"thread": "M20", "bolt_grade": "8.8", "method": "exact_helix", "thread_friction": 0.12},
    **{"bearing_friction": 0.12, "bearing_outside_diameter": "28 mm", "bearing_hole_diameter": "22 mm"},
}
FLANGE = {"bolt_grade": "B7", "method": "heavy_hex_nut", "thread_friction": 0.13, "thread": "1-1/2-8 UN"}
SMALL_BOLT = {
    **BOLT,
    "thread": "M12",
    "preload": "37.9 kN",
    "external_load": "52 kN",
    "bolt_load_share": 0.256,
}
COLLAR = {"connection": "NC50", "component": "drill_collar", "box_outside_diameter": "6.5 in"}
TOOL_JOINT = {
    **{"connection": "NC50", "component": "tool_joint", "box_outside_diameter": "6 5/8 in"},
    "pin_bore": "3 1/4 in",
}
BORED = {**COLLAR, "pin_bore": "4.3 in"}
CASING = {"size": "5-1/2", "weight": "17 lb/ft", "pipe_grade": "J55", "thread_type": "STC"}
LARGE_CASING = {"size": "9-5/8", "weight": "47 lb/ft", "pipe_grade": "L80", "thread_type": "LTC"}
DIMENSIONS = {
    **{"pipe_outside_diameter": "5.5 in", "pipe_inside_diameter": "4.892 in", "engaged_length": "2.171 in"},
    **{"threads_per_inch": 8, "pipe_yield_strength": "55000 psi", "pipe_tensile_strength": "75000 psi"},
}
GRIP = {"torque": "100 ft-lb", "outside_diameter": "5 in", "friction": 0.3, "margin": 1.5}
CHAIN = {
    **{"pitch": "1 in", "pin_line_offset": "0.375 in", "wrap": "360 deg", "tail_links": 0},
    "rated_load": "100000 lbf",
}
STUDS = {**QUESTION, "machine": tensioner(), "bolt_count": 16, "coverage": "half"}
COARSE = tensioner(gauges=dial(division="500 psi"))
WRENCHED = {**STATED, **JOB, "machine": "bench-1", "torque_target": "1000 ft-lb"}
READING = {**JOB, "machine": profile(), "gauge_reading": "600 psi"}
NC50 = {**COLLAR, "pin_bore": "2-13/16 in"}
TURNED = {**JOB, "family": "rotary_shouldered"}
WORN = {**TOOL_JOINT, "box_outside_diameter": "5 3/8 in"}
STUD = {
    **{"family": "bolt", "thread": "M42", "bolt_yield_strength": "724 MPa", "method": "simplified_helix"},
    **{"thread_friction": 0.145, "bearing_friction": 0.155, "bearing_outside_diameter": "63 mm"},
    **{"bearing_hole_diameter": "44.1 mm", "yield_share": 0.745},
}
BREAK_OUT = {**JOB, "operation": "break_out", "break_out_ratio": 1.2, "machine": profile()}


def _demo(machine: str) -> dict[str, Any]:
    """A machine of the demonstration."""
    profile_: dict[str, Any] = json.loads((DEMO_MACHINES / f"{machine}.json").read_text("utf-8"))
    return profile_


def _calibrated() -> dict[str, Any]:
    """A calibrated machine whose make-up side is not calibrated, and which has no range of its grip."""
    made = {**_demo("south-bay-9"), "right_hand_make_up_side": "rod"}
    made["calibrated"]["sides"].pop("rod", None)
    del made["outside_diameter"]
    return made


def _trials(*torques: int) -> dict[str, Any]:
    trials = [{"torque": f"{torque} ft-lb", "position": "base_to_apex"} for torque in torques]
    return {"size": "9-5/8", "weight": "47 lb/ft", "pipe_grade": "L80", "trials": trials}


WEAK_HOSES = profile(rated_pressure__hoses="590 psi", relief__highest="580 psi")
OUT = {**TURNED, "operation": "break_out", "break_out_ratio": 1.0}
NC38 = {**COLLAR, "connection": "NC38", "box_outside_diameter": "4 3/4 in", "pin_bore": "2 1/4 in"}
NC38_OUT = {**OUT, **NC38, "machine": "north-bay-2", "made_up_torque": "9986.4 ft-lb"}
HIGH_VALVE = {
    **_demo("north-bay-2"),
    "relief": {"lowest": "400 psi", "highest": "2500 psi", "override": "0 psi"},
}
OFF_SQUARE = {**TURNED, **NC50, "machine": "north-bay-2", "arm_position": "60 in"}
STRONG = profile(torque_rating="90000 ft-lb")
COMMON = {**_demo("north-bay-2"), "grip_supply": "common"}
"""A machine whose grip and arm share one supply."""
LINE = {**_demo("yard-2"), "torque_rating": "57100 ft-lb"}
BEYOND = {
    **_demo("south-bay-9"),
    **{"torque_rating": "200000 ft-lb", "relief": {"cracking": "2800 psi", "full_flow": "2800 psi"}},
}
"""A machine whose relief opens beyond its calibration."""

DONE = {**TURNED, **TOOL_JOINT, "machine": profile(), "gauge_reading": "600 psi"}
"""A make-up that is judged."""

THIN: list[tuple[str, dict[str, Any]]] = [
    ("torque/bolt", BOLT),
    ("torque/bolt", {**BOLT, "nut_factor": 0.08}),
    ("torque/bolt", {**BOLT, "preload": "147 kN"}),
    ("torque/bolt", {**EXACT, "preload": "136 kN"}),
    ("torque/bolt", {**EXACT, "preload": "108 kN", "tightening_method": "torque_wrench_unlubricated"}),
    ("torque/bolt", {**FLANGE, "yield_share": 0.51}),
    ("torque/bolt", {**FLANGE, "yield_share": 0.5, "thread_friction": 0.1}),
    ("torque/bolt", {**FLANGE, "yield_share": 0.5, "thread": "2-5/8-8 UN", "bolt_grade": "BD"}),
    ("torque/bolt", SMALL_BOLT),
    ("torque/rotary-shouldered", BORED),
    ("torque/rotary-shouldered", {**TOOL_JOINT, "edition": "1998"}),
    ("torque/rotary-shouldered", {**COLLAR, "pin_bore": "2-13/16 in", "component": "kelly"}),
    ("preload/rotary-shouldered", {**BORED, "applied_torque": "500 ft-lb"}),
    ("preload/rotary-shouldered", {**COLLAR, "pin_bore": "2-13/16 in", "applied_torque": "29000 ft-lb"}),
    ("preload/rotary-shouldered", {**COLLAR, "pin_bore": "2-13/16 in", "applied_torque": "33000 ft-lb"}),
    ("preload/rotary-shouldered", {**TOOL_JOINT, "edition": "1998", "applied_torque": "20000 ft-lb"}),
    (
        "preload/rotary-shouldered",
        {**TOOL_JOINT, "applied_torque": "10000 ft-lb", "axial_tension": "1000000 lbf"},
    ),
    ("torque/round-thread", {**CASING, "pipe_grade": "C75"}),
    ("torque/round-thread", {**CASING, "size": "20", "weight": "94 lb/ft"}),
    ("torque/round-thread", DIMENSIONS),
    (
        "pressure",
        {**BREAK_OUT, **LARGE_CASING, "family": "round_thread", "gripped_outside_diameter": "9 5/8 in"},
    ),
    ("make-up-position/buttress", {"size": "16"}),
    ("make-up-position/buttress", {"size": "9-5/8", "face_past_base": "0.5 in"}),
    ("trial-make-up/buttress", _trials(6000, 6100)),
    ("trial-make-up/buttress", _trials(6000, 6100, 6200, 9000)),
    ("grip", {**GRIP, "friction": 0.75}),
    ("grip", {**GRIP, "squeeze": "100 lbf"}),
    ("grip", {**GRIP, "jaws": {"rated_squeeze": "300000 lbf", "wedge_angle": "17 deg"}}),
    ("grip", {**GRIP, "chain": CHAIN}),
    ("grip", {**GRIP, "chain": CHAIN, "outside_diameter": "2.4 in"}),
    ("preload-pressure", {**QUESTION, "machine": tensioner(load_rating="100399 lbf")}),
    ("preload-pressure", {**QUESTION, "machine": tensioner(), "yield_strength": "70833 psi"}),
    ("preload-pressure", {**QUESTION, "machine": tensioner(), "preload_maximum": "80319 lbf"}),
    ("preload-pressure", {**QUESTION, "machine": tensioner(), "preload_minimum": "76481 lbf"}),
    ("preload-pressure", {**QUESTION, "machine": tensioner(), "load_loss_factor": 1.05}),
    ("flange-sequence/preload", {**STUDS, "first_pass_factor": 1.1, "preload_maximum": "82000 lbf"}),
    (
        "flange-sequence/preload",
        {**STUDS, "machine": tensioner(load_rating="110000 lbf"), "first_pass_factor": 1.1},
    ),
    ("flange-sequence/torque", {**WRENCHED, "bolt_count": 8, "pass_percentages": "33/100"}),
    (
        "flange-sequence/preload",
        {**STUDS, "machine": COARSE, "preload_target": "59900 lbf", "first_pass_factor": 1.03},
    ),
    ("delivered-torque", {**READING, "arm_position": "unknown"}),
    ("delivered-torque", {**READING, "gauge_read": "break_out"}),
    ("pressure", {**BREAK_OUT, **TOOL_JOINT, "family": "rotary_shouldered"}),
    ("calibration", request(readings("rod", written=WrittenDown(torque_unit="in-lb")))),
    ("delivered-torque", {**READING, "gauge_reading": "2990 psi"}),
    ("delivered-torque", {**READING, "machine": WEAK_HOSES}),
    ("delivered-torque", {**READING, "machine": profile(gauges__make_up__height="90 ft")}),
    ("pressure", {**TURNED, **WORN, "machine": profile(lowest_setting="20 psi")}),
    ("pressure", {**TURNED, **NC50, "machine": profile(), "grip_spacing": "20 ft"}),
    ("pressure", {**TURNED, **NC50, "machine": "north-bay-2", "grip_friction": 0.1, "grip_margin": 2}),
    ("pressure", {**TURNED, **NC50, "machine": COMMON}),
    ("pressure", {**TURNED, **NC50, "machine": COMMON, "grip_friction": 0.55, "grip_margin": 1}),
    ("pressure", {**STATED, **JOB, "machine": LINE, "torque_target": "57000 ft-lb"}),
    ("pressure", {**STATED, **JOB, "machine": BEYOND, "torque_target": "60000 ft-lb"}),
    ("pressure", {**STUD, **JOB, "machine": "north-bay-7", "gripped_outside_diameter": "5 in"}),
    ("preload-pressure", {**QUESTION, "machine": tensioner(load_rating="97800 lbf")}),
    ("pressure", {**OUT, **NC50, "machine": "north-bay-2", "made_up_torque": "45000 ft-lb"}),
    ("pressure", OFF_SQUARE),
    ("pressure", {**NC38_OUT, "break_out_ratio": 1.3}),
    ("pressure", {**NC38_OUT, "break_out_ratio": "0.8/0.9/1.3"}),
    ("pressure", {**NC38_OUT, "break_out_ratio": 0.9, "machine": HIGH_VALVE}),
    ("pressure", {**OUT, **NC50, "machine": STRONG, "break_out_ratio": 1.5}),
    ("pressure", {**OUT, **NC50, "machine": STRONG, "made_up_torque": "53000 ft-lb", "break_out_ratio": 0.8}),
    ("verdict", {**DONE, "gauge_reading": "1000 psi"}),
    ("verdict", {**DONE, "gauge_zero": "20 psi", "slips": 2, "limit_proved": False}),
    ("verdict", {**DONE, "torque_tolerance": 0.05, "ordered_setting": "500 psi"}),
]

TABLE = (
    '"od [mm, linear]",minimum [N.m],target [N.m],source,revision,note\n'
    "100,90,100,invented,1,\n200,,200,invented,1,dope both shoulders\n"
)

BAD_PROFILES: list[dict[str, Any]] = [
    profile(status="draft", calibration=None, relief={"cracking": "2500 psi", "full_flow": "3100 psi"}),
    profile(lowest_setting="2500 psi"),
    profile(cylinder__open_length="95.95 in"),
    profile(tolerances={"arm_radius": "4 in"}),
    tensioner(load_rating="166330 lbf"),
    tensioner(relief={"cracking": "19500 psi", "full_flow": "21500 psi"}),
    {**_demo("south-bay-8"), "on_opposite_sides": False},
    _calibrated(),
]


@pytest.fixture(scope="module")
def shop() -> FlaskClient:
    """The invented shop without its policy: it serves unfit profiles, and says so."""
    return create_app(Settings(machines=DEMO_MACHINES, tables=DEMO_TABLES)).test_client()


@pytest.fixture(scope="module")
def said(shop: FlaskClient) -> list[Any]:
    """Every finding that the examples, the invented shop and the thin requests are answered with."""
    answers = [*_thin(shop), *_of_machines(shop), *_of_files(shop), *_of_policies()]
    return [finding for answer in answers for finding in findings_in(answer)]


def _thin(shop: FlaskClient) -> Iterator[Any]:
    examples = [(each.name, dict(each.example)) for each in CALCULATIONS]
    for name, asked in [*examples, *THIN]:
        sent = {field: value for field, value in asked.items() if value is not None}
        answer = shop.post(f"/v1/{name}", json=sent)
        assert answer.status_code == 200, (name, asked, answer.get_json())
        yield answer.get_json()
    (tabulated,) = (each for each in CALCULATIONS if each.name == "torque/tabulated")
    for size in ("125 mm", "200 mm"):
        yield tabulated.answer({"table": "own", "table_key": {"od": size}}, shop_of(TABLE), "si")


def _of_machines(shop: FlaskClient) -> Iterator[Any]:
    """Every machine, make-up and break-out, with both hands and where its arm is not known; and its chart."""
    operations = ({"operation": "make_up"}, {"operation": "break_out", "break_out_ratio": 1.2})
    for machine in sorted(path.stem for path in DEMO_MACHINES.glob("*.json")):
        for hand in ("right", "left"):
            for arm in ("square", "unknown"):
                stands = {"thread_hand": hand, "arm_position": arm, "gripped_outside_diameter": "6 in"}
                for operation in operations:
                    asked = {**STATED, **operation, **stands, "machine": machine}
                    yield shop.post("/v1/pressure", json=asked).get_json()
                chart = {**stands, "format": "json"}
                yield shop.get(f"/v1/machines/{machine}/chart", query_string=chart).get_json()


def _of_files(shop: FlaskClient) -> Iterator[Any]:
    """The checks of profiles and tables, the tables themselves, and the work orders on two days."""
    for profile_ in [_demo(path.stem) for path in sorted(DEMO_MACHINES.glob("*.json"))] + BAD_PROFILES:
        answer = shop.post("/v1/profile-check", json=profile_).get_json()
        assert answer["valid"], answer
        yield answer
    for path in sorted(DEMO_TABLES.glob("*.csv")):
        yield shop.post("/v1/table-check", data=path.read_bytes(), content_type="text/csv").get_json()
    for day in ("2026-11-24", "2029-01-01"):
        yield _orders(shop, as_of=day)


def _of_policies() -> Iterator[Any]:
    """A shop whose policy is a draft that holds from a later day."""
    late = policy(status="draft", effective_from="2030-01-01", relief_margin=0.1, decision_rule="guarded")
    client = create_app(Settings(machines=DEMO_MACHINES, policy=policy_file(**late))).test_client()
    yield client.post("/v1/policy-check", json=late).get_json()
    asked = {**STATED, **JOB, "machine": profile(), "torque_tolerance": 0.05, "as_of": "2026-11-24"}
    answer = client.post("/v1/pressure", json=asked)
    assert answer.status_code == 200, answer.get_json()
    yield answer.get_json()


def _orders(shop: FlaskClient, **query: str) -> Any:
    orders = (DEMO / "work_orders.csv").read_bytes()
    asked = {**query, "format": "json"}
    sent = shop.post("/v1/pressure/batch", query_string=asked, data=orders, content_type="text/csv")
    assert sent.status_code == 200
    return sent.get_json()


# words


def test_sentences_are_told_apart_and_counted() -> None:
    long = "One two three four five six seven eight nine ten eleven twelve 13 14 15 16 17 18 19 20"
    assert too_long(f"{long} %. See API RP 5C1 4.4. Short.") == []
    assert too_long(f"Short. {long} 21.") == [f"21: {long} 21."]


def test_no_sentence_of_a_finding_in_the_code_is_long() -> None:
    written = [*((each.place, text) for each in findings_written() for text in each.texts)]
    written += [(name, text) for name, row in WORDS.items() for text in (row.text, row.remedy)]
    assert len(written) > 150
    assert [(place, long) for place, text in written for long in too_long(text)] == []


def test_no_sentence_of_a_finding_in_an_answer_is_long(said: list[Any]) -> None:
    texts = {finding["text"] for finding in said if not finding["text"].startswith(OWN_WORDS)}
    assert len(texts) > 150
    assert [long for text in sorted(texts) for long in too_long(text)] == []


def test_what_stops_or_is_to_be_looked_at_has_a_remedy(said: list[Any]) -> None:
    asking = [each for each in findings_written() if each.level != "note"]
    assert [each for each in asking if not each.remedy] == []
    assert [name for name, row in WORDS.items() if not row.remedy] == []
    assert [each for each in said if each["level"] in ("stop", "look") and not each["remedy"]] == []
    assert all(each["text"].endswith(each["remedy"]) for each in said)


# codes


def test_every_finding_in_the_code_is_provoked_and_every_finding_of_an_answer_is_written(
    said: list[Any],
) -> None:
    """So too every row of the words of checks: none is dead."""
    assert {finding["code"] for finding in said} == codes_written()


def test_a_code_has_one_level_on_every_question(said: list[Any]) -> None:
    levels: dict[str, set[str]] = {}
    for finding in said:
        levels.setdefault(finding["code"], set()).add(finding["level"])
    # a note where margin and override must go beyond a maximum, a look where they reach the yield; and a note
    # where the highest reading expected lies below all that can yield the joint, a stop where the likely one
    # does not
    assert {code: found for code, found in levels.items() if len(found) > 1} == {
        "limit_alone_holds": {"look", "note"},
        "limit_can_yield": {"stop", "look", "note"},
    }


# what is true of every job


@pytest.fixture(scope="module")
def answered() -> list[Any]:
    """The answered lines of the 500 work orders, as the invented shop asks them."""
    settings = Settings(machines=DEMO_MACHINES, tables=DEMO_TABLES, policy=DEMO / "policy.json")
    lines = _orders(create_app(settings).test_client())["lines"]
    assert len(lines) == 500
    return [line["result"] for line in lines if "result" in line]


def test_nothing_that_is_true_of_every_job_is_a_finding(answered: list[Any]) -> None:
    """Counted by operation: a make-up and a break-out are told different things.

    `limit_alone_holds` is a note with its own figure for each job: with a margin and an override relief lets
    through more than the maximum of almost every joint. The design asks for it.
    """
    for operation, at_least in (("make_up", 300), ("break_out", 100)):
        of_it = [each for each in answered if each["inputs"]["operation"] == operation]
        assert len(of_it) >= at_least
        counted = Counter(code for each in of_it for code in {found["code"] for found in each["findings"]})
        most = {code: count for code, count in counted.items() if count > 0.9 * len(of_it)}
        assert set(most) <= {"limit_alone_holds"}


def test_findings_stand_in_their_rank_and_each_once(answered: list[Any]) -> None:
    for each in answered:
        levels = [("stop", "look", "note").index(found["level"]) for found in each["findings"]]
        assert levels == sorted(levels)
        texts = [found["text"] for found in each["findings"]]
        assert len(texts) == len(set(texts))
