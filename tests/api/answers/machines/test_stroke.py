"""What ``/v1/stroke`` answers and refuses, from request to result."""

from math import acos, degrees, radians, sqrt
from typing import Any

import pytest
from machines import V_SEAT, profile

from api.answers.machines.profile import profile_from
from api.answers.machines.stroke import STROKE_NOTICES, STROKE_STEPS, stroke_answer, swing_of
from api.answers.shop import Policy, Shop
from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.machine import Efficiency
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import Cylinder
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.core.faults import InvalidInput
from schemas.machines.stroke import StrokeAnswer, StrokeRequest

STROKE = Calculation(
    "stroke", LOOK_UP, "", "", {"": StrokeRequest()}, stroke_answer, StrokeAnswer(), (), {}, STROKE_STEPS
)
"""36 in arm, 60 in base, 40 to 62 in long: the published example with a wider stroke."""
LOST = {"lost_motion": "0 deg"}


def asked(shop: Shop | None = None, units: str = "us", **request: Any) -> dict[str, Any]:
    return STROKE.answer({"machine": profile(), **LOST, **request}, shop or Shop(), units)


def codes(refusal: pytest.ExceptionInfo[Any]) -> list[tuple[str, str | None]]:
    return [(fault.code, getattr(fault, "field", None)) for fault in refusal.value.faults]


def test_the_published_stroke() -> None:
    answer = asked(used_from="42 in", used_to="54 in", rotation="60 deg", steps=True)
    assert answer["rotation_per_stroke"] == {"value": pytest.approx(19.189, abs=5e-4), "unit": "deg"}
    assert answer["mean_torque_factor"] == pytest.approx(0.99528, abs=5e-6)
    assert answer["mean_moment_arm"]["value"] == pytest.approx(0.99528 * 36, abs=2e-4)
    assert answer["start"]["torque_factor"] == pytest.approx(0.98393, abs=5e-6)
    assert answer["end"]["torque_factor"] == pytest.approx(0.98753, abs=5e-6)
    assert answer["end"]["arm_angle"] == {"value": pytest.approx(62.720, abs=5e-4), "unit": "deg"}
    assert answer["smallest"]["length"] == {"value": 42.0, "unit": "in"}
    assert answer["largest"]["length"] == {"value": 48.0, "unit": "in"}
    assert answer["largest"]["off_square"]["value"] == pytest.approx(0, abs=1e-6)
    assert answer["torque_spread"] == pytest.approx(1 / 0.98393 - 1, abs=1e-5)
    assert (answer["square_length"]["value"], answer["square_position"]) == (48.0, "within_used_part")
    assert answer["wanted"]["strokes"] == 4  # 60 / 19.189 = 3.13
    assert answer["wanted"]["rotation_in_last_stroke"]["value"] == pytest.approx(60 - 3 * 19.189, abs=2e-3)
    assert [each["field"] for each in answer["assumptions"]] == ["rod_showing_when_closed"]
    # closed it is 40 in long
    shown = [answer[name]["rod_exposed"]["value"] for name in ("start", "end", "largest")]
    assert shown == pytest.approx([2, 14, 8])
    shown = {step["symbol"]: step["value"] for step in answer["steps"]}
    assert shown["theta1"] == answer["start"]["arm_angle"]
    assert shown["used"] == answer["useful_rotation_per_stroke"]


def test_the_whole_stroke_is_an_assumption() -> None:
    """theta = acos((36^2 + 60^2 - L^2) / 4320) at 40 in and 62 in."""
    answer = asked()
    fields = [each["field"] for each in answer["assumptions"]]
    assert fields == ["used_from", "used_to", "rod_showing_when_closed"]
    rotation = degrees(acos((4896 - 62**2) / 4320) - acos((4896 - 40**2) / 4320))
    assert answer["rotation_per_stroke"]["value"] == pytest.approx(rotation, rel=1e-9)
    assert (answer["start"]["length"]["value"], answer["end"]["length"]["value"]) == (40, 62)
    assert answer["wanted"] is None
    assert "rotation" in answer["reasons"]["wanted"]


@pytest.mark.parametrize(
    ("given", "useful", "wanted", "strokes"),
    [
        # 42 to 54 in turn 19.189 degrees.
        ({"lost_motion": "2 deg", "rotation": "60 deg"}, 17.189, 60, 4),  # 3.49
        ({"lost_motion": "0 rad", "rotation": "1 rev"}, 19.189, 360, 19),  # 18.76
        ({"lost_motion": "19 deg", "rotation": "1 deg"}, 0.189, 1, 6),  # 5.29
        ({"lost_motion": "0 deg", "axial_travel": "1/2 in", "lead": "0.25 in"}, 19.189, 720, 38),  # 37.52
        ({"lost_motion": "0 deg", "axial_travel": "3 mm", "lead": "2 mm"}, 19.189, 540, 29),  # 28.14
    ],
)
def test_strokes(given: dict[str, str], useful: float, wanted: float, strokes: int) -> None:
    answer = asked(used_from="42 in", used_to="54 in", **given)
    assert answer["useful_rotation_per_stroke"]["value"] == pytest.approx(useful, abs=1e-3)
    assert answer["wanted"]["rotation"]["value"] == pytest.approx(wanted, rel=1e-9)
    assert answer["wanted"]["strokes"] == strokes
    assert "wanted" not in answer["reasons"]
    assert answer["findings"] == []


@pytest.mark.parametrize(("units", "unit"), [("us", "deg"), ("metric", "deg"), ("si", "rad")])
def test_units(units: str, unit: str) -> None:
    """acos(1052 / 4320) - acos(3296 / 4320) = 1.324804 - 0.702912 rad."""
    answer = asked(units=units)
    assert answer["rotation_per_stroke"]["unit"] == unit
    value = answer["rotation_per_stroke"]["value"]
    assert (value if unit == "rad" else radians(value)) == pytest.approx(0.621892, abs=1e-6)


def test_a_grip_that_is_not_self_centring_needs_its_diameter() -> None:
    """At 8 in: arm 37.6 in, base 62 in; square at sqrt(62^2 - 37.6^2) in."""
    answer = asked(machine=profile(**V_SEAT), gripped_outside_diameter="8 in", used_from="42 in")
    assert answer["square_length"]["value"] == pytest.approx(sqrt(62**2 - 37.6**2), rel=1e-9)
    with pytest.raises(NoAnswer) as refusal:
        asked(machine=profile(**V_SEAT))
    assert codes(refusal) == [("gripped_diameter_required", "gripped_outside_diameter")]


@pytest.mark.parametrize(
    ("request_", "refused"),
    [
        ({"used_from": "39 in"}, [("outside_stroke", "used_from")]),
        (
            {"used_from": "39 in", "used_to": "63 in"},
            [("outside_stroke", "used_from"), ("outside_stroke", "used_to")],
        ),
        ({"used_from": "62 in"}, [("contradiction", "used_from")]),
        ({"lost_motion": "60 deg"}, [("nothing_left_of_stroke", "lost_motion")]),
        ({"machine": "nobody"}, [("unknown_machine", "machine")]),
        ({"gripped_outside_diameter": "11 in"}, [("diameter_not_gripped", "machine")]),
        # the dead centres are at 24 and 96 in; 5 degrees from them is sqrt(4896 -+ 4320 cos 5 deg) in,
        # 24.34 and 95.91
        ({"machine": profile(cylinder__closed_length="24.3 in")}, [("dead_centre", "used_from")]),
        ({"machine": profile(cylinder__open_length="95.95 in")}, [("dead_centre", "used_to")]),
    ],
)
def test_refused(request_: dict[str, Any], refused: list[tuple[str, str]]) -> None:
    with pytest.raises(NoAnswer) as refusal:
        asked(**request_)
    assert codes(refusal) == refused


def test_the_end_near_a_dead_centre_may_be_left_out() -> None:
    near = profile(cylinder__closed_length="24.3 in")
    assert asked(machine=near, used_from="30 in")["start"]["length"]["value"] == 30


@pytest.mark.parametrize(
    ("request_", "refused"),
    [
        ({"used_from": "50 in", "used_to": "42 in"}, [("used_to", "contradiction")]),
        ({"rotation": "90 deg", "axial_travel": "1 in", "lead": "0.25 in"}, [("rotation", "contradiction")]),
        ({"axial_travel": "1 in"}, [("axial_travel", "contradiction")]),
        ({"lead": "1 in"}, [("lead", "contradiction")]),
        ({"lost_motion": None}, [("lost_motion", "not_null")]),
        ({"lost_motion": "2"}, [("lost_motion", "bare_number")]),
        ({"rotation": "90 N.m"}, [("rotation", "wrong_kind")]),
        ({"rotation": "0 deg"}, [("rotation", "out_of_range")]),
        ({"arm_position": "square"}, [("arm_position", "unknown_field")]),
    ],
)
def test_invalid(request_: dict[str, Any], refused: list[tuple[str, str]]) -> None:
    with pytest.raises(InvalidInput) as refusal:
        asked(**request_)
    assert [(fault.path[0], fault.code) for fault in refusal.value.faults] == refused


def test_lost_motion_is_never_assumed() -> None:
    with pytest.raises(InvalidInput) as refusal:
        STROKE.answer({"machine": profile()}, Shop(), "us")
    assert [(fault.path, fault.code) for fault in refusal.value.faults] == [
        (("lost_motion",), "missing_field")
    ]


def test_rod_that_shows_when_closed_is_counted_and_nothing_assumed() -> None:
    """With 1.5 in showing at 40 in, a pin-to-pin length of 42 in has 3.5 in of rod out."""
    answer = asked(machine=profile(cylinder__rod_showing_when_closed="1.5 in"), used_from="42 in")
    assert answer["start"]["rod_exposed"]["value"] == pytest.approx(3.5)
    assert [each["field"] for each in answer["assumptions"]] == ["used_to"]


def test_what_is_true_of_every_stroke_is_a_standing_notice() -> None:
    assert [notice.id for notice in STROKE_NOTICES] == ["last_stroke", "between_strokes", "computed_figures"]


def test_a_draft_is_a_stop_or_refused() -> None:
    draft = profile(status="draft")
    told = asked(machine=draft)["findings"]
    assert [(each["level"], each["code"]) for each in told] == [("stop", "profile_is_draft")]
    with pytest.raises(NoAnswer) as refusal:
        asked(Shop(policy=Policy(unfit_profiles="refuse")), machine=draft, as_of="2026-11-24")
    assert codes(refusal) == [("profile_is_draft", "machine")]


class Made:
    """A profile whose machine is given as it is."""

    def __init__(self, machine: Any) -> None:
        self.machine = lambda gripped: machine


ONE = Efficiency(1.0, 1.0, 1.0)
FIRST = CylinderAtArm(Cylinder(0.1, 0.05, 1.0, 1.4), 0.9, 1.5, "cap")
ALONE = CylinderOnArm(FIRST.cylinder, 0.9, 1.5, "cap", ONE, 0.0, 0.0)


@pytest.mark.parametrize(
    ("machine", "answers"),
    [
        (ALONE, True),
        (TwoCylinders(FIRST, FIRST, True, ONE, 0.0, 0.0), True),
        (TwoCylinders(FIRST, CylinderAtArm(FIRST.cylinder, 0.8, 1.5, "cap"), True, ONE, 0.0, 0.0), False),
        (CylinderOnSquareArm(0.9, None, FIRST.cylinder, "cap", ONE, 0.0, 0.0), False),
    ],
    ids=["one cylinder", "two alike", "two unlike", "base not known"],
)
def test_kinds_with_one_length_for_one_angle(machine: Any, answers: bool) -> None:
    made: Any = Made(machine)
    if answers:
        assert swing_of(made, None).arm_radius == 0.9
        return
    with pytest.raises(NoAnswer) as refusal:
        swing_of(made, None)
    assert codes(refusal) == [("no_stroke", "machine")]


def test_the_swing_of_a_profile_is_its_triangle() -> None:
    asked_for = StrokeRequest().load({"machine": profile(), **LOST})
    swing = swing_of(profile_from(**asked_for["machine"]), None)
    assert (swing.arm_radius, swing.base_distance) == pytest.approx((36 * 0.0254, 60 * 0.0254))
