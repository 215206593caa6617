"""The paths of the OpenAPI document."""

from collections.abc import Mapping
from typing import Any

from api import readiness
from api.answers.shop import Shop
from api.batch.example import example_table
from api.http.batch import SEPARATORS, example_answer
from api.http.openapi.components import Components, identifier
from api.http.operation import compared, edition_of, ready, up
from api.http.single import PLAIN_TEXT
from api.registry.calculation import Calculation
from api.registry.example_shop import example_shop
from api.registry.file_check import FileCheck
from api.registry.listing import Listing
from api.registry.tags import RUN_THE_SERVICE
from api.registry.view import View
from schemas.core.faults import load
from schemas.core.parts import DETAILS
from schemas.core.quantity_fields import PORTION, PRESENTATION
from schemas.edition import EditionAnswer
from schemas.operation import HealthPart, ReadinessPart

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
CARRIED = {"order": "W-17"}
"""What a line of an example carries along."""
JSON = "application/json"
OTHER_FORMS = "x-other-forms"
"""Member of a response that names the media types of its other forms. A program chooses the form and how it
reads it together; named as content beside JSON, they would make every typed answer *this or text*."""
TEXT_FORM = {"text/plain": "With format=text: the value that answer names alone, or those of answers."}
BATCH_FORMS = {
    "application/jsonl": "With format=jsonl: a JSON object a line, the summary last.",
    "text/csv": "With format=csv: a table, its columns those of the full or the short answer.",
    "text/tab-separated-values": "With format=tsv: the same, separated by tabs.",
}
EDITION = "What this service answers from, with its hash."
READINESS = "Whether the published figures still come out right."
VIEW_FORMS = {
    "text/csv": "With format=csv: a table of every mark.",
    "image/svg+xml": "With format=svg: a drawing.",
    "text/html": "With format=html: a page to print.",
}


def calculation_paths(components: Components, calculation: Calculation) -> None:
    """GET and POST of a calculation, and its batch."""
    name, answer = f"/v1/{calculation.name}", components.answer(calculation)
    answered = {"schema": answer, "examples": _answer_examples(components, calculation)}
    post = _post(components, calculation, answered)
    if calculation.body_only:
        components.spec.path(name, operations={"post": post})
        return
    components.spec.path(name, operations={"get": _get(components, calculation, answered), "post": post})
    components.spec.path(f"{name}/batch", operations={"post": _batch(components, calculation)})


def _described(asked: Calculation | View) -> str:
    """Its description, and the ids of the notices that its answers do not repeat."""
    ids = ", ".join(notice.id for notice in asked.notices)
    return f"{asked.description} Standing notices: {ids}." if ids else asked.description


def _shop(calculation: Calculation) -> Shop:
    return example_shop() if calculation.needs_machines or calculation.needs_tables else Shop()


def _answer_examples(components: Components, calculation: Calculation) -> dict[str, Any]:
    """The answer to the example of a calculation, short and full."""
    name, asked = identifier(calculation), dict(calculation.example)
    return {
        detail: components.example(
            f"{name}{detail.capitalize()}",
            f"The {detail} answer.",
            calculation.answer(asked, _shop(calculation), "us", detail),
        )
        for detail in DETAILS
    }


def _forms(components: Components, calculation: Calculation) -> list[str]:
    """The parameters that say how an answer is shown."""
    return components.shown(PORTION, PRESENTATION, *([] if calculation.body_only else [PLAIN_TEXT]))


def _get(components: Components, calculation: Calculation, answered: Mapping[str, Any]) -> dict[str, Any]:
    query = {**calculation.example, **(calculation.query_example or {})}
    fields: list[Any] = components.parameters(calculation.requests, query)
    return {
        "tags": [calculation.tag.name],
        "summary": calculation.title,
        "operationId": f"get{identifier(calculation)}",
        "description": _described(calculation),
        "parameters": fields + _forms(components, calculation),
        "responses": responses(answered, "Answer.", TEXT_FORM),
    }


def _post(components: Components, calculation: Calculation, answered: Mapping[str, Any]) -> dict[str, Any]:
    asked = {JSON: {"schema": components.request(calculation), "example": dict(calculation.example)}}
    return {
        "tags": [calculation.tag.name],
        "summary": calculation.title,
        "operationId": f"compute{identifier(calculation)}",
        "description": f"{_described(calculation)} {SHOWN_ONCE}",
        "parameters": _forms(components, calculation),
        "requestBody": {"required": True, "content": asked},
        "responses": responses(answered, "Answer.", {} if calculation.body_only else TEXT_FORM),
    }


def _batch(components: Components, calculation: Calculation) -> dict[str, Any]:
    lines = [{**CARRIED, **calculation.example}]
    example = {"lines": lines, "defaults": {"units": "us"}}
    answer = {
        "schema": components.batch_answer(calculation),
        "example": example_answer(calculation, lines, _shop(calculation)),
    }
    return {
        "tags": [calculation.tag.name],
        "summary": f"{calculation.title}: many at once",
        "description": f"{_described(calculation)} {EACH_LINE}",
        "operationId": f"batch{identifier(calculation)}",
        "parameters": [*_batch_options(), *components.shown(PORTION)],
        "requestBody": {
            "required": True,
            "content": {
                JSON: {"schema": components.batch_request(calculation), "example": example},
                **_tables(calculation),
            },
        },
        "responses": responses(answer, "Every line, answered or refused.", BATCH_FORMS),
    }


def _tables(calculation: Calculation) -> dict[str, Any]:
    """The body of a batch as a table, by its media type."""
    schema = {"type": "string", "minLength": 1}
    return {
        media: {"schema": schema, "example": example_table(calculation, CARRIED, separator)}
        for media, separator in SEPARATORS.items()
    }


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
    beside = listing.beside and f" {listing.beside}"
    about = "The entries that pass the filters."
    items = {"type": "array", "description": about, "items": components.reference(listing.item)}
    body = {"type": "object", "required": ["items"], "properties": {"items": items}}
    shown = listing.items({}, example_shop(), "us")[:2]
    operation = {
        "tags": [listing.tag.name],
        "summary": listing.title,
        "description": f"{listing.title}, all of them or those that pass the filters.{beside}",
        "operationId": f"list{title}",
        "parameters": components.parameters({"filters": listing.filters}, {}),
        "responses": responses({"schema": body, "example": {"items": shown}}, "The list."),
    }
    components.spec.path(f"/v1/{listing.name}", operations={"get": operation})
    if listing.entry is None:
        return
    place = _place("id", listing.example_entry, "Designation, id or code.")
    item = components.reference(listing.entry_item or listing.item)
    example = listing.entry(str(listing.example_entry), {}, example_shop(), "us")
    entry = {
        "tags": [listing.tag.name],
        "summary": f"{listing.title}: one entry",
        "description": f"{listing.title}: one entry.{beside}",
        "operationId": f"get{title}Entry",
        "parameters": [place, *components.parameters({"filters": listing.entry_filters}, {})],
        "responses": responses({"schema": item, "example": example}, "The entry."),
    }
    components.spec.path(f"/v1/{listing.name}/{{id}}", operations={"get": entry})


def _place(name: str, example: Any, text: str) -> dict[str, Any]:
    """A parameter that stands in the path."""
    shown = {"schema": {"type": "string"}, "example": example, "description": text}
    return {"name": name, "in": "path", "required": True, **shown}


def view_path(components: Components, view: View) -> None:
    """A view of a machine, in every form."""
    machine, shop = "north-bay-2", example_shop()
    place = _place("machine", machine, "Id of a machine.")
    values, given = load(view.request, view.example), {"machine": machine, **view.example}
    example = view.answer(shop.machine(machine), values, given, shop, "us")
    answer = {"schema": components.reference(view.document), "example": example}
    operation = {
        "tags": [view.tag.name],
        "summary": view.title,
        "description": _described(view),
        "operationId": f"getMachine{view.name.capitalize()}",
        "parameters": [place, *components.parameters({"request": view.request}, view.example)],
        "responses": responses(answer, f"The {view.name}.", VIEW_FORMS),
    }
    components.spec.path(f"/v1/machines/{{machine}}/{view.name}", operations={"get": operation})


def file_check_path(components: Components, check: FileCheck) -> None:
    """A check of a file."""
    example = check.example if check.media_type == JSON else check.example.encode()
    answer = {"schema": components.reference(check.response), "example": check.answer(example, "us")}
    parameters = components.parameters({"query": check.query}, {})
    operation = {
        "tags": [check.tag.name],
        "summary": check.title,
        "description": check.description,
        "operationId": check.operation,
        **({"parameters": parameters} if parameters else {}),
        "requestBody": {
            "required": True,
            "content": {check.media_type: {"schema": dict(check.body), "example": check.example}},
        },
        "responses": responses(answer, "What is wrong with it, if anything."),
    }
    components.spec.path(f"/v1/{check.name}", operations={"post": operation})


def operation_paths(components: Components) -> None:
    """The edition, health, readiness and this document."""
    shop = example_shop()
    state = ready(compared(readiness.check(), shop))
    for path, name, text, schema, example in (
        ("/v1/edition", "getEdition", EDITION, EditionAnswer(), edition_of(shop)),
        ("/healthz", "getHealth", "Whether the service is up.", HealthPart(), up()),
        ("/readyz", "getReadiness", READINESS, ReadinessPart(), state),
    ):
        answer = {"schema": components.reference(schema), "example": example}
        _operation_path(components, path, name, text, answer)
    itself = {"schema": {"type": "object", "additionalProperties": True}}
    _operation_path(components, "/openapi.json", "getOpenapi", "This document.", itself)


def _operation_path(
    components: Components, path: str, name: str, text: str, answer: Mapping[str, Any]
) -> None:
    operation = {
        "tags": [RUN_THE_SERVICE.name],
        "summary": text,
        "description": text,
        "operationId": name,
        "responses": responses(answer, text),
    }
    components.spec.path(path, operations={"get": operation})


def responses(
    answer: Mapping[str, Any], text: str, others: Mapping[str, str] | None = None
) -> dict[str, Any]:
    """The responses of an operation: its answer, its refusal, and anything else as a problem.

    Args:
        answer: schema and examples of the answer as JSON.
        text: what it is.
        others: its other forms, by media type.
    """
    problem = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
    answered: dict[str, Any] = {"description": text, "content": {JSON: dict(answer)}}
    if others:
        answered["description"] = " ".join((text, "As JSON.", *others.values()))
        answered[OTHER_FORMS] = dict(others)
    return {
        "200": answered,
        "422": {"description": "Refused, with every reason.", "content": problem},
        "default": {"description": "Failed, as a problem document.", "content": problem},
    }
