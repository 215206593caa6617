"""The OpenAPI 3.1 document, from the same declarations that answer the requests."""

import json
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin

from api.answers.edition import PROGRAM
from api.http.openapi.components import Components, schema_name
from api.http.openapi.paths import (
    batch_path,
    calculation_path,
    file_check_path,
    listing_paths,
    operation_paths,
    view_path,
)
from api.registry.calculations import CALCULATIONS, FILE_CHECKS, VIEWS
from api.registry.listings import LISTINGS
from schemas.machines.cylinder_parts import MeasuredDistance
from schemas.machines.profile import PROFILES
from schemas.policy import POLICY

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
        plugins=[plugin],
    )
    components = Components(spec, plugin)
    components.reference(MeasuredDistance())
    components.reference(POLICY)
    components.any_of("MachineProfile", "The profile of a machine, by its kind.", PROFILES, "kind")
    for calculation in CALCULATIONS:
        calculation_path(components, calculation)
        if not calculation.body_only:
            batch_path(components, calculation)
    for listing in LISTINGS:
        listing_paths(components, listing)
    for view in VIEWS:
        view_path(components, view)
    for check in FILE_CHECKS:
        file_check_path(components, check)
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
