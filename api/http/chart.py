"""The chart of a machine in every form: data for programs, a table, a drawing, and a page to print."""

from collections.abc import Callable, Mapping
from typing import Any

from flask import Response, current_app, g, request

from api.answers.machines.profile import Profile
from api.answers.shop import Shop
from api.engineering.checks import NoAnswer
from api.http.charting.drawing import drawing
from api.http.charting.page import CONTENT_SECURITY, page
from api.http.charting.table import table
from api.http.exchange import CSV, HTML, JSON, SVG, encoded, media_type, query
from api.http.problems import Problem
from api.registry.chart import CHART
from schemas.core.faults import load
from schemas.core.quantity import numbers_read

WRITERS: Mapping[str, Callable[[Mapping[str, Any]], str | bytes]] = {
    JSON: encoded,
    CSV: table,
    SVG: drawing,
    HTML: page,
}
"""How each form is written, the first where any will do."""
CONTENT_TYPES = {
    JSON: JSON,
    CSV: f"{CSV}; charset=utf-8; header=present",
    SVG: f"{SVG}; charset=utf-8",
    HTML: f"{HTML}; charset=utf-8",
}
SECURITY = {SVG: "default-src 'none'; base-uri 'none'; form-action 'none'", HTML: CONTENT_SECURITY}
"""What a browser may do with a form that it shows: draw it."""


def machine_chart(machine: str) -> Response:
    """The chart of one machine, in the form asked for."""
    service = current_app.extensions["dialset"]
    g.from_query, g.raw, g.pick = True, {"machine": machine, **query()}, "full"
    given = {name: value for name, value in g.raw.items() if name != "format"}
    profile = _profile(machine, service.shop)
    with numbers_read(service.shop.number_rule) as commas:
        values = load(CHART.request, query())
    form = media_type(request.accept_mimetypes, values.pop("format", None), tuple(WRITERS))
    whole = CHART.answer(profile, values, given, service.shop, service.settings.units, commas)
    response = Response(WRITERS[form](whole), content_type=CONTENT_TYPES[form])
    if form in SECURITY:
        response.headers["Content-Security-Policy"] = SECURITY[form]
    return response


def _profile(machine: str, shop: Shop) -> Profile:
    """The profile that the path names; there is nothing at a path that names none."""
    try:
        return shop.machine(machine)
    except NoAnswer as unknown:
        (fault,) = unknown.faults
        raise Problem(404, fault.code, f"{fault.text}; accepted: {fault.accepted}") from None
