"""What is no stored answer, or was made up, is refused or judged; nothing makes the check fail."""

import json
from functools import cache
from typing import Any

from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st
from receipts import DEMO, IN_TABLE, PATH, asked, checked, service
from rows import every_row

from api.answers.record import marks


def a_row(**changes: Any) -> bytes:
    """The row of a table, with something in what was asked."""
    how = {"path": "/v1/conversion", "units": "us", **changes}
    return json.dumps({"fingerprint": "a", "asked": how, "inputs": {}}).encode()


def stored(**changes: Any) -> dict[str, Any]:
    """An answer that fits its own fingerprint, whatever it says."""
    answer = {**asked(service(), "conversion, short"), "inputs": {"quantity": "1 in", "to": "mm"}, **changes}
    del answer["fingerprint"]
    return {**answer, **marks(answer, None)}


@every_row(
    ("body", "status", "code"),
    [
        (b" ", 400, "malformed_json"),
        (b"{", 400, "malformed_json"),
        (b"\xff{}", 400, "not_utf8"),
        (b'{"fingerprint": NaN}', 400, "malformed_json"),
        (b'{"fingerprint": "a", "fingerprint": "b"}', 400, "duplicate_member"),
        (b"[" * 100_000, 400, "nested_too_deep"),
        (b'{"a":' * 900 + b"1" + b"}" * 900, 400, "nested_too_deep"),
        (b'{"a":' * 300 + b"1" + b"}" * 300, 400, "nested_too_deep"),
        (b'{"fingerprint": "a", "asked": {}, "x": [1, 1e400]}', 422, "not_finite"),
        (b'{"fingerprint": "a", "asked": {}, "x": -1e400}', 422, "not_finite"),
        (b'{"fingerprint": "a", "asked": {}, "x": 1' + b"0" * 400 + b"}", 422, "not_finite"),
        (b'{"fingerprint": "a", "asked": {}, "x": "' + b"x" * 1_100_000 + b'"}', 413, "body_too_large"),
        (b"null", 422, "not_an_object"),
        (b"[]", 422, "not_an_object"),
        (b'"unchanged"', 422, "not_an_object"),
        (b"{}", 422, "missing_field"),
        (b'{"gauge_setting": 1}', 422, "missing_field"),
        (b'{"fingerprint": 1, "asked": {}, "x": 1}', 422, "not_text"),
        (b'{"fingerprint": "", "asked": {}, "x": 1}', 422, "not_text"),
        (b'{"fingerprint": "a", "asked": [], "x": 1}', 422, "not_an_object"),
        (b'{"fingerprint": "a", "asked": {}, "seal": null, "x": 1}', 422, "not_text"),
        (b'{"fingerprint": "a", "asked": {}, "inputs": {}}', 422, "missing_field"),
        (a_row(path="/v1/edition"), 422, "not_a_choice"),
        (a_row(path=5), 422, "not_text"),
        (a_row(path="\u0000"), 422, "not_text"),
        (a_row(units="x"), 422, "not_a_choice"),
        (a_row(answers="x"), 422, "unknown_answer"),
        (a_row(x=1), 422, "unknown_field"),
        (a_row(torque_unit="psi"), 422, "wrong_kind"),
        (a_row()[:-1] + b', "question": {}}', 422, "not_text"),
        (a_row().replace(b'"inputs": {}', b'"inputs": []'), 422, "not_an_object"),
        (b'{"answer": {}, "inputs": {}}', 422, "missing_field"),
        (b'{"answer": [], "inputs": {}}', 422, "not_an_object"),
        (b'{"answer": {"fingerprint": "a", "asked": {}, "inputs": {}}, "inputs": {}}', 422, "contradiction"),
    ],
)  # fmt: skip
def test_what_is_no_stored_answer_is_refused(
    client: FlaskClient, body: bytes, status: int, code: str
) -> None:
    response = client.post(PATH, data=body, content_type="application/json")
    problem = response.get_json()
    assert response.status_code == status
    assert code in {problem["code"], *(each["code"] for each in problem.get("errors", ()))}
    for error in problem.get("errors", ()):
        assert error["detail"]
        assert "pointer" in error


@every_row(
    "changes",
    [
        {"asked": {"path": "/v1/nowhere", "detail": "short", "units": "us"}},
        {"asked": {"path": "/v1/machines/north-bay-2/chart", "detail": "full", "units": "us"}},
        {"asked": {"path": "/etc/passwd", "units": "us"}},
        {"asked": {"path": "/v1/conversion"}},
        {"asked": {}},
        {"asked": {"path": "/v1/conversion", "units": "us", "detail": "long"}},
        {"asked": {"path": "/v1/conversion", "units": ["us"]}},
    ],
)
def test_an_answer_that_fits_but_is_of_no_question_is_refused(
    client: FlaskClient, changes: dict[str, Any]
) -> None:
    response = client.post(PATH, json=stored(**changes))
    assert response.status_code == 422
    errors = response.get_json()["errors"]
    assert {each["pointer"].partition("/asked")[0] for each in errors} == {""}
    assert all(each.get("accepted") or each["code"] == "missing_field" for each in errors)


HELD = {"machines": [], "tables": []}
ROW = {
    "row": 2, "key": {"model": "A"}, "target": "1000 N.m", "source": "s", "revision": "1", "status": "stated",
}  # fmt: skip
TABLE = {"id": "a", "hash": "b", "columns": [{"column": "model", "linear": False}], "rows": [ROW]}
INCHES = {"column": "model", "unit": "in", "linear": True}


def tables(**changes: Any) -> dict[str, Any]:
    return {**HELD, "tables": [{**TABLE, **changes}]}


@every_row(
    "held",
    [
        None,
        5,
        [],
        {},
        {**HELD, "machines": [5]},
        {**HELD, "machines": [{"kind": "cylinder_on_arm"}]},
        {**HELD, "tables": [{}]},
        tables(columns=[]),
        tables(rows=[]),
        tables(rows=[{**ROW, "status": "sure"}]),
        tables(rows=[{**ROW, "key": {}}]),
        tables(rows=[{**ROW, "key": {"model": [1]}}]),
        tables(rows=[{**ROW, "target": 1e308}]),
        tables(columns=[INCHES]),
        tables(columns=[{**INCHES, "kind": "length"}]),
        tables(columns=[{"column": "model", "linear": True}]),
        tables(columns=TABLE["columns"] * 2),  # type: ignore[operator]
        {**HELD, "tables": [TABLE]},
    ],
)
def test_what_an_answer_holds_is_read_as_strictly_as_a_file(client: FlaskClient, held: Any) -> None:
    """One that was made up, with a fingerprint that fits: it is judged or refused, and never fails."""
    inputs = {"table": "a", "table_key": {"model": "A"}, "self_contained": held}
    how = {"path": "/v1/torque/tabulated", "detail": "short", "units": "us", "self_contained": True}
    response = client.post(PATH, json=stored(inputs=inputs, asked=how))
    assert response.status_code in (200, 422)
    assert response.status_code == 422 or response.get_json()["state"] != "unchanged"


def test_many_differences_are_told_in_part(client: FlaskClient) -> None:
    listed = {**stored(), "assumptions": [{"field": str(number)} for number in range(3000)]}
    found = checked(client, listed)
    assert len(found["differences"]) == 1000
    assert found["differences_left_out"] > 1000
    assert found["state"] == "altered"


def test_a_query_says_nothing(client: FlaskClient) -> None:
    response = client.post(f"{PATH}?units=si", json=stored())
    assert response.get_json()["errors"][0]["parameter"] == "units"
    assert client.get(PATH).status_code == 405


ANYTHING = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(allow_nan=False, allow_infinity=False),
        st.text(max_size=9),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=9), inner, max_size=3)
    ),
    max_leaves=8,
)
AT = ("asked", "inputs", "version", "reasons", "findings", "service_edition", "question", "x")


@settings(max_examples=20 * settings().max_examples)
@given(
    st.sampled_from(AT),
    ANYTHING,
    st.sampled_from([None, "path", "units", "machine", "table", "self_contained"]),
)
def test_nothing_makes_it_fail(client: FlaskClient, name: str, value: Any, inner: str | None) -> None:
    """Whatever stands in an answer that fits its fingerprint, and in one that does not."""
    sound = asked_of_table()
    whole = {
        **sound,
        name: {**sound[name], inner: value} if inner and isinstance(sound.get(name), dict) else value,
    }
    bare = {each: held for each, held in whole.items() if each != "fingerprint"}
    for body in ({**bare, **marks(bare, None)}, whole, value):
        response = client.post(PATH, data=json.dumps(body), content_type="application/json")
        assert response.status_code in (200, 400, 422), response.text
        if (
            response.status_code == 200
            and name in ("findings", "reasons", "x")
            and body is whole
            and whole != sound
        ):
            assert response.get_json()["state"] == "altered"


@cache
def asked_of_table() -> dict[str, Any]:
    answer: dict[str, Any] = (
        service(DEMO)
        .post("/v1/torque/tabulated", json={**IN_TABLE, "detail": "full", "self_contained": True})
        .get_json()
    )
    return answer
