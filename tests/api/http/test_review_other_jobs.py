"""Jobs of a shop besides those of its make-ups: tool joints, tubulars, bolts, flanges and grips, by hand.

Numbers are those of the jobs. South-bay-3 gives 35.814158 ft-lb for each psi above 30; bench-1 0.5 ft-lb/psi;
south-bay-1 0.6 m x 0.93 of the force of a 100 mm bore, 56 mm rod, less 3 bar and 2 bar of return.
"""

import json
from math import exp, pi, radians
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB
from rows import every_row

STUD = {
    "family": "bolt", "thread": "1-1/2-8 UN", "bolt_grade": "B7", "yield_share": 0.5,
    "method": "heavy_hex_nut", "thread_friction": 0.13,
}  # fmt: skip


def ask(client: FlaskClient, path: str, **asked: Any) -> Any:
    answer = client.post(f"/v1/{path}", json=asked)
    assert answer.status_code == 200, answer.text
    return answer.get_json()


def marks(answer: Any, unit: str) -> list[float | None]:
    """The mark of every pass."""
    found = [each["gauge_setting"] for each in answer["passes"]]
    assert {each["unit"] for each in found if each} == {unit}
    return [each and each["value"] for each in found]


def test_job_9_a_strong_pin_in_a_softer_box(client: FlaskClient) -> None:
    """The pin bears 72,000 psi x 10.41 in2, the box of 6 1/2 in 62,500 x 11.54: the box, 29,546 ft-lb.

    830 psi x 35.814158 = 29,726 ft-lb.
    """
    joint = {
        "family": "rotary_shouldered", "connection": "NC50", "component": "tool_joint",
        "box_outside_diameter": "6 1/2 in", "pin_bore": "3 1/4 in", "box_stress_level": "62500 psi",
        "box_yield_strength": "110000 psi",
    }  # fmt: skip
    answer = ask(client, "pressure", **joint, **JOB, machine="south-bay-3")
    assert answer["torque"]["target"]["value"] == pytest.approx(29546, abs=1)
    assert answer["gauge_setting"]["value"] == 860
    assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(830 * 35.814158, rel=1e-7)
    del joint["family"]
    assert ask(client, "torque/rotary-shouldered", **joint)["weaker_member"] == "box"


def test_job_19_a_joint_of_one_value(client: FlaskClient) -> None:
    """24,500 N.m: 57 bar x 7.853982e-3 m2 less 2 bar x 5.391052e-3, times 0.558: 24,379 N.m at 60 bar."""
    key = {"motor": "bay motor 171", "joint": "flow diverter to shaft", "bore": "57.15 mm"}
    asked = {"family": "tabulated", "table": "motor-joints", "table_key": key, "machine": "south-bay-1"}
    answer = ask(client, "pressure", **asked, **JOB, units="si")
    assert answer["torque"]["target"]["value"] == pytest.approx(24500)
    assert answer["gauge_setting"] == {"value": 60, "unit": "bar"}
    by_hand = 0.6 * 0.93 * (5.7e6 * pi / 4 * 0.1**2 - 2e5 * pi / 4 * (0.1**2 - 0.056**2))
    assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(by_hand, rel=1e-9)


def test_job_28_buttress_within_one_turn(client: FlaskClient) -> None:
    """Five threads an inch: one turn is 0.2 in, and 1/8 in short of the base are 0.625 of it."""
    answer = ask(client, "make-up-position/buttress", size="9-5/8", face_short_of_base="0.125 in")
    assert (answer["verdict"], answer["turns_to_base"]) == ("accepted", 0.625)
    assert answer["window"]["short_of_base"]["value"] == pytest.approx(0.2)
    beyond = ask(client, "make-up-position/buttress", size="9-5/8", face_short_of_base="0.21 in")
    assert beyond["verdict"] != "accepted"


def test_job_29_sucker_rods_new_and_used(client: FlaskClient) -> None:
    """API RP 11BR, from memory: 3/4 in of grade D new 9/32 to 11/32 in; 7/8 in rerun accepted at 9/32."""
    new = ask(
        client, "make-up-position/sucker-rod", size="3/4", rod_grade="D", run="first", coupling="full_size"
    )
    assert new["displacement_printed"] == "9/32 to 11/32"
    assert (new["displacement_minimum"]["value"], new["displacement_maximum"]["value"]) == (9 / 32, 11 / 32)
    rerun = ask(
        client, "make-up-position/sucker-rod", size="7/8", rod_grade="D", run="rerun", coupling="full_size",
        displacement="9/32 in",
    )  # fmt: skip
    assert rerun["verdict"] == "accepted"


BOLTS = [
    # number, thread, grade, across and hole of the head, share of proof; pitch diameter, pitch, stress area
    # in mm and mm2, proof stress in MPa: own formula F (0.159 P + 0.577 d2 u + Dk u / 2)
    (31, "M36", "8.8", (51.1, 39.0), 0.75, (33.402, 4.0, 816.7, 600), 2083, (438, 2483)),
    (32, "M20", "10.9", (28.2, 22.0), 0.85, (18.376, 2.5, 244.8, 830), 550, (186, 592)),
]


@every_row(
    ("number", "thread", "grade", "face", "share", "sizes", "torque", "permissible"),
    BOLTS,
    ids=lambda row: f"job {row[0]}",
)
def test_jobs_31_and_32_bolts_by_two_shares_of_proof(
    client: FlaskClient,
    number: int,
    thread: str,
    grade: str,
    face: tuple[float, float],
    share: float,
    sizes: tuple[float, float, float, float],
    torque: float,
    permissible: tuple[float, float],
) -> None:
    outside, hole = face
    answer = ask(
        client, "torque/bolt", thread=thread, bolt_grade=grade, method="rounded_helix", proof_share=share,
        thread_friction=0.12, bearing_friction=0.12, bearing_outside_diameter=f"{outside} mm",
        bearing_hole_diameter=f"{hole} mm", units="metric", torque_unit="N.m",
    )  # fmt: skip
    pitch_diameter, pitch, area, proof = sizes
    preload = share * proof * area / 1000
    by_hand = preload * (0.159 * pitch + 0.577 * pitch_diameter * 0.12 + (outside + hole) / 4 * 0.12)
    assert answer["preload"]["value"] == pytest.approx(preload, rel=2e-4)
    assert answer["torque"]["target"]["value"] == pytest.approx(by_hand, rel=4e-3)
    assert answer["torque"]["target"]["value"] == pytest.approx(torque, abs=1)
    allowed = answer["permissible"]["preload"]["value"], answer["permissible"]["torque"]["value"]
    assert allowed == pytest.approx(permissible, rel=1e-3)


def test_job_33_a_nut_factor(client: FlaskClient) -> None:
    """0.18 x 0.875 in x 50,000 psi x 0.4617 in2 / 12 = 303.0 ft-lb."""
    answer = ask(
        client, "torque/bolt", thread="7/8-9 UNC", bolt_grade="B7", method="nut_factor", nut_factor=0.18,
        bolt_stress="50000 psi",
    )  # fmt: skip
    assert answer["torque"]["target"]["value"] == pytest.approx(0.18 * 0.875 * 50000 * 0.4617 / 12, rel=1e-4)


TENSIONED = {
    "machine": "bench-2", "preload_target": "75000 lbf", "load_loss_factor": 1.2,
    "stress_area": "1.492 in2", "yield_strength": "105000 psi",
}  # fmt: skip


def test_job_34_a_tensioner(client: FlaskClient) -> None:
    """75,000 lbf x 1.2 / 6 in2 = 15,000 psi."""
    answer = ask(client, "preload-pressure", **TENSIONED)
    assert answer["gauge_setting"] == {"value": 15000, "unit": "psi"}


def test_job_35_a_flange_of_eight_bolts(client: FlaskClient) -> None:
    """1,676.9 ft-lb at 0.5 ft-lb/psi: 30, 60 and 100 % are 1,006, 2,012 and 3,354 psi, marks every 100."""
    answer = ask(
        client, "flange-sequence/torque", **STUD, **JOB, machine="bench-1", bolt_count=8,
        pass_percentages="30/60/100",
    )  # fmt: skip
    assert [each["name"] for each in answer["passes"]][:5] == ["snug", "cross", "cross", "cross", "circular"]
    assert marks(answer, "psi")[:5] == [None, 1000, 2000, 3400, 3400]


def test_job_36_sixteen_studs_every_second_one_at_a_time(client: FlaskClient) -> None:
    """The first group at 1.15 times 15,000, 17,250 psi, marks every 200; then the others, then a check."""
    answer = ask(
        client, "flange-sequence/preload", **TENSIONED, bolt_count=16, coverage="half", first_pass_factor=1.15
    )
    assert [each["name"] for each in answer["passes"]] == ["first", "second", "check"]
    assert marks(answer, "psi") == [17200, 15000, 15000]


def test_job_41_a_choice_that_a_person_can_read(client: FlaskClient) -> None:
    """An NC38 collar: fit machines first, then the surest, each a line; it was 62,519 bytes."""
    answer = ask(
        client, "machine-choice", **JOB, family="rotary_shouldered", component="drill_collar",
        connection="NC38", box_outside_diameter="4 3/4 in", pin_bore="2 1/4 in", as_of="2026-11-24",
        break_out_ratio=1.3,
    )  # fmt: skip
    order = [(not each["fit"], -each["probability_in_window"]) for each in answer["able"]]
    assert len(order) > 5
    assert order == sorted(order)
    assert all(each["can_both"] in (True, False) for each in answer["able"])
    assert len(json.dumps(answer)) < 40_000


def test_job_42_what_jaws_need(client: FlaskClient) -> None:
    """1.5 x 9,986 x 12 / (0.4 x 2.375) = 189,208 lbf; / (2 x 2.4 x 0.85 x 50.265 in2) = 922.6 psi.

    From 10 in open to 4.75 in: 5.25 x 2.4 = 12.6 in of 18, 5.4 left.
    """
    answer = ask(
        client, "grip", machine="north-bay-2", torque="9986 ft-lb", outside_diameter="4 3/4 in", friction=0.4,
        margin=1.5,
    )  # fmt: skip
    squeeze = 1.5 * 9986 * 12 / (0.4 * 2.375)
    assert answer["needed_squeeze"]["value"] == pytest.approx(squeeze, rel=1e-9)
    assert answer["grip_cylinder"]["pressure"]["value"] == pytest.approx(
        squeeze / (2 * 2.4 * 0.85 * pi / 4 * 64), rel=1e-9
    )
    assert answer["grip_cylinder"]["travel_left"]["value"] == pytest.approx(5.4)


def test_job_43_what_a_chain_needs(client: FlaskClient) -> None:
    """e^(0.4 x 330 deg) = 10.0125; 1.3 x 30,000 x 12 / 3.25 in = 144,000 lbf between its ends.

    Tight 144,000 x 10.0125 / 9.0125 = 159,978 lbf, slack 15,978.
    """
    answer = ask(
        client, "grip", machine="yard-1", torque="30000 ft-lb", outside_diameter="6 1/2 in", friction=0.4,
        margin=1.3,
    )  # fmt: skip
    ratio = exp(0.4 * radians(330))
    chain = answer["chain"]
    assert chain["tension_ratio"] == pytest.approx(ratio, rel=1e-9)
    assert chain["tight_tension"]["value"] == pytest.approx(144000 * ratio / (ratio - 1), rel=1e-9)
    assert chain["slack_tension"]["value"] == pytest.approx(144000 / (ratio - 1), rel=1e-9)
    assert answer["links"]["links"] == 23
