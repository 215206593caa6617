"""A day's log: every line has its verdict or its refusal, and the summary tells how each machine drifts."""

import csv
import io
import json
from statistics import fmean, linear_regression
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB
from make_ups import JOINT, TOLD

BATCH = "/v1/verdict/batch"
DEFAULTS = {
    **{**JOINT, **JOB, **TOLD, "torque_minimum": "33000 ft-lb", "torque_maximum": "35500 ft-lb"},
    **{"machine": "south-bay-9", "ordered_setting": "860 psi", "gripped_outside_diameter": "6 in"},
}
DAYS = ["2026-11-02", "2026-11-03", "2026-11-05", "2026-11-10"]
READINGS = [860.0, 860.0, 880.0, 870.0]
NORTH = {"machine": "north-bay-2", "ordered_setting": "850 psi"}
LINES: list[dict[str, Any]] = [
    {"order": "W-1", "gauge_reading": "860 psi", "as_of": DAYS[0], "shift": "day"},
    {"order": "W-2", "gauge_reading": "860 psi", "as_of": DAYS[1], "shift": "night"},
    {"order": "W-3", "gauge_reading": "4000 psi", "shift": "day"},
    {"order": "W-4", "gauge_reading": "880 psi", "as_of": DAYS[2], "shift": "day"},
    {"order": "W-5", "gauge_reading": "800 psi", **NORTH, "shift": "day"},
    {"order": "W-6", "operation": "break_out", "break_out_ratio": 1, "gauge_reading": "900 psi"},
    {
        "order": "W-7",
        "gauge_reading": "870 psi",
        "as_of": DAYS[3],
        "marks_moved": "not_seen",
        "shift": "night",
    },
    {"order": "W-8", "gauge_reading": "900 psi", **NORTH, "machine": "nowhere-1"},
    "no line at all",  # type: ignore[list-item]
    {"order": "W-10", "gauge_reading": "850 psi", **NORTH, "marks_moved": "no"},
]


def asked(client: FlaskClient, lines: list[Any] = LINES, **more: Any) -> Any:
    answer = client.post(BATCH, json={"lines": lines, "defaults": DEFAULTS, **more})
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def test_no_line_is_lost(client: FlaskClient) -> None:
    answer = asked(client)
    assert [each["line_number"] for each in answer["lines"]] == list(range(1, len(LINES) + 1))
    assert [each["carried"].get("order") for each in answer["lines"]] == [
        *(f"W-{number}" for number in range(1, 9)),
        None,
        "W-10",
    ]
    refused = {each["line_number"]: each["problem_code"] for each in answer["lines"] if "problem" in each}
    assert refused == {3: "above_gauge", 6: "not_a_make_up", 8: "unknown_machine", 9: "not_an_object"}


def test_the_summary_counts_both_verdicts(client: FlaskClient) -> None:
    answer = asked(client)
    told = [each["result"] for each in answer["lines"] if "result" in each]
    summary = answer["summary"]
    assert (summary["lines"], summary["answered"], summary["refused"]) == (10, 6, 4)
    for member in ("work", "torque_verdict"):
        counted = dict.fromkeys(summary[member], 0)
        for each in told:
            counted[each[member]] += 1
        assert summary[member] == counted
    # by hand: 880 psi is a division above the mark, 870 half of one; 850 of north-bay-2 did not move
    assert summary["work"] == {"as_ordered": 2, "not_as_ordered": 3, "cannot_tell": 1}


def test_a_machine_drifts_by_day(client: FlaskClient) -> None:
    south, north = asked(client)["summary"]["drift"]
    off = [reading - 860.0 for reading in READINGS]
    numbers = [2.0, 3.0, 5.0, 10.0]
    assert (south["machine"], south["lines"], south["trend_per"]) == ("south-bay-9", 4, "day")
    assert south["mean"] == {"value": fmean(off), "unit": "psi"}
    assert south["trend"]["value"] == pytest.approx(linear_regression(numbers, off).slope)
    # least squares by hand: means 5 and 7.5; sums of products 50 and of squares 38
    assert south["trend"]["value"] == pytest.approx(50 / 38)
    # the lines of north-bay-2 are of one day: -50 in line 5 and 0 in line 10
    assert (north["machine"], north["lines"], north["trend_per"]) == ("north-bay-2", 2, "line")
    assert (north["mean"]["value"], north["trend"]["value"]) == (-25.0, 10.0)


def test_one_reading_has_no_trend(client: FlaskClient) -> None:
    (only,) = asked(client, LINES[:1])["summary"]["drift"]
    assert only == {"machine": "south-bay-9", "lines": 1, "mean": {"value": 0.0, "unit": "psi"}}


def test_groups_have_their_own_log(client: FlaskClient) -> None:
    groups = {each["value"]: each for each in asked(client, group_by="shift")["summary"]["groups"]}
    assert groups["night"]["work"] == {"as_ordered": 1, "not_as_ordered": 0, "cannot_tell": 1}
    assert [each["machine"] for each in groups["day"]["drift"]] == ["south-bay-9", "north-bay-2"]


def test_the_summary_does_not_depend_on_what_is_written(client: FlaskClient) -> None:
    whole = asked(client)["summary"]
    picked = client.post(f"{BATCH}?answers=next_step", json={"lines": LINES, "defaults": DEFAULTS}).get_json()
    assert set(picked["lines"][0]["result"]) == {
        *("next_step", "reasons", "findings", "service_edition", "asked", "question", "fingerprint"),
    }
    assert picked["summary"] == whole
    lines = client.post(
        f"{BATCH}?format=jsonl", json={"lines": LINES, "defaults": DEFAULTS}
    ).text.splitlines()
    assert json.loads(lines[-1])["summary"] == whole


def test_a_log_as_a_table(client: FlaskClient) -> None:
    table = "order,gauge_reading [psi],marks_moved\nW-1,860,yes\nW-2,4000,yes\nW-3,860,no\n"
    text = {name: str(value).lower() for name, value in DEFAULTS.items() if name != "marks_moved"}
    answer = client.post(BATCH, query_string=text, data=table, content_type="text/csv")
    assert answer.mimetype == "text/csv", answer.text
    rows = list(csv.DictReader(io.StringIO(answer.text)))
    assert [(row["order"], row["problem_code"]) for row in rows] == [
        ("W-1", ""),
        ("W-2", "above_gauge"),
        ("W-3", ""),
    ]
    assert [row["result.work"] for row in rows] == ["as_ordered", "", "not_as_ordered"]
    assert rows[2]["result.work_reasons"].startswith("marks_did_not_move: ")


@pytest.mark.parametrize(("unit", "code"), [("in", "wrong_kind"), ("psy", "unknown_unit")])
def test_a_header_has_a_unit_of_a_dial(client: FlaskClient, unit: str, code: str) -> None:
    table = f"order,gauge_reading [{unit}]\nW-1,860\n"
    text = {name: str(value).lower() for name, value in DEFAULTS.items()}
    answer = client.post(BATCH, query_string=text, data=table, content_type="text/csv").get_json()
    assert answer["code"] == code


def test_an_order_is_carried_and_a_slip_is_not(client: FlaskClient) -> None:
    refused = client.post(BATCH, json={"lines": [{**LINES[0], "ordered": "860 psi"}], "defaults": DEFAULTS})
    (error,) = refused.get_json()["errors"]
    assert (error["code"], error["accepted"]) == ("column_in_doubt", "ordered_setting")
    assert asked(client)["lines"][0]["carried"] == {"order": "W-1", "shift": "day"}


def test_other_batches_have_no_log(client: FlaskClient) -> None:
    line = {"quantity": "1 in", "to": "mm"}
    summary = client.post("/v1/conversion/batch", json={"lines": [line]}).get_json()["summary"]
    assert set(summary) == {"lines", "answered", "stop", "refused", "problem_codes"}
