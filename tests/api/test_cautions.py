"""Every caution is short: whoever stands at the valve reads it once.

In the code a caution is a sentence, with a capital and a full stop; nothing else in these folders is one, but
what is named here. Every caution is provoked by an answer, and every caution of an answer is one of them.
"""

import ast
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from calibrations import WrittenDown, readings, request
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from shop_tables import shop_of
from tensioners import QUESTION, dial, tensioner

from api.app import create_app
from api.registry.calculations import CALCULATIONS
from api.settings import Settings

ROOT = Path(__file__).parents[2]
DEMO_MACHINES = ROOT / "deploy" / "demo" / "machines"
DEMO_TABLES = ROOT / "deploy" / "demo" / "tables"
MOST_WORDS = 20
"""Words of a sentence."""

PLACES = [
    *sorted((ROOT / "api" / "answers").rglob("*.py")),
    *sorted((ROOT / "api" / "engineering").rglob("*.py")),
    *(ROOT / "api" / "registry" / f"{name}.py" for name in ("calculation", "chart", "profile_check")),
]
"""Where cautions are written."""

NO_CAUTIONS = {
    "api/answers/flanges/sequence.py": ("Turn every", "Once round", "Clockwise", "Where the procedure"),
    "api/answers/flanges/tensioner_sequence.py": ("Set all tools", "Set this group"),
    "api/answers/rotary/preload_notes.py": ("Make up a new", "About three", "Another published"),
    "api/engineering/gauges/accuracy_class.py": ("",),
    "api/registry/chart.py": ("Shows make-up and break-out",),
    "api/registry/profile_check.py": ("Tells every fault", "A profile;"),
}
"""Sentences that are no cautions, by how they begin: steps of a work, advice in a check, descriptions."""

OWN_WORDS = ("Note of row ",)
"""How a caution begins that repeats what the shop wrote."""


FIRST_PASS = "First pass: "


class Written(NamedTuple):
    """A caution as it is written: where, its words, and what an answer makes of it."""

    place: str
    words: str
    pattern: re.Pattern[str]


def sentences(text: str) -> list[str]:
    """The sentences of a text; a full stop inside a number or a name ends none."""
    return re.split(r"(?<=[.!?])\s+(?=[A-Z0-9])", text)


def words_in(sentence: str) -> int:
    """How many words it has; a sign alone, such as %, is none."""
    return sum(any(letter.isalnum() for letter in word) for word in sentence.split())


def too_long(text: str) -> list[str]:
    """The sentences that have too many words."""
    return [f"{words_in(each)}: {each}" for each in sentences(text) if words_in(each) > MOST_WORDS]


def cautions_written() -> Iterator[Written]:
    """Every caution in the code."""
    for path in PLACES:
        place = path.relative_to(ROOT).as_posix()
        for node in _texts(ast.parse(path.read_text("utf-8"))):
            parts = node.values if isinstance(node, ast.JoinedStr) else [node]
            texts = [part.value if isinstance(part, ast.Constant) else "{}" for part in parts]
            words = "".join(map(str, texts))
            if _is_sentence(words) and not words.startswith(NO_CAUTIONS.get(place, ("\0",))):
                pattern = "".join(".+" if text == "{}" else re.escape(str(text)) for text in texts)
                yield Written(place, words, re.compile(pattern))


def _is_sentence(words: str) -> bool:
    return bool(re.match(r"[A-Z{]", words)) and words.endswith(".") and " " in words


def _texts(tree: ast.AST) -> Iterator[ast.Constant | ast.JoinedStr]:
    """Every text, formatted or not, that is no docstring."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.JoinedStr) or (
            isinstance(node, ast.Constant) and isinstance(node.value, str)
        ):
            yield node
        elif not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
            yield from _texts(node)


def cautions_in(answer: Any) -> Iterator[str]:
    """Every caution of an answer, wherever it stands."""
    if isinstance(answer, Mapping):
        for name, value in answer.items():
            if name == "cautions":
                yield from value
            elif name == "caution" and isinstance(value, str):
                yield value
            else:
                yield from cautions_in(value)
    elif isinstance(answer, list):
        for each in answer:
            yield from cautions_in(each)


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
BREAK_OUT = {**JOB, "operation": "break_out", "break_out_ratio": 1.7, "machine": profile()}


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
    {**_demo("south-bay-8"), "on_opposite_sides": False},
    _calibrated(),
]


@pytest.fixture(scope="module")
def shop() -> FlaskClient:
    """The invented shop, which serves unfit profiles with a caution."""
    return create_app(Settings(machines=DEMO_MACHINES, tables=DEMO_TABLES)).test_client()


@pytest.fixture(scope="module")
def said(shop: FlaskClient) -> frozenset[str]:
    """Every caution that the examples, the invented shop and the thin requests are answered with."""
    answers = [*_thin(shop), *_of_machines(shop), *_of_files(shop)]
    return frozenset(caution for answer in answers for caution in cautions_in(answer))


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
        yield shop.get(f"/v1/tables/{path.stem}").get_json()
    orders = (DEMO_MACHINES.parent / "work_orders.csv").read_bytes()
    for day in ("2026-11-24", "2029-01-01"):
        query = {"as_of": day, "format": "json"}
        sent = shop.post("/v1/pressure/batch", query_string=query, data=orders, content_type="text/csv")
        assert sent.status_code == 200
        yield sent.get_json()


def test_sentences_are_told_apart_and_counted() -> None:
    long = "One two three four five six seven eight nine ten eleven twelve 13 14 15 16 17 18 19 20"
    assert too_long(f"{long} %. See API RP 5C1 4.4. Short.") == []
    assert too_long(f"Short. {long} 21.") == [f"21: {long} 21."]


def test_no_sentence_of_a_caution_in_the_code_is_long() -> None:
    written = list(cautions_written())
    assert len(written) > 130
    assert [(each.place, long) for each in written for long in too_long(each.words)] == []


def test_no_sentence_of_a_caution_in_an_answer_is_long(said: frozenset[str]) -> None:
    ours = [caution for caution in said if not caution.startswith(OWN_WORDS)]
    assert len(ours) > 135
    assert len(said) > len(ours)
    assert [long for caution in sorted(ours) for long in too_long(caution)] == []


def test_every_caution_in_the_code_is_provoked(said: frozenset[str]) -> None:
    missing = [each for each in cautions_written() if not any(map(each.pattern.fullmatch, said))]
    assert [(each.place, each.words) for each in missing] == []


def test_every_caution_of_an_answer_is_written_as_one(said: frozenset[str]) -> None:
    """The first pass of a flange repeats those of its own."""
    patterns = [each.pattern for each in cautions_written()]
    ours = [caution.removeprefix(FIRST_PASS) for caution in said if not caution.startswith(OWN_WORDS)]
    assert [each for each in ours if not any(pattern.fullmatch(each) for pattern in patterns)] == []
    assert any(caution.startswith(FIRST_PASS) for caution in said)
