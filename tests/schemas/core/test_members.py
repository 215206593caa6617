"""Members of an object as names of their own, and text as the numbers and flags that it stands for."""

from typing import Any

import pytest

from schemas.core.fields import Flag, Members, Number, Request, Text, as_read, field_named, gathered
from schemas.core.quantity import numbers_read


class Asked(Request):
    """A request with an object of free members."""

    table_key = Members()
    share = Number()
    wet = Flag()
    name = Text()


@pytest.mark.parametrize(
    ("raw", "values"),
    [
        ({"share": "0.5", "wet": "yes", "name": "1"}, {"share": "0.5", "wet": "yes", "name": "1"}),
        ({"table_key.bore": {"value": 2, "unit": "in"}}, {"table_key": {"bore": {"value": 2, "unit": "in"}}}),
        ({"table_key.bore": "2 in"}, {"table_key": {"bore": "2 in"}}),
        ({"table_key[bore]": "2 in"}, {"table_key": {"bore": "2 in"}}),
        ({"table_key.bore": "2 in", "table_key[model]": "7"}, {"table_key": {"bore": "2 in", "model": "7"}}),
        ({"table_key.a.b": "1"}, {"table_key": {"a.b": "1"}}),
        # never twice, never into an object that is also given whole, never into another field
        (
            {"table_key.bore": "2 in", "table_key[bore]": "3 in"},
            {"table_key": {"bore": "2 in"}, "table_key[bore]": "3 in"},
        ),
        ({"table_key": "x", "table_key.bore": "2 in"}, {"table_key": "x", "table_key.bore": "2 in"}),
        ({"name.bore": "2 in"}, {"name.bore": "2 in"}),
        ({"table_key.": "2 in"}, {"table_key.": "2 in"}),
        ({"table_key[]": "2 in"}, {"table_key[]": "2 in"}),
        ({"table_key[a][b]": "2 in"}, {"table_key[a][b]": "2 in"}),
        ({".bore": "2 in"}, {".bore": "2 in"}),
    ],
)
def test_members_are_gathered(raw: dict[str, Any], values: dict[str, Any]) -> None:
    assert gathered(Asked().fields, raw) == values


@pytest.mark.parametrize(
    ("given", "shown"),
    [
        ({"share": "0.5", "wet": "yes", "name": "1"}, {"share": 0.5, "wet": True, "name": "1"}),
        ({"share": " 1/2 ", "wet": " no "}, {"share": 0.5, "wet": False}),
        ({"share": 0.5, "wet": True}, {"share": 0.5, "wet": True}),
        # sent again, it is read by the same rule, and told again
        ({"share": "0,5"}, {"share": "0,5"}),
        ({"other": "0.5"}, {"other": "0.5"}),
    ],
)
def test_numbers_and_flags_are_shown_as_read(given: dict[str, Any], shown: dict[str, Any]) -> None:
    with numbers_read("comma_decimal"):
        assert as_read(Asked().fields, given) == shown


@pytest.mark.parametrize(
    ("name", "known"),
    [("table_key", True), ("table_key.bore", True), ("table_key[bore]", True), ("share", True)]
    + [(name, False) for name in ("share.x", "table_key.", "table_keys.bore", "other", "table_key [in]")],
)
def test_what_a_name_stands_for(name: str, known: bool) -> None:
    assert (field_named(Asked().fields, name) is not None) == known
