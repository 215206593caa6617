"""The contract of an answer whose members are picked by name: only what every pick tells is required."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from contract import DOCUMENT, JSON, SCHEMAS, assert_as_documented, resolved
from flask.testing import FlaskClient
from marshmallow import fields

from api.answers.record import ALWAYS
from api.http.openapi.components import LEFT_OUT
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from schemas.core.parts import Part, dotted, part_of

BATCHES = [calculation for calculation in CALCULATIONS if not calculation.body_only]


def post(path: str) -> Mapping[str, Any]:
    operation: Mapping[str, Any] = DOCUMENT["paths"][path]["post"]
    return operation


def component(calculation: Calculation) -> Mapping[str, Any]:
    """The schema of the answer of a calculation."""
    return resolved(post(calculation.path)["responses"]["200"]["content"][JSON]["schema"])


def picks(calculation: Calculation) -> list[str]:
    """Every member alone, every one of a nested part alone, and two of them at once."""
    names = list(dotted(calculation.members))
    return [*names, f"{names[0]},{names[-1]}"]


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_every_pick_of_an_answer_is_as_documented(plain: FlaskClient, calculation: Calculation) -> None:
    for names in picks(calculation):
        response = plain.post(
            calculation.path, json=dict(calculation.example), query_string={"answers": names}
        )
        assert response.status_code == 200, names
        assert_as_documented(post(calculation.path), response)


@pytest.mark.parametrize("calculation", BATCHES, ids=lambda each: each.name)
def test_the_picked_lines_of_a_batch_are_as_documented(plain: FlaskClient, calculation: Calculation) -> None:
    body = {"lines": [dict(calculation.example), {}]}
    for names in picks(calculation)[::10]:
        response = plain.post(f"{calculation.path}/batch", json=body, query_string={"answers": names})
        assert response.status_code == 200, names
        assert_as_documented(post(f"{calculation.path}/batch"), response)


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_required_of_an_answer_is_what_every_pick_tells(calculation: Calculation) -> None:
    schema = component(calculation)
    assert {*schema["required"]} == {*ALWAYS} - {"seal"}  # which a shop without a key has not
    assert schema["description"].endswith(LEFT_OUT)


def parts(
    members: Mapping[str, "fields.Field[Any]"], listed: bool = False
) -> Iterator[tuple[type[Part], bool]]:
    """Every kind of part below some members, and whether it stands in a list."""
    for field in members.values():
        part = part_of(field)
        if part is not None:
            inside = listed or isinstance(field, fields.List)
            yield type(part), inside
            yield from parts(part.fields, inside)


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_a_part_that_can_be_picked_into_requires_nothing_and_an_entry_of_a_list_all(
    calculation: Calculation,
) -> None:
    own = {name: field for name, field in calculation.members.items() if name not in ALWAYS}
    for kind, listed in parts(own):
        schema = SCHEMAS[kind.__name__]
        always = schema["properties"].keys() - (kind.only_full | kind.may_lack)
        assert set(schema["required"]) == (always if listed else set()), kind
