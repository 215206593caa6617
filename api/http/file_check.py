"""Checking a file of the shop before it is put into service, from one declaration each."""

from flask import Response, current_app, g

from api.http.exchange import body, encoded, json_body, largest_batch, largest_body, query
from api.registry.file_check import FileCheck
from schemas.core.faults import load


def answer(check: FileCheck) -> Response:
    """Every fault of a file at once; one with faults is still an answer, not a failure."""
    g.from_query, g.raw = True, query()
    asked = load(check.query, g.raw)
    system = asked.get("units", current_app.extensions["dialset"].settings.units)
    is_json = check.media_type == "application/json"
    given = json_body(largest_body()) if is_json else body(largest_batch(), (check.media_type,))
    g.from_query, g.raw = False, given  # what is refused from here on stands in the body
    checked = check.answer(given, system)
    return Response(encoded(checked), content_type="application/json")
