"""One id a request, in every answer and log line; the log says which profiles and tables are not served."""

import logging
import re
from uuid import uuid4

from flask import Flask, Response, current_app, g, request

from api.answers.shop import Shop

log = logging.getLogger("dialset")

REQUEST_ID = re.compile(r"[A-Za-z0-9._-]{1,64}")


def register(app: Flask, shop: Shop) -> None:
    """Give every request its id, every response the headers that all have."""
    for name, reason in shop.folder.faults.items():
        log.warning("profile file %s is not served: %s", name, reason)
    for name, faulty in shop.table_folder.faults.items():
        log.warning("table file %s is not served: %s", name, faulty)
    app.before_request(_begin)
    app.after_request(_end)


def _begin() -> None:
    given = request.headers.get("X-Request-ID", "")
    g.request_id = given if REQUEST_ID.fullmatch(given) else uuid4().hex


def _end(response: Response) -> Response:
    # An answer before the body is read may be lost: a sender that is still sending sees its connection reset.
    length = request.content_length
    if length is not None and length <= current_app.extensions["dialset"].settings.largest_batch:
        request.get_data(cache=False)
    response.headers["X-Request-ID"] = g.request_id
    response.headers["X-Content-Type-Options"] = "nosniff"
    # An old torque must not live in a cache after a table or a profile was corrected.
    response.headers.setdefault("Cache-Control", "no-store")
    return response
