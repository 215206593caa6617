"""Running the service: is it up, is it right, what does it offer."""

from functools import cache
from typing import Any

from flask import Flask, Response, current_app, g, redirect
from flask_swagger_ui import get_swaggerui_blueprint
from werkzeug.wrappers import Response as AnyResponse

from api import readiness
from api.answers.shop import Shop
from api.http.openapi import document as openapi
from api.http.problems import document
from api.http.requests import query
from api.shop_tables.reader import FaultyTable
from schemas.core.faults import load
from schemas.core.quantity_fields import Nothing
from schemas.shop_tables.listings import TableFaultPart

DOCS = "/docs"
MOST_FAULTS = 20
"""Faults of a table that readiness tells; /v1/table-check tells more."""
FAULT = TableFaultPart()


def register(app: Flask) -> None:
    """Health, readiness, the OpenAPI document and its page."""
    app.add_url_rule("/healthz", "healthz", healthz)
    app.add_url_rule("/readyz", "readyz", readyz)
    app.add_url_rule("/openapi.json", "openapi", openapi_document)
    app.add_url_rule("/", "start", start)
    # Without the bar on top there is no address field that could load a document from elsewhere.
    page = {"app_name": "Dialset", "validatorUrl": None, "tryItOutEnabled": True, "layout": "BaseLayout"}
    app.register_blueprint(get_swaggerui_blueprint(DOCS, "/openapi.json", config=page))


def _no_query() -> None:
    g.from_query, g.raw = True, query()
    load(Nothing(), g.raw)


def _json(body: Any) -> Response:
    return Response(current_app.json.dumps(body) + "\n", content_type="application/json")


def start() -> AnyResponse:
    """The page for people."""
    return redirect(DOCS + "/")


def healthz() -> Response:
    """Up; touches nothing."""
    _no_query()
    return _json({"status": "up"})


def readyz() -> Response:
    """Ready: the published figures come out right. Names the files of the shop that are not served."""
    _no_query()
    state = readiness.check()
    shop: Shop = current_app.extensions["dialset"].shop
    folder, tables = shop.folder, shop.table_folder
    body = {
        "compared": state.compared,
        "worst_difference": float(f"{state.worst_difference:.3g}"),
        "missed": list(state.missed),
        "machines": len(folder.profiles),
        "refused_profiles": [{"file": name, "reason": reason} for name, reason in folder.faults.items()],
        "tables": len(tables.tables),
        "refused_tables": [_faulty(name, table) for name, table in tables.faults.items()],
    }
    if state.missed or not state.compared:
        return document(503, "not_ready", f"rows missed: {', '.join(state.missed)}", **body)
    return _json({"status": "ready", **body})


def _faulty(name: str, table: FaultyTable) -> dict[str, Any]:
    shown = FAULT.dump(table.faults[:MOST_FAULTS], many=True)
    return {"file": name, "fault_count": table.count, "faults": shown}


def openapi_document() -> Response:
    """The OpenAPI document."""
    _no_query()
    return _json(_built())


@cache
def _built() -> dict[str, Any]:
    return openapi.build()
