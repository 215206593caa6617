"""One question, one answer: GET for a cell, POST for a program, from one declaration."""

from collections.abc import Callable, Mapping
from typing import Any

from flask import Flask, Response, current_app, g, request

from api.calculation import PRESENTATION, Calculation
from api.calculations import CALCULATIONS
from api.http.negotiation import TEXT, media_type
from api.http.requests import json_body, largest_body, query
from api.http.text import unit_asked, value_as_text
from schemas.faults import InputFault, InvalidInput, load
from schemas.fields import from_text
from schemas.presentation import PlainText
from schemas.units import Unit

PLAIN_TEXT = PlainText()


def register(app: Flask) -> None:
    """A path for every calculation."""
    for calculation in CALCULATIONS:
        path, endpoint = f"/v1/{calculation.name}", calculation.name
        app.add_url_rule(path, endpoint, _view(calculation), methods=["GET", "POST"])


def _view(calculation: Calculation) -> Callable[[], Response]:
    def view() -> Response:
        service = current_app.extensions["dialset"]
        raw, plain = _read(calculation)
        wanted = load(PLAIN_TEXT, plain)
        form = media_type(request.accept_mimetypes, wanted.get("format"))
        unit = unit_asked(wanted.get("unit"))
        if form != TEXT:
            _only_for_text(wanted)
        answer = calculation.answer(_in_unit(raw, unit), service.shop, service.settings.units)
        if form == TEXT:
            return Response(value_as_text(answer, wanted.get("answer"), unit), content_type="text/plain")
        return Response(current_app.json.dumps(answer) + "\n", content_type="application/json")

    return view


def _read(calculation: Calculation) -> tuple[Any, dict[str, str]]:
    """The request, and apart from it what concerns plain text; kept for a refusal to refer to."""
    asked = query()
    plain = {name: asked.pop(name) for name in PLAIN_TEXT.fields if name in asked}
    if request.method != "POST":
        g.from_query, g.raw = True, asked
        return calculation.read_text(asked), plain
    g.raw = raw = json_body(largest_body())
    g.query_names = {*asked, *plain}
    if asked:
        g.raw = raw = _with_query(raw, asked)
    return raw, plain


def _with_query(body: Any, asked: dict[str, str]) -> Any:
    """The body with the units of the query, which may stand in either but not in both."""
    if not isinstance(body, Mapping):
        return body
    faults = [
        InputFault((name,), "duplicate_member", "stands in the query and in the body", value)
        if name in body
        else InputFault(
            (name,), "unknown_field", "on POST the query takes only units and the form of the answer", value
        )
        for name, value in asked.items()
        if name in body or name not in PRESENTATION.fields
    ]
    if faults:
        raise InvalidInput(faults)
    return {**body, **from_text(PRESENTATION, asked)}


def _only_for_text(wanted: Mapping[str, Any]) -> None:
    faults = [
        InputFault((name,), "unknown_field", "only with format=text", wanted[name])
        for name in ("answer", "unit")
        if name in wanted
    ]
    if faults:
        raise InvalidInput(faults)


def _in_unit(raw: Any, unit: Unit | None) -> Any:
    """The request with the unit of the text as that of every quantity of its kind."""
    if unit is None or not isinstance(raw, Mapping):
        return raw
    chosen = {f"{kind}_unit": unit.code for kind in unit.kinds if f"{kind}_unit" in PRESENTATION.fields}
    faults = [
        InputFault(("unit",), "contradiction", f"{name} is given too; leave one out", unit.code)
        for name in chosen
        if name in raw
    ]
    if faults:
        raise InvalidInput(faults)
    return {**raw, **chosen}
