"""The OpenAPI document: valid, complete, and telling exactly what the service does."""

import json
import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple
from urllib.parse import quote

import pytest
from contract import (
    DOCUMENT,
    JSON,
    OPERATIONS,
    PROBLEM,
    SCHEMAS,
    assert_as_documented,
    closed_faults,
    example_request,
    examples,
    open_faults,
    parameters,
    resolved,
)
from flask import Flask
from flask.testing import FlaskClient
from openapi_spec_validator import OpenAPIV31SpecValidator
from rows import every_row
from werkzeug.test import TestResponse

from api.http.openapi.components import FULL_ALONE
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from api.registry.families import FAMILIES
from schemas.core.fields import Members
from schemas.core.parts import DETAILS
from schemas.record import Record

GETS = [(path, operation) for method, path, operation in OPERATIONS if method == "get"]
POSTS = [(path, operation) for method, path, operation in OPERATIONS if method == "post"]
BATCHES = {f"/v1/{calculation.name}/batch" for calculation in CALCULATIONS if not calculation.body_only}
CHECKS = {"/v1/profile-check", "/v1/table-check", "/v1/policy-check"}
QUESTIONS = [(path, operation) for path, operation in POSTS if path not in CHECKS | BATCHES]
"""Posts that refuse what is wrong. The check of a file takes anything, and so does a line of a batch:
what is wrong with it is told in its answer."""
OF_ANOTHER_SHOP = {
    f"/v1/{calculation.name}{of}"
    for calculation in CALCULATIONS
    for of in ("", "/batch")
    if calculation.needs_machines or calculation.needs_tables
}
"""Posts whose answer depends on the files of the service: what is shown is that of another shop."""


def alternatives(schema: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """The schemas that a value may be of."""
    branches = [*schema.get("oneOf", ()), *schema.get("anyOf", ())]
    return [found for branch in branches for found in alternatives(resolved(branch))] or [schema]


def body_schema(operation: Mapping[str, Any]) -> Mapping[str, Any]:
    """The schema of a JSON body; of anything where none is taken."""
    schema: Mapping[str, Any] = operation["requestBody"]["content"].get(JSON, {"schema": {}})["schema"]
    return schema


def request_objects(schema: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every object of a request with its JSON Pointer."""
    for each in alternatives(resolved(schema)):
        if each.get("type") == "object":
            yield path, each
        for name, member in each.get("properties", {}).items():
            yield from request_objects(member, f"{path}/{name}")


# the document as such


def test_the_document_served_is_the_document_built(client: FlaskClient) -> None:
    assert client.get("/openapi.json").get_json() == json.loads(json.dumps(DOCUMENT))


def test_document_is_valid_openapi_3_1(client: FlaskClient) -> None:
    served = client.get("/openapi.json").get_json()
    assert served["openapi"].startswith("3.1.")
    assert list(OpenAPIV31SpecValidator(served).iter_errors()) == []


def test_document_and_routes_name_the_same_operations(app: Flask) -> None:
    undocumented = ("start", "docs", "docs-file")
    routed = {
        (method.lower(), re.sub(r"<[^>]+>", "{}", rule.rule))
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
        if rule.endpoint not in undocumented
    }
    assert {(method, re.sub(r"{[^}]+}", "{}", path)) for method, path, _ in OPERATIONS} == routed


def test_operation_ids_are_unique() -> None:
    counted = Counter(operation["operationId"] for _, _, operation in OPERATIONS)
    assert [name for name, times in counted.items() if times > 1] == []


def test_every_operation_and_parameter_says_what_it_is() -> None:
    silent = [path for _, path, operation in OPERATIONS if not operation["description"]]
    silent += [
        f"{path} {parameter['name']}"
        for _, path, operation in OPERATIONS
        for parameter in parameters(operation)
        if not parameter.get("description")
    ]
    assert silent == []


def test_no_component_is_a_numbered_copy_of_another() -> None:
    assert [name for name in SCHEMAS if name.rstrip("0123456789") in SCHEMAS.keys() - {name}] == []


def test_every_component_is_used_and_described() -> None:
    text = json.dumps(DOCUMENT)
    assert [name for name in SCHEMAS if f'"#/components/schemas/{name}"' not in text] == []
    assert [name for name, schema in SCHEMAS.items() if not schema.get("description")] == []


@pytest.mark.parametrize("path, operation", QUESTIONS, ids=[path for path, _ in QUESTIONS])
def test_every_object_of_a_request_is_closed(path: str, operation: Mapping[str, Any]) -> None:
    objects = list(request_objects(body_schema(operation)))
    assert objects
    free = {
        f"/{name}"
        for family in FAMILIES
        for name, field in family.fields().fields.items()
        if isinstance(field, Members)
    }
    open_ones = [at for at, schema in objects if schema.get("additionalProperties") is not False]
    assert set(open_ones) <= free


# answers against their schemas


def test_the_validator_refuses_what_the_document_does_not_say() -> None:
    schema = {"$ref": "#/components/schemas/Problem"}
    asked = {"path": "/v1/pressure", "detail": "full"}
    problem = {"type": "a", "title": "a", "status": 400, "detail": "a", "code": "not_found"}
    problem |= {"service_edition": "a", "asked": asked, "question": None}
    assert open_faults(schema, problem) == closed_faults(schema, problem) == []
    assert open_faults(schema, {**problem, "status": "400"})
    assert not open_faults(schema, {**problem, "more": 1})
    assert closed_faults(schema, {**problem, "more": 1})


# examples


BODY_EXAMPLES = [
    (path, operation, example)
    for path, operation in POSTS
    for example in examples(operation["requestBody"]["content"].get(JSON, {}))
]


@every_row("path, operation", POSTS, ids=[path for path, _ in POSTS])
def test_every_body_has_an_example_and_its_answer(path: str, operation: Mapping[str, Any]) -> None:
    assert examples(next(iter(operation["requestBody"]["content"].values())))
    assert examples(operation["responses"]["200"]["content"][JSON])


@every_row("path, operation, example", BODY_EXAMPLES, ids=[path for path, _, _ in BODY_EXAMPLES])
def test_every_body_example_gets_the_answer_shown(
    plain: FlaskClient, path: str, operation: Mapping[str, Any], example: Any
) -> None:
    assert open_faults(body_schema(operation), example) == []
    response = plain.post(path, json=example)
    assert response.status_code == 200
    first, *_ = [*examples(operation["responses"]["200"]["content"][JSON]), None]
    assert path in OF_ANOTHER_SHOP or of_any_shop(response.get_json()) == of_any_shop(first)
    assert_as_documented(operation, response)


ANSWERS = [
    (f"/v1/{calculation.name}", dict(calculation.example), detail)
    for calculation in CALCULATIONS
    for detail in DETAILS
]


@every_row("path, example, detail", ANSWERS, ids=[f"{path} {detail}" for path, _, detail in ANSWERS])
def test_short_and_full_are_both_shown_and_documented(
    plain: FlaskClient, path: str, example: Any, detail: str
) -> None:
    operation = DOCUMENT["paths"][path]["post"]
    response = plain.post(path, json=example, query_string={"detail": detail})
    assert response.status_code == 200
    assert_as_documented(operation, response)
    shown = operation["responses"]["200"]["content"][JSON]["examples"]
    assert list(shown) == list(DETAILS)
    example = resolved(shown[detail])["value"]
    assert closed_faults(operation["responses"]["200"]["content"][JSON]["schema"], example) == []
    assert path in OF_ANOTHER_SHOP or of_any_shop(response.get_json()) == of_any_shop(example)


def members(schema: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Mapping[str, Any], bool]]:
    """Every member of an answer outside of its lists, with its schema and whether it is required."""
    for each in alternatives(resolved(schema)):
        for name, member in each.get("properties", {}).items():
            yield f"{path}{name}", member, name in each.get("required", ())
            yield from members(member, f"{path}{name}.")


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_what_stands_in_the_full_answer_alone_says_so_and_is_not_required(calculation: Calculation) -> None:
    schema = DOCUMENT["paths"][f"/v1/{calculation.name}"]["post"]["responses"]["200"]["content"][JSON]
    alone = {
        path for path, member, _ in members(schema["schema"]) if FULL_ALONE in member.get("description", "")
    }
    required = {path for path, _, needed in members(schema["schema"]) if needed}
    assert alone
    assert alone & required == set()
    short = {*calculation.response.members("short"), *Record().members("short")}
    assert {path for path in alone if "." not in path} == set(calculation.members) - short


def of_any_shop(answer: Any) -> Any:
    """An answer without the edition of its service, its fingerprint and the machine it names as surer.

    The example is that of a service without machines.
    """
    if isinstance(answer, str):
        return re.sub(r"Use \S+(?: at site \S+)?: [^.]+ of 100 miss the window there\. ", "", answer)
    if isinstance(answer, list):
        return [of_any_shop(each) for each in answer]
    if not isinstance(answer, dict):
        return answer
    of_the_service = ("service_edition", "fingerprint")
    return {name: of_any_shop(value) for name, value in answer.items() if name not in of_the_service}


@every_row("path, operation", GETS, ids=[path for path, _ in GETS])
def test_every_get_with_its_examples_answers_as_documented(
    client: FlaskClient, path: str, operation: Mapping[str, Any]
) -> None:
    asked = example_request(path, operation)
    assert "{" not in asked["path"], "every path parameter has an example"
    response = client.get(**asked)
    assert response.status_code == 200
    assert_as_documented(operation, response)


@pytest.mark.parametrize("path", [path for path, _ in QUESTIONS if "get" in DOCUMENT["paths"][path]])
def test_the_answer_to_a_get_example_is_no_other_than_to_the_post(client: FlaskClient, path: str) -> None:
    asked = example_request(path, DOCUMENT["paths"][path]["get"])
    body: dict[str, Any] = {}
    for name, value in asked["query_string"].items():
        outer, _, member = name.removesuffix("]").partition("[")
        body.setdefault(outer, {})[member] = value
    body = {name: members.get("", members) for name, members in body.items()}
    assert client.post(path, json=body).get_json() == client.get(**asked).get_json()


def shown_values(part: Any, at: str = "#") -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every schema of the document that has an example of its own."""
    if isinstance(part, list):
        part = dict(enumerate(part))
    if isinstance(part, dict):
        if "example" in part and {"type", "oneOf", "anyOf", "$ref"} & part.keys():
            yield at, part
        for name, each in part.items():
            yield from shown_values(each, f"{at}/{name}")


SHOWN = list(shown_values(SCHEMAS))


@every_row("at, schema", SHOWN, ids=[at for at, _ in SHOWN])
def test_every_example_of_a_member_is_allowed_by_its_schema(at: str, schema: Mapping[str, Any]) -> None:
    assert open_faults({**schema, "example": None}, schema["example"]) == []


# every answer


ENTRIES = [path for path in DOCUMENT["paths"] if "{id}" in path]


@pytest.mark.parametrize("path", ENTRIES)
def test_every_entry_of_a_listing_answers_as_documented(client: FlaskClient, path: str) -> None:
    listing, operation = path.removesuffix("/{id}"), DOCUMENT["paths"][path]["get"]
    items = client.get(listing).get_json()["items"]
    names = [item[next(iter(item))] for item in items]
    assert names
    for name in names:
        response = client.get(f"{listing}/{quote(name, safe='')}")
        assert response.status_code == 200, name
        assert_as_documented(operation, response)


JOINT = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/4 in",
    "pin_bore": "2-13/16 in",
}
JOB = {"machine": "north-bay-2", "operation": "make_up", "thread_hand": "right", "arm_position": "square"}
STATED = {
    **JOB,
    "family": "stated",
    "torque_target": "20000 ft-lb",
    "torque_source": "sheet 12",
    "torque_tolerance": 0.05,
}
TOOL_JOINT = {**JOINT, "component": "tool_joint", "box_outside_diameter": "6 5/8 in", "pin_bore": "3.5 in"}
YIELD = {"pin_yield_strength": "110000 psi", "box_yield_strength": "110000 psi"}
ROTARY, PRESSURE, CONVERSION = "/v1/torque/rotary-shouldered", "/v1/pressure", "/v1/conversion"
ANSWERED = [
    (ROTARY, JOINT),
    (ROTARY, {**JOINT, "steps": True, "units": "si"}),
    (ROTARY, {**JOINT, "compound_friction_factor": 1.15, "units": "metric", "torque_unit": "kgf.m"}),
    (ROTARY, {**JOINT, "basis": "table", "steps": True}),
    (ROTARY, {**JOINT, **YIELD}),
    (ROTARY, {**TOOL_JOINT, "steps": True}),
    (ROTARY, {**TOOL_JOINT, "torque_tolerance": 0.1, "edition": "1998"}),
    (PRESSURE, STATED),
    (PRESSURE, {**STATED, "steps": True, "units": "si"}),
    (PRESSURE, {**STATED, "operation": "break_out", "break_out_ratio": 1.2}),
    (PRESSURE, {**STATED, "arm_position": "unknown", "torque_tolerance": 0.1}),
    (PRESSURE, {**STATED, "arm_position": "46 in", "steps": True}),
    (PRESSURE, {**JOB, **JOINT, "family": "rotary_shouldered", "steps": True}),
    (CONVERSION, {"quantity": {"value": 1, "unit": "kN.m"}, "to": "lbf.ft", "steps": True}),
    (CONVERSION, {"quantity": "20 degC", "to": "degF", "units": "metric"}),
]


@pytest.mark.parametrize("path, body", ANSWERED)
def test_every_answer_is_as_documented(client: FlaskClient, path: str, body: Mapping[str, Any]) -> None:
    operation = DOCUMENT["paths"][path]["post"]
    assert open_faults(body_schema(operation), body) == []
    response = client.post(path, json=body)
    assert response.status_code == 200, response.text
    assert_as_documented(operation, response)


PROBLEMS = [
    ("get", ROTARY, {}, 422, "missing_field"),
    ("get", ROTARY, {"query_string": {**JOINT, "pin_bore": "2.8125"}}, 422, "bare_number"),
    ("get", ROTARY, {"query_string": JOINT, "headers": {"Accept": "image/png"}}, 406, "not_acceptable"),
    ("get", ROTARY, {"query_string": {**JOINT, "format": "text"}}, 422, "answer_required"),
    ("get", ROTARY, {"query_string": "connection=NC50&connection=NC46"}, 422, "duplicate_member"),
    ("post", ROTARY, {"json": {}}, 422, "missing_field"),
    ("post", ROTARY, {"json": []}, 422, "not_an_object"),
    ("post", ROTARY, {"json": {**JOINT, "pin_bore": "6 in"}}, 422, "impossible_geometry"),
    ("post", ROTARY, {"json": {**JOINT, "connection": None, "x": 1}}, 422, "several_faults"),
    ("post", ROTARY, {"data": "{", "content_type": JSON}, 400, "malformed_json"),
    ("post", ROTARY, {"data": b'"\xff"', "content_type": JSON}, 400, "not_utf8"),
    ("post", ROTARY, {"data": '{"a":1,"a":1}', "content_type": JSON}, 400, "duplicate_member"),
    ("post", ROTARY, {"data": "[" * 5000, "content_type": JSON}, 400, "nested_too_deep"),
    ("post", ROTARY, {"data": "{}", "content_type": "text/plain"}, 415, "unsupported_media_type"),
    ("post", ROTARY, {"data": " " * 1048577, "content_type": JSON}, 413, "body_too_large"),
    ("post", PRESSURE, {"json": {**STATED, "machine": "none"}}, 422, "unknown_machine"),
    ("post", PRESSURE, {"json": {**STATED, "machine": {}}}, 422, "missing_field"),
    ("post", PRESSURE, {"json": {**STATED, "torque_target": "900 kN.m"}}, 422, "several_faults"),
    ("post", CONVERSION, {"json": {"quantity": "1 in", "to": "psi"}}, 422, "wrong_kind"),
    ("get", "/v1/connections", {"query_string": {"colour": "red"}}, 422, "unknown_field"),
    ("get", "/v1/connections/{id}", {"path": "/v1/connections/NC999"}, 404, "not_found"),
    ("get", "/v1/machines/{id}", {"path": "/v1/machines/a/b"}, 404, "not_found"),
    ("get", "/healthz", {"query_string": {"a": "1"}}, 422, "unknown_field"),
    ("get", "/readyz", {"method": "DELETE"}, 405, "method_not_allowed"),
]


@every_row("method, path, request_, status, code", PROBLEMS)
def test_every_problem_is_as_documented(
    client: FlaskClient, method: str, path: str, request_: Mapping[str, Any], status: int, code: str
) -> None:
    response = client.open(**{"path": path, "method": method.upper(), **request_})
    assert (response.status_code, response.mimetype) == (status, PROBLEM)
    assert response.get_json()["code"] == code
    assert_as_documented(DOCUMENT["paths"][path][method], response)


# limits


class Probe(NamedTuple):
    """A number at the limit of a field: where it stands, and whether it is to be accepted."""

    where: str
    value: float
    accepted: bool
    request: Mapping[str, Any]


BOUNDS = {
    "minimum": (True, -math.inf),
    "maximum": (True, math.inf),
    "exclusiveMinimum": (False, math.inf),
    "exclusiveMaximum": (False, -math.inf),
}
"""Whether the bound itself is taken, and in which direction lies the neighbour for which it is otherwise."""


def limits(schema: Mapping[str, Any]) -> Iterator[tuple[float, bool]]:
    """Every value at a bound of a schema and one step from it, and whether the schema takes it."""
    for name, (taken, towards) in BOUNDS.items():
        if name in schema:
            yield float(schema[name]), taken
            yield math.nextafter(schema[name], towards), not taken


Path = tuple[str, ...]


def numbers(
    schema: Mapping[str, Any], path: Path = (), words: Mapping[Path, str] | None = None
) -> Iterator[tuple[Path, Any, Mapping[Path, str]]]:
    """Every number with its path, in all alternatives of a schema, and the words that choose between them."""
    for each in alternatives(resolved(schema)):
        if "number" in each.get("type", ()):
            yield path, each, words or {}
        members = each.get("properties", {})
        fixed = {
            (*path, name): part["enum"][0] for name, part in members.items() if len(part.get("enum", ())) == 1
        }
        for name, member in members.items():
            yield from numbers(member, (*path, name), {**(words or {}), **fixed})


def families(schema: Mapping[str, Any]) -> list[tuple[dict[str, Any], Mapping[str, Any]]]:
    """What a body must have to be read with a schema, and that schema."""
    discriminator = schema.get("discriminator")
    if discriminator is None:
        return [({}, schema)]
    name, mapping = discriminator["propertyName"], discriminator["mapping"]
    return [({name: word}, resolved({"$ref": reference})) for word, reference in mapping.items()]


def within(path: Path, value: float, words: Mapping[Path, str]) -> dict[str, Any]:
    """A body with nothing but a value at a path, and some words; what it lacks is told besides."""
    body: dict[str, Any] = {}
    for at, member in {**words, path: value}.items():
        inner = body
        for name in at[:-1]:
            inner = inner.setdefault(name, {})
        inner[at[-1]] = member
    return body


def with_query(request: Mapping[str, Any], name: str, value: str) -> dict[str, Any]:
    """A request with one more parameter in its query, of the family that has it."""
    query = dict(request["query_string"])
    families = [each.key for each in FAMILIES if name in each.fields().fields]
    if "family" in query and families:
        query["family"] = families[0]
    return {**request, "query_string": {**query, name: value}}


BODY_PROBES = [
    Probe("/" + "/".join(at), value, accepted, {"path": path, "json": {**within(at, value, words), **family}})
    for path, operation in POSTS
    for family, schema in families(body_schema(operation))
    for at, number, words in numbers(schema)
    for value, accepted in limits(number)
]
QUERY_PROBES = [
    Probe(
        parameter["name"],
        value,
        accepted,
        with_query(example_request(path, operation), parameter["name"], repr(value)),
    )
    for path, operation in GETS
    for parameter in parameters(operation)
    for value, accepted in limits(parameter["schema"])
]
BEYOND = {
    "out_of_range", "implausible_friction_factor", "implausible_friction", "implausible_nut_factor",
}  # fmt: skip
UNREAD = {"not_a_number", "decimal_comma", "not_a_choice", "not_a_flag", "unknown_field"}


def named(probes: list[Probe]) -> list[str]:
    return [f"{probe.request['path']} {probe.where} {probe.value!r}" for probe in probes]


def codes_at(response: TestResponse, member: str, where: str) -> set[str]:
    """The codes of the faults that a refusal, or the check of a file, tells at one place."""
    assert response.status_code in (200, 422), response.text
    told = response.get_json()
    faults = told.get("errors", ()) if response.status_code == 422 else told.get("faults", ())
    return {error["code"] for error in faults if error.get(member) == where}


def assert_limit(codes: set[str], accepted: bool) -> None:
    """A value is taken, whatever else may be said of it, or refused for its size alone."""
    if accepted:
        assert codes.isdisjoint(BEYOND | UNREAD)
    else:
        assert codes
        assert codes <= BEYOND


@every_row("where, value, accepted, request_", BODY_PROBES, ids=named(BODY_PROBES))
def test_limits_of_a_body_are_those_documented(
    client: FlaskClient, where: str, value: float, accepted: bool, request_: Mapping[str, Any]
) -> None:
    assert_limit(codes_at(client.post(**request_), "pointer", where), accepted)


@every_row("where, value, accepted, request_", QUERY_PROBES, ids=named(QUERY_PROBES))
def test_limits_of_a_query_are_those_documented(
    client: FlaskClient, where: str, value: float, accepted: bool, request_: Mapping[str, Any]
) -> None:
    assert_limit(codes_at(client.get(**request_), "parameter", where), accepted)


def test_limits_are_probed_down_to_the_machine_profile() -> None:
    probed = {probe.where for probe in BODY_PROBES}
    assert {"/compound_friction_factor", "/machine/efficiency/low"} <= probed
    assert {probe.where for probe in QUERY_PROBES} >= {"compound_friction_factor", "grip_friction"}


def test_a_number_or_a_flag_of_a_body_may_be_text_and_that_of_an_answer_never_is() -> None:
    schemas, paths = DOCUMENT["components"]["schemas"], DOCUMENT["paths"]
    asked = parameters(paths["/v1/torque/rotary-shouldered"]["get"])
    query = {each["name"]: each["schema"] for each in asked}
    for name, given in (("compound_friction_factor", "1.05"), ("low_torque_face", "no")):
        field = schemas["RotaryShoulderedRequestBody"]["properties"][name]
        assert open_faults(field, given) == []
        assert open_faults(field, [given])
        assert query[name]["type"] in ("number", "boolean")
    answer = schemas["RotaryShoulderedAnswer"]["properties"]["torsional_yield_friction_factor"]
    assert open_faults(answer, 2.5) == []
    assert open_faults(answer, "2.5")


# words


@pytest.mark.parametrize("given", [8, 10, 8.0, "8", "10.0", 9, 7, 12, 8.5])
def test_the_threads_of_a_round_thread_are_8_or_10(client: FlaskClient, given: Any) -> None:
    field = SCHEMAS["RoundThreadJointBody"]["properties"]["threads_per_inch"]
    response = client.post("/v1/torque/round-thread", json={"threads_per_inch": given})
    taken = "/threads_per_inch" not in {error["pointer"] for error in response.get_json()["errors"]}
    assert taken == (open_faults(field, given) == [])


def enums(schema: Mapping[str, Any]) -> Mapping[str, set[Any]]:
    """The closed lists of an object, by its members."""
    return {name: set(each["enum"]) for name, each in schema["properties"].items() if "enum" in each}


@pytest.mark.parametrize("path", sorted(BATCHES))
def test_a_closed_list_of_a_body_is_one_in_a_line_of_a_batch(path: str) -> None:
    bodies = alternatives(resolved(body_schema(DOCUMENT["paths"][path.removesuffix("/batch")]["post"])))
    lines = resolved(body_schema(DOCUMENT["paths"][path]["post"]))["properties"]["lines"]
    line = enums(resolved(lines["items"]["allOf"][0]))
    for name in {name for body in bodies for name in enums(body)} - {"detail"}:
        assert line[name] == set().union(*(enums(body).get(name, set()) for body in bodies)), name


def words(schema: Mapping[str, Any]) -> list[str]:
    """All texts that a schema of a few words allows."""
    return ["true", "false"] if schema.get("type") == "boolean" else [*map(str, schema.get("enum", []))]


WORDS = [
    (
        f"{method} {path}",
        parameter["name"],
        word,
        {"method": method.upper(), **with_query(example_request(path, operation), parameter["name"], word)},
    )
    for method, path, operation in OPERATIONS
    for parameter in parameters(operation)
    if words(parameter["schema"])
    for word in (*words(parameter["schema"]), "maybe", "")
]


@every_row("operation, name, word, request_", WORDS, ids=[" ".join(each[:3]) for each in WORDS])
def test_the_words_of_a_query_are_those_documented(
    client: FlaskClient, operation: str, name: str, word: str, request_: Mapping[str, Any]
) -> None:
    response = client.open(**request_)
    errors = response.get_json()["errors"] if response.mimetype == PROBLEM else []
    codes = {
        error["code"] for error in errors if name in (error.get("parameter"), error.get("pointer", "")[1:])
    }
    if word in ("maybe", ""):
        assert codes & {"not_a_choice", "not_a_flag", "not_a_number"}
    else:
        assert codes.isdisjoint(UNREAD)
