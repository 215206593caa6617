"""Every failure has one shape, a stable code, and the status that HTTP means by it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.exceptions import default_exceptions

from api.app import create_app
from api.refusals.codes import CODES
from api.settings import Settings

ROOT = Path(__file__).parents[3]

FAILURES: list[tuple[str, str, dict[str, Any], int, str]] = [
    ("GET", "/nowhere", {}, 404, "not_found"),
    ("GET", "/v1/pressure/", {}, 404, "not_found"),
    ("GET", "/v1/connections/NC99", {}, 404, "not_found"),
    ("GET", "/v1/machines/../../etc/passwd", {}, 404, "not_found"),
    ("DELETE", "/v1/pressure", {}, 405, "method_not_allowed"),
    ("POST", "/v1/connections", {}, 405, "method_not_allowed"),
    ("PUT", "/healthz", {}, 405, "method_not_allowed"),
    (
        "GET",
        "/v1/conversion?quantity=1+in&to=mm",
        {"headers": {"Accept": "image/png"}},
        406,
        "not_acceptable",
    ),
    ("POST", "/v1/pressure", {"data": "x", "content_type": "text/plain"}, 415, "unsupported_media_type"),
    ("POST", "/v1/pressure", {}, 415, "unsupported_media_type"),
    (
        "POST",
        "/v1/pressure",
        {"data": b"{}", "content_type": "application/json", "headers": {"Content-Encoding": "gzip"}},
        415,
        "unsupported_media_type",
    ),
    (
        "POST",
        "/v1/pressure",
        {"data": b" " * (2**20 + 1), "content_type": "application/json"},
        413,
        "body_too_large",
    ),
    ("GET", "/v1/units", {"data": b"{}", "content_type": "application/json"}, 400, "body_not_expected"),
    ("POST", "/v1/pressure", {"data": b"{", "content_type": "application/json"}, 400, "malformed_json"),
    ("GET", "/v1/pressure", {}, 422, "missing_field"),
]


@pytest.mark.parametrize(
    ("method", "path", "options", "status", "code"), FAILURES, ids=[f"{f[0]} {f[1]} {f[4]}" for f in FAILURES]
)
def test_failure(
    client: FlaskClient, method: str, path: str, options: dict[str, Any], status: int, code: str
) -> None:
    answer = client.open(path, method=method, **options)
    assert answer.status_code == status
    assert answer.content_type == "application/problem+json"
    problem = answer.get_json()
    assert {"type", "title", "status", "detail", "code"} <= set(problem)
    assert problem["service_edition"] == client.get("/v1/edition").get_json()["service_edition"]
    detail = "full" if code == "missing_field" else "short"  # what was wanted, where that could be read
    asked = {"path": path.partition("?")[0], "detail": detail}
    assert (problem["asked"], problem["question"]) == (asked, None)
    assert (problem["status"], problem["code"]) == (status, code)
    assert problem["type"] == f"/v1/problems/{code}"
    assert client.get(problem["type"]).get_json()["meaning"] == problem["title"] == CODES[code]
    assert answer.headers["X-Request-ID"]
    assert answer.headers["Cache-Control"] == "no-store"
    if status == 405:
        assert "GET" in answer.headers["Allow"]


@pytest.fixture(scope="module")
def failing() -> Flask:
    """A service with routes that fail in every way werkzeug knows, and with a bug."""
    app = create_app(Settings())

    def bug() -> str:
        raise ZeroDivisionError("secret detail")

    def fail(status: int) -> str:
        raise default_exceptions[status]

    app.add_url_rule("/bug", "bug", bug)
    app.add_url_rule("/fail/<int:status>", "fail", fail)
    return app


@pytest.mark.parametrize("status", sorted(default_exceptions))
def test_every_http_exception_has_the_shape(failing: Flask, status: int) -> None:
    answer = failing.test_client().get(f"/fail/{status}")
    assert answer.status_code == status
    assert answer.content_type == "application/problem+json"
    assert answer.get_json()["status"] == status
    assert answer.get_json()["code"] in CODES


def test_a_bug_is_a_500_with_the_request_id_and_without_the_exception(
    failing: Flask, caplog: pytest.LogCaptureFixture
) -> None:
    answer = failing.test_client().get("/bug", headers={"X-Request-ID": "abc-1"})
    assert (answer.status_code, answer.get_json()["code"]) == (500, "internal_error")
    assert "abc-1" in answer.get_json()["detail"]
    assert "secret" not in answer.text
    assert "ZeroDivisionError" in caplog.text


@pytest.mark.parametrize("given", ["", "a b", "x" * 65, "é"])
def test_a_request_id_that_could_forge_a_log_line_is_replaced(client: FlaskClient, given: str) -> None:
    answer = client.get("/healthz", headers={"X-Request-ID": given})
    assert re.fullmatch("[0-9a-f]{32}", answer.headers["X-Request-ID"])


POSITION_OF_CODE = {
    "refuse": 0, "Fault": 0, "fault": 0, "FieldFault": 0, "NotANumber": 0, "NotAQuantity": 0, "Malformed": 0,
    "InputFault": 1, "Problem": 1, "document": 1, "_refuse": 1,
}  # fmt: skip


def codes_in(source: str) -> Iterator[str]:
    """The codes that a module hands to the calls that raise or hold one."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
            continue
        if node.func.id == "Finding":  # what an answer says is no refusal
            continue
        given = [keyword.value for keyword in node.keywords if keyword.arg == "code"]
        if (position := POSITION_OF_CODE.get(node.func.id, len(node.args))) < len(node.args):
            given.append(node.args[position])
        for value in given:
            ways = (value.body, value.orelse) if isinstance(value, ast.IfExp) else (value,)
            yield from (str(way.value) for way in ways if isinstance(way, ast.Constant) and way.value)


def test_every_code_used_is_declared_and_every_declared_code_is_used() -> None:
    sources = [
        path.read_text("utf-8")
        for folder in ("api", "schemas")
        for path in (ROOT / folder).rglob("*.py")
        if path != ROOT / "api" / "refusals" / "codes.py"
    ]
    assert {code for source in sources for code in codes_in(source)} <= set(CODES)
    assert [code for code in CODES if not any(f'"{code}"' in source for source in sources)] == []
