"""Members of an object as names of their own: in a query, and in the header of a table."""

from typing import Any

import pytest

from schemas.core.fields import Flag, Members, Number, Request, Text, field_named, from_text


class Asked(Request):
    """A request with an object of free members."""

    table_key = Members()
    share = Number()
    wet = Flag()
    name = Text()


@pytest.mark.parametrize(
    ("raw", "values"),
    [
        ({"share": "0.5", "wet": "yes", "name": "1"}, {"share": 0.5, "wet": True, "name": "1"}),
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
def test_text_becomes_values(raw: dict[str, str], values: dict[str, Any]) -> None:
    assert from_text(Asked(), raw) == values


@pytest.mark.parametrize(
    ("name", "known"),
    [("table_key", True), ("table_key.bore", True), ("table_key[bore]", True), ("share", True)]
    + [(name, False) for name in ("share.x", "table_key.", "table_keys.bore", "other", "table_key [in]")],
)
def test_what_a_name_stands_for(name: str, known: bool) -> None:
    assert (field_named(Asked().fields, name) is not None) == known
