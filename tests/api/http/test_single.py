"""GET, POST and text are one answer; negotiation; units; HEAD."""

import json
import sys
from collections.abc import Iterator
from math import isfinite
from typing import Any

import pytest
from flask.testing import FlaskClient
from shop_tables import in_names
from werkzeug.datastructures import MIMEAccept

from api.answers.grip.grip import GRIP_STEPS
from api.answers.machines.stroke import STROKE_STEPS
from api.answers.rotary.preload import ROTARY_PRELOAD_STEPS
from api.answers.rotary.torque import ROTARY_STEPS
from api.answers.tubular.buttress import BUTTRESS_STEPS
from api.answers.tubular.round_thread import ROUND_THREAD_STEPS
from api.answers.tubular.sucker_rod import ROD_STEPS
from api.answers.tubular.trial_make_up import TRIAL_STEPS
from api.http.exchange import JSON, TEXT, media_type
from api.http.problems import Problem
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS

IN_A_QUERY = [calculation for calculation in CALCULATIONS if not calculation.body_only]
NAMES = [calculation.name for calculation in IN_A_QUERY]


def flat_example(calculation: Calculation) -> dict[str, Any]:
    """The example as a query can hold it."""
    return {**calculation.example, **(calculation.query_example or {})}


def leaves(answer: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of an answer with its dotted name; a quantity is one value."""
    for name, value in answer.items():
        if isinstance(value, dict) and set(value) != {"value", "unit"}:
            yield from leaves(value, f"{path}{name}.")
        elif not isinstance(value, list):
            yield f"{path}{name}", value


@pytest.mark.parametrize("calculation", IN_A_QUERY, ids=NAMES)
def test_get_post_and_text_agree_leaf_for_leaf(client: FlaskClient, calculation: Calculation) -> None:
    path, example = f"/v1/{calculation.name}", flat_example(calculation)
    got = client.get(path, query_string=in_names(example))
    posted = client.post(path, json=example)
    assert got.status_code == posted.status_code == 200, got.text
    assert got.data == posted.data
    for name, value in leaves(got.get_json()):
        if value is None or name.startswith(("inputs.", "version.", "asked.")):
            continue
        asked = {**in_names(example), "format": "text", "answer": name}
        if isinstance(value, dict):
            text = client.get(path, query_string={**asked, "unit": value["unit"]})
            assert float(text.text) == value["value"], name
        else:
            text = client.get(path, query_string=asked)
            assert text.text == value if isinstance(value, str) else float(text.text) == value, name
        assert text.content_type.startswith("text/plain")
        assert not text.text.endswith("\n")


@pytest.mark.parametrize("calculation", IN_A_QUERY, ids=NAMES)
def test_same_request_same_bytes(client: FlaskClient, calculation: Calculation) -> None:
    asked = {"query_string": {**in_names(flat_example(calculation)), "steps": "true"}}
    assert (
        client.get(f"/v1/{calculation.name}", **asked).data
        == client.get(f"/v1/{calculation.name}", **asked).data
    )


@pytest.mark.parametrize("calculation", IN_A_QUERY, ids=NAMES)
def test_head_is_get_without_its_body(client: FlaskClient, calculation: Calculation) -> None:
    asked = {"query_string": in_names(flat_example(calculation))}
    head, got = (
        client.head(f"/v1/{calculation.name}", **asked),
        client.get(f"/v1/{calculation.name}", **asked),
    )
    assert (head.status_code, head.data) == (200, b"")
    assert head.headers["Content-Length"] == got.headers["Content-Length"]


STEPS = {
    "torque/rotary-shouldered": ROTARY_STEPS,
    "torque/round-thread": ROUND_THREAD_STEPS,
    "preload/rotary-shouldered": ROTARY_PRELOAD_STEPS,
    "make-up-position/buttress": BUTTRESS_STEPS,
    "make-up-position/sucker-rod": ROD_STEPS,
    "trial-make-up/buttress": TRIAL_STEPS,
    "stroke": STROKE_STEPS,
    "grip": GRIP_STEPS,
}


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda c: c.name)
def test_every_step_has_a_finite_value(client: FlaskClient, calculation: Calculation) -> None:
    answer = client.post(f"/v1/{calculation.name}", json={**calculation.example, "steps": True}).get_json()
    assert all(isfinite(step["value"]["value"]) for step in answer["steps"])
    if calculation.name in STEPS:
        assert [step["symbol"] for step in answer["steps"]] == [s.symbol for s in STEPS[calculation.name]]


TORQUE = "/v1/torque/rotary-shouldered"
ROTARY = next(each for each in CALCULATIONS if each.name == "torque/rotary-shouldered")
EXAMPLE = flat_example(ROTARY)
PRESSURE = next(each for each in CALCULATIONS if each.name == "pressure")


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        ({"format": "text"}, "answer_required"),
        ({"format": "text", "answer": "torque.target"}, "unit_required"),
        ({"format": "text", "answer": "torque.target", "unit": "bar"}, "wrong_kind"),
        ({"format": "text", "answer": "torque.target", "unit": "cubit"}, "unknown_unit"),
        ({"format": "text", "answer": "torque.taget", "unit": "N.m"}, "unknown_answer"),
        ({"format": "text", "answer": "tabulated.value", "unit": "N.m"}, "no_value"),
        ({"format": "text", "answer": "tabulated", "unit": "N.m"}, "no_value"),
        ({"format": "text", "answer": "weaker_member", "unit": "N.m"}, "unit_not_applicable"),
        ({"answer": "torque.target"}, "unknown_field"),
        ({"unit": "N.m"}, "unknown_field"),
        ({"format": "xml"}, "not_a_choice"),
        (
            {"format": "text", "answer": "torque.target", "unit": "N.m", "torque_unit": "ft-lb"},
            "contradiction",
        ),
    ],
)
def test_text_without_doubt_or_not_at_all(client: FlaskClient, asked: dict[str, str], code: str) -> None:
    answer = client.get(TORQUE, query_string={**EXAMPLE, **asked})
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, ["none"]),
        ({"connection": "NC51"}, ["connection: no connection of this name", "accepted: "]),
        ({"pin_bore": "2.8125"}, ["pin_bore: "]),
        ({"pin_bore": "2,8125 in", "component": "collar"}, ["pin_bore: ", "component: ", "; "]),
        ({"pin_bore": "6.4 in"}, ["pin_bore: "]),
        ({"nonsense": "1"}, ["nonsense: "]),
    ],
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_cell_can_ask_why(
    client: FlaskClient, changed: dict[str, str], words: list[str], method: str
) -> None:
    """The reasons are those of the problem document, each after its field."""
    asked, plain = {**EXAMPLE, **changed}, {"format": "text", "answer": "refusal"}
    if method == "GET":
        cell, whole = (
            client.get(TORQUE, query_string={**asked, **plain}),
            client.get(TORQUE, query_string=asked),
        )
    else:
        cell, whole = client.post(TORQUE, json=asked, query_string=plain), client.post(TORQUE, json=asked)
    assert (cell.status_code, cell.content_type) == (200, "text/plain; charset=utf-8")
    assert all(word in cell.text for word in words)
    for error in whole.get_json().get("errors", []):
        assert error["detail"] in cell.text


def test_a_family_that_is_none_is_a_reason_too(client: FlaskClient) -> None:
    asked = {"family": "rivet", "format": "text", "answer": "refusal"}
    assert "not a family known here" in client.get("/v1/pressure", query_string=asked).text


@pytest.mark.parametrize(
    ("plain", "status", "code"),
    [
        ({"format": "json", "answer": "refusal"}, 422, "unknown_field"),
        ({"answer": "refusal"}, 422, "unknown_field"),
        ({"format": "text", "answer": "refusal", "unit": "N.m"}, 422, "unit_not_applicable"),
    ],
)
def test_why_is_asked_as_text_only(
    client: FlaskClient, plain: dict[str, str], status: int, code: str
) -> None:
    answer = client.get(TORQUE, query_string={**EXAMPLE, **plain})
    assert (answer.status_code, answer.get_json()["code"]) == (status, code)


def test_lists_in_a_cell_are_in_words(client: FlaskClient) -> None:
    asked = flat_example(PRESSURE)
    whole = client.get("/v1/pressure", query_string=asked).get_json()
    text = client.get(
        "/v1/pressure", query_string={**asked, "format": "text", "answer": "checks", "steps": "true"}
    ).text
    assert text == "; ".join(f"{each['name']} {each['verdict']}" for each in whole["checks"])


def test_a_mark_is_not_converted_to_another_dial(client: FlaskClient) -> None:
    asked = {**flat_example(PRESSURE), "format": "text", "answer": "gauge_setting"}
    assert client.get("/v1/pressure", query_string={**asked, "unit": "psi"}).text == "860"
    refused = client.get("/v1/pressure", query_string={**asked, "unit": "bar"})
    assert (refused.status_code, refused.get_json()["code"]) == (422, "fixed_unit")


@pytest.mark.parametrize(
    ("unit", "factor"),
    [
        # one ft-lb in the unit, from the exact definitions
        ("ft-lb", 1.0),
        ("kN.m", 1.3558179483314004e-3),
        ("N·m", 1.3558179483314004),
        ("kgf.m", 1.3558179483314004 / 9.80665),
        ("in-lb", 12.0),
    ],
)
def test_text_in_the_unit_asked(client: FlaskClient, unit: str, factor: float) -> None:
    asked = {**EXAMPLE, "format": "text", "answer": "torque.target", "unit": unit}
    pounds = client.get(TORQUE, query_string=EXAMPLE).get_json()["torque"]["target"]["value"]
    assert float(client.get(TORQUE, query_string=asked).text) == pytest.approx(factor * pounds, rel=1e-9)


@pytest.mark.parametrize(
    ("options", "unit"),
    [
        ({}, "lbf.ft"),
        ({"units": "us"}, "lbf.ft"),
        ({"units": "si"}, "N.m"),
        ({"units": "metric"}, "kN.m"),
        ({"units": "metric", "torque_unit": "kgf·m"}, "kgf.m"),
        ({"torque_unit": "Nm"}, "N.m"),
    ],
)
def test_units_of_the_answer_from_query_or_body(
    client: FlaskClient, options: dict[str, str], unit: str
) -> None:
    example = dict(ROTARY.example)
    answers = [
        client.get(TORQUE, query_string={**example, **options}),
        client.post(TORQUE, json={**example, **options}),
        client.post(TORQUE, json=example, query_string=options),
    ]
    assert {answer.get_json()["torque"]["target"]["unit"] for answer in answers} == {unit}


@pytest.mark.parametrize(
    ("body", "query", "code"),
    [
        ({"units": "si"}, {"units": "us"}, "duplicate_member"),
        ({}, {"connection": "NC50"}, "duplicate_member"),
        ({}, {"low_torque_face": "no"}, "unknown_field"),
    ],
)
def test_a_post_has_its_fields_in_the_body_alone(
    client: FlaskClient, body: dict[str, str], query: dict[str, str], code: str
) -> None:
    answer = client.post(TORQUE, json={**ROTARY.example, **body}, query_string=query)
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)
    assert answer.get_json()["errors"][0]["parameter"] in query


@pytest.mark.parametrize(
    ("accept", "wanted", "expected"),
    [
        ([], None, JSON),
        ([("*/*", 1)], None, JSON),
        ([("application/json", 1)], None, JSON),
        ([("text/plain", 1)], None, TEXT),
        ([("text/plain", 0.5), ("application/json", 0.4)], None, TEXT),
        ([("text/html", 1), ("application/xml", 0.9), ("*/*", 0.8)], None, JSON),
        ([("text/*", 1)], None, TEXT),
        ([("text/plain", 1)], "json", JSON),
        ([("application/json", 1)], "text", TEXT),
        ([("image/png", 1)], None, None),
    ],
)
def test_media_type(accept: list[tuple[str, float]], wanted: str | None, expected: str | None) -> None:
    if expected is None:
        with pytest.raises(Problem) as refusal:
            media_type(MIMEAccept(accept), wanted)
        assert refusal.value.status == 406
        return
    assert media_type(MIMEAccept(accept), wanted) == expected


def test_the_year_of_an_edition_may_be_a_number(client: FlaskClient) -> None:
    answers = [client.post(TORQUE, json={**ROTARY.example, "edition": year}) for year in (2003, "2003")]
    assert answers[0].status_code == 200
    assert answers[0].get_json()["question"] == answers[1].get_json()["question"]


def test_accept_text_plain_is_format_text(client: FlaskClient) -> None:
    asked = {**EXAMPLE, "answer": "weaker_member"}
    assert client.get(TORQUE, query_string=asked, headers={"Accept": "text/plain"}).text == "pin"


def test_answers_are_strict_json(client: FlaskClient) -> None:
    def no_constant(name: str) -> None:
        raise AssertionError(name)

    json.loads(client.get(TORQUE, query_string=EXAMPLE).data, parse_constant=no_constant)


@pytest.mark.parametrize(
    ("quantity", "to", "expected"),
    [
        # NIST SP 811 and exact definitions
        ("1 ft-lb", "N.m", 1.355818),
        ("1 psi", "Pa", 6894.757),
        ("1 kgf/cm2", "psi", 14.22334331),
        ("1 kN.m", "ft-lb", 737.5621493),
        ("100 degC", "degF", 212.0),
        ("1 gpm", "L/min", 3.785412),
    ],
)
def test_conversion(client: FlaskClient, quantity: str, to: str, expected: float) -> None:
    answer = client.get("/v1/conversion", query_string={"quantity": quantity, "to": to}).get_json()
    assert answer["result"]["value"] == pytest.approx(expected, rel=2e-7)


@pytest.mark.parametrize(
    ("quantity", "to", "code"),
    [
        ("1 ft-lb", "psi", "wrong_kind"),
        ("1 psia", "bar", "unknown_unit"),
        ("1", "bar", "bare_number"),
        ("1 psi", "mPa", "unknown_unit"),
        ("1e308 m", "mm", "not_finite"),
        (f"{sys.float_info.max!r} m", "m", "not_finite"),
        ("-500 degC", "K", "out_of_range"),
    ],
)
def test_conversion_refused(client: FlaskClient, quantity: str, to: str, code: str) -> None:
    answer = client.get("/v1/conversion", query_string={"quantity": quantity, "to": to})
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)
