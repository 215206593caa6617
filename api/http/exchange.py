"""A request and its answer: id, headers, body, query and JSON, strict on the way in, fast on the way out.

Which form of answer and which unit is asked for stands here too; an answer as text is written in `single`.

A body is read to its end before a refusal is sent, up to the limit of a batch: a sender still sending would
see a reset, and a proxy would answer 502.
"""

import json
import logging
import re
from typing import Any
from uuid import uuid4

import orjson
from flask import Flask, Response, current_app, g, request
from flask.json.provider import JSONProvider
from werkzeug.datastructures import MIMEAccept

from api.answers.shop import Shop
from api.http.problems import Problem
from schemas.core.faults import InputFault, InvalidInput, read_json
from schemas.core.units import Unit, UnknownUnit, unit_named

log = logging.getLogger("dialset")

REQUEST_ID = re.compile(r"[A-Za-z0-9._-]{1,64}")


def register(app: Flask, shop: Shop) -> None:
    """Give every request its id, every response the headers that all have."""
    for name, reason in shop.folder.faults.items():
        log.warning("profile file %s is not served: %s", name, reason)
    for name, faulty in shop.table_folder.faults.items():
        log.warning("table file %s is not served: %s", name, faulty)
    app.before_request(_begin)
    app.after_request(_end)


def _begin() -> None:
    given = request.headers.get("X-Request-ID", "")
    g.request_id = given if REQUEST_ID.fullmatch(given) else uuid4().hex


def _end(response: Response) -> Response:
    # An answer before the body is read may be lost: a sender that is still sending sees its connection reset.
    length = request.content_length
    if length is not None and length <= current_app.extensions["dialset"].settings.largest_batch:
        request.get_data(cache=False)
    response.headers["X-Request-ID"] = g.request_id
    response.headers["X-Content-Type-Options"] = "nosniff"
    # An old torque must not live in a cache after a table or a profile was corrected.
    response.headers.setdefault("Cache-Control", "no-store")
    return response


def json_body(largest: int) -> Any:
    """The JSON body of the request.

    Raises:
        Problem: as `body`.
        Malformed: for anything but strict JSON.
    """
    return read_json(body(largest, ("application/json",)))


def body(largest: int, taken: tuple[str, ...]) -> bytes:
    """The body of the request, whole or not at all.

    Args:
        largest: bytes that are taken at most.
        taken: media types that are taken.

    Raises:
        Problem: 411, 413, 415, or 400 for a body shorter than announced.
    """
    if request.mimetype not in taken:
        given = request.mimetype or "none"
        detail = f"the body must have Content-Type {' or '.join(taken)}; this one has {given[:60]}"
        raise Problem(415, "unsupported_media_type", detail)
    if request.content_encoding:
        raise Problem(415, "unsupported_media_type", "a compressed body is not accepted")
    length = request.content_length
    if length is None:
        raise Problem(411, "length_required", "send the body with a Content-Length, not chunked")
    if length > largest:
        raise Problem(413, "body_too_large", f"{length} bytes; at most {largest} are accepted")
    data = request.get_data(cache=False)
    if len(data) != length:
        raise Problem(400, "truncated_body", f"only {len(data)} of the {length} bytes announced arrived")
    return data


def query() -> dict[str, str]:
    """The query of the request, each name once.

    Raises:
        Problem: 400 for a GET with a body, which could say another thing than its query.
        InvalidInput: ``duplicate_member`` for a name that stands twice.
    """
    if request.method in ("GET", "HEAD") and request.content_length:
        raise Problem(
            400, "body_not_expected", "the fields of a GET stand in its query; send a body with POST"
        )
    faults = [
        InputFault((name,), "duplicate_member", "occurs more than once in the query", ", ".join(values))
        for name, values in request.args.lists()
        if len(values) > 1
    ]
    if faults:
        g.query_names = set(request.args)
        raise InvalidInput(faults)
    return request.args.to_dict()


JSON, TEXT = "application/json", "text/plain"
CSV, SVG, HTML = "text/csv", "image/svg+xml", "text/html"
FORMATS = {"json": JSON, "text": TEXT, "csv": CSV, "svg": SVG, "html": HTML}
"""Media types by the name that a query has for them."""


def media_type(accept: MIMEAccept, wanted: str | None, offered: tuple[str, ...] = (JSON, TEXT)) -> str:
    """The media type to answer with.

    Args:
        accept: the Accept header; absent means anything.
        wanted: the ``format`` of the query, which outranks the header.
        offered: what can be given, best first.

    Raises:
        Problem: 406 where nothing offered is acceptable.
    """
    if wanted is not None:
        form = FORMATS[wanted]
        if form not in offered:
            raise Problem(406, "not_acceptable", f"this answers with {' or '.join(offered)}")
        return form
    if not accept:
        return offered[0]
    chosen = accept.best_match(offered)
    if chosen is None:
        raise Problem(406, "not_acceptable", f"this answers with {' or '.join(offered)}")
    return chosen


def unit_asked(spelling: str | None) -> Unit | None:
    """The unit of the text.

    Raises:
        InvalidInput: ``unknown_unit``.
    """
    if spelling is None:
        return None
    try:
        return unit_named(spelling.strip())
    except UnknownUnit as error:
        raise InvalidInput([InputFault(("unit",), "unknown_unit", str(error), spelling)]) from None


def largest_batch() -> int:
    """The limit of this service for the body of a batch, bytes."""
    return int(current_app.extensions["dialset"].settings.largest_batch)


def largest_body() -> int:
    """The limit of this service for a body, bytes."""
    return int(current_app.extensions["dialset"].settings.largest_body)


_encoder = json.JSONEncoder(allow_nan=False, separators=(",", ":"))


def encoded(obj: Any) -> bytes:
    """Compact JSON and the end of its line.

    Answers hold finite numbers alone: `schemas.core.fields.ten_digits` sees to it. What an answer repeats of
    its request may be more than the fast encoder takes, such as a whole number of thirty digits.

    Raises:
        ValueError: for a number that is not finite, where the fast encoder does not write it as null.
    """
    try:
        return orjson.dumps(obj, option=orjson.OPT_APPEND_NEWLINE)
    except orjson.JSONEncodeError:
        return _encoder.encode(obj).encode() + b"\n"


class StrictJSON(JSONProvider):
    """Refuses NaN, Infinity and doubled members on the way in; keeps order."""

    def dumps(self, obj: Any, **kwargs: Any) -> str:
        """Compact JSON, as `encoded`."""
        return encoded(obj).decode().removesuffix("\n")

    def loads(self, s: str | bytes, **kwargs: Any) -> Any:
        """Strict JSON; raises `schemas.core.faults.Malformed`."""
        return read_json(s.encode() if isinstance(s, str) else s)
