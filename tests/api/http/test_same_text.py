"""The same text has the same value, or the same code, in JSON, in a query and in a table."""

from pathlib import Path
from typing import Any

from flask.testing import FlaskClient
from hypothesis import given, note, settings
from hypothesis import strategies as st
from machines import JOB
from policies import policy_file
from rows import every_row
from ways import in_every_form

from api.app import create_app
from api.settings import Settings
from schemas.core.quantity import NUMBER_RULES

DEMO = Path(__file__).parents[3] / "deploy" / "demo"
COLLAR = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
JOINT = {"family": "rotary_shouldered", **COLLAR}
ROUND = {"size": "5-1/2", "pipe_grade": "J55", "thread_type": "STC", "weight": "17"}
BOLT = {
    "thread": "M20",
    "bolt_grade": "8.8",
    "method": "nut_factor",
    "nut_factor": "0.2",
    "preload": "100 kN",
}
FLANGE = {**BOLT, "family": "bolt", "bolt_count": "8", "pass_percentages": "30/60/100"}
TABLE = {
    "table": "double-shoulder",
    "table_key.connection": "bay joint 40",
    "table_key.pin_bore": "2-11/16 in",
}
TABLE["table_key.box_outside_diameter"] = "5 1/4 in"
READ = {**JOINT, **JOB, "machine": "south-bay-9", "gauge_reading": "860 psi"}
PLACES: list[tuple[str, dict[str, str], list[str]]] = [
    # where, the rest of the question, its fields that are varied
    ("torque/rotary-shouldered", COLLAR, [*COLLAR, "compound_friction_factor", "edition", "confirm_size"]),
    ("torque/rotary-shouldered", COLLAR, ["torque_tolerance", "low_torque_face", "steps", "torque_unit"]),
    ("pressure", {**JOINT, **JOB, "machine": "north-bay-2"}, ["family", "machine", "arm_position", "as_of"]),
    ("pressure", {**JOINT, **JOB, "machine": "north-bay-2"}, ["break_out_ratio", "grip_friction", "units"]),
    ("machine-choice", {**JOINT, **JOB}, ["limit", "site"]),
    ("verdict", READ, ["gauge_reading", "gauge_zero", "marks_moved", "slips", "held", "limit_proved"]),
    ("torque/round-thread", ROUND, [*ROUND, "threads_per_inch"]),
    ("torque/bolt", BOLT, ["thread", "bolt_grade", "nut_factor", "yield_share"]),
    ("flange-sequence/torque", FLANGE, ["bolt_count", "pass_percentages"]),
    ("torque/tabulated", TABLE, list(TABLE)),
    ("conversion", {"quantity": "1 in", "to": "mm"}, ["quantity", "to"]),
]
FIELDS = [(f"/v1/{path}", asked, field) for path, asked, fields in PLACES for field in fields]

SENSIBLE = (
    "1", "1.0", "1.05", "0.05", "1/2", "1 1/4", "½", "1,05", "1.050", "1,000", "8", "20", "1e0", "-1", "0",
    "yes", "no", "true", "false", "True", "2026-11-24", "2026-02-30", "24.11.2026", "1.0/1.3/1.6",
    "30/60/100", "6.5 in", "6-1/2 in", "165,1 mm", "165.100 mm", "10 000 psi", "26#", "48 in", "square",
    "unknown", "NC50", "nc50", "4-1/2 IF", "drill_collar", "north-bay-2", "2003", "metric",
    "kN.m", "psi", "J55", "M20", "B7", "null", "NaN", "1e999", "0x10", "1_000", "3 in", "bay joint 40",
    "left", "١", "not_seen", "860 psi", "0 psi", "5 s", "1 min",
)  # fmt: skip
"""Text that some field takes, or nearly."""
BLANKS = st.sampled_from(["", "", "", " ", "\u00a0", "\t", "\n"])
TEXTS = st.one_of(
    st.tuples(BLANKS, st.sampled_from(SENSIBLE), BLANKS).map("".join),
    st.text("0123456789.,/-+ e½inpsk", max_size=9),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12),
).filter(str.strip)  # an empty cell is a field that is not given
CLIENTS = {
    rule: create_app(
        Settings(machines=DEMO / "machines", tables=DEMO / "tables", policy=policy_file(numbers=rule))
    ).test_client()
    for rule in NUMBER_RULES
}


def told(answer: dict[str, Any]) -> Any:
    """The whole answer, or what is wrong, wherever the form of the question has the place of it."""
    if "errors" not in answer:
        return answer
    errors = [
        {name: each.get(name) for name in ("code", "detail", "value", "accepted")}
        for each in answer["errors"]
    ]
    return answer["code"], answer["question"], errors


@given(st.sampled_from(FIELDS), TEXTS, st.sampled_from(NUMBER_RULES))
@settings(max_examples=10 * settings.default.max_examples)
def test_the_same_text_is_the_same(place: tuple[str, dict[str, str], str], text: str, rule: str) -> None:
    path, asked, field = place
    forms = in_every_form(CLIENTS[rule], path, {**asked, field: text})
    body = told(forms["body"])
    for form, answer in forms.items():
        note(f"{form}: {answer.get('code', 'answered')}")
        assert told(answer) == body


@every_row(
    "asked, value",
    [
        ({"compound_friction_factor": "1.05"}, 1.05),
        ({"compound_friction_factor": " 1 1/20 "}, None),
        ({"confirm_size": "no"}, False),
        ({"confirm_size": "yes"}, True),
        ({"torque_tolerance": "0.05", "component": "tool_joint"}, 0.05),
    ],
)
def test_text_is_what_it_stands_for(client: FlaskClient, asked: dict[str, str], value: Any) -> None:
    """Member for member, the record of what was asked included."""
    (field, _), *_ = asked.items()
    for form, answer in in_every_form(client, "/v1/torque/rotary-shouldered", {**COLLAR, **asked}).items():
        if value is None:
            assert answer["errors"][0]["code"] == "not_a_number", form
        else:
            plain = client.post("/v1/torque/rotary-shouldered", json={**COLLAR, **asked, field: value})
            assert answer == plain.get_json(), form
