"""The components of the OpenAPI document: schemas, request bodies and parameters."""

from collections.abc import Mapping
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from marshmallow import Schema, fields

from api.http.openapi.fields import PARTS, describe_field, for_query
from api.registry.calculation import Calculation
from schemas.core.fields import Request
from schemas.core.members import Members
from schemas.core.parts import Part
from schemas.core.quantity_fields import PORTION, PRESENTATION
from schemas.record import Record

OPTIONAL = ("result", "problem", "groups")
"""Members of answers that are there only where they apply."""
FULL_ALONE = "In the full answer alone."


def schema_name(schema: Any) -> str:
    """The name of a schema among the components: that of its class."""
    kind = schema if isinstance(schema, type) else type(schema)
    return str(kind.__name__)


class Components:
    """Adds our schemas to a document, each once, and refers to them."""

    def __init__(self, spec: APISpec, plugin: MarshmallowPlugin) -> None:
        assert plugin.converter is not None
        self.spec, self.converter = spec, plugin.converter
        self.converter.add_attribute_function(describe_field)  # type: ignore[no-untyped-call]
        for name, part in PARTS.items():
            spec.components.schema(name, part)

    def describe(self) -> None:
        """Give every component the text of its schema, and every answer the members it always has."""
        for key, name in self.converter.refs.items():
            kind, component = key[0], self.spec.components.schemas[name]
            component["description"] = (kind.__doc__ or "").strip().replace("``", "")
            if issubclass(kind, Part):
                may_lack = {*OPTIONAL, *kind.may_lack, *kind.only_full}
                members = component["properties"]
                component["required"] = [member for member in members if member not in may_lack]
                for member in kind.only_full & members.keys():
                    members[member] = _only_full(members[member])

    def reference(self, schema: Schema) -> dict[str, Any]:
        """A reference to a schema, which is added if it is new."""
        name = schema_name(schema)
        if name not in self.spec.components.schemas:
            self.spec.components.schema(name, schema=schema)
        return {"$ref": f"#/components/schemas/{name}"}

    def request(self, calculation: Calculation) -> dict[str, Any]:
        """The body of a calculation: its request with units and steps, one for each family."""
        bodies = {}
        for family, schema in calculation.requests.items():
            name = f"{schema_name(schema)}Body"
            if name not in self.spec.components.schemas:
                both = _with_presentation(schema)
                self.spec.components.schema(name, schema=both)
            bodies[family] = {"$ref": f"#/components/schemas/{name}"}
        return bodies[""] if "" in bodies else _one_of(bodies, "family")

    def any_of(self, name: str, description: str, schemas: Mapping[str, Schema], member: str) -> None:
        """A component that is one of several schemas, told apart by one of its members."""
        kinds = {word: self.reference(schema) for word, schema in schemas.items()}
        self.spec.components.schema(name, {"description": description, **_one_of(kinds, member)})

    def answer(self, calculation: Calculation) -> dict[str, Any]:
        """The result and its record as one object."""
        response = type(calculation.response)
        both = {
            "__doc__": response.__doc__,
            "only_full": response.only_full | Record.only_full,
            "may_lack": response.may_lack | Record.may_lack,
        }
        return self.reference(type(response.__name__, (response, Record), both)())

    def parameters(self, schemas: list[Schema], example: Mapping[str, Any]) -> list[dict[str, Any]]:
        """The fields of schemas as they stand in a query; choices of one name are joined."""
        found: dict[str, dict[str, Any]] = {}
        for schema in schemas:
            for name, field in schema.fields.items():
                if isinstance(field, fields.Nested):
                    continue  # an object stands only in a body
                prop = for_query(self.converter.field2property(field), field)
                required = field.required and all(
                    name in each.fields and each.fields[name].required for each in schemas
                )
                parameter = {"name": name, "in": "query", "required": required, "schema": prop}
                if isinstance(field, Members):
                    parameter |= {"style": "deepObject", "explode": True}
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


def _only_full(described: Mapping[str, Any]) -> dict[str, Any]:
    """A member that stands in the full answer alone, told so; a reference keeps its own words beside it."""
    text = " ".join(filter(None, (described.get("description"), FULL_ALONE)))
    return {**described, "description": text}


def _one_of(bodies: Mapping[str, dict[str, Any]], member: str) -> dict[str, Any]:
    mapping = {word: body["$ref"] for word, body in bodies.items()}
    return {
        "oneOf": list(bodies.values()),
        "discriminator": {"propertyName": member, "mapping": mapping},
    }


def _with_presentation(schema: Schema) -> Schema:
    members = {**schema.fields, **PRESENTATION.fields, **PORTION.fields}
    kind = type(f"{schema_name(schema)}Body", (Request,), {**members, "__doc__": type(schema).__doc__})
    made: Schema = kind()
    return made
