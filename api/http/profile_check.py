"""Checking a machine profile before it is put into service."""

from flask import Flask, Response, current_app, g

from api.http.requests import json_body, largest_body, query
from api.registry.profile_check import check_profile
from schemas.core.faults import load
from schemas.core.quantity_fields import SystemOfUnits


def register(app: Flask) -> None:
    """The path of the check."""
    app.add_url_rule("/v1/profile-check", "profile-check", profile_check, methods=["POST"])


def profile_check() -> Response:
    """Every fault of a profile at once; a profile with faults is still an answer, not a failure."""
    g.from_query, g.raw = True, query()
    asked = load(SystemOfUnits(), g.raw)
    system = asked.get("units", current_app.extensions["dialset"].settings.units)
    checked = check_profile(json_body(largest_body()), system)
    return Response(current_app.json.dumps(checked) + "\n", content_type="application/json")
