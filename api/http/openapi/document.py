"""The OpenAPI 3.1 document, from the same declarations that answer the requests."""

import json
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin

from api.answers.edition import PROGRAM
from api.answers.shop import Shop
from api.http.openapi.components import Components, schema_name
from api.http.openapi.paths import (
    calculation_paths,
    file_check_path,
    listing_paths,
    operation_paths,
    view_path,
)
from api.registry.calculations import CALCULATIONS, FILE_CHECKS, VIEWS
from api.registry.listings import LISTINGS
from api.registry.receipt_check import receipt_check
from api.registry.tags import TAGS
from schemas.machines.cylinder_parts import MeasuredDistance
from schemas.machines.profile import PROFILES
from schemas.policy import POLICY
from schemas.receipt import AnswerWithInputs, ReceiptRow

ABOUT = (
    "Make-up and break-out torque of threaded connections, and the gauge pressure that gives it on a "
    "hydraulic torque machine. Stateless: every request may be repeated. A number always has its "
    "unit; what cannot be answered safely is refused with a reason. A number or a flag may also be given as "
    "text, which means the same in JSON as in a query or a table. No answer replaces the machine maker's "
    "manual, local codes or licensed practice."
)


def build() -> dict[str, Any]:
    """The whole document."""
    plugin = MarshmallowPlugin(schema_name_resolver=schema_name)
    spec = APISpec(
        title="Dialset",
        version=PROGRAM,
        openapi_version="3.1.0",
        info={"description": ABOUT, "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"}},
        servers=[{"url": "/", "description": "This service."}],
        security=[],  # the service knows no accounts: who may call it is decided in front of it
        plugins=[plugin],
    )
    components = Components(spec, plugin)
    components.reference(MeasuredDistance())
    for schema in (POLICY, AnswerWithInputs(), ReceiptRow()):
        components.reference(schema)
    components.any_of("MachineProfile", "The profile of a machine, by its kind.", PROFILES, "kind")
    for tag in TAGS:
        spec.tag({"name": tag.name, "description": tag.text})
        for calculation in (each for each in CALCULATIONS if each.tag is tag):
            calculation_paths(components, calculation)
        for view in (each for each in VIEWS if each.tag is tag):
            view_path(components, view)
        for listing in (each for each in LISTINGS if each.tag is tag):
            listing_paths(components, listing)
        for check in (each for each in FILE_CHECKS if each.tag is tag):
            file_check_path(components, check)
    file_check_path(components, receipt_check(Shop()))
    operation_paths(components)
    components.describe()
    document: dict[str, Any] = spec.to_dict()
    return _without_unused(document)


def _without_unused(document: dict[str, Any]) -> dict[str, Any]:
    """The document without components that nothing refers to, such as kinds that no answer shows."""
    text = json.dumps(document)
    schemas = document["components"]["schemas"]
    used = {name: part for name, part in schemas.items() if f'"#/components/schemas/{name}"' in text}
    return {**document, "components": {**document["components"], "schemas": used}}
