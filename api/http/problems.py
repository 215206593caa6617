"""Every failure as one shape: a problem document (RFC 9457) with a stable code."""

import logging
from typing import Any

from flask import Flask, Response, current_app, g, request
from werkzeug.exceptions import HTTPException
from werkzeug.http import HTTP_STATUS_CODES

from api.answers.question import Unanswered
from api.answers.shop import Shop
from api.engineering.checks import NoAnswer
from api.refusals.codes import CODES
from api.refusals.errors import errors_of, single_code
from schemas.core.faults import InvalidInput, Malformed

HTTP_CODES = {
    404: "not_found",
    405: "method_not_allowed",
    406: "not_acceptable",
    411: "length_required",
    413: "body_too_large",
    415: "unsupported_media_type",
    500: "internal_error",
    503: "not_ready",
}
"""Codes of the failures that have no finer one."""

log = logging.getLogger("dialset")


class Problem(Exception):
    """A failure of the request as such, raised by the HTTP layer."""

    def __init__(self, status: int, code: str, detail: str, **members: Any) -> None:
        self.status, self.code, self.detail, self.members = status, code, detail, members
        super().__init__(detail)


def register(app: Flask) -> None:
    """Answer every exception of ``app`` with a problem document."""
    app.register_error_handler(Problem, _problem)
    app.register_error_handler(InvalidInput, _refusal)
    app.register_error_handler(NoAnswer, _refusal)
    app.register_error_handler(Malformed, _malformed)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _bug)


def document(status: int, code: str, detail: str, *, question: str | None = None, **members: Any) -> Response:
    """A problem document as a response; ``question`` is the hash of one that was understood."""
    shop: Shop = current_app.extensions["dialset"].shop
    body = {
        "type": f"/v1/problems/{code}",
        "title": CODES[code],
        "status": status,
        "detail": detail,
        "code": code,
        **members,
        **shop.stamp(request.path, question, g.get("pick", "short")),
    }
    return Response(
        f"{current_app.json.dumps(body)}\n", status=status, content_type="application/problem+json"
    )


def _problem(problem: Problem) -> Response:
    return document(problem.status, problem.code, problem.detail, **problem.members)


def errors_told(refusal: InvalidInput | NoAnswer) -> list[dict[str, Any]]:
    """The errors of a refusal of the current request, each with its place in body or query."""
    service = current_app.extensions["dialset"]
    errors = errors_of(refusal, g.get("raw"), service.settings.units, service.shop.number_rule)
    for error in errors:
        name = (error["pointer"] or "").removeprefix("/")
        name = name.removeprefix("defaults/") if g.get("defaults_in_query") else name
        if g.get("from_query") or g.get("defaults_in_query"):
            name = name.replace("/", ".").replace("~1", "/").replace("~0", "~")
        if g.get("from_query") or name in g.get("query_names", ()):
            del error["pointer"]
            error["parameter"] = name or None
    return errors


def _refusal(refusal: Exception) -> Response:
    assert isinstance(refusal, (InvalidInput, NoAnswer))
    errors = errors_told(refusal)
    count = len(refusal.faults)
    detail = errors[0]["detail"] if count == 1 else f"{count} faults; see errors"
    question = refusal.question if isinstance(refusal, Unanswered) else None
    return document(422, single_code(errors), detail, question=question, errors=errors)


def _malformed(malformed: Exception) -> Response:
    assert isinstance(malformed, Malformed)
    return document(400, malformed.code, str(malformed))


def _http(error: HTTPException) -> Response:
    status = error.code or 500
    if status < 400:
        return error.get_response()  # type: ignore[return-value]
    code = HTTP_CODES.get(status, "http_error")
    title = CODES[code] if code != "http_error" else HTTP_STATUS_CODES.get(status, "HTTP error")
    response = document(status, code, title)
    for name, value in error.get_headers():
        if name in ("Allow", "Retry-After"):
            response.headers[name] = value
    return response


def _bug(error: Exception) -> Response:
    log.exception("internal error %s %s", request.method, request.path, exc_info=error)
    detail = f"The service failed; its log has the cause under the request id {g.get('request_id')}."
    return document(500, "internal_error", detail)
