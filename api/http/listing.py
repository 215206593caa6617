"""Listings: connections, machines, units, sources and problem codes."""

from collections.abc import Mapping
from typing import Any

from flask import Response, current_app, g

from api.http.exchange import encoded, query
from api.http.problems import Problem
from api.registry.listing import Listing
from schemas.core.faults import load
from schemas.core.quantity import numbers_read


def entries(listing: Listing) -> Response:
    """Every entry of a listing that passes its filters."""
    service = current_app.extensions["dialset"]
    items = listing.items(_asked(listing, filters=True), service.shop, service.settings.units)
    return Response(encoded({"items": items}), content_type="application/json")


def entry(listing: Listing, entry_id: str) -> Response:
    """One entry of a listing, by its name."""
    service = current_app.extensions["dialset"]
    assert listing.entry is not None
    item = listing.entry(entry_id, _asked(listing, filters=False), service.shop, service.settings.units)
    if item is None:
        near = ", ".join(listing.near(entry_id[:60], service.shop))
        detail = f"nothing is listed under {entry_id[:60]!r}" + (f"; near it: {near}" if near else "")
        raise Problem(404, "not_found", f"{detail}; see /v1/{listing.name}")
    return Response(encoded(item), content_type="application/json")


def _asked(listing: Listing, filters: bool) -> Mapping[str, Any]:
    g.from_query, g.raw = True, query()
    schema = listing.filters if filters else listing.entry_filters
    with numbers_read(current_app.extensions["dialset"].shop.number_rule):
        return load(schema, g.raw)
