"""Checking a file of the shop before it is put into service, from one declaration each."""

from collections.abc import Callable

from flask import Flask, Response, current_app, g

from api.http.requests import body, json_body, largest_batch, largest_body, query
from api.registry.calculations import FILE_CHECKS
from api.registry.file_check import FileCheck
from schemas.core.faults import load


def register(app: Flask) -> None:
    """A path for every check."""
    for check in FILE_CHECKS:
        app.add_url_rule(f"/v1/{check.name}", check.name, _view(check), methods=["POST"])


def _view(check: FileCheck) -> Callable[[], Response]:
    def view() -> Response:
        g.from_query, g.raw = True, query()
        asked = load(check.query, g.raw)
        system = asked.get("units", current_app.extensions["dialset"].settings.units)
        is_json = check.media_type == "application/json"
        given = json_body(largest_body()) if is_json else body(largest_batch(), (check.media_type,))
        answer = check.answer(given, system)
        return Response(current_app.json.dumps(answer) + "\n", content_type="application/json")

    return view
