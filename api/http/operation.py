"""Running the service: is it up, is it right, what does it offer."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from flask import Response, current_app, g, request

from api import readiness
from api.answers.shop import Shop
from api.http.exchange import encoded, query
from api.http.problems import document
from api.readiness import Readiness
from api.shop_tables.reader import FaultyTable
from schemas.core.faults import load
from schemas.core.quantity_fields import Nothing
from schemas.shop_tables.listings import TableFaultPart

MOST_FAULTS = 20
"""Faults of a table that readiness tells; /v1/table-check tells more."""
FAULT = TableFaultPart()


def _no_query() -> None:
    g.from_query, g.raw = True, query()
    load(Nothing(), g.raw)


def _json(body: Any) -> Response:
    return Response(encoded(body), content_type="application/json")


def up() -> dict[str, Any]:
    """That the service is up."""
    return {"status": "up"}


def healthz() -> Response:
    """The service is up; this touches nothing."""
    _no_query()
    return _json(up())


def readyz() -> Response:
    """Ready: the published figures come out right. Names the files of the shop that are not served."""
    _no_query()
    state = readiness.check()
    body = compared(state, current_app.extensions["dialset"].shop)
    if state.missed or not state.compared:
        return document(503, "not_ready", f"rows missed: {', '.join(state.missed)}", **body)
    return _json(ready(body))


def ready(body: Mapping[str, Any]) -> dict[str, Any]:
    """What was compared, where all of it is right."""
    return {"status": "ready", **body}


def compared(state: Readiness, shop: Shop) -> dict[str, Any]:
    """What was compared, and what of the shop is served."""
    folder, tables = shop.folder, shop.table_folder
    return {
        "compared": state.compared,
        "worst_difference": float(f"{state.worst_difference:.3g}"),
        "missed": list(state.missed),
        "machines": len(folder.profiles),
        "refused_profiles": [{"file": name, "reason": reason} for name, reason in folder.faults.items()],
        "tables": len(tables.tables),
        "refused_tables": [_faulty(name, table) for name, table in tables.faults.items()],
    }


def _faulty(name: str, table: FaultyTable) -> dict[str, Any]:
    shown = FAULT.dump(table.faults[:MOST_FAULTS], many=True)
    return {"file": name, "fault_count": table.count, "faults": shown}


def edition_of(shop: Shop) -> dict[str, Any]:
    """The edition of a service with this shop, and all that decides it."""
    return {"service_edition": shop.edition, **shop.parts}


def edition() -> Response:
    """What this service answers from; who asks again with its ETag is told alone that it is the same."""
    _no_query()
    shop: Shop = current_app.extensions["dialset"].shop
    response = _json(edition_of(shop))
    response.headers["Cache-Control"] = "no-cache"  # may be kept, never shown unasked
    response.set_etag(shop.edition)
    response.make_conditional(request)
    return response


def openapi_document() -> Response:
    """The OpenAPI document."""
    _no_query()
    return Response(_openapi_text(), content_type="application/json")


@cache  # as text: the objects take six times the memory, and would be written anew for every request
def _openapi_text() -> bytes:
    from api.http.openapi.document import build  # noqa: PLC0415  # apispec and every schema, for few askers

    return encoded(build())
