"""``detail`` and ``answers``: how much of an answer is given, the same in every form and way of asking."""

import csv
import io
import json
import re
from collections.abc import Mapping
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from rows import every_row

from api.batch.column_names import STATUS_COLUMNS

PATH = "/v1/pressure"
COLLAR = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
ASKED = {**COLLAR, **JOB, "machine": "north-bay-2"}
BREAK_OUT = {**ASKED, "operation": "break_out", "break_out_ratio": "1.3"}
TORQUE = "/v1/torque/rotary-shouldered"
WITH_THEM = ["reasons", "findings", "service_edition", "asked", "question", "fingerprint"]
"""Told whatever is picked."""
OF_THE_PICK = ("reasons", "asked", "fingerprint")
"""What depends on what is picked."""


def table(client: FlaskClient, kind: str, query: Mapping[str, str]) -> list[dict[str, str]]:
    """The rows of the answer to one line, as a table."""
    given = client.post(f"{PATH}/batch", json={"lines": [ASKED]}, query_string={**query, "format": kind})
    assert given.status_code == 200, given.text
    separator = "\t" if kind == "tsv" else ","
    return list(csv.DictReader(io.StringIO(given.text, newline=""), delimiter=separator))


OF_A_PICKED_ROW = ("result.reasons", "fingerprint")


# how much is asked for


def by_query(client: FlaskClient, portion: Mapping[str, str]) -> Any:
    return client.get(PATH, query_string={**ASKED, **portion}).get_json()


def by_query_of_a_post(client: FlaskClient, portion: Mapping[str, str]) -> Any:
    return client.post(PATH, json=ASKED, query_string=portion).get_json()


def by_body(client: FlaskClient, portion: Mapping[str, str]) -> Any:
    return client.post(PATH, json={**ASKED, **portion}).get_json()


def by_query_of_a_batch(client: FlaskClient, portion: Mapping[str, str]) -> Any:
    answer = client.post(f"{PATH}/batch", json={"lines": [ASKED]}, query_string=portion).get_json()
    return answer["lines"][0]["result"]


def by_defaults(client: FlaskClient, portion: Mapping[str, str]) -> Any:
    answer = client.post(f"{PATH}/batch", json={"lines": [ASKED], "defaults": portion}).get_json()
    return answer["lines"][0]["result"]


def as_json_lines(client: FlaskClient, portion: Mapping[str, str]) -> Any:
    query = {**portion, "format": "jsonl"}
    text = client.post(f"{PATH}/batch", json={"lines": [ASKED]}, query_string=query).text
    return json.loads(text.splitlines()[0])["result"]


WAYS = [by_query, by_query_of_a_post, by_body, by_query_of_a_batch, by_defaults, as_json_lines]


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_every_way_to_say_how_much(plain: FlaskClient, way: Any) -> None:
    """Short where nothing is said; members by name in the order asked, which outranks the detail."""
    short, full = (by_body(plain, {"detail": detail}) for detail in ("short", "full"))
    assert len(short) < len(full)
    assert way(plain, {}) == way(plain, {"detail": "short"}) == short
    assert way(plain, {"detail": "full"}) == full
    for more in ({}, {"detail": "full"}, {"detail": "short"}):
        answer = way(plain, {"answers": "torque.target, checks,gauge_setting", **more})
        assert list(answer) == ["torque", "checks", "gauge_setting", *WITH_THEM]
        assert answer["torque"] == {"target": full["torque"]["target"]}
        assert answer["checks"] == full["checks"]
        assert answer["findings"] == full["findings"]


@every_row(
    ("names", "members"),
    [
        ("gauge", ["gauge", *WITH_THEM]),
        ("torque.maximum,torque.minimum", [{"torque": ["maximum", "minimum"]}, *WITH_THEM]),
        ("torque,torque.minimum", ["torque", *WITH_THEM]),  # the whole of it is more
        ("torque.minimum,torque", ["torque", *WITH_THEM]),
        ("findings,gauge", ["findings", "gauge", "reasons", *WITH_THEM[2:]]),
        ("gauge,gauge", ["gauge", *WITH_THEM]),
        ("aim.torque,status", [{"aim": ["torque"]}, "status", *WITH_THEM]),
        ("version.program", [{"version": ["program"]}, *WITH_THEM]),
        ("inputs,sources", ["inputs", "sources", *WITH_THEM]),
        ("expected,do_not_exceed_basis,motor_port", WITH_THEM),  # a make-up on a cylinder has none of them
        ("steps", WITH_THEM),  # not asked for
    ],
)
def test_members_that_are_picked(client: FlaskClient, names: str, members: list[Any]) -> None:
    answer = by_body(client, {"answers": names})
    full = by_body(client, {"detail": "full"})
    expected = {}
    for member in members:
        if isinstance(member, str):
            expected[member] = full[member] if member not in OF_THE_PICK else answer[member]
        else:
            ((outer, inner),) = member.items()
            expected[outer] = {name: full[outer][name] for name in inner}
    assert json.dumps(answer) == json.dumps(expected)


def test_reasons_are_those_of_what_is_picked(client: FlaskClient) -> None:
    asked = {**STATED, **JOB, "machine": profile()}
    full = client.post(f"{PATH}?detail=full", json=asked).get_json()["reasons"]
    picked = client.post(f"{PATH}?answers=torque.minimum,gauge_setting", json=asked).get_json()["reasons"]
    assert picked == {"torque.minimum": full["torque.minimum"]}
    assert len(full) > 3


@every_row(
    ("name", "near"),
    [
        ("gauge_seting", "gauge_setting"),
        ("torque.targt", "torque.target"),
        ("target", "torque.target"),
        ("cylinderside", "cylinder_side"),
        ("expected.likly", "expected.likely"),
        ("", None),
        ("xyzzy", None),
        ("gauge_setting.value", None),  # a quantity is told whole
        ("checks.name", None),  # and so is a list
        ("reasons.torque", None),
    ],
)
def test_a_name_that_is_none_is_refused_with_the_nearest(
    client: FlaskClient, name: str, near: str | None
) -> None:
    given = f"gauge,{name}"
    for answer in (
        client.get(PATH, query_string={**ASKED, "answers": given}),
        client.post(PATH, json={**ASKED, "answers": given}),
        client.post(f"{PATH}/batch", json={"lines": [ASKED]}, query_string={"answers": given}),
        client.post(f"{PATH}/batch", json={"lines": [ASKED], "defaults": {"answers": given}}),
    ):
        (error,) = answer.get_json()["errors"]
        assert (answer.status_code, error["code"], error["value"]) == (422, "unknown_answer", name)
        assert "gauge_setting, " in error["accepted"]
        assert near is None or error["detail"].endswith(f"; did you mean {near}?")


def test_every_name_that_is_none_is_told(client: FlaskClient) -> None:
    answer = client.get(PATH, query_string={**ASKED, "answers": "a_b,gauge,c_d"}).get_json()
    assert [error["value"] for error in answer["errors"]] == ["a_b", "c_d"]


@every_row(
    ("body", "query", "code", "place"),
    [
        ({"detail": "long"}, {}, "not_a_choice", {"pointer": "/detail"}),
        ({"detail": None}, {}, "not_null", {"pointer": "/detail"}),
        ({}, {"detail": "long"}, "not_a_choice", {"parameter": "detail"}),
        ({"detail": "full"}, {"detail": "full"}, "duplicate_member", {"parameter": "detail"}),
        ({"answers": "gauge"}, {"answers": "gauge"}, "duplicate_member", {"parameter": "answers"}),
        ({"answers": ["gauge"]}, {}, "not_text", {"pointer": "/answers"}),
        ({"answers": ""}, {}, "not_text", {"pointer": "/answers"}),
    ],
)
def test_how_much_is_said_once_and_rightly(
    client: FlaskClient, body: dict[str, Any], query: dict[str, str], code: str, place: dict[str, str]
) -> None:
    """Of one question; of a batch the place is among the defaults."""
    single = client.post(PATH, json={**ASKED, **body}, query_string=query)
    batch = client.post(f"{PATH}/batch", json={"lines": [ASKED], "defaults": body}, query_string=query)
    for answer, below in ((single, ""), (batch, "/defaults")):
        (error,) = answer.get_json()["errors"]
        assert (answer.status_code, error["code"]) == (422, code)
        if below and ("pointer" in place or code == "duplicate_member"):
            assert error["pointer"] == f"/defaults/{next(iter(body))}"
        else:
            assert error.items() >= place.items()


# a batch


def test_how_much_stands_for_a_batch_and_never_for_a_line(plain: FlaskClient) -> None:
    """In a line it is carried along as any other column."""
    line = {**ASKED, "detail": "full", "answers": "gauge"}
    (only,) = plain.post(f"{PATH}/batch", json={"lines": [line]}).get_json()["lines"]
    assert only["carried"] == {"detail": "full", "answers": "gauge"}
    assert only["result"] == by_body(plain, {})
    text = "detail,quantity,to\nfull,1 in,mm\n"
    given = plain.post("/v1/conversion/batch", data=text, content_type="text/csv").text
    (row,) = csv.DictReader(io.StringIO(given, newline=""))
    assert row["detail"] == "full"
    assert "result.inputs" not in row
    assert "result.version.program" not in row


@pytest.mark.parametrize("kind", ["csv", "tsv"])
@pytest.mark.parametrize(
    ("names", "columns"),
    [
        ("gauge_setting,gauge", ["gauge_setting", "gauge_setting.unit", "gauge"]),
        ("gauge,gauge_setting", ["gauge", "gauge_setting", "gauge_setting.unit"]),
        ("status,gauge", ["status", "gauge"]),
        (
            "torque.maximum,torque.target",
            ["torque.maximum", "torque.maximum.unit", "torque.target", "torque.target.unit"],
        ),
        ("expected.likely,checks", ["expected.likely", "expected.likely.unit", "checks"]),
    ],
)
def test_columns_are_those_asked_in_their_order(
    client: FlaskClient, kind: str, names: str, columns: list[str]
) -> None:
    (row,) = table(client, kind, {"answers": names})
    given = [*ASKED, *STATUS_COLUMNS]
    assert list(row) == [*given, *(f"result.{name}" for name in [*columns, "reasons", "findings"])]
    full = table(client, kind, {"detail": "full"})[0]
    assert {name: cell for name, cell in row.items() if name not in OF_A_PICKED_ROW}.items() <= full.items()


@pytest.mark.parametrize("kind", ["csv", "tsv"])
def test_columns_are_short_unless_asked_for_more(plain: FlaskClient, kind: str) -> None:
    (short,), (full,) = table(plain, kind, {}), table(plain, kind, {"detail": "full"})
    assert {name for name in short if name != "result.reasons"} <= full.keys()
    assert {"result.checks", "result.pressure", "result.sources"} <= full.keys() - short.keys()
    assert {name: full[name] for name in short if name not in OF_A_PICKED_ROW}.items() <= short.items()


# text


@every_row(
    ("asked", "names"),
    [
        (ASKED, ["gauge_setting", "cylinder_side"]),
        (ASKED, ["cylinder_side", "gauge_setting"]),
        (ASKED, ["torque.target", "probability_in_window"]),
        (ASKED, []),
        (BREAK_OUT, ["expected.likely", "do_not_exceed", "do_not_exceed_basis"]),
    ],
)
def test_several_values_as_text_have_their_names_and_units(
    client: FlaskClient, asked: dict[str, str], names: list[str]
) -> None:
    """Each is that which is told alone; what there is not here is left out."""
    query = {**asked, "format": "text"}
    answer = client.get(PATH, query_string={**query, "answers": ",".join([*names, "motor_port"])})
    assert (answer.status_code, answer.mimetype) == (200, "text/plain")
    *lines, findings = answer.text.splitlines()
    assert findings == f"findings: {client.get(PATH, query_string={**query, 'answer': 'findings'}).text}"
    assert [line.partition(": ")[0] for line in lines] == names
    for line in lines:
        name, _, told = line.partition(": ")
        unit = {"unit": told.partition(" ")[2]} if re.fullmatch(r"[0-9.]+ \S+", told) else {}
        alone = client.get(PATH, query_string={**query, "answer": name, **unit}).text
        assert told == " ".join([alone, *unit.values()])


@every_row(
    ("more", "code"),
    [
        ({"answers": "gauge", "answer": "gauge"}, "contradiction"),
        ({"answers": "gauge", "answer": "refusal"}, "contradiction"),
        ({"answers": "gauge_setting", "unit": "psi"}, "contradiction"),
        ({"answers": "gauge_seting"}, "unknown_answer"),
        ({"answer": "gauge", "detail": "long"}, "not_a_choice"),
    ],
)
def test_one_value_or_several_and_no_unit_for_those(
    client: FlaskClient, more: dict[str, str], code: str
) -> None:
    answer = client.get(PATH, query_string={**ASKED, "format": "text", **more})
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)


@every_row(
    ("asked", "name", "unit"),
    [
        ({"machine": "north-bay-8"}, "cylinder_side", None),  # a motor has a port
        ({"machine": "yard-1"}, "relief", None),  # a line has no valve
        ({"machine": "yard-1"}, "relief.set_to", "psi"),
        ({"machine": "north-bay-2"}, "motor_port", None),
        ({"machine": "north-bay-2"}, "second_cylinder_side", None),
        ({"machine": "north-bay-2"}, "line_pull", "lbf"),
        ({"machine": "north-bay-2"}, "expected.likely", "psi"),
        ({"machine": "north-bay-2"}, "do_not_exceed", "psi"),
    ],
)
def test_what_there_is_not_here_has_no_value(
    client: FlaskClient, asked: dict[str, str], name: str, unit: str | None
) -> None:
    """In words, where a name that there never is is unknown."""
    small = {"torque_target": "9000 ft-lb", "torque_source": "sheet 1", "family": "stated", **JOB}
    query = {**small, **asked, "format": "text", "answer": name, **({"unit": unit} if unit else {})}
    answer = client.get(PATH, query_string=query).get_json()
    assert answer["code"] == "no_value"
    assert answer["detail"] == f"there is no {name} on this machine or in this job"
    assert (
        client.get(PATH, query_string={**query, "answer": f"{name}_x"}).get_json()["code"] == "unknown_answer"
    )


# a stop


def test_a_stop_is_told_whatever_is_picked(client: FlaskClient) -> None:
    """An overdue calibration: south-bay-3 after June 2026."""
    asked = {**ASKED, "machine": "south-bay-3", "as_of": "2026-11-24"}
    for portion in ({"answers": "gauge"}, {"answers": "findings,gauge"}, {"detail": "short"}, {}):
        answer = client.post(PATH, json={**asked, **portion}).get_json()
        first = answer["findings"][0]
        assert (first["level"], first["code"]) == ("stop", "calibration_overdue")
        body = {"lines": [asked], "defaults": portion}
        assert client.post(f"{PATH}/batch", json=body).get_json()["lines"][0]["line_status"] == "stop"
    query = {**asked, "format": "text"}
    several = client.get(PATH, query_string={**query, "answers": "gauge_setting"}).text
    assert "\nfindings: stop: " in several
    alone = client.get(PATH, query_string={**query, "answer": "gauge_setting", "unit": "psi"})
    assert alone.get_json()["code"] == "stop_to_settle"


# other questions


def test_members_of_every_question(client: FlaskClient) -> None:
    joint = {name: value for name, value in COLLAR.items() if name != "family"}
    full = client.get(TORQUE, query_string={**joint, "detail": "full"}).get_json()
    answer = client.get(TORQUE, query_string={**joint, "answers": "weaker_member"}).get_json()
    told = {name: full[name] for name in ("weaker_member", "findings", "service_edition", "question")}
    marked = {"reasons": {}, "fingerprint": answer["fingerprint"]}
    assert answer == {**told, **marked, "asked": {"path": TORQUE, "answers": "weaker_member", "units": "us"}}
    refused = client.get(TORQUE, query_string={**joint, "answers": "gauge_setting"}).get_json()
    assert refused["code"] == "unknown_answer"
