"""A request without a fault is loaded a short way: it must load what marshmallow loads, and no more."""

from collections import Counter
from random import Random
from typing import Any

from marshmallow import Schema, ValidationError

from api.http.routes import CALCULATIONS
from schemas.core.faults import load, of_a_sound_request

REQUESTS = [
    (f"{name} {family}".strip(), schema, dict(each.example))
    for name, made in CALCULATIONS.items()
    for each in made()
    if each.name == name
    for family, schema in each.requests.items()
]
TEXTS = (
    "6.5 in",
    "2,5 bar",
    "1.25",
    "no",
    "yes",
    "",
    " ",
    "NC50",
    "south-bay-9",
    "square",
    "2026-11-24",
    "é",
    "1e9 psi",
)
ODD: tuple[Any, ...] = (
    None,
    True,
    0,
    -1,
    1.5,
    1e308,
    [],
    {},
    {"value": 6.5, "unit": "in"},
    [1, 2],
    {"a": None},
)


def changed(draw: Random, example: dict[str, Any], schema: Schema) -> dict[str, Any]:
    """An example with up to three members taken out, changed or added."""
    made = dict(example)
    for _ in range(draw.randrange(4)):
        name = draw.choice([*schema.fields, "colour"])
        if draw.random() < 0.3:
            made.pop(name, None)
        else:
            made[name] = draw.choice((*TEXTS, *ODD, *example.values()))
    return made


def test_the_short_way_loads_what_marshmallow_loads() -> None:
    draw, counted = Random("load"), Counter[str]()
    for name, schema, example in REQUESTS:
        for _ in range(150):
            asked = changed(draw, example, schema)
            short = of_a_sound_request(schema, asked)
            try:
                whole = schema.load(asked)
            except ValidationError:
                whole = None
            if short is not None:
                assert whole is not None, (name, asked)
                assert short == whole, (name, asked)
                assert [*short] == [*load(schema, asked)]
                counted["short"] += 1
            counted["sound" if whole is not None else "refused"] += 1
    assert counted["short"] > 0.85 * counted["sound"] > 500
    assert counted["refused"] > 500


def test_what_is_no_object_is_left_to_marshmallow() -> None:
    for _, schema, _ in REQUESTS:
        for raw in (None, [], "text", 1, [{}]):
            assert of_a_sound_request(schema, raw) is None
