"""A list in one cell: each entry in the words that stand beside its schema."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from flask.testing import FlaskClient
from marshmallow import fields

from api.batch.cells import flat, in_words, part_of
from api.registry.calculations import CALCULATIONS
from schemas.core.parts import Part
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


PSI = {"value": 750.0, "unit": "psi"}
FT = {"value": 1000.0, "unit": "lbf.ft"}
OF_SOURCE = {"status": "read", "source": "sheet 1"}
REASON = {"code": "above_gauge", "text": "too high"}
WORDS: dict[str, tuple[dict[str, Any], str]] = {
    "AssumptionPart": (
        {"field": "edition", "value": "2003", "reason": "not given"},
        "edition 2003 (not given)",
    ),
    "SourcePart": ({"what": "torque", **OF_SOURCE}, "torque (read): sheet 1"),
    "StepPart": ({"symbol": "T", "equation": "F arm", "value": FT}, "T = 1000.0 lbf.ft, F arm"),
    "PositionCriterionPart": (
        {"made_up_position": "flush", "verdict": "accept", "action": "none"},
        "flush: accept; none",
    ),
    "KeyValuePart": ({"column": "bore", "value": "2 in"}, "bore 2 in"),
    "TableRowPart": (
        {"row": 3, "key": [{"column": "bore", "value": "2 in"}], "target": FT, "revision": "B", **OF_SOURCE},
        "row 3: bore 2 in: 1000.0 lbf.ft, sheet 1, revision B (read)",
    ),
    "AdvicePart": ({"what": "make up twice", **OF_SOURCE}, "make up twice (read): sheet 1"),
    "FactorPart": ({"what": "friction", "value": "0.08", **OF_SOURCE}, "friction: 0.08 (read): sheet 1"),
    "UncertaintyTermPart": (
        {"name": "gauge", "half_width": PSI, "standard_uncertainty_share": 0.01234},
        "gauge 750.0 psi: 1.23 %",
    ),
    "LeftOutPart": ({"name": "arm_angle", "reason": "not stated"}, "arm_angle: not stated"),
    "CheckPart": ({"name": "capacity", "verdict": "pass", "text": "enough"}, "capacity pass"),
    "AbleMachinePart": (
        {"machine": "m-1", "gauge_setting": PSI, "gauge": "G-1", "cylinder_side": "rod",
         "findings": [{"level": "look", "text": "Left-hand."}]},
        "m-1: 750.0 psi on G-1, rod side (look: Left-hand.)",
    ),
    "UnableMachinePart": ({"machine": "m-1", "reasons": [REASON, REASON]},
        "m-1: above_gauge: too high, above_gauge: too high"),
    "FindingPart": ({"level": "stop", "code": "calibration_overdue", "text": "Overdue. Calibrate."},
        "stop: Overdue. Calibrate."),
    "ReasonPart": (REASON, "above_gauge: too high"),
    "VerdictReasonPart": (
        {"code": "marks_not_seen", "says": "cannot_tell", "field": "marks_moved", "text": "Nobody saw it."},
        "marks_not_seen: Nobody saw it.",
    ),
    "LinkRangePart": (
        {"minimum": {"value": 4.0, "unit": "in"}, "maximum": {"value": 5.0, "unit": "in"}, "links": 9},
        "4.0 in to 5.0 in: 9 links",
    ),
    "FrictionPart": (
        {"what": "dry", "low": 0.2, "high": 0.4, **OF_SOURCE},
        "dry, 0.2 to 0.4 (read): sheet 1",
    ),
    "TorquePassPart": (
        {"number": 2, "name": "cross", "order": "1-3, 2-4", "share": 0.3, "torque": FT,
         "torque_minimum": None, "torque_maximum": None,
         "gauge_setting": PSI, "share_at_gauge_setting": 0.25},
        "2 cross 30 %: 1000.0 lbf.ft, set 750.0 psi = 25 % (1-3, 2-4)",
    ),
    "PreloadPassPart": (
        {"number": 1, "name": "group 1", "order": "1-3", "preload": {"value": 9.0, "unit": "lbf"},
         "gauge_setting": PSI},
        "1 group 1: 9.0 lbf, set 750.0 psi (1-3)",
    ),
}  # fmt: skip
"""Each part that stands in a list: an entry of it, and its words."""


def test_the_words_of_every_part() -> None:
    """They were once guessed from the members that an entry has; a member more changes none."""
    parts = {type(part).__name__: part for _, part in LISTED}
    assert set(WORDS) == set(parts)
    misses = [
        f"{name}: {shown!r} instead of {words!r}"
        for name, (entry, words) in WORDS.items()
        for more in ({}, {"revision_of_later": "y", "verdict_2": 1})
        if (shown := parts[name].in_a_cell({**entry, **more})) != words
    ]
    assert misses == []


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
    assert "north-bay-8: 2100.0 psi on G-81" in able
    assert "None" not in able
