"""Short is a part of full, leaf for leaf, whatever is asked of whichever machine; full holds all there is."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from flask.testing import FlaskClient
from machine_kinds import SHOP
from marshmallow import fields

from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from schemas.core.parts import Part, part_of
from schemas.record import Record

STANDS = {"arm_position": "square", "gripped_outside_diameter": "5 in"}
TURNS = [
    {"operation": operation, "thread_hand": hand}
    for operation in ("make_up", "break_out")
    for hand in ("right", "left")
]
MACHINES = [name for name, profile in SHOP.items() if profile.kind.machine]
CALCULATION = {each.name: each for each in CALCULATIONS}
ALWAYS = {"status", "assumptions", "findings", "reasons", "service_edition", "torque", "gauge"}
TO_SET = {"gauge_setting", "torque_at_gauge_setting", "aim", "probability_in_window"}
TO_EXPECT = {"expected", "do_not_exceed", "if_it_does_not_move"}


def answers(client: FlaskClient, name: str, asked: Mapping[str, Any]) -> tuple[Any, Any]:
    """The short answer and the full one."""
    both = [client.post(f"/v1/{name}?detail={detail}", json=asked) for detail in ("short", "full")]
    assert {each.status_code for each in both} == {200}, both[0].text
    return both[0].get_json(), both[1].get_json()


def not_in(short: Any, full: Any, path: str = "") -> Iterator[str]:
    """Every place at which a short answer is no part of a full one."""
    if isinstance(short, dict) and isinstance(full, dict):
        for name, value in short.items():
            yield from not_in(value, full[name], f"{path}/{name}") if name in full else [f"{path}/{name}"]
    elif short != full:
        yield path


def left_out(part: Part, short: Mapping[str, Any], full: Mapping[str, Any]) -> Iterator[tuple[Part, str]]:
    """Every member of a full answer that the short one leaves out, with the part that it is of."""
    for name, value in full.items():
        field = part.fields.get(name)
        if name not in short:
            yield part, name
        elif isinstance(field, fields.Nested) and isinstance(value, dict):
            assert isinstance(field.schema, Part)
            yield from left_out(field.schema, short[name], value)


def assert_part(calculation: Calculation, short: Mapping[str, Any], full: Mapping[str, Any]) -> None:
    assert list(not_in(short, full)) == ["/asked/detail", "/fingerprint"]
    assert (short["asked"]["detail"], full["asked"]["detail"]) == ("short", "full")
    record = set(Record().fields)
    for part, name in left_out(calculation.response, short, full):
        assert name in (Record.only_full if name in record else part.only_full), name


def parts(members: Mapping[str, fields.Field[Any]]) -> Iterator[Part]:
    """Every part that stands in an answer, however deep."""
    for field in members.values():
        if part := part_of(field):
            yield part
            yield from parts(part.fields)


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_what_may_be_left_out_is_a_member(calculation: Calculation) -> None:
    """A slip in one of these names would leave nothing out. A list is written whole, so its entries are."""
    for part in (calculation.response, Record(), *parts(calculation.members)):
        assert part.only_full | part.may_lack <= part.fields.keys(), type(part)
        assert part.only_full != part.fields.keys(), type(part)


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_short_is_a_part_of_full(client: FlaskClient, calculation: Calculation) -> None:
    short, full = answers(client, calculation.name, calculation.example)
    assert_part(calculation, short, full)
    assert full.keys() - short.keys() >= {"sources", "inputs", "version"}


@pytest.mark.parametrize("turn", TURNS, ids=lambda turn: " ".join(turn.values()))
@pytest.mark.parametrize("machine", MACHINES)
def test_short_is_a_part_of_full_on_every_machine(
    client: FlaskClient, machine: str, turn: dict[str, str]
) -> None:
    """At a mark of its chart: asked for its torque, and for the torque there."""
    job = {**STANDS, **turn, "machine": machine}
    mark = mark_of(client, job)
    torque = mark["torque_at_gauge_setting"]["metric"]
    stated = {"family": "stated", "torque_target": torque, "torque_source": "the chart", "break_out_ratio": 1}
    making_up = turn["operation"] == "make_up"
    made_up = {} if making_up else {"made_up_torque": torque}
    short, full = answers(client, "pressure", {**stated, **made_up, **job})
    assert_part(CALCULATION["pressure"], short, full)
    here, not_here = (TO_SET, TO_EXPECT) if making_up else (TO_EXPECT, TO_SET)
    assert short.keys() >= ALWAYS | here
    assert full.keys() & not_here == set()
    assert values(short) <= MOST
    short, full = answers(client, "delivered-torque", {"gauge_reading": mark["gauge_setting"], **job})
    assert_part(CALCULATION["delivered-torque"], short, full)


def mark_of(client: FlaskClient, job: Mapping[str, str]) -> Any:
    """The second mark of a chart, which lies within what the machine may be set to."""
    query = {name: job[name] for name in ("thread_hand", "arm_position", "gripped_outside_diameter")}
    answer = client.get(f"/v1/machines/{job['machine']}/chart", query_string=query).get_json()
    (chart,) = (each for each in answer["charts"] if each["operation"] == job["operation"])
    return chart["marks"][1]


MOST = 45
"""Values of a short pressure as a table shows them: a quantity is one, and so is a list."""


def values(answer: Any) -> int:
    if not isinstance(answer, dict) or set(answer) == {"value", "unit"}:
        return 1
    return sum(map(values, answer.values()))
