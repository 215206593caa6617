"""Hostile and mistaken input: a clear 4xx with field, value and what would be accepted; never a 5xx."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from rows import every_row

PATH = "/v1/torque/rotary-shouldered"
GOOD = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}

BAD_LENGTHS = [
    ("nan in", "not_a_number"),
    ("NaN", "not_a_number"),
    ("-nan in", "not_a_number"),
    ("inf in", "not_a_number"),
    ("Infinity in", "not_a_number"),
    ("-Infinity in", "not_a_number"),
    ("1e999 in", "not_finite"),
    ("-6.5 in", "out_of_range"),
    ("0 in", "out_of_range"),
    ("-0 in", "out_of_range"),
    ("1e308 in", "out_of_range"),
    ("5e-324 in", "out_of_range"),
    ("6.5 psi", "wrong_kind"),
    ("6.5 ft-lb", "wrong_kind"),
    ("6.5 cubits", "unknown_unit"),
    ("6.5", "bare_number"),
    ("٦ in", "not_a_number"),
    ("６.5 in", "not_a_number"),
    ("6_5 in", "not_a_number"),
    ("9**9**9 in", "unknown_unit"),
    ("6,5 in", "decimal_comma"),
    ("6.5 in; DROP", "unknown_unit"),
    ("6.5 in\u0000", "unknown_unit"),
    ("=6.5", "not_a_number"),
    ("", "not_a_number"),
    (" ", "not_a_number"),
    ("6.5 " + "i" * 100_000, "not_a_quantity"),
    ("1" * 5000 + " in", "not_a_quantity"),
]


@every_row(("text", "code"), BAD_LENGTHS, ids=[repr(text)[:30] for text, _ in BAD_LENGTHS])
@every_row("method", ["GET", "POST"])
def test_bad_length(client: FlaskClient, method: str, text: str, code: str) -> None:
    given = {**GOOD, "box_outside_diameter": text}
    answer = client.get(PATH, query_string=given) if method == "GET" else client.post(PATH, json=given)
    assert answer.status_code == 422
    problem = answer.get_json()
    assert problem["code"] == code
    (error,) = problem["errors"]
    where = error.get("parameter") or error.get("pointer")
    assert where.removeprefix("/") == "box_outside_diameter"
    assert error["accepted"]
    assert len(answer.data) < 3000


@pytest.mark.parametrize(
    ("member", "code"),
    [
        (6.5, "bare_number"),
        (True, "not_a_quantity"),
        (None, "not_null"),
        ([], "not_a_quantity"),
        ({}, "not_a_quantity"),
        ({"value": 10**400, "unit": "in"}, "not_finite"),
        ({"value": 6.5, "unit": "in", "x": 1}, "not_a_quantity"),
        ({"value": None, "unit": "in"}, "not_a_number"),
    ],
)
def test_bad_json_value(client: FlaskClient, member: Any, code: str) -> None:
    answer = client.post(PATH, json={**GOOD, "box_outside_diameter": member})
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)


WHOLE = '{"connection": "NC50", "component": "drill_collar", "box_outside_diameter": "6.5 in", %s}'

MALFORMED = [
    (b" ", "malformed_json"),
    (b"{", "malformed_json"),
    (b"{'a': 1}", "malformed_json"),
    (b'{"a": NaN}', "malformed_json"),
    (b'{"a": Infinity}', "malformed_json"),
    (b'{"a": -Infinity}', "malformed_json"),
    (b'{"a": 01}', "malformed_json"),
    (b'{"a": 1,}', "malformed_json"),
    (b'{"a": ' + b"9" * 5000 + b"}", "malformed_json"),
    ((WHOLE % '"pin_bore": "2 in", "pin_bore": "3 in"').encode(), "duplicate_member"),
    ((WHOLE % '"pin_bore": {"value": 2, "value": 3, "unit": "in"}').encode(), "duplicate_member"),
    (b"[" * 100_000, "nested_too_deep"),
    (b'{"a":' * 100_000, "nested_too_deep"),
    (b'{"a": "\xff"}', "not_utf8"),
    ('{"a": 1}'.encode("utf-16"), "not_utf8"),
    ('\ufeff{"a": 1}'.encode(), "malformed_json"),
]


@pytest.mark.parametrize(("body", "code"), MALFORMED, ids=[repr(body)[:40] for body, _ in MALFORMED])
def test_body_that_is_not_strict_json(client: FlaskClient, body: bytes, code: str) -> None:
    answer = client.post(PATH, data=body, content_type="application/json")
    assert answer.status_code == 400
    assert answer.get_json()["code"] == code


@pytest.mark.parametrize("body", [b"null", b"[]", b'"text"', b"1", b"true"])
@pytest.mark.parametrize("path", [PATH, "/v1/pressure", "/v1/conversion"])
def test_body_that_is_no_object(client: FlaskClient, path: str, body: bytes) -> None:
    answer = client.post(path, data=body, content_type="application/json")
    assert (answer.status_code, answer.get_json()["code"]) == (422, "not_an_object")


def test_infinite_number_is_refused_and_not_echoed_as_json(client: FlaskClient) -> None:
    body = (WHOLE % '"pin_bore": {"value": 1e999, "unit": "in"}').encode()
    answer = client.post(PATH, data=body, content_type="application/json")
    assert (answer.status_code, answer.get_json()["code"]) == (422, "not_finite")
    assert b"Infinity" not in answer.data


@pytest.mark.parametrize("number", ["0.08", "nan", "1,1", "1_1", "١", "1.1 in", "", "1e999", "0x1"])
def test_bad_number_in_a_query(client: FlaskClient, number: str) -> None:
    answer = client.get(PATH, query_string={**GOOD, "compound_friction_factor": number})
    assert answer.status_code == 422
    (error,) = answer.get_json()["errors"]
    assert error["parameter"] == "compound_friction_factor"


@pytest.mark.parametrize(
    ("path", "name", "near"),
    [
        (PATH, "conection", "connection"),
        ("/v1/connections", "thread_forn", "thread_form"),
        ("/v1/units", "kinds", "kind"),
        ("/v1/machines", "x", None),
        ("/healthz", "x", None),
        ("/readyz", "x", None),
        ("/openapi.json", "x", None),
        ("/v1/connections/NC50", "x", None),
    ],
)
def test_unknown_query_name(client: FlaskClient, path: str, name: str, near: str | None) -> None:
    answer = client.get(path, query_string={**(GOOD if path == PATH else {}), name: "NC50"})
    assert answer.status_code == 422
    (error,) = answer.get_json()["errors"]
    assert (error["code"], error["parameter"]) == ("unknown_field", name)
    assert near is None or near in error["accepted"]


def test_unknown_member(client: FlaskClient) -> None:
    answer = client.post(PATH, json={**GOOD, "bore": "2 in"})
    (error,) = answer.get_json()["errors"]
    assert (error["code"], error["pointer"]) == ("unknown_field", "/bore")


def test_name_twice_in_a_query(client: FlaskClient) -> None:
    answer = client.get(f"{PATH}?connection=NC50&connection=NC46")
    assert answer.get_json()["code"] == "duplicate_member"


def test_a_flood_of_faults_has_a_short_answer(client: FlaskClient) -> None:
    answer = client.post(PATH, json={f"member {number}": number for number in range(2000)})
    assert answer.status_code == 422
    assert len(answer.get_json()["errors"]) == 100
    assert answer.get_json()["detail"] == "2004 faults; see errors"
    long = client.post(PATH, json={**GOOD, "x" * 100_000: 1})
    assert len(long.data) < 2000


def test_all_faults_are_told_at_once(client: FlaskClient) -> None:
    answer = client.post(
        PATH, json={"connection": 5, "component": "pipe", "pin_bore": 2, "units": "imperial"}
    )
    errors = {error["pointer"]: error["code"] for error in answer.get_json()["errors"]}
    assert errors == {
        "/connection": "not_text",
        "/component": "not_a_choice",
        "/box_outside_diameter": "missing_field",
        "/pin_bore": "bare_number",
        "/units": "not_a_choice",
    }


@pytest.mark.parametrize(
    "name",
    [
        "../../etc/passwd",
        "%2e%2e%2f",
        "NC50\n",
        "a" * 41,
        "<script>",
        "'; --",
        "\u202eNC50",
        "NC５０",
    ],
)
def test_hostile_designation(client: FlaskClient, name: str) -> None:
    answer = client.post(PATH, json={**GOOD, "connection": name})
    assert answer.status_code == 422
    assert answer.get_json()["code"] in ("unknown_connection", "not_text")


def test_unknown_members_are_told_in_the_order_of_the_request(client: FlaskClient) -> None:
    names = ["zeta", "alpha", "omega", "kappa", "beta", "iota", "tau", "rho"]
    body = {"quantity": "1 in", "to": "mm"} | dict.fromkeys(names, 1)
    errors = client.post("/v1/conversion", json=body).get_json()["errors"]
    assert [error["pointer"] for error in errors] == [f"/{name}" for name in names]
