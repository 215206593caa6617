"""Every route of the service, in one place. What answers a route is imported when it is first asked.

A start then costs what the machines and tables of the shop need, and a command that asks one question what
that question needs. The names stand twice, here and in the registry: a test compares the routes with the
OpenAPI document, which is built from the registry.
"""

from collections.abc import Callable, Sequence
from functools import cache, partial
from typing import TYPE_CHECKING

from flask import Flask, Response, current_app, redirect
from werkzeug.wrappers import Response as AnyResponse

if TYPE_CHECKING:
    from api.registry.calculation import Calculation
    from api.registry.listing import Listing

DOCS = "/docs"
NOTICES = '</v1/standing-notices>; rel="help"'
"""Where every answer of a calculation says that its standing notices are."""


def _joints() -> "Sequence[Calculation]":
    from api.registry.joints import JOINT_CALCULATIONS

    return JOINT_CALCULATIONS


def _positions() -> "Sequence[Calculation]":
    from api.registry.positions import POSITION_CALCULATIONS

    return POSITION_CALCULATIONS


def _machines() -> "Sequence[Calculation]":
    from api.registry.machines import MACHINE_CALCULATIONS

    return MACHINE_CALCULATIONS


def _flanges() -> "Sequence[Calculation]":
    from api.registry.flanges import FLANGE_CALCULATIONS

    return FLANGE_CALCULATIONS


def _units() -> "Sequence[Calculation]":
    from api.registry.units import UNIT_CALCULATIONS

    return UNIT_CALCULATIONS


Page = Callable[[], "Sequence[Calculation]"]

CALCULATIONS: dict[str, Page] = {
    "torque/rotary-shouldered": _joints,
    "torque/round-thread": _joints,
    "torque/bolt": _joints,
    "torque/tabulated": _joints,
    "preload/rotary-shouldered": _joints,
    "preload/bolt": _joints,
    "make-up-position/buttress": _positions,
    "trial-make-up/buttress": _positions,
    "make-up-position/sucker-rod": _positions,
    "pressure": _machines,
    "delivered-torque": _machines,
    "verdict": _machines,
    "machine-choice": _machines,
    "stroke": _machines,
    "grip": _machines,
    "preload-pressure": _machines,
    "calibration": _machines,
    "flange-sequence/torque": _flanges,
    "flange-sequence/preload": _flanges,
    "conversion": _units,
}
"""Every calculation by its path, with the page of the registry that declares it."""
BODY_ONLY = ("trial-make-up/buttress", "calibration")
"""Calculations without GET and without a batch: no query and no row can hold their request."""
LISTINGS = (
    "connections",
    "tubulars",
    "sucker-rods",
    "threads",
    "grades",
    "nut-factors",
    "tables",
    "machines",
    "units",
    "sources",
    "problems",
    "standing-notices",
)
WITH_ENTRIES = ("connections", "tables", "machines", "problems", "standing-notices")
"""Listings of which every entry has a path of its own."""


def register(app: Flask) -> None:
    """Give an application every route."""
    for name in CALCULATIONS:
        methods = ["POST"] if name in BODY_ONLY else ["GET", "POST"]
        app.add_url_rule(f"/v1/{name}", name, partial(_single, name), methods=methods)
        if name not in BODY_ONLY:
            app.add_url_rule(f"/v1/{name}/batch", f"{name}/batch", partial(_batch, name), methods=["POST"])
    for name in LISTINGS:
        app.add_url_rule(f"/v1/{name}", name, partial(_listing, name))
        if name in WITH_ENTRIES:
            app.add_url_rule(f"/v1/{name}/<path:entry_id>", f"{name}-entry", partial(_entry, name))
    app.add_url_rule("/v1/machines/<machine>/chart", "chart", _chart)
    app.add_url_rule("/v1/profile-check", "profile-check", _profile_check, methods=["POST"])
    app.add_url_rule("/v1/table-check", "table-check", _table_check, methods=["POST"])
    app.add_url_rule("/v1/policy-check", "policy-check", _policy_check, methods=["POST"])
    app.add_url_rule("/v1/receipt-check", "receipt-check", _receipt_check, methods=["POST"])
    app.add_url_rule("/healthz", "healthz", _healthz)
    app.add_url_rule("/readyz", "readyz", _readyz)
    app.add_url_rule("/v1/edition", "edition", _edition)
    app.add_url_rule("/openapi.json", "openapi", _openapi)
    app.add_url_rule("/", "start", _start)
    app.add_url_rule(f"{DOCS}/", "docs", partial(_docs, "page.html"))
    app.add_url_rule(f"{DOCS}/<name>", "docs-file", _docs)


@cache
def _calculation(name: str) -> "Calculation":
    return next(each for each in CALCULATIONS[name]() if each.name == name)


@cache
def _listed(name: str) -> "Listing":
    from api.registry.listings import LISTINGS

    return next(each for each in LISTINGS if each.name == name)


def _single(name: str) -> Response:
    from api.http.single import answer

    return _with_notices(answer(_calculation(name)))


def _batch(name: str) -> Response:
    from api.http.batch import answer

    return _with_notices(answer(_calculation(name)))


def _with_notices(response: Response) -> Response:
    response.headers["Link"] = NOTICES
    return response


def _listing(name: str) -> Response:
    from api.http.listing import entries

    return entries(_listed(name))


def _entry(name: str, entry_id: str) -> Response:
    from api.http.listing import entry

    return entry(_listed(name), entry_id)


def _chart(machine: str) -> Response:
    from api.http.chart import machine_chart

    return machine_chart(machine)


def _profile_check() -> Response:
    from api.http.file_check import answer
    from api.registry.profile_check import PROFILE_CHECK

    return answer(PROFILE_CHECK)


def _table_check() -> Response:
    from api.http.file_check import answer
    from api.registry.table_check import TABLE_CHECK

    return answer(TABLE_CHECK)


def _policy_check() -> Response:
    from api.http.file_check import answer
    from api.registry.policy_check import POLICY_CHECK

    return answer(POLICY_CHECK)


def _receipt_check() -> Response:
    from api.http.file_check import answer
    from api.registry.receipt_check import receipt_check

    return answer(receipt_check(current_app.extensions["dialset"].shop))


def _healthz() -> Response:
    from api.http.operation import healthz

    return healthz()


def _readyz() -> Response:
    from api.http.operation import readyz

    return readyz()


def _edition() -> Response:
    from api.http.operation import edition

    return edition()


def _openapi() -> Response:
    from api.http.operation import openapi_document

    return openapi_document()


def _docs(name: str) -> Response:
    from api.http.docs_page.files import file_of_page

    return file_of_page(name)


def _start() -> AnyResponse:
    """The page for people."""
    return redirect(DOCS + "/")
