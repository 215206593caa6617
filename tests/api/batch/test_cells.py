"""A list in one cell: each entry in the words that stand beside its schema."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from flask.testing import FlaskClient
from marshmallow import fields

from api.batch.cells import flat, in_words, part_of
from api.registry.calculations import CALCULATIONS
from schemas.core.fields import Part
from schemas.machines.chart import NotChartedPart


def listed(members: Mapping[str, Any], path: str) -> Iterator[tuple[str, Part]]:
    """Every part that stands in a list of an answer, however deep, with its place."""
    for name, field in members.items():
        part = part_of(field) if isinstance(field, fields.List) else None
        if part is not None:
            yield f"{path}.{name}", part
        inner = part or (field.schema if isinstance(field, fields.Nested) else None)
        if inner is not None:
            yield from listed(inner.fields, f"{path}.{name}")


IN_A_TABLE = [each for each in CALCULATIONS if not each.body_only]
LISTED = [(place, part) for each in IN_A_TABLE for place, part in listed(each.members, each.name)]


def test_every_part_that_stands_in_a_list_says_how_a_cell_shows_it() -> None:
    assert len({type(part) for _, part in LISTED}) >= 18
    silent = {place for place, part in LISTED if type(part).in_a_cell is Part.in_a_cell}
    assert silent == set()


def test_a_part_without_words_is_noticed() -> None:
    class Silent(Part):
        name = fields.String()

    with pytest.raises(NotImplementedError, match="Silent"):
        in_words([{"name": "x"}], fields.List(fields.Nested(Silent)))


def test_a_member_more_changes_no_words() -> None:
    """Words were once guessed from the members that an entry has."""
    for _, part in LISTED:
        plain = dict.fromkeys(part.fields, "x")
        entry = plain | {name: {"value": 1.0, "unit": "psi"} for name in ("minimum", "maximum", "target")}
        entry |= {"half_width": {"value": 1.0, "unit": "psi"}, "standard_uncertainty_share": 0.5, "key": []}
        entry |= {"reasons": [], "cautions": [], "share": 0.5, "share_at_gauge_setting": 0.5}
        amounts = ("torque", "torque_minimum", "torque_maximum", "preload", "gauge_setting", "value")
        entry |= {name: {"value": 2.0, "unit": "N"} for name in amounts if name in part.fields}
        assert part.in_a_cell(entry) == part.in_a_cell({**entry, "revision_of_later": "y", "verdict_2": 1})


def test_an_operation_that_has_no_chart_is_in_the_table_of_the_others() -> None:
    reasons = [{"code": "above_gauge", "text": "too high"}, {"code": "capacity_exceeded", "text": "too weak"}]
    shown = NotChartedPart().in_a_cell({"operation": "break_out", "reasons": reasons})
    assert shown == "break_out: above_gauge: too high, capacity_exceeded: too weak"


def test_a_machine_without_a_cylinder_has_no_side(client: FlaskClient) -> None:
    collar = {"component": "drill_collar", "box_outside_diameter": "6 1/2 in", "pin_bore": "2-13/16 in"}
    job = {"operation": "make_up", "thread_hand": "right", "arm_position": "square", "as_of": "2026-11-24"}
    asked = {"family": "rotary_shouldered", "connection": "NC50", **collar, **job}
    answer = client.get("/v1/machine-choice", query_string=asked).get_json()
    (choice,) = (each for each in CALCULATIONS if each.name == "machine-choice")
    able = flat(answer, choice.members)["able"]
    assert "north-bay-2: 750.0 psi on G-11, rod side" in able
    assert "north-bay-8: 2040.0 psi on G-81" in able
    assert "None" not in able
