"""The paths of the OpenAPI document."""

from collections.abc import Mapping
from typing import Any

from marshmallow import Schema

from api.answers.shop import Shop
from api.http.openapi.components import Components
from api.http.single import PLAIN_TEXT
from api.registry.calculation import Calculation
from api.registry.file_check import FileCheck
from api.registry.listing import Listing
from api.registry.view import View
from schemas.batch import BatchAnswer, BatchRequest
from schemas.core.parts import DETAILS
from schemas.core.quantity_fields import PORTION, PRESENTATION
from schemas.edition import EditionAnswer

SHOWN_ONCE = "Units, steps, detail and answers may stand in the query or in the body, none of them in both."
BATCH_OPTIONS = {
    "format": "Form of the answer: json, jsonl, csv or tsv; that of the body if left out.",
    "group_by": "With a table: a field or column; the summary is also given by its values.",
    "carry": "With a table: names by comma that are carried along though nearly those of fields.",
}
EACH_LINE = (
    "Each line is answered or refused, in order. Members or columns that are no fields are carried "
    "along. Dialset refuses one whose name is close to a field name. A header such as pin_bore [in] "
    "gives the numbers below it their unit. With a table, put defaults, group_by and carry in the "
    "query. detail and answers hold for the whole batch, in the query or among the defaults of a body; "
    "those of a line are carried along. Lines are sent as they are answered, the summary is last: an "
    "answer without it broke off, and so did a table with fewer lines than were asked."
)


AS_TEXT = {"text/plain": {"schema": {"type": "string"}}}


def calculation_path(components: Components, calculation: Calculation) -> None:
    """GET and POST of a calculation."""
    answer = components.answer(calculation)
    operations = {} if calculation.body_only else {"get": _get(components, calculation, answer)}
    operations["post"] = _post(components, calculation, answer)
    components.spec.path(f"/v1/{calculation.name}", operations=operations)


def _described(asked: Calculation | View) -> str:
    """Its description, and the ids of the notices that its answers do not repeat."""
    ids = ", ".join(notice.id for notice in asked.notices)
    return f"{asked.description} Standing notices: {ids}." if ids else asked.description


def _identifier(calculation: Calculation) -> str:
    return "".join(part.capitalize() for part in calculation.name.replace("/", "-").split("-"))


def _shown(components: Components, calculation: Calculation) -> list[dict[str, Any]]:
    """The parameters that say how an answer is shown."""
    schemas: list[Schema] = [PORTION, PRESENTATION, *([] if calculation.body_only else [PLAIN_TEXT])]
    return components.parameters(schemas, {})


def _get(components: Components, calculation: Calculation, answer: dict[str, Any]) -> dict[str, Any]:
    query = {**calculation.example, **(calculation.query_example or {})}
    fields = components.parameters(list(calculation.requests.values()), query)
    return {
        "tags": ["calculations"],
        "summary": calculation.title,
        "operationId": f"get{_identifier(calculation)}",
        "description": _described(calculation),
        "parameters": fields + _shown(components, calculation),
        "responses": responses({**_json(answer), **AS_TEXT}, "Answer."),
    }


def _post(components: Components, calculation: Calculation, answer: dict[str, Any]) -> dict[str, Any]:
    example = dict(calculation.example)
    asked = {"application/json": {"schema": components.request(calculation), "example": example}}
    answered: dict[str, Any] = {"schema": answer}
    if not calculation.needs_machines and not calculation.needs_tables:
        answered["examples"] = {
            detail: {
                "summary": f"The {detail} answer.",
                "value": calculation.answer(example, Shop(), "us", detail),
            }
            for detail in DETAILS
        }
    content = {"application/json": answered, **({} if calculation.body_only else AS_TEXT)}
    return {
        "tags": ["calculations"],
        "summary": calculation.title,
        "operationId": f"compute{_identifier(calculation)}",
        "description": f"{_described(calculation)} {SHOWN_ONCE}",
        "parameters": _shown(components, calculation),
        "requestBody": {"required": True, "content": asked},
        "responses": responses(content, "Answer."),
    }


def batch_path(components: Components, calculation: Calculation) -> None:
    """The batch of a calculation."""
    identifier = _identifier(calculation)
    example = {"lines": [{"order": "W-17", **calculation.example}], "defaults": {"units": "us"}}
    table = {"schema": {"type": "string", "minLength": 1}}
    operation = {
        "tags": ["batches"],
        "summary": f"{calculation.title}: many at once",
        "description": f"{_described(calculation)} {EACH_LINE}",
        "operationId": f"batch{identifier}",
        "parameters": [*_batch_options(), *components.parameters([PORTION], {})],
        "requestBody": {
            "required": True,
            "content": {
                "application/json": {"schema": components.reference(BatchRequest()), "example": example},
                "text/csv": table,
                "text/tab-separated-values": table,
            },
        },
        "responses": responses(
            {
                "application/json": {"schema": components.reference(BatchAnswer())},
                "application/jsonl": table,
                "text/csv": table,
                "text/tab-separated-values": table,
            },
            "Every line, answered or refused.",
        ),
    }
    components.spec.path(f"/v1/{calculation.name}/batch", operations={"post": operation})


def _batch_options() -> list[dict[str, Any]]:
    words = {"format": {"enum": ["json", "jsonl", "csv", "tsv"]}}
    return [
        {
            "name": name,
            "in": "query",
            "required": False,
            "schema": {"type": "string", **words.get(name, {})},
            "description": text,
        }
        for name, text in BATCH_OPTIONS.items()
    ]


def listing_paths(components: Components, listing: Listing) -> None:
    """A listing and, where it has them, its entries."""
    title = "".join(part.capitalize() for part in listing.name.split("-"))
    items = {"type": "array", "items": components.reference(listing.item)}
    body = {"type": "object", "required": ["items"], "properties": {"items": items}}
    operation = {
        "tags": ["catalogues"],
        "summary": listing.title,
        "description": f"{listing.title}, all of them or those that pass the filters.",
        "operationId": f"list{title}",
        "parameters": components.parameters([listing.filters], {}),
        "responses": responses(_json(body), "The list."),
    }
    components.spec.path(f"/v1/{listing.name}", operations={"get": operation})
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
        "parameters": [place, *components.parameters([listing.entry_filters], {})],
        "responses": responses(_json(components.reference(listing.entry_item or listing.item)), "The entry."),
    }
    components.spec.path(f"/v1/{listing.name}/{{id}}", operations={"get": entry})


def view_path(components: Components, view: View) -> None:
    """A view of a machine, in every form."""
    place = {
        "name": "machine",
        "in": "path",
        "required": True,
        "schema": {"type": "string"},
        "example": "north-bay-2",
        "description": "Id of a machine.",
    }
    drawn = {"schema": {"type": "string"}}
    answer = components.reference(view.document)
    content = {**_json(answer), "text/csv": drawn, "image/svg+xml": drawn, "text/html": drawn}
    operation = {
        "tags": ["charts"],
        "summary": view.title,
        "description": _described(view),
        "operationId": f"getMachine{view.name.capitalize()}",
        "parameters": [place, *components.parameters([view.request], view.example)],
        "responses": responses(content, f"The {view.name}."),
    }
    components.spec.path(f"/v1/machines/{{machine}}/{view.name}", operations={"get": operation})


def file_check_path(components: Components, check: FileCheck) -> None:
    """A check of a file."""
    example = check.example if check.media_type == "application/json" else check.example.encode()
    answer = {"schema": components.reference(check.response), "example": check.answer(example, "us")}
    parameters = components.parameters([check.query], {})
    operation = {
        "tags": ["catalogues"],
        "summary": check.title,
        "description": check.description,
        "operationId": check.operation,
        **({"parameters": parameters} if parameters else {}),
        "requestBody": {
            "required": True,
            "content": {check.media_type: {"schema": dict(check.body), "example": check.example}},
        },
        "responses": responses({"application/json": answer}, "What is wrong with it, if anything."),
    }
    components.spec.path(f"/v1/{check.name}", operations={"post": operation})


def operation_paths(components: Components) -> None:
    """Health, readiness and this document."""
    anything = _json({"type": "object", "additionalProperties": True})
    edition = _json(components.reference(EditionAnswer()))
    for path, name, text, answer in (
        (
            "/v1/edition",
            "getEdition",
            "What this service answers from: a hash, and the parts of it.",
            edition,
        ),
        ("/healthz", "getHealth", "Whether the service is up.", anything),
        ("/readyz", "getReadiness", "Whether the published figures still come out right.", anything),
        ("/openapi.json", "getOpenapi", "This document.", anything),
    ):
        answers = responses(answer, text)
        components.spec.path(
            path,
            operations={
                "get": {
                    "tags": ["operation"],
                    "summary": text,
                    "description": text,
                    "operationId": name,
                    "responses": answers,
                }
            },
        )


def _json(schema: Mapping[str, Any]) -> dict[str, Any]:
    return {"application/json": {"schema": dict(schema)}}


def responses(content: Mapping[str, Any], text: str) -> dict[str, Any]:
    """The responses of an operation: its answer, its refusal, and anything else as a problem."""
    problem = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
    return {
        "200": {"description": text, "content": dict(content)},
        "422": {"description": "Refused, with every reason.", "content": problem},
        "default": {"description": "Failed, as a problem document.", "content": problem},
    }
