"""What is true of every job stands once, at ``/v1/standing-notices`` and on charts, and in no answer."""

import json
from typing import Any

import pytest
from findings import too_long
from flask.testing import FlaskClient
from machine_kinds import SHOP
from machines import JOB, STATED
from marshmallow import Schema, fields

from api.answers import standing_notices
from api.answers.machine_kinds.registry import KINDS
from api.answers.standing_notices import COMPUTED, StandingNotice
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS, VIEWS
from schemas.core.quantity_fields import AmountField, DialReading, Quantity

NOTICES = [each for each in vars(standing_notices).values() if isinstance(each, StandingNotice)]


@pytest.fixture(scope="module")
def listed(client: FlaskClient) -> dict[str, Any]:
    items = client.get("/v1/standing-notices").get_json()["items"]
    return {each["id"]: each for each in items}


def test_ids_are_unique_and_every_notice_is_listed(listed: dict[str, Any]) -> None:
    ids = [each.id for each in NOTICES]
    assert len(ids) == len(set(ids)) > 40
    assert {id_: each["text"] for id_, each in listed.items()} == {each.id: each.text for each in NOTICES}


def test_every_notice_is_of_something_that_is_there(listed: dict[str, Any]) -> None:
    names = {each.name for each in (*CALCULATIONS, *VIEWS)} | set(KINDS)
    assert [id_ for id_, each in listed.items() if not each["of"]] == []
    assert {name for each in listed.values() for name in each["of"]} <= names
    assert {"pressure", "chart", "torque_wrench"} <= {name for each in listed.values() for name in each["of"]}


def test_what_a_question_and_a_kind_name_is_what_is_listed(listed: dict[str, Any]) -> None:
    holders = {
        **{each.name: each.notices for each in (*CALCULATIONS, *VIEWS)},
        **{key: kind.notices for key, kind in KINDS.items()},
    }
    for name, notices in holders.items():
        assert [notice.id for notice in notices] == list(dict.fromkeys(notice.id for notice in notices))
        assert {notice.id for notice in notices} == {
            id_ for id_, each in listed.items() if name in each["of"]
        }


def test_an_entry_is_that_of_the_list(client: FlaskClient, listed: dict[str, Any]) -> None:
    for id_, each in listed.items():
        assert client.get(f"/v1/standing-notices/{id_}").get_json() == each
    missing = client.get("/v1/standing-notices/before_presure")
    assert missing.status_code == 404
    assert "near it: before_pressure" in missing.get_json()["detail"]


def test_no_sentence_of_a_notice_is_long() -> None:
    assert [long for each in NOTICES for long in too_long(each.text)] == []


def _kinds_in(schema: Schema) -> set[str]:
    """The kinds of quantity that a result has, however deep; a dial may be one of pressure."""
    found: set[str] = set()
    for field in schema.fields.values():
        inner = field.inner if isinstance(field, fields.List) else field
        if isinstance(inner, fields.Nested):
            found |= _kinds_in(inner.schema)
        elif isinstance(inner, Quantity):
            found.add(inner.kind)
        elif isinstance(inner, (DialReading, AmountField)):
            found.add("pressure")
    return found


GIVES = [each for each in CALCULATIONS if _kinds_in(each.response) & {"torque", "pressure"}]


def test_what_gives_a_torque_or_a_pressure_is_known() -> None:
    assert {each.name for each in CALCULATIONS} - {each.name for each in GIVES} <= {
        "conversion",
        "stroke",
        "make-up-position/buttress",
        "make-up-position/sucker-rod",
    }


@pytest.mark.parametrize("calculation", GIVES, ids=lambda each: each.name)
def test_whatever_gives_a_torque_or_a_pressure_says_what_a_computed_figure_is(
    calculation: Calculation,
) -> None:
    assert COMPUTED in calculation.notices


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_the_document_names_them_and_no_answer_repeats_them(
    client: FlaskClient, calculation: Calculation
) -> None:
    paths = client.get("/openapi.json").get_json()["paths"]
    for path in (f"/v1/{calculation.name}", f"/v1/{calculation.name}/batch"):
        for operation in paths.get(path, {}).values():
            ids = ", ".join(each.id for each in calculation.notices)
            assert ("Standing notices: " in operation["description"]) == bool(ids)
            assert ids in operation["description"]
    answer = client.post(f"/v1/{calculation.name}", json=dict(calculation.example))
    text = answer.get_data(as_text=True)
    assert [each.id for each in NOTICES if json.dumps(each.text, ensure_ascii=False) in text] == []
    assert [each.id for each in NOTICES if each.text[:60] in text] == []


@pytest.mark.parametrize("form", [{}, {"format": "text", "answer": "torque_at_gauge_setting", "unit": "N.m"}])
def test_every_answer_says_where_they_are(client: FlaskClient, form: dict[str, str]) -> None:
    query = {**STATED, **JOB, "machine": "north-bay-1", "torque_target": "10000 ft-lb", **form}
    answer = client.get("/v1/pressure", query_string=query)
    assert answer.status_code == 200
    assert answer.headers["Link"] == '</v1/standing-notices>; rel="help"'
    batch = client.post("/v1/conversion/batch", json={"lines": [{"quantity": "1 in", "to": "mm"}]})
    assert batch.headers["Link"] == '</v1/standing-notices>; rel="help"'


@pytest.mark.parametrize("machine", [name for name, each in SHOP.items() if each.kind.machine])
def test_a_chart_has_those_of_charts_and_of_its_machine(client: FlaskClient, machine: str) -> None:
    (chart,) = VIEWS
    stands = {"thread_hand": "right", "arm_position": "square", "gripped_outside_diameter": "6 in"}
    answer = client.get(f"/v1/machines/{machine}/chart", query_string={**stands, "format": "json"})
    notices = [*chart.notices, *SHOP[machine].notices]
    assert answer.get_json()["standing_notices"] == [{"id": each.id, "text": each.text} for each in notices]
    page = client.get(f"/v1/machines/{machine}/chart", query_string={**stands, "format": "html"}).text
    sheets = page.count("<table>")
    assert sheets >= 1
    for each in notices:
        assert page.count(each.text.replace("'", "&#39;")) == sheets
