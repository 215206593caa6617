"""One question, one answer: GET for a cell, POST for a program, from one declaration.

`answer=refusal` answers 200 with the reasons, or `none`: a spreadsheet shows the body of no other status.
"""

from collections.abc import Callable, Mapping
from typing import Any

from flask import Response, current_app, g, request

from api.engineering.checks import NoAnswer
from api.http.problems import errors_told
from api.http.rendering import JSON, NONE, REFUSAL, TEXT, media_type, unit_asked, value_as_text
from api.http.requests import json_body, largest_body, query
from api.refusals.errors import in_words
from api.registry.calculation import Calculation
from schemas.core.faults import InputFault, InvalidInput, load
from schemas.core.fields import from_text
from schemas.core.quantity_fields import PRESENTATION, PlainText
from schemas.core.units import Unit

PLAIN_TEXT = PlainText()


def answer(calculation: Calculation) -> Response:
    """The answer to one question, in the form asked for."""
    service = current_app.extensions["dialset"]
    asked, body = _read()
    wanted = load(PLAIN_TEXT, {name: asked.pop(name) for name in PLAIN_TEXT.fields if name in asked})
    form = media_type(request.accept_mimetypes, wanted.get("format"), _forms(calculation))
    unit = unit_asked(wanted.get("unit"))

    def answered() -> dict[str, Any]:
        if request.method == "POST":
            g.raw = raw = _with_query(body, asked)
        else:
            raw = calculation.read_text(asked)
        return calculation.answer(_in_unit(raw, unit), service.shop, service.settings.units)

    if form == TEXT:
        text = _text(answered, calculation, wanted.get("answer"), unit)
        return Response(text, content_type="text/plain; charset=utf-8")
    _only_for_text(wanted)
    return Response(current_app.json.dumps(answered()) + "\n", content_type="application/json")


def _forms(calculation: Calculation) -> tuple[str, ...]:
    return (JSON,) if calculation.body_only else (JSON, TEXT)


def _text(
    answer: Callable[[], dict[str, Any]], calculation: Calculation, name: str | None, unit: Unit | None
) -> str:
    """One value of an answer, or why there is none."""
    if name != REFUSAL:
        return value_as_text(answer(), calculation.members, name, unit)
    if unit is not None:
        fault = InputFault(("unit",), "unit_not_applicable", "a reason has no unit", unit.code, "no unit")
        raise InvalidInput([fault])
    try:
        answer()
    except (InvalidInput, NoAnswer) as refusal:
        return in_words(errors_told(refusal))
    return NONE


def _read() -> tuple[dict[str, str], Any]:
    """The query, and the body of a POST; both kept for a refusal to refer to."""
    asked = query()
    if request.method != "POST":
        g.from_query, g.raw = True, asked
        return asked, None
    g.query_names = set(asked)
    g.raw = json_body(largest_body())
    return asked, g.raw


def _with_query(body: Any, asked: dict[str, str]) -> Any:
    """The body with the units of the query, which may stand in either but not in both."""
    if not isinstance(body, Mapping):
        return body
    faults = [
        InputFault((name,), "duplicate_member", "occurs in the query and in the body", value)
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
