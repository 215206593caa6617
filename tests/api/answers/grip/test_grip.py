"""What ``/v1/grip`` answers and refuses, from request to result."""

from dataclasses import replace
from math import exp, pi
from typing import Any

import pytest
from machines import profile

from api.answers.grip.grip import GRIP_STEPS, GRIPPING, grip_answer
from api.answers.machines.profile import ProfileFolder, profile_from
from api.answers.shop import Policy, Shop
from api.engineering.checks import NoAnswer
from api.engineering.provenance import STATUSES
from api.reference.grip_friction import FRICTION
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.core.faults import InvalidInput
from schemas.grip.grip import GripAnswer, GripRequest
from schemas.machines.profile import load_profile

GRIP = Calculation(
    "grip", LOOK_UP, "", "", {"": GripRequest()}, grip_answer, GripAnswer(), (), {}, GRIP_STEPS
)
BARE = {"torque": "10000 ft-lb", "outside_diameter": "5 in", "friction": 0.3, "margin": 1.5}
"""The published squeeze: 240 000 lbf."""
JAWS = {"rated_squeeze": "300000 lbf"}
CHAIN = {
    "pitch": "1 in",
    "pin_line_offset": "0.375 in",
    "wrap": "360 deg",
    "tail_links": 2,
    "rated_load": "100000 lbf",
}
TABLE = [
    {"minimum": "3 in", "maximum": "4 in", "links": 17},
    {"minimum": "4 in", "maximum": "5 in", "links": 21},
]
CYLINDER = {
    "bore": "6 in",
    "rod": "3 in",
    "squeezing_side": "cap",
    "stroke": "20 in",
    "open_diameter": "10 in",
    "travel_per_diameter": 3,
    "efficiency": 0.5,
    "rated_pressure": "3000 psi",
}
PSI = 4.4482216152605 / 0.0254**2
PARTS = ("jaws", "chain", "links", "grip_cylinder")


def asked(shop: Shop | None = None, **request: Any) -> dict[str, Any]:
    return GRIP.answer({**BARE, **request}, shop or Shop(), "us")


def without_grip() -> dict[str, Any]:
    """The example profile without any part of a grip."""
    return {name: value for name, value in profile().items() if name not in PARTS}


def shop_with(**parts: Any) -> Shop:
    """A shop with the example machine, as its profile loads with these parts of a grip and no others."""
    read = {name: value for name, value in GripRequest().load({**BARE, **parts}).items() if name in parts}
    made = profile_from(without_grip(), load_profile(without_grip()))
    machine = replace(made, loaded={**made.loaded, **read})
    return Shop(ProfileFolder({"example-bay-1": machine}, {}))


def found(answer: dict[str, Any]) -> list[tuple[str, str]]:
    """Levels and codes of its findings, without that of a profile."""
    return [(each["level"], each["code"]) for each in answer["findings"]]


def codes(refusal: pytest.ExceptionInfo[Any]) -> list[tuple[str, str | None]]:
    return [(fault.code, fault.field) for fault in refusal.value.faults]


def test_the_published_squeeze() -> None:
    answer = asked(steps=True)
    assert answer["needed_squeeze"] == {"value": pytest.approx(240_000, rel=1e-9), "unit": "lbf"}
    assert [answer[part] for part in PARTS] == [None] * 4
    assert all("describes" in answer["reasons"][part] for part in PARTS)
    assert answer["status"] == "stated"
    assert answer["steps"][-1]["value"] == answer["needed_squeeze"]
    assert answer["findings"] == []


def test_what_is_true_of_every_grip_is_a_standing_notice() -> None:
    said = {notice.id: notice.text for notice in GRIPPING}
    assert list(said) == [
        *("both_grips", "where_to_grip", "sharp_dies", "hands_off", "slack_side", "chain_inspected"),
        "computed_figures",
    ]
    assert "3 % longer than new" in said["chain_inspected"]


def test_published_friction_is_named_with_its_status() -> None:
    shown = asked()["published_friction"]
    assert [(each["low"], each["high"]) for each in shown] == [(0.05, 0.15), (0.15, 0.74), (0.3, 0.5)]
    assert all(each["status"] in STATUSES and each["source"] and each["what"] for each in shown)
    assert len(shown) == len(FRICTION)


@pytest.mark.parametrize(("friction", "above"), [(0.3, False), (0.74, False), (0.75, True)])
def test_friction_above_all_that_is_published(friction: float, above: bool) -> None:
    answer = asked(friction=friction)
    assert found(answer) == [("look", "friction_above_published")] * above
    if above:
        told = answer["findings"][0]
        assert (told["value"]["value"], told["limit"]["value"]) == (0.75, 0.74)


@pytest.mark.parametrize(
    ("squeeze", "slips", "verdict"),
    # mu N r: 0.3 * N * 2.5/12 lbf.ft, against 15 000 lbf.ft
    [("240000 lbf", 15_000, "pass"), ("200000 lbf", 12_500, "caution"), ("270000 lbf", 16_875, "pass")],
)
def test_a_squeeze_given(squeeze: str, slips: float, verdict: str) -> None:
    answer = asked(squeeze=squeeze)
    assert answer["slip_torque"] == {"value": pytest.approx(slips, rel=1e-9), "unit": "lbf.ft"}
    (check,) = (each for each in answer["checks"] if each["name"] == "squeeze_given")
    assert check["verdict"] == verdict
    assert found(answer) == [("stop", "squeeze_given")] * (verdict == "caution")
    if verdict == "caution":
        told = answer["findings"][0]
        assert told["value"] == answer["slip_torque"]
        assert told["limit"]["value"] == pytest.approx(15_000, rel=1e-9)


@pytest.mark.parametrize(
    ("angle", "needed", "wedge"),
    [(None, None, "none"), ("15 deg", 0.267949, "locks"), ("17 deg", 0.305731, "does_not_lock")],
)
def test_jaws(angle: str | None, needed: float | None, wedge: str) -> None:
    """Friction 0.3."""
    answer = asked(jaws=JAWS | ({"wedge_angle": angle} if angle else {}))
    assert answer["jaws"]["friction_to_lock"] == (needed and pytest.approx(needed, abs=1e-6))
    assert answer["jaws"]["wedge"] == wedge
    assert found(answer) == [("look", "jaws_do_not_lock")] * (wedge == "does_not_lock")


def test_chain_by_hand() -> None:
    """4.75 in, friction 0.25, once round, margin 2, 5000 lbf.ft: k = e^(pi/2); (2 * 60 000 / 2.375) lbf."""
    answer = asked(torque="5000 ft-lb", outside_diameter="4.75 in", friction=0.25, margin=2, chain=CHAIN)
    ratio, difference = exp(pi / 2), 120_000 / 2.375
    chain = answer["chain"]
    assert chain["tension_ratio"] == pytest.approx(4.810, abs=5e-4)
    assert chain["slack_tension"]["value"] == pytest.approx(difference / (ratio - 1), rel=1e-9)
    assert chain["tight_tension"]["value"] == pytest.approx(difference * ratio / (ratio - 1), rel=1e-9)
    held = 100_000 * 2.375 * (1 - 1 / ratio) / 12
    assert chain["slip_torque_at_rated_load"] == {"value": pytest.approx(held, rel=1e-9), "unit": "lbf.ft"}


def test_links_by_the_rule() -> None:
    """Published: 17.28 by arc, 17.18 by chord, rounded up to 18; and 2 for the tails."""
    answer = asked(outside_diameter="4.75 in", torque="100 ft-lb", chain=CHAIN)
    links = answer["links"]
    assert (links["links"], links["basis"], links["ranges"]) == (20, "rule", [])
    assert (links["by_arc"], links["by_chord"]) == pytest.approx((17.28, 17.18), abs=5e-3)
    assert answer["findings"] == []


@pytest.mark.parametrize(
    ("diameter", "said"),
    [
        ("2.4 in", "less than 2.5 pitches"),  # 2.4 pitches: 9.90 by arc and 9.72 by chord, both 10
        ("4.67 in", "18 links, the chord rule 17"),  # 17.03 by arc and 16.93 by chord
        ("5 in", "19 links, the chord rule 18"),  # 18.06 and 17.97
    ],
)
def test_where_the_rules_part_the_chain_is_to_be_laid(diameter: str, said: str) -> None:
    answer = asked(outside_diameter=diameter, torque="100 ft-lb", chain=CHAIN | {"tail_links": 0})
    (told,) = answer["findings"]
    assert told["level"] == "look"
    assert said in told["text"]
    assert told["remedy"] == "Lay the chain round the pipe before you cut it."


def test_links_over_the_grip_of_a_machine() -> None:
    """3 to 10 in: n - 2 links reach OD = 2 ((n - 2) / 2 pi - 0.375) in."""
    answer = asked(shop_with(chain=CHAIN), machine="example-bay-1", torque="100 ft-lb")
    ranges = answer["links"]["ranges"]
    assert (ranges[0]["minimum"]["value"], ranges[-1]["maximum"]["value"]) == (3, 10)
    for each in ranges[:-1]:
        reach = 2 * ((each["links"] - 2) / (2 * pi) - 0.375)
        assert each["maximum"]["value"] == pytest.approx(reach, rel=1e-9)
    assert answer["version"]["profile_id"] == "example-bay-1"


@pytest.mark.parametrize(("diameter", "links"), [("3 in", 17), ("3.9 in", 17), ("4 in", 21), ("5 in", 21)])
def test_the_table_of_the_chain_comes_first(diameter: str, links: float) -> None:
    chain = CHAIN | {"link_table": TABLE}
    found = asked(outside_diameter=diameter, torque="100 ft-lb", chain=chain)["links"]
    assert (found["links"], found["basis"], found["by_arc"]) == (links, "table", None)
    assert [each["links"] for each in found["ranges"]] == [17, 21]


@pytest.mark.parametrize(
    ("chain", "diameter", "reason"),
    [
        (CHAIN | {"link_table": TABLE}, "5.5 in", "no row of the chain's own table"),
        (CHAIN | {"pitch": "3 in"}, "2 in", "do not bend round"),
    ],
)
def test_links_that_are_not_known_leave_the_rest_answered(
    chain: dict[str, Any], diameter: str, reason: str
) -> None:
    answer = asked(outside_diameter=diameter, torque="100 ft-lb", chain=chain)
    assert answer["links"] is None
    assert reason in answer["reasons"]["links"]
    assert diameter in answer["reasons"]["links"]
    assert answer["chain"] is not None


def test_grip_cylinder_by_hand() -> None:
    """(10 - 5) 3 = 15 in of 20; 240 000 / (2 * 3 * 0.5) = 80 000 lbf on 9 pi in2."""
    found = asked(grip_cylinder=CYLINDER)["grip_cylinder"]
    assert found["travel_used"] == {"value": pytest.approx(15, rel=1e-9), "unit": "in"}
    assert found["travel_left"] == {"value": pytest.approx(5, rel=1e-9), "unit": "in"}
    assert found["pressure"] == {"value": pytest.approx(80_000 / (9 * pi), rel=1e-9), "unit": "psi"}


@pytest.mark.parametrize(
    ("request_", "refused"),
    [
        ({"jaws": {"rated_squeeze": "239000 lbf"}}, ["squeeze_rating_exceeded"]),
        ({"jaws": JAWS, "squeeze": "301000 lbf"}, ["squeeze_rating_exceeded"]),
        ({"chain": CHAIN | {"rated_load": "70000 lbf"}}, ["chain_load_exceeded"]),
        ({"grip_cylinder": CYLINDER | {"stroke": "14.9 in"}}, ["grip_cylinder_at_end"]),
        ({"grip_cylinder": CYLINDER | {"open_diameter": "4.9 in"}}, ["grip_not_wide_enough"]),
        ({"grip_cylinder": CYLINDER | {"rated_pressure": "2800 psi"}}, ["grip_pressure_exceeded"]),
        (
            {"jaws": {"rated_squeeze": "1000 lbf"}, "chain": CHAIN | {"rated_load": "1000 lbf"}},
            ["squeeze_rating_exceeded", "chain_load_exceeded"],
        ),
    ],
)
def test_a_grip_that_would_be_overloaded_is_refused_with_all_reasons(
    request_: dict[str, Any], refused: list[str]
) -> None:
    """On 5 in at friction 0.3 the chain pulls 180 000 / 2.5 / (1 - e^(-0.6 pi)) = 84 900 lbf."""
    with pytest.raises(NoAnswer) as refusal:
        asked(**request_)
    assert codes(refusal) == [(code, None) for code in refused]


@pytest.mark.parametrize(
    ("request_", "refused"),
    [
        ({"outside_diameter": "11 in"}, [("diameter_not_gripped", "machine")]),
        ({"torque": "60001 ft-lb", "friction": 0.5, "margin": 1}, [("torque_rating_exceeded", "machine")]),
        ({"machine": "nobody"}, [("unknown_machine", "machine")]),
        ({"jaws": JAWS}, [("contradiction", "jaws")]),
    ],
)
def test_what_the_machine_refuses(request_: dict[str, Any], refused: list[tuple[str, str]]) -> None:
    with pytest.raises(NoAnswer) as refusal:
        asked(shop_with(jaws={"rated_squeeze": "1000000 lbf"}), **{"machine": "example-bay-1", **request_})
    assert codes(refusal) == refused


def test_the_parts_of_a_machine_and_of_the_request_add_up() -> None:
    """The machine has jaws, the request a chain; an inline profile without parts adds none."""
    answer = asked(shop_with(jaws=JAWS), machine="example-bay-1", chain=CHAIN)
    assert [part for part in PARTS if answer[part]] == ["jaws", "chain", "links"]
    assert [part for part in PARTS if part in answer["reasons"]] == ["grip_cylinder"]
    assert asked(machine=without_grip())["jaws"] is None


def test_a_draft_is_a_stop_or_refused() -> None:
    draft = profile(status="draft")
    assert found(asked(machine=draft)) == [("stop", "profile_is_draft")]
    with pytest.raises(NoAnswer) as refusal:
        asked(Shop(policy=Policy(unfit_profiles="refuse")), machine=draft, as_of="2026-11-24")
    assert codes(refusal) == [("profile_is_draft", "machine")]


@pytest.mark.parametrize("missing", ["torque", "outside_diameter", "friction", "margin"])
def test_nothing_is_assumed(missing: str) -> None:
    request_ = {name: value for name, value in BARE.items() if name != missing}
    with pytest.raises(InvalidInput) as refusal:
        GRIP.answer(request_, Shop(), "us")
    assert [(fault.path, fault.code) for fault in refusal.value.faults] == [((missing,), "missing_field")]


@pytest.mark.parametrize(
    ("request_", "path", "code"),
    [
        ({"friction": 0}, ("friction",), "out_of_range"),
        ({"margin": 0.99}, ("margin",), "out_of_range"),
        ({"jaws": {}}, ("jaws", "rated_squeeze"), "missing_field"),
        ({"jaws": JAWS | {"wedge_angle": "90 deg"}}, ("jaws", "wedge_angle"), "out_of_range"),
        ({"chain": CHAIN | {"wrap": "4 rev"}}, ("chain", "wrap"), "out_of_range"),
        ({"chain": CHAIN | {"link_table": TABLE[::-1]}}, ("chain", "link_table"), "contradiction"),
        ({"chain": CHAIN | {"link_table": []}}, ("chain", "link_table"), "invalid"),
        (
            {"chain": CHAIN | {"link_table": [{"minimum": "4 in", "maximum": "3 in", "links": 9}]}},
            ("chain", "link_table", 0, "maximum"),
            "contradiction",
        ),
        (
            {"chain": CHAIN | {"link_table": [TABLE[0], TABLE[1] | {"links": 16}]}},
            ("chain", "link_table"),
            "contradiction",
        ),
        ({"grip_cylinder": CYLINDER | {"rod": "6 in"}}, ("grip_cylinder", "rod"), "contradiction"),
        ({"grip_cylinder": CYLINDER | {"efficiency": 1.1}}, ("grip_cylinder", "efficiency"), "out_of_range"),
    ],
)
def test_invalid(request_: dict[str, Any], path: tuple[str | int, ...], code: str) -> None:
    with pytest.raises(InvalidInput) as refusal:
        asked(**request_)
    assert [(fault.path, fault.code) for fault in refusal.value.faults] == [(path, code)]


# 8 in cap, 50.26548 in2, by virtual work 2 x 2.4 x 0.85 times its force: 205.0831684 lbf per psi
OWN = {
    "bore": "8 in", "rod": "3 in", "squeezing_side": "cap", "stroke": "18 in", "open_diameter": "10 in",
    "travel_per_diameter": 2.4, "efficiency": 0.85, "rated_pressure": "3000 psi",
}  # fmt: skip
ADJUSTABLE = {"lowest": "300 psi", "highest": "2500 psi", "override": "250 psi"}
FIXED = {"cracking": "2500 psi", "full_flow": "2750 psi"}


@pytest.mark.parametrize(
    ("supply", "relief", "torque", "refused"),
    [
        # 1.5 x 37,100 x 12 / (0.4 x 3.25) = 513,692.3 lbf: 2,504.8 psi; of 37,020 ft-lb 2,499.4 psi
        ("common", ADJUSTABLE, "37100 ft-lb", True),
        ("common", FIXED, "37100 ft-lb", True),
        ("common", ADJUSTABLE, "37020 ft-lb", False),
        ("common", FIXED, "37020 ft-lb", False),
        ("separate", ADJUSTABLE, "37100 ft-lb", False),
        ("locked", FIXED, "37100 ft-lb", False),
    ],
)
def test_a_grip_on_a_common_supply_stays_below_its_relief(
    supply: str, relief: dict[str, str], torque: str, refused: bool
) -> None:
    """decisions 3.2: 2,505 psi passed against a relief of 2,500 psi."""
    machine = profile(relief=relief, grip_cylinder=OWN, grip_supply=supply)
    request = {"torque": torque, "outside_diameter": "6.5 in", "friction": 0.4, "machine": machine}
    if refused:
        with pytest.raises(NoAnswer) as refusal:
            asked(**request)
        assert codes(refusal) == [("grip_not_below_relief", "machine")]
        assert refusal.value.faults[0].amounts["value"].value == pytest.approx(2504.798 * PSI, rel=1e-6)
    else:
        assert asked(**request)["grip_cylinder"]["pressure"]["value"] == pytest.approx(
            2504.798 if torque == "37100 ft-lb" else 2499.397, rel=1e-6
        )
