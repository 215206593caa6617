"""The OpenAPI 3.1 document, from the same declarations that answer the requests."""

import json
from collections.abc import Mapping
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from marshmallow import Schema

from api.answers.shop import Shop
from api.calculation import PRESENTATION, Calculation
from api.calculations import CALCULATIONS
from api.catalogues import LISTINGS, Listing
from api.http.openapi_fields import PARTS, describe_field, for_query
from api.http.single import PLAIN_TEXT
from api.version import PROGRAM
from schemas.answers import Record
from schemas.base import Part, Request
from schemas.profile import PROFILE

ABOUT = (
    "Make-up and break-out torque of threaded connections, and the gauge pressure that gives it on a "
    "hydraulic torque machine. Stateless: every request may be repeated. A number always has its "
    "unit; what cannot be answered safely is refused with a reason. No answer replaces the machine maker's "
    "manual, local codes or licensed practice."
)

SHOWN_ONCE = "Units and steps may stand in the query or in the body, none of them in both."


def build() -> dict[str, Any]:
    """The whole document."""
    plugin = MarshmallowPlugin(schema_name_resolver=_name)
    spec = APISpec(
        title="Dialset",
        version=PROGRAM,
        openapi_version="3.1.0",
        info={"description": ABOUT, "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"}},
        servers=[{"url": "/", "description": "This service."}],
        plugins=[plugin],
    )
    assert plugin.converter is not None
    plugin.converter.add_attribute_function(describe_field)  # type: ignore[no-untyped-call]
    for name, part in PARTS.items():
        spec.components.schema(name, part)
    builder = _Builder(spec, plugin)
    builder.reference(PROFILE)
    for calculation in CALCULATIONS:
        builder.calculation(calculation)
    for listing in LISTINGS:
        builder.listing(listing)
    builder.operation()
    builder.describe_components()
    document: dict[str, Any] = spec.to_dict()
    return _without_unused(document)


def _name(schema: Any) -> str:
    kind = schema if isinstance(schema, type) else type(schema)
    return str(kind.__name__)


def _without_unused(document: dict[str, Any]) -> dict[str, Any]:
    """The document without components that nothing refers to, such as kinds that no answer shows."""
    text = json.dumps(document)
    schemas = document["components"]["schemas"]
    used = {name: part for name, part in schemas.items() if f'"#/components/schemas/{name}"' in text}
    return {**document, "components": {**document["components"], "schemas": used}}


class _Builder:
    """Adds paths to a document."""

    def __init__(self, spec: APISpec, plugin: MarshmallowPlugin) -> None:
        self.spec, self.plugin = spec, plugin

    def calculation(self, calculation: Calculation) -> None:
        identifier = "".join(part.capitalize() for part in calculation.name.replace("/", "-").split("-"))
        shared = {"tags": ["calculations"], "summary": calculation.title}
        query = {**calculation.example, **(calculation.query_example or {})}
        get = {
            **shared,
            "operationId": f"get{identifier}",
            "description": calculation.description,
            "parameters": self._parameters(list(calculation.requests.values()), query)
            + self._parameters([PRESENTATION, PLAIN_TEXT], {}),
            "responses": _responses(
                {**_json(self._answer(calculation)), "text/plain": {"schema": {"type": "string"}}}, "Answer."
            ),
        }
        post = {
            **shared,
            "operationId": f"compute{identifier}",
            "description": f"{calculation.description} {SHOWN_ONCE}",
            "parameters": self._parameters([PRESENTATION, PLAIN_TEXT], {}),
            "requestBody": {
                "required": True,
                "content": {
                    "application/json": {
                        "schema": self._request(calculation),
                        "example": dict(calculation.example),
                    }
                },
            },
            "responses": _responses(
                {
                    "application/json": {
                        "schema": self._answer(calculation),
                        "example": calculation.answer(calculation.example, Shop(), "us"),
                    },
                    "text/plain": {"schema": {"type": "string"}},
                },
                "Answer.",
            ),
        }
        self.spec.path(f"/v1/{calculation.name}", operations={"get": get, "post": post})

    def listing(self, listing: Listing) -> None:
        title = "".join(part.capitalize() for part in listing.name.split("-"))
        items = {"type": "array", "items": self.reference(listing.item)}
        body = {"type": "object", "required": ["items"], "properties": {"items": items}}
        operation = {
            "tags": ["catalogues"],
            "summary": listing.title,
            "description": f"{listing.title}, all of them or those that pass the filters.",
            "operationId": f"list{title}",
            "parameters": self._parameters([listing.filters], {}),
            "responses": _responses(_json(body), "The list."),
        }
        self.spec.path(f"/v1/{listing.name}", operations={"get": operation})
        if listing.entry is None:
            return
        place = {
            "name": "id",
            "in": "path",
            "required": True,
            "schema": {"type": "string"},
            "example": listing.example_entry,
            "description": "Designation, id or code.",
        }
        entry = {
            "tags": ["catalogues"],
            "summary": f"{listing.title}: one entry",
            "description": f"{listing.title}: one entry.",
            "operationId": f"get{title}Entry",
            "parameters": [place, *self._parameters([listing.entry_filters], {})],
            "responses": _responses(_json(self.reference(listing.entry_item or listing.item)), "The entry."),
        }
        self.spec.path(f"/v1/{listing.name}/{{id}}", operations={"get": entry})

    def operation(self) -> None:
        anything = _json({"type": "object"})
        for path, name, text in (
            ("/healthz", "getHealth", "Whether the service is up."),
            ("/readyz", "getReadiness", "Whether the published figures still come out right."),
            ("/openapi.json", "getOpenapi", "This document."),
        ):
            responses = _responses(anything, text)
            self.spec.path(
                path,
                operations={
                    "get": {
                        "tags": ["operation"],
                        "summary": text,
                        "description": text,
                        "operationId": name,
                        "responses": responses,
                    }
                },
            )

    def describe_components(self) -> None:
        """Give every component the text of its schema, and every answer the members it always has."""
        assert self.plugin.converter is not None
        for key, name in self.plugin.converter.refs.items():
            kind, component = key[0], self.spec.components.schemas[name]
            component["description"] = (kind.__doc__ or "").strip().replace("``", "")
            if issubclass(kind, Part):
                component["required"] = [member for member in component["properties"] if member != "steps"]

    def reference(self, schema: Schema) -> dict[str, Any]:
        name = _name(schema)
        if name not in self.spec.components.schemas:
            self.spec.components.schema(name, schema=schema)
        return {"$ref": f"#/components/schemas/{name}"}

    def _request(self, calculation: Calculation) -> dict[str, Any]:
        bodies = {}
        for family, schema in calculation.requests.items():
            name = f"{_name(schema)}Body"
            if name not in self.spec.components.schemas:
                both = _with_presentation(schema)
                self.spec.components.schema(name, schema=both)
            bodies[family] = {"$ref": f"#/components/schemas/{name}"}
        if "" in bodies:
            return bodies[""]
        mapping = {family: body["$ref"] for family, body in bodies.items()}
        return {
            "oneOf": list(bodies.values()),
            "discriminator": {"propertyName": "family", "mapping": mapping},
        }

    def _answer(self, calculation: Calculation) -> dict[str, Any]:
        """The result and its record as one object."""
        response = type(calculation.response)
        return self.reference(type(response.__name__, (response, Record), {"__doc__": response.__doc__})())

    def _parameters(self, schemas: list[Schema], example: Mapping[str, Any]) -> list[dict[str, Any]]:
        assert self.plugin.converter is not None
        found: dict[str, dict[str, Any]] = {}
        for schema in schemas:
            for name, field in schema.fields.items():
                prop = for_query(self.plugin.converter.field2property(field), field)
                required = field.required and all(
                    name in each.fields and each.fields[name].required for each in schemas
                )
                parameter = {"name": name, "in": "query", "required": required, "schema": prop}
                if text := prop.pop("description", None):
                    parameter["description"] = text
                shown = prop.pop("example", None)
                if name in example or (shown is not None and name not in found and not example):
                    parameter["example"] = example.get(name, shown)
                if name in found and "enum" in prop:
                    choices = found[name]["schema"]["enum"]
                    choices += [word for word in prop["enum"] if word not in choices]
                    continue
                found[name] = parameter
        return list(found.values())


def _with_presentation(schema: Schema) -> Schema:
    fields = {**schema.fields, **PRESENTATION.fields}
    kind = type(f"{_name(schema)}Body", (Request,), {**fields, "__doc__": type(schema).__doc__})
    made: Schema = kind()
    return made


def _json(schema: Mapping[str, Any]) -> dict[str, Any]:
    return {"application/json": {"schema": dict(schema)}}


def _responses(content: Mapping[str, Any], text: str) -> dict[str, Any]:
    problem = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
    return {
        "200": {"description": text, "content": dict(content)},
        "422": {"description": "Refused, with every reason.", "content": problem},
        "default": {"description": "Failed, as a problem document.", "content": problem},
    }
