"""What the contract tells of members: what each is, which words it may have, and that a count is whole."""

import csv
from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest
from contract import (
    DOCUMENT,
    JSON,
    OPERATIONS,
    OTHER_FORMS,
    SCHEMAS,
    example_request,
    examples,
    parameters,
    resolved,
    response_schema,
    told,
)
from flask.testing import FlaskClient
from rows import every_row

from api.registry.calculations import CALCULATIONS
from api.registry.families import FAMILIES
from api.registry.listing import Listing
from api.registry.listings import LISTINGS
from api.registry.tags import TAGS
from schemas.core.parts import DETAILS

ORDERS = Path(__file__).parents[3] / "deploy" / "demo" / "work_orders.csv"
AMOUNTS = {name for name in SCHEMAS if name.endswith("Shown")}
"""Components that say no more of a member than its kind."""


# descriptions


def is_described(member: Mapping[str, Any]) -> bool:
    """Whether a member says what it is, by itself or by what it refers to."""
    name = member.get("$ref", "").rpartition("/")[2]
    return bool(member.get("description")) or (name not in {*AMOUNTS, ""} and "description" in SCHEMAS[name])


def objects(part: Any, at: str = "#") -> Iterable[tuple[str, Mapping[str, Any]]]:
    """Every object with members, wherever it stands in the document."""
    if isinstance(part, list):
        part = dict(enumerate(part))
    if isinstance(part, dict):
        if isinstance(part.get("properties"), dict) and "type" in part:
            yield at, part
        for name, each in part.items():
            if name not in ("example", "examples"):
                yield from objects(each, f"{at}/{name}")


def test_every_member_of_a_request_and_an_answer_is_described() -> None:
    found = dict(objects(DOCUMENT))
    assert len(found) > len(SCHEMAS) / 2
    silent = [
        f"{at} {name}"
        for at, each in found.items()
        for name, member in each["properties"].items()
        if not is_described(member)
    ]
    assert silent == []


def test_a_parameter_of_some_families_begins_with_theirs() -> None:
    of_bolts = parameters(DOCUMENT["paths"]["/v1/pressure"]["get"])
    said = {each["name"]: each["description"] for each in of_bolts}
    for family in FAMILIES:
        own = set(family.fields().fields)
        shared = set().union(*(each.fields().fields for each in FAMILIES if each is not family))
        for name in own - shared:
            assert said[name].startswith(f"{family.title}: "), name
    assert said["operation"] == "What is done to the joint."


def test_a_question_with_a_neighbour_names_it() -> None:
    for calculation in CALCULATIONS:
        assert " ask /v1/" in calculation.description, calculation.name


def test_a_look_up_with_something_to_ask_beside_names_it() -> None:
    for listing in LISTINGS:
        said = [DOCUMENT["paths"][path]["get"]["description"] for path in paths_of(listing)]
        nothing_beside = listing.name in ("sources", "problems", "standing-notices")
        assert [" ask /v1/" in each for each in said] == [not nothing_beside] * len(said), listing.name


def paths_of(listing: Listing) -> list[str]:
    """The paths of a look-up: of all, and of one where that has its own."""
    return [f"/v1/{listing.name}", *([f"/v1/{listing.name}/{{id}}"] if listing.entry else [])]


def test_every_path_that_a_description_names_is_one() -> None:
    for _, _, operation in OPERATIONS:
        for word in operation["description"].split():
            if word.startswith("/v1/"):
                assert word.rstrip(".,;:") in {*DOCUMENT["paths"], "/v1/torque"}, word


def referred(part: Any) -> Iterable[str]:
    """The components that a part of the document refers to."""
    if isinstance(part, dict):
        if isinstance(part.get("$ref"), str):
            yield part["$ref"].rpartition("/")[2]
        part = list(part.values())
    if isinstance(part, list):
        for each in part:
            yield from referred(each)


def test_no_component_refers_to_itself() -> None:
    """The page for people puts in the place of a reference what it refers to."""
    left = {name: set(referred(schema)) for name, schema in SCHEMAS.items()}
    while ends := {name for name, others in left.items() if not others & left.keys()}:
        left = {name: others for name, others in left.items() if name not in ends}
    assert left == {}


# order


def test_subjects_are_in_the_order_of_the_work_and_the_main_question_is_first() -> None:
    assert [tag["name"] for tag in DOCUMENT["tags"]] == [tag.name for tag in TAGS]
    assert all(tag["description"].endswith(".") for tag in DOCUMENT["tags"])
    in_order = [operation["tags"] for _, _, operation in OPERATIONS]
    assert in_order == sorted(in_order, key=lambda tags: [tag.name for tag in TAGS].index(*tags))
    assert next(iter(DOCUMENT["paths"])) == "/v1/pressure"


def test_a_batch_stands_beside_its_question() -> None:
    paths = list(DOCUMENT["paths"])
    for at, path in enumerate(paths):
        if path.endswith("/batch"):
            assert paths[at - 1] == path.removesuffix("/batch")


def test_the_document_says_once_that_it_knows_no_accounts() -> None:
    assert DOCUMENT["security"] == []
    assert [path for _, path, operation in OPERATIONS if "security" in operation] == []


# forms


FORMS = [
    (path, method, form, operation)
    for method, path, operation in OPERATIONS
    for form in operation["responses"]["200"].get(OTHER_FORMS, ())
]
NAMES = {
    "text/plain": "text",
    "application/jsonl": "jsonl",
    "text/csv": "csv",
    "text/tab-separated-values": "tsv",
    "image/svg+xml": "svg",
    "text/html": "html",
}


def test_a_typed_answer_is_json_alone() -> None:
    assert {tuple(each["responses"]["200"]["content"]) for _, _, each in OPERATIONS} == {(JSON,)}


@every_row("path, method, form, operation", FORMS, ids=[" ".join(each[:3]) for each in FORMS])
def test_every_other_form_that_is_named_is_given(
    client: FlaskClient, path: str, method: str, form: str, operation: Mapping[str, Any]
) -> None:
    asked = example_request(path, operation)
    alone = {"answer": "service_edition"} if form == "text/plain" else {}
    query = {**asked.pop("query_string"), "format": NAMES[form], **alone}
    response = client.open(**asked, method=method.upper(), query_string=query)
    assert (response.status_code, response.mimetype) == (200, form), response.text[:500]


# words and counts


COUNTS = {
    "able_count", "answered", "bolt_count", "compared", "counted", "degrees_of_freedom", "fault_count",
    "given", "left_out", "limit", "line_number", "links", "machines", "number", "offset", "refused",
    "rising_runs", "row", "rows", "rows_compared", "run", "slips", "standing_apart", "stop", "strokes",
    "tail_links", "tools_needed", "unable_count", "uses",
}  # fmt: skip
"""Members that are whole by nature, where they are numbers at all."""
OPEN = {
    "code": "codes of findings and notes, of which later versions have more",
    "name": "what is checked, limited or in doubt, which kinds of machines add to; and names of the shop",
    "rod_grade": "a request may write it as the trade does",
    "unit": "any spelling in a request, and two codes of a slope",
    "detail": "what is wrong, in a refusal",
    "arm_position": "a word, or a length",
    "position": "a word, or a length",
    "reason": "a sentence, and the parts that changed since an answer was given",
    "threads_per_inch": "a number of a request may be text",
}
"""Names of members whose text is free in one place and one of a few words in another, and why."""


def branches(member: Mapping[str, Any]) -> Iterable[Mapping[str, Any]]:
    """A member, what it refers to, and what it may be."""
    member = resolved(member)
    yield member
    for name in ("oneOf", "anyOf"):
        for each in member.get(name, ()):
            yield from branches(each)
    if "items" in member:
        yield from branches(member["items"])


def members() -> Iterable[tuple[str, str, Mapping[str, Any]]]:
    """Every member of a component, with each schema it may be of."""
    for component, schema in SCHEMAS.items():
        for name, member in schema.get("properties", {}).items():
            for each in branches(member):
                yield component, name, each


def types(schema: Mapping[str, Any]) -> set[str]:
    """The types that a schema allows."""
    kinds = schema.get("type", ())
    return {kinds} if isinstance(kinds, str) else set(kinds)


def test_a_count_is_an_integer_wherever_it_stands() -> None:
    kinds = {(name, kind) for _, name, each in members() if name in COUNTS for kind in types(each)}
    assert {name for name, kind in kinds if kind == "integer"} == COUNTS
    assert {name for name, kind in kinds if kind == "number"} == set()


def test_a_word_that_is_one_of_a_few_in_one_place_is_so_in_all() -> None:
    text = [
        (name, each.keys()) for _, name, each in members() if types(each) in ({"string"}, {"string", "null"})
    ]
    free = {name for name, said in text if not {"enum", "format"} & said}
    closed = {name for _, name, each in members() if "enum" in each}
    assert free & closed == OPEN.keys()
    assert len(closed) > 70


def wrong(schema: Mapping[str, Any], answer: Any) -> list[str]:
    """The words of an answer that are none of its contract, and counts that are not whole in JSON."""
    found = []
    for at, member, value in told(schema, answer):
        if "enum" in member and value not in member["enum"]:
            found.append(f"{at}: {value!r}")
        if types(member) & {"integer"} and types(member) <= {"integer", "null"} and isinstance(value, float):
            found.append(f"{at}: {value!r} is no integer in JSON")
    return found


ASKED = [(path, method, operation, detail) for method, path, operation in OPERATIONS for detail in DETAILS]


@every_row("path, method, operation, detail", ASKED, ids=[f"{each[1]} {each[0]} {each[3]}" for each in ASKED])
def test_the_words_and_counts_of_every_example_are_those_of_the_contract(
    client: FlaskClient, path: str, method: str, operation: Mapping[str, Any], detail: str
) -> None:
    asked = example_request(path, operation)
    if "detail" in {each["name"] for each in parameters(operation)}:
        asked["query_string"] = {**asked["query_string"], "detail": detail}
    response = client.open(**asked, method=method.upper())
    assert response.status_code == 200
    assert wrong(response_schema(operation, 200, response.mimetype), response.get_json()) == []


@pytest.mark.parametrize("detail", DETAILS)
def test_the_words_and_counts_of_the_work_orders_are_those_of_the_contract(
    client: FlaskClient, detail: str
) -> None:
    """All 500 orders of the demo, asked as the table that they are."""
    orders = ORDERS.read_text("utf-8")
    how = {"query_string": {"format": "json", "detail": detail}, "content_type": "text/csv"}
    answer = client.post("/v1/pressure/batch", data=orders, **how).get_json()
    schema = response_schema(DOCUMENT["paths"]["/v1/pressure/batch"]["post"], 200, JSON)
    assert wrong(schema, answer) == []
    assert len(answer["lines"]) == len(list(csv.reader(orders.splitlines()))) - 1
    seen = Counter(at for at, member, _ in told(schema, answer) if "enum" in member)
    assert {"PressureBatchLine.line_status", "PressureAnswer.cylinder_side"} <= seen.keys()


def test_a_word_that_is_none_of_a_few_and_a_count_that_is_not_whole_are_found() -> None:
    line = {"line_number": 1.0, "line_status": "done", "problem_code": None, "carried": {}}
    batch = {"lines": [line], "summary": {}}
    schema = response_schema(DOCUMENT["paths"]["/v1/pressure/batch"]["post"], 200, JSON)
    assert wrong(schema, batch) == [
        "PressureBatchLine.line_number: 1.0 is no integer in JSON",
        "PressureBatchLine.line_status: 'done'",
    ]


# batches


@pytest.mark.parametrize("path", [path for path in DOCUMENT["paths"] if path.endswith("/batch")])
def test_a_line_of_a_batch_is_typed_as_its_question_and_its_answer(path: str) -> None:
    batch, single = (DOCUMENT["paths"][each]["post"] for each in (path, path.removesuffix("/batch")))
    asked = resolved(batch["requestBody"]["content"][JSON]["schema"])["properties"]
    bodies = [resolved(each) for each in branches(single["requestBody"]["content"][JSON]["schema"])]
    fields = {name for body in bodies for name in body.get("properties", ())} - {"detail", "answers"}
    line, carried = asked["lines"]["items"]["allOf"]
    assert set(resolved(line)["properties"]) == fields
    assert "required" not in resolved(line)
    assert carried["additionalProperties"]
    assert asked["defaults"]["allOf"][0] == line
    answer = resolved(batch["responses"]["200"]["content"][JSON]["schema"])
    told_line = resolved(answer["properties"]["lines"]["items"])["properties"]
    result = single["responses"]["200"]["content"][JSON]["schema"]
    assert told_line["result"]["$ref"] == result["$ref"]
    assert told_line["problem"]["$ref"] == "#/components/schemas/Problem"


def test_every_example_of_an_answer_is_of_its_contract() -> None:
    for _, path, operation in OPERATIONS:
        content = operation["responses"]["200"]["content"][JSON]
        for example in examples(content):
            assert wrong(content["schema"], example) == [], path
