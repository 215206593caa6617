"""A value that is not known is null, and ``reasons`` says why under its name: in every answer and form."""

import csv
import io
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from marshmallow import fields
from policies import policy_file
from shop_tables import in_names

from api.answers.machines.job import job_with, task_from, uncertainty_of
from api.app import create_app
from api.batch.writing import harmless
from api.http.openapi.document import build
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from api.settings import Settings
from schemas.core.parts import KNOWABLE, Basis, Part
from schemas.core.quantity_fields import OutputUnits
from schemas.machines.chart import MachineChart
from schemas.record import Reasoned

CALCULATION = {each.name: each for each in CALCULATIONS}
IN_A_QUERY = [each for each in CALCULATIONS if not each.body_only]

COLLAR = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
TOOL_JOINT = {**COLLAR, "component": "tool_joint"}
PIPE = {
    "pipe_outside_diameter": "5.5 in", "pipe_inside_diameter": "4.892 in", "engaged_length": "2.6 in",
    "thread_height": "0.07125 in", "pipe_yield_strength": "55000 psi", "pipe_tensile_strength": "75000 psi",
}  # fmt: skip
TUBING = {"size": "2-7/8", "weight": "6.5 lb/ft", "pipe_grade": "J55"}
BOLT = {"thread": "M20", "bolt_grade": "8.8", "preload": "50 kN"}
LOAD = {"external_load": "20 kN", "bolt_load_share": 0.3, "grip_length": "50 mm"}
STUD = {"thread": "3/4-10 UNC", "bolt_yield_strength": "700 MPa", "preload": "50 kN"}
NUT_FACTOR = {"method": "nut_factor", "nut_factor": 0.18}
APPLIED = {"thread": "M20", "bolt_yield_strength": "660 MPa", "applied_torque": "100 N.m"}
TENSIONED = {
    name: value
    for name, value in CALCULATION["flange-sequence/preload"].example.items()
    if name != "first_pass_factor"
}
READ_AT = {"machine": "north-bay-8", "gauge_reading": "1000 psi", **JOB}
READ_TO_JUDGE = {"machine": "north-bay-2", "gauge_reading": "500 psi"}
BREAK_OUT = {**JOB, "operation": "break_out", "break_out_ratio": 1}
SIDE = {"direction": "rising", "side": "cap", "gauge": "EX-9"}
HELD = {"torque": "10000 ft-lb", "outside_diameter": "5 in", "friction": 0.3, "margin": 1.5}
THROUGH_ZERO = {
    "arm_position": "square",
    "readings": [
        {"pressure": f"{psi} psi", "torque": f"{40 * psi + off} ft-lb", "run": run, **SIDE}
        for run, off in ((1, 20), (2, -20))
        for psi in (500, 1000, 1500)
    ],
}
SHAFT = {"motor": "bay motor 171", "joint": "flow diverter to shaft", "bore": "57.15 mm"}
NORTH_BAY_2 = Path(__file__).parents[3] / "deploy" / "demo" / "machines" / "north-bay-2.json"
COMMON_SUPPLY = {**json.loads(NORTH_BAY_2.read_text("utf-8")), "grip_supply": "common"}
"""A grip that takes its oil from the supply of the arm, and nothing said of its friction."""
REQUESTS: list[tuple[str, Mapping[str, Any]]] = [
    ("torque/rotary-shouldered", COLLAR),
    ("torque/rotary-shouldered", TOOL_JOINT),
    ("preload/rotary-shouldered", {**COLLAR, "applied_torque": "20000 ft-lb"}),
    ("preload/rotary-shouldered", {**COLLAR, "applied_torque": "20000 ft-lb", "axial_tension": "1000 lbf"}),
    ("preload/rotary-shouldered", {**TOOL_JOINT, "applied_torque": "9000 ft-lb", "axial_tension": "1 kN"}),
    ("torque/round-thread", PIPE),
    ("torque/round-thread", {**TUBING, "thread_type": "EUE"}),
    ("torque/round-thread", {**TUBING, "thread_type": "EUE", "torque_adjustment": "ptfe_ring"}),
    ("torque/bolt", {**BOLT, **NUT_FACTOR}),
    ("torque/bolt", {**STUD, **LOAD, "method": "heavy_hex_nut", "thread_friction": 0.13}),
    ("torque/bolt", {**BOLT, **LOAD, **NUT_FACTOR, "tightening_method": "by_feel"}),
    ("preload/bolt", {**APPLIED, **NUT_FACTOR}),
    ("preload/bolt", {**APPLIED, "method": "rounded_helix", "thread_friction": 0.1, "bearing_friction": 0.1}),
    ("torque/tabulated", {"table": "motor-joints", "table_key": SHAFT}),
    ("make-up-position/buttress", {"size": "20"}),
    ("make-up-position/buttress", {"size": "20", "face_past_base": "0.1 in"}),
    ("delivered-torque", READ_AT),
    ("pressure", {**STATED, **JOB, "machine": "south-bay-9"}),
    ("pressure", {**STATED, **BREAK_OUT, "machine": "south-bay-6"}),
    ("pressure", {**STATED, **JOB, "machine": "yard-1"}),  # no relief valve
    ("pressure", {**STATED, **JOB, "machine": "north-bay-7"}),  # a fixed one
    ("machine-choice", {**STATED, **JOB}),
    ("verdict", {**STATED, **JOB, **READ_TO_JUDGE}),  # no window
    ("verdict", {**STATED, **JOB, **READ_TO_JUDGE, "torque_tolerance": 0.0001}),  # and one without a mark
    (
        "stroke",
        {
            "machine": profile(base_distance="35 in"),
            "used_from": "42 in",
            "used_to": "50 in",
            "lost_motion": "2 deg",
        },
    ),
    ("grip", HELD),
    ("calibration", CALCULATION["calibration"].example),
    ("calibration", THROUGH_ZERO),
    ("pressure", {**COLLAR, **JOB, "machine": "south-bay-9", "family": "rotary_shouldered"}),
    (
        "pressure",
        {**COLLAR, **JOB, "machine": "north-bay-2", "family": "rotary_shouldered", "grip_spacing": "30 in"},
    ),
    ("flange-sequence/preload", {**TENSIONED, "coverage": "full"}),
    ("machine-choice", {**STATED, **BREAK_OUT}),
    ("pressure", {**STATED, **JOB, "machine": COMMON_SUPPLY}),
    ("pressure", {**STATED, **JOB, "machine": "yard-1"}),
    ("pressure", {**STATED, **JOB, "machine": "north-bay-7"}),
]
ACCEPTED = [
    ("read", "reprint", "fitted", "from memory"),
    ("read", "from memory"),
    ("read", "reprint"),
    ("read",),
]
"""What the figures of a shop may be: all, or less."""
NEVER_HERE = {
    "uncertainty": "a setting or a reading without a budget is refused before: see the last test here",
}


def thin(client: FlaskClient, calculation: Calculation) -> dict[str, Any]:
    """The example without every member that the answer does without."""
    asked = {**calculation.example, **(calculation.query_example or {})}
    for name in list(asked):
        less = {other: value for other, value in asked.items() if other != name}
        if client.post(f"/v1/{calculation.name}", json=less).status_code == 200:
            asked = less
    return asked


def not_known(part: Part, written: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Any]]:
    """Every member that may be null for a reason, by its dotted name, as far as its object stands."""
    for name, field in part.fields.items():
        if name not in written:
            assert name in part.may_lack, f"{path}{name}"
            continue
        value = written[name]
        if KNOWABLE in field.metadata:
            yield f"{path}{name}", value
        if isinstance(field, fields.Nested) and isinstance(value, Mapping):
            assert isinstance(field.schema, Part)
            yield from not_known(field.schema, value, f"{path}{name}.")


def lists(part: Part, written: Mapping[str, Any]) -> Iterator[tuple[Part, Mapping[str, Any]]]:
    """Every entry of every list, at any depth, with its schema."""
    for name, field in part.fields.items():
        value = written.get(name)
        if isinstance(field, fields.Nested) and isinstance(value, Mapping):
            yield from lists(field.schema, value)
        if isinstance(field, fields.List) and isinstance(field.inner, fields.Nested):
            for entry in value or ():
                yield field.inner.schema, entry
                yield from lists(field.inner.schema, entry)


def assert_reasons(part: Part, written: Mapping[str, Any]) -> None:
    """What is null has its reason, and nothing else has one; in every entry of a list too."""
    nulls = [name for name, value in not_known(part, written) if value is None]
    assert sorted(written["reasons"]) == sorted(nulls)
    assert all(reason and "{" not in reason for reason in written["reasons"].values())
    for entry_part, entry in lists(part, written):
        if isinstance(entry_part, Reasoned):
            assert_reasons(entry_part, entry)
        else:
            assert list(not_known(entry_part, entry)) == []


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_what_is_null_has_its_reason(client: FlaskClient, calculation: Calculation) -> None:
    """In the answer to the example, and to the least request that there is of it."""
    for asked in (calculation.example, thin(client, calculation)):
        answer = client.post(f"/v1/{calculation.name}", json=asked)
        assert answer.status_code == 200, answer.text
        assert_reasons(calculation.response, answer.get_json())


@pytest.fixture(scope="module")
def shops(app: Flask) -> list[FlaskClient]:
    """The demo shop, accepting less and less."""
    demo = app.extensions["dialset"].settings
    return [
        create_app(
            Settings(
                machines=demo.machines,
                tables=demo.tables,
                policy=policy_file(accepted_statuses=list(statuses)) if statuses else None,
            )
        ).test_client()
        for statuses in ACCEPTED
    ]


def test_every_null_that_has_a_reason_is_met(client: FlaskClient, shops: list[FlaskClient]) -> None:
    """Each with its reason, in shops that accept less too, as far as these answer at all."""
    met, every = set(), set()
    for name, asked in [*REQUESTS, *((each.name, thin(client, each)) for each in CALCULATIONS)]:
        part = CALCULATION[name].response
        for shop in shops:
            response = shop.post(f"/v1/{name}", json=asked)
            answer = response.get_json()
            if response.status_code != 200:
                assert shop is not shops[0], (name, asked, answer)
                assert answer["code"] == "status_not_accepted"
                continue
            assert_reasons(part, answer)
            for kind, written in ((part, answer), *lists(part, answer)):
                for member, value in not_known(kind, written):
                    every.add((type(kind).__name__, member))
                    if value is None:
                        met.add((type(kind).__name__, member))
    assert {(kind, member) for kind, member in every - met if member not in NEVER_HERE} == set()


def chart_answers(client: FlaskClient) -> Iterator[Mapping[str, Any]]:
    stands = {"thread_hand": "right", "arm_position": "square"}
    for machine in client.get("/v1/machines").get_json()["items"]:
        answer = client.get(f"/v1/machines/{machine['id']}/chart", query_string=stands)
        if answer.status_code == 200:
            yield answer.get_json()


def test_a_chart_has_reasons_too(client: FlaskClient) -> None:
    found = list(chart_answers(client))
    assert len(found) > 5
    for answer in found:
        assert_reasons(MachineChart(), answer)


def parts(part: Part, seen: dict[type[Part], Part]) -> Iterator[tuple[Part, bool]]:
    """Every schema within one, and whether it is that of the entries of a list."""
    for field in part.fields.values():
        inner = field.inner if isinstance(field, fields.List) else field
        if isinstance(inner, fields.Nested) and isinstance(inner.schema, Part):
            yield inner.schema, inner is not field
            if type(inner.schema) not in seen:
                seen[type(inner.schema)] = inner.schema
                yield from parts(inner.schema, seen)


@pytest.mark.parametrize(
    "part", [*(each.response for each in CALCULATIONS), MachineChart()], ids=lambda each: type(each).__name__
)
def test_entries_of_lists_alone_have_reasons_of_their_own(part: Part) -> None:
    for inner, in_a_list in parts(part, {}):
        assert not isinstance(inner, Reasoned) or in_a_list, type(inner)
        for name, field in inner.fields.items():
            assert KNOWABLE not in field.metadata or not in_a_list or isinstance(inner, Reasoned), name
            assert not isinstance(field, Basis) or name.removesuffix("_basis") in inner.fields


def names_in(document: Any) -> Iterator[str]:
    if isinstance(document, Mapping):
        yield from document
    for each in document.values() if isinstance(document, Mapping) else document:
        if isinstance(each, (Mapping, list)):
            yield from names_in(each)


def test_the_document_knows_reasons_and_no_pairs() -> None:
    document = build()
    names = set(names_in(document))
    assert {"reasons", "torque_split_basis", "minimum_basis"} <= names
    assert [name for name in names if name.endswith("_reason")] == []
    sentences = {"type": "object", "additionalProperties": {"type": "string"}}
    for calculation in CALCULATIONS:
        answer = document["components"]["schemas"][type(calculation.response).__name__]
        assert answer["properties"]["reasons"].items() >= sentences.items()
        assert "reasons" in answer["required"]


@pytest.mark.parametrize("calculation", IN_A_QUERY, ids=lambda each: each.name)
def test_reasons_are_the_same_in_every_form(client: FlaskClient, calculation: Calculation) -> None:
    path, asked = f"/v1/{calculation.name}", thin(client, calculation)
    posted = client.post(path, json=asked).get_json()
    reasons: dict[str, str] = posted["reasons"]
    query = in_names(asked)
    assert client.get(path, query_string=query).get_json()["reasons"] == reasons
    (line,) = client.post(f"{path}/batch", json={"lines": [asked]}).get_json()["lines"]
    assert line["result"] == posted
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerows([query.keys(), query.values()])
    table = client.post(f"{path}/batch", data=out.getvalue(), content_type="text/csv").text
    (row,) = csv.DictReader(io.StringIO(table, newline=""))
    cell = "; ".join(f"{name}: {reason}" for name, reason in reasons.items())
    assert row["result.reasons"] == harmless(cell)
    text = {**query, "format": "text"}
    lines = client.get(path, query_string={**text, "answer": "reasons"}).text
    assert lines == ("\n".join(f"{name}: {reason}" for name, reason in reasons.items()) or "none")
    for name, reason in reasons.items():
        refused = client.get(path, query_string={**text, "answer": name}).get_json()
        assert (refused["code"], refused["errors"][0]["detail"]) == ("no_value", reason)


def test_a_reading_without_a_budget_says_why_in_the_asked_units(app: Flask) -> None:
    job = job_with(app.extensions["dialset"].shop.machine("north-bay-2"), task_from(JOB))
    doubt = uncertainty_of(lambda: job.setup.budget(1000.0, "set_on_mark"))
    assert doubt.value is None
    told = OutputUnits("metric").reasons({"uncertainty": doubt})["uncertainty"]
    assert told == "at 0.14504 psi this machine does not move yet, so there is no torque to be uncertain of"
