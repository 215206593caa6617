"""Checking a machine profile before it is put into service."""

from flask import Response, current_app, g

from api.http.requests import json_body, largest_body, query
from api.registry.profile_check import check_profile
from schemas.core.faults import load
from schemas.core.quantity_fields import SystemOfUnits


def profile_check() -> Response:
    """Every fault of a profile at once; a profile with faults is still an answer, not a failure."""
    g.from_query, g.raw = True, query()
    asked = load(SystemOfUnits(), g.raw)
    system = asked.get("units", current_app.extensions["dialset"].settings.units)
    checked = check_profile(json_body(largest_body()), system)
    return Response(current_app.json.dumps(checked) + "\n", content_type="application/json")
