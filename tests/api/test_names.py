"""Names on the wire: one rule for shares, per cent, ratios and factors, and nobody's name in any of them."""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

from api.http.openapi.document import build
from api.refusals.codes import CODES

DOCUMENT = build()

PUBLISHERS = re.compile(
    r"(?<![a-z0-9])(iso|vdi|jis|din|en|iec|api|asme|astm|sae|nasa|mh|shigley|pcc|jcgm|gum)(?![a-z])",
    re.IGNORECASE,
)
"""Agencies, handbooks and authors; what an answer has from them is in ``sources``."""
OWN_DESIGNATIONS = {"accuracy_class"}
"""Fields whose words are how a standard itself marks a thing: the class that is printed on a dial."""

SHARE_BY_ANOTHER_NAME = {
    "torque_tolerance",
    "largest_distance_without_window",
    "loss_off_square",
}
"""Numbers that are described as a share, and do not say so in their name."""


def _members(schema: Any) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every member with its schema, wherever it stands."""
    if isinstance(schema, Mapping):
        yield from schema.get("properties", {}).items()
        for each in schema.values():
            yield from _members(each)
    elif isinstance(schema, list):
        for each in schema:
            yield from _members(each)


def _parameters() -> Iterator[tuple[str, Mapping[str, Any]]]:
    for operations in DOCUMENT["paths"].values():
        for operation in operations.values():
            for each in operation.get("parameters", ()):
                yield each["name"], {**each["schema"], "description": each.get("description", "")}


def _named() -> dict[str, list[Mapping[str, Any]]]:
    found: dict[str, list[Mapping[str, Any]]] = defaultdict(list)
    for name, schema in [*_members(DOCUMENT["components"]["schemas"]), *_parameters()]:
        if isinstance(schema, Mapping):
            found[name].append(schema)
    return found


NAMED = _named()


def _is_number(schema: Mapping[str, Any]) -> bool:
    kinds = schema.get("type", ())
    return "number" in ([kinds] if isinstance(kinds, str) else kinds)


def _numbers(word: str) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The numbers with a word in their name, each time they stand in a request or an answer."""
    for name, schemas in NAMED.items():
        if word in name.split("_"):
            yield from ((name, schema) for schema in schemas if _is_number(schema))


def test_what_is_tested_is_there() -> None:
    assert len(NAMED) > 500
    for word in ("share", "percent", "ratio", "factor"):
        assert list(_numbers(word)), word


def test_no_agency_handbook_or_author_stands_in_a_name_or_a_word() -> None:
    said = [*NAMED, *DOCUMENT["paths"], *CODES]
    said += [
        str(word)
        for name, schemas in NAMED.items()
        if name not in OWN_DESIGNATIONS
        for schema in schemas
        for word in schema.get("enum", ())
    ]
    assert [
        each for each in said if each != "/openapi.json" and PUBLISHERS.search(each.replace("_", " "))
    ] == []


def test_a_name_that_holds_an_agency_would_be_found() -> None:
    for name in ("nut_factor_by_jis_b_1083", "iso_16047", "nasa_ultrasonic", "api_6a", "mh_by_feel"):
        assert PUBLISHERS.search(name.replace("_", " ")), name


def test_a_share_is_one_at_the_whole() -> None:
    assert [name for name, schema in _numbers("share") if not schema.get("maximum", 1) <= 1] == []


def test_a_share_that_is_given_has_the_word_and_no_fraction_has_another() -> None:
    described = {
        name
        for name, schemas in NAMED.items()
        for schema in schemas
        if _is_number(schema) and re.search(r"\b(as a|[Ss]hare) (share|of)\b", schema.get("description", ""))
    }
    assert {name for name in described if "share" not in name.split("_")} == SHARE_BY_ANOTHER_NAME
    assert [
        name for name in NAMED if {"fraction", "portion", "pct", "percentage"} & set(name.split("_"))
    ] == []


def test_per_cent_is_no_share() -> None:
    """A number in per cent may be above 1 wherever it is given."""
    given = [(name, schema) for name, schema in _numbers("percent") if "maximum" in schema]
    assert [name for name, schema in given if not schema["maximum"] > 1] == []


def test_a_safety_margin_says_to_what() -> None:
    assert [name for name in NAMED if name.startswith("safety") and "_to_" not in name] == []
