"""Checking a table of the shop before it is put into its folder."""

from flask import Response, current_app, g

from api.http.requests import body, largest_batch, query
from api.registry.table_check import check_table
from schemas.core.faults import load
from schemas.core.quantity_fields import Nothing


def table_check() -> Response:
    """Every fault of a table at once; a table with faults is still an answer, not a failure."""
    g.from_query, g.raw = True, query()
    load(Nothing(), g.raw)
    checked = check_table(body(largest_batch(), ("text/csv",)))
    return Response(current_app.json.dumps(checked) + "\n", content_type="application/json")
