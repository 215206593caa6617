"""The components of the OpenAPI document: schemas, request bodies, examples and parameters."""

from collections.abc import Mapping
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from marshmallow import Schema, fields

from api.answers.record import ALWAYS
from api.http.openapi.fields import PARTS, describe_field, for_query
from api.registry.calculation import Calculation
from api.registry.families import FAMILY
from schemas.batch import (
    DEFAULTS,
    LINES,
    RESULT,
    BatchAnswer,
    BatchGroupPart,
    BatchLinePart,
    BatchRequest,
    BatchSummaryPart,
    Defaults,
    Lines,
)
from schemas.core.fields import Members, Request
from schemas.core.parts import AsGiven, Part, parts_picked
from schemas.core.quantity_fields import PORTION, PRESENTATION
from schemas.record import Record

FULL_ALONE = "In the full answer alone."
LEFT_OUT = "With answers, a member that is not picked is left out: required is what every pick tells."


def schema_name(schema: Any) -> str:
    """The name of a schema among the components: that of its class."""
    kind = schema if isinstance(schema, type) else type(schema)
    return str(kind.__name__)


def identifier(calculation: Calculation) -> str:
    """A calculation in the names of operations and components."""
    return "".join(part.capitalize() for part in calculation.name.replace("/", "-").split("-"))


class Components:
    """Adds our schemas to a document, each once, and refers to them."""

    def __init__(self, spec: APISpec, plugin: MarshmallowPlugin) -> None:
        assert plugin.converter is not None
        self.spec, self.converter = spec, plugin.converter
        self.answers: set[type[Schema]] = set()
        self.picked: set[type[Schema]] = set()
        """Parts of answers of which a request can pick members by name."""
        self.converter.add_attribute_function(describe_field)  # type: ignore[no-untyped-call]
        for name, part in PARTS.items():
            spec.components.schema(name, part)

    def describe(self) -> None:
        """Give every component the text of its schema, and every answer the members it always has."""
        for key, name in self.converter.refs.items():
            kind, component = key[0], self.spec.components.schemas[name]
            text = (kind.__doc__ or "").strip().replace("``", "")
            component["description"] = f"{text} {LEFT_OUT}" if kind in self.answers else text
            if issubclass(kind, Part):
                members = component["properties"]
                component["required"] = [member for member in members if self._always(kind, member)]
                for member in kind.only_full & members.keys():
                    members[member] = _only_full(members[member])

    def _always(self, kind: type[Part], member: str) -> bool:
        """Whether a part always has a member, however much of an answer is asked for."""
        if kind in self.picked:
            return False
        if kind in self.answers:
            return member in ALWAYS and member not in Record.may_lack
        return member not in kind.may_lack | kind.only_full

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
        whole = type(response.__name__, (Record, response), both)  # the result stands first
        self.answers.add(whole)
        own = {name: field for name, field in calculation.members.items() if name not in ALWAYS}
        self.picked.update(type(part) for part in parts_picked(own))
        return self.reference(whole())

    def batch_request(self, calculation: Calculation) -> dict[str, Any]:
        """Many questions of a calculation: fields of any family, none of them required in a line."""
        name = identifier(calculation)
        asked, text = (
            f"{name}BatchFields",
            f"Fields of {calculation.name}, for one line of a batch or for all.",
        )
        self._open(asked, text, {**calculation.requests, "shown": PRESENTATION})
        if "Portion" not in self.spec.components.schemas:
            self._open("Portion", "How much of an answer.", {"portion": PORTION})
        request = {
            "__doc__": BatchRequest.__doc__,
            "lines": Lines(asked, required=True, metadata={"description": LINES}),
            "defaults": Defaults(asked, metadata={"description": DEFAULTS}),
        }
        return self.reference(type(f"{name}BatchRequest", (BatchRequest,), request)())

    def _open(self, name: str, text: str, schemas: Mapping[str, Schema]) -> None:
        """A component of fields, none of them required, to which others may be added."""
        members = self._members(schemas)
        self.spec.components.schema(name, {"type": "object", "description": text, "properties": members})

    def batch_answer(self, calculation: Calculation) -> dict[str, Any]:
        """The lines of a batch, each with the answer of its calculation."""
        name, answer = identifier(calculation), schema_name(calculation.response)
        result = {"result": AsGiven(answer, metadata={"description": RESULT})}
        line = type(f"{name}BatchLine", (BatchLinePart,), {"__doc__": BatchLinePart.__doc__, **result})
        lines = fields.List(fields.Nested(line), metadata=BatchAnswer().fields["lines"].metadata)
        members = {"__doc__": BatchAnswer.__doc__, "lines": lines, **_summary(name, calculation)}
        return self.reference(type(f"{name}BatchAnswer", (BatchAnswer,), members)())

    def example(self, name: str, summary: str, value: Any) -> dict[str, Any]:
        """A reference to an example, which is added if it is new."""
        if name not in self.spec.components.examples:
            self.spec.components.example(name, {"summary": summary, "value": value})
        return {"$ref": f"#/components/examples/{name}"}

    def shown(self, *schemas: Schema) -> list[str]:
        """The names of parameters that many operations take, each of which is described once."""
        found = []
        for parameter in self.parameters({schema_name(each): each for each in schemas}, {}):
            name = parameter["name"]
            if name not in self.spec.components.parameters:
                self.spec.components.parameter(name, "query", parameter)
            found.append(name)
        return found

    def parameters(self, schemas: Mapping[str, Schema], example: Mapping[str, Any]) -> list[dict[str, Any]]:
        """The fields of schemas, by family, as they stand in a query, what the example has first.

        A field without an example that is an object has an empty one: a page that makes one up would send it.
        """
        found = []
        members = self._members(schemas, query=True)
        for name, prop in members.items():
            field = next(each.fields[name] for each in schemas.values() if name in each.fields)
            of_all = all(name in each.fields for each in schemas.values())
            required = of_all and all(each.fields[name].required for each in schemas.values())
            parameter = {"name": name, "in": "query", "required": required, "schema": prop}
            if isinstance(field, Members):
                parameter |= {"style": "deepObject", "explode": True, "example": {}}
            if text := prop.pop("description", None):
                parameter["description"] = text
            shown = prop.pop("example", None)
            if name in example or (shown is not None and not example):
                parameter["example"] = example.get(name, shown)
            found.append((not parameter.get("example"), not of_all, parameter))
        return [parameter for *_, parameter in sorted(found, key=lambda each: each[:2])]

    def _members(self, schemas: Mapping[str, Schema], *, query: bool = False) -> dict[str, Any]:
        """The fields of schemas together; one that not every family has begins with whose it is."""
        found: dict[str, dict[str, Any]] = {}
        families = [name for name in schemas if name in FAMILY]
        for schema in schemas.values():
            for name, field in schema.fields.items():
                if query and isinstance(field, fields.Nested):
                    continue  # an object stands only in a body
                prop = self.converter.field2property(field)
                prop = for_query(prop, field) if query else dict(prop)
                if name not in found:
                    found[name] = prop
                    whose = [each for each in families if name in schemas[each].fields]
                    if whose and whose != families:
                        titles = ", ".join(FAMILY[each].title for each in whose)
                        prop["description"] = f"{titles}: {prop['description']}"
                elif "enum" in prop:
                    choices = found[name]["enum"]
                    found[name]["enum"] = [*choices, *(word for word in prop["enum"] if word not in choices)]
        return found


def _only_full(described: Mapping[str, Any]) -> dict[str, Any]:
    """A member that stands in the full answer alone, told so; a reference keeps its own words beside it."""
    text = " ".join(filter(None, (described.get("description"), FULL_ALONE)))
    return {**described, "description": text}


def _summary(name: str, calculation: Calculation) -> dict[str, Any]:
    """The summary of a batch that keeps a log; nothing of any other, whose summary is that of all."""
    if calculation.log is None:
        return {}
    part = type(calculation.log.response)
    said = {"__doc__": BatchGroupPart.__doc__}
    group = type(f"{name}BatchGroup", (part, BatchGroupPart), said)
    groups = fields.List(fields.Nested(group), metadata=BatchSummaryPart().fields["groups"].metadata)
    of_all = {"__doc__": BatchSummaryPart.__doc__, "groups": groups, "may_lack": BatchSummaryPart.may_lack}
    return {"summary": fields.Nested(type(f"{name}BatchSummary", (part, BatchSummaryPart), of_all))}


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
