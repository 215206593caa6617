"""The OpenAPI document as tests read it: references followed, other forms of an answer beside JSON."""

import json
from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any
from urllib.parse import quote

from openapi_schema_validator import OAS31Validator
from referencing import Registry
from referencing.jsonschema import DRAFT202012
from werkzeug.test import TestResponse

from api.http.openapi.document import build
from api.http.openapi.paths import OTHER_FORMS

DOCUMENT = build()
SCHEMAS: Mapping[str, Any] = DOCUMENT["components"]["schemas"]
OPERATIONS = [
    (method, path, operation)
    for path, methods in DOCUMENT["paths"].items()
    for method, operation in methods.items()
]
JSON, PROBLEM = "application/json", "application/problem+json"


def resolved(part: Mapping[str, Any]) -> Mapping[str, Any]:
    """What a part of the document refers to, or itself."""
    if "$ref" not in part:
        return part
    found: Any = DOCUMENT
    for name in part["$ref"].removeprefix("#/").split("/"):
        found = found[name]
    return resolved(found)


def parameters(operation: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """The parameters of an operation."""
    return [resolved(each) for each in operation.get("parameters", ())]


def examples(of: Mapping[str, Any]) -> list[Any]:
    """The examples of a parameter or a media type."""
    single = [of["example"]] if "example" in of else []
    return single + [resolved(each)["value"] for each in of.get("examples", {}).values()]


def example_request(path: str, operation: Mapping[str, Any]) -> dict[str, Any]:
    """A request made of the examples of an operation: its path, its query and its body."""
    query = {}
    for parameter in parameters(operation):
        for shown in examples(parameter)[:1]:
            if parameter["in"] == "path":
                path = path.replace(f"{{{parameter['name']}}}", quote(str(shown)))
            elif parameter.get("style") == "deepObject":
                query |= {f"{parameter['name']}[{member}]": value for member, value in shown.items()}
            else:
                query[parameter["name"]] = shown
    if "requestBody" not in operation:
        return {"path": path, "query_string": query}
    media, content = next(iter(operation["requestBody"]["content"].items()))
    body = {"json": examples(content)[0]} if media == JSON else {"data": examples(content)[0]}
    return {"path": path, "query_string": query, **body, "content_type": media}


def response_schema(operation: Mapping[str, Any], status: int, mimetype: str) -> Mapping[str, Any]:
    """The schema that the document gives for a response; text of another form than JSON has none."""
    response = operation["responses"].get(str(status), operation["responses"]["default"])
    if mimetype in response.get(OTHER_FORMS, ()):
        return {"type": "string"}
    schema: Mapping[str, Any] = response["content"][mimetype]["schema"]
    return schema


def with_other_forms(document: Mapping[str, Any]) -> dict[str, Any]:
    """A copy of the document in which the other forms of an answer stand beside JSON."""
    return {**document, "paths": {path: _with_forms(each) for path, each in document["paths"].items()}}


def _with_forms(operations: Mapping[str, Any]) -> dict[str, Any]:
    found = {}
    for method, operation in operations.items():
        answered = operation["responses"]["200"]
        text = {form: {"schema": {"type": "string"}} for form in answered.get(OTHER_FORMS, ())}
        both = {**answered, "content": {**answered["content"], **text}}
        found[method] = {**operation, "responses": {**operation["responses"], "200": both}}
    return found


def told(schema: Mapping[str, Any], value: Any, at: str = "") -> Iterator[tuple[str, Mapping[str, Any], Any]]:
    """Every plain value of an answer: its place in the contract, its schema there, and itself."""
    if "$ref" in schema:
        at = schema["$ref"].rpartition("/")[2]
        schema = resolved(schema)
    branches = [each for name in ("oneOf", "anyOf", "allOf") for each in schema.get(name, ())]
    if "discriminator" in schema and isinstance(value, dict):
        chosen = schema["discriminator"]
        branches = [{"$ref": chosen["mapping"][value[chosen["propertyName"]]]}]
    if branches and not isinstance(value, (dict, list)):
        yield at, schema, value
    for branch in branches:
        if isinstance(value, (dict, list)):
            yield from told(branch, value, at)
    if isinstance(value, dict):
        for name, member in value.items():
            if name in schema.get("properties", {}):
                yield from told(schema["properties"][name], member, f"{at}.{name}")
    elif isinstance(value, list):
        for each in value if "items" in schema else ():
            yield from told(schema["items"], each, f"{at}[]")
    elif not branches:
        yield at, schema, value


def closed(part: Any) -> Any:
    """A copy of a schema in which no object may have a member that the document does not name."""
    if isinstance(part, list):
        return [closed(each) for each in part]
    if not isinstance(part, dict):
        return part
    copy = {name: closed(each) for name, each in part.items()}
    if "properties" in copy and "object" in copy.get("type", ()):
        copy.setdefault("additionalProperties", False)
    return copy


def validator_of(document: Mapping[str, Any]) -> Any:
    """A function that validates a value against a schema of a document."""
    resource = DRAFT202012.create_resource(document)
    registry: Registry[Any] = Registry().with_resource("urn:document", resource)

    def faults(schema: Mapping[str, Any], value: Any) -> list[str]:
        rooted = json.loads(json.dumps(schema).replace('"#/', '"urn:document#/'))
        validator = OAS31Validator(rooted, registry=registry)
        return [f"{error.json_path}: {error.message}" for error in validator.iter_errors(value)]

    return faults


open_faults = validator_of(DOCUMENT)
closed_faults = validator_of({**DOCUMENT, "components": closed(deepcopy(DOCUMENT["components"]))})


def assert_as_documented(operation: Mapping[str, Any], response: TestResponse) -> None:
    schema = response_schema(operation, response.status_code, response.mimetype)
    body = response.get_json()
    assert open_faults(schema, body) == []
    assert closed_faults(schema, body) == []
