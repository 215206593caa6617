"""Printed torques and strengths of round threads, row by row, asked of the service as a shop would.

API RP 5C1 tables 1 and 2 and API Bul 5C2; most rows from memory, some a public reprint: each row has its
status, and the status stands in the id of its test.
"""

import csv
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
import round_thread_us as us
from flask.testing import FlaskClient
from rows import every_row

from api.reference.pipe_grades import PIPE_GRADES
from api.reference.tubulars import TUBULARS, Tubular

PUBLISHED = Path(__file__).parents[2] / "published"
PATH = "/v1/torque/round-thread"
INCH, PSI, POUND_FORCE = 0.0254, 6894.757293168361, 4.4482216152605
ONE_STEP_AWAY = {
    ("4", "11.00", "N80", "EUE"),
    ("7-5/8", "29.70", "L80", "LTC"),
    ("9-5/8", "43.50", "P110", "LTC"),
    ("13-3/8", "48.00", "K55", "STC"),
    ("13-3/8", "72.00", "K55", "STC"),
    ("13-3/8", "61.00", "M65", "STC"),
    ("13-3/8", "61.00", "N80", "STC"),
}
"""Rows whose printed optimum the formula misses by one 10 ft-lb step; reported, never made to fit."""


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((PUBLISHED / name).read_text("utf-8").splitlines()))


def named(row: Mapping[str, str]) -> str:
    return " ".join((*joint_of(row), row["status"]))


def joint_of(row: Mapping[str, str]) -> tuple[str, str, str, str]:
    return row["size"], row["weight [lb/ft]"], row["grade"], row["thread_type"]


def asked(client: FlaskClient, row: Mapping[str, str]) -> dict[str, Any]:
    size, weight, grade, thread_type = joint_of(row)
    query = {"size": size, "weight": f"{weight} lb/ft", "pipe_grade": grade, "thread_type": thread_type}
    answer = client.get(PATH, query_string={**query, "force_unit": "lbf"})
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.get_json()
    return found


TORQUES, STRENGTHS = rows("round_thread_torque.csv"), rows("round_thread_joint_strength.csv")


@every_row("row", TORQUES, ids=named)
def test_printed_torque(client: FlaskClient, row: dict[str, str]) -> None:
    """Equal after rounding, or named above and one step away; its minimum and maximum follow the optimum."""
    answer = asked(client, row)
    printed, window = answer["published_rounding"], answer["torque"]
    found = [printed[end]["value"] for end in ("optimum", "minimum", "maximum")]
    given = [float(row[f"{end} [lbf.ft]"]) for end in ("optimum", "minimum", "maximum")]
    if joint_of(row) not in ONE_STEP_AWAY:
        assert found == given
        assert window["minimum"]["value"] >= given[1]
        assert window["maximum"]["value"] <= given[2]
        return
    assert abs(found[0] - given[0]) == 10
    assert given == list(us.as_printed(given[0]))
    assert found == list(us.as_printed(found[0]))


def test_how_many_are_equal() -> None:
    assert (len(TORQUES), len(ONE_STEP_AWAY)) == (224, 7)
    assert {joint_of(row) for row in TORQUES} >= ONE_STEP_AWAY


@every_row("row", STRENGTHS, ids=named)
def test_fracture_does_not_leak_into_the_torque(client: FlaskClient, row: dict[str, str]) -> None:
    """API Bul 5C2, to 1000 lbf; fracture governs each, and the torque stays 1 % of the higher pull-out."""
    answer = asked(client, row)
    strength = answer["joint_strength"]["value"]
    assert strength == pytest.approx(1000 * float(row["joint_strength [kip]"]), abs=1000)
    assert answer["governing_mode"] == row["governing_mode"] == "fracture"
    torque = answer["torque"]["target"]["value"]
    assert torque == pytest.approx(0.01 * answer["pull_out_strength"]["value"], rel=1e-9)
    assert torque > 1.005 * 0.01 * strength


@every_row("pipe", TUBULARS, ids=lambda pipe: f"{pipe.size} {pipe.thread_type}")
def test_every_pipe_in_every_grade(client: FlaskClient, pipe: Tubular) -> None:
    """Answered as the formulas in US units give it, or refused as a grade that its product has not."""
    thread = pipe.thread_type
    for grade in PIPE_GRADES:
        query = {"size": pipe.size, "weight": f"{pipe.printed_weight} lb/ft", "thread_type": thread}
        answer = client.get(PATH, query_string={**query, "pipe_grade": grade.name})
        if answer.status_code != 200:
            assert answer.get_json()["code"] == "no_such_tubular"
            continue
        joint = us.Joint(
            D=pipe.thread_outside_diameter / INCH,
            d=pipe.inside_diameter / INCH,
            two_h=2 * pipe.thread_height / INCH,
            L=pipe.engaged_length / INCH,
            Yp=grade.yield_strength / PSI,
            Up=grade.tensile_strength / PSI,
        )
        window = answer.get_json()["torque"]
        found = [window[end]["value"] for end in ("minimum", "target", "maximum")]
        _, low, high = us.as_printed(joint.T_opt)
        ends = max(joint.T_min, low), min(joint.T_max, high)
        assert found == pytest.approx([ends[0], joint.T_opt, ends[1]], rel=1e-9)
