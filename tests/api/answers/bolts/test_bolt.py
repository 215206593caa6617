"""What ``/v1/torque/bolt`` answers, and ``/v1/preload/bolt``, its inverse, from request to result."""

import random
from math import pi, sqrt
from typing import Any

import pytest
from bolts import PRELOAD, TORQUE, BoltRequest
from rows import every_row

from api.answers.bolts.torque import bolt_window
from api.answers.shop import Policy, Shop
from api.engineering.checks import NoAnswer
from schemas.core.faults import load

FACE = {"bearing_outside_diameter": "28.19 mm", "bearing_hole_diameter": "22 mm"}
FRICTION = {"thread_friction": 0.12, "bearing_friction": 0.14}
OF_METHOD: dict[str, dict[str, Any]] = {
    "nut_factor": {"thread": "M20", "bolt_grade": "8.8", "nut_factor": 0.18},
    "exact_helix": {"thread": "M20", "bolt_grade": "8.8", **FRICTION, **FACE},
    "simplified_helix": {"thread": "M20", "bolt_grade": "8.8", **FRICTION, **FACE},
    "rounded_helix": {"thread": "M20", "bolt_grade": "8.8", **FRICTION},
    "heavy_hex_nut": {"thread": "1-1/2-8 UN", "bolt_grade": "B7", "thread_friction": 0.13},
}
METHODS = list(OF_METHOD)


def asked(method: str, units: str = "si", **request: Any) -> dict[str, Any]:
    return TORQUE.answer({"method": method, **OF_METHOD[method], **request, "units": units}, Shop(), "si")


def applied(method: str, **request: Any) -> dict[str, Any]:
    return PRELOAD.answer({"method": method, **OF_METHOD[method], **request, "units": "si"}, Shop(), "si")


def value(answer: dict[str, Any], name: str) -> float:
    part: Any = answer
    for each in name.split("."):
        part = part[each]
    return float(part["value"])


@every_row("seed", range(20))
@every_row("method", METHODS)
def test_torque_and_preload_are_inverse(method: str, seed: int) -> None:
    draw = random.Random(f"20261124 {method} {seed}")
    preload = draw.uniform(5e3, 1.2e5)
    wanted = asked(method, preload=f"{preload!r} N")
    torque = value(wanted, "torque.target")
    back = applied(method, applied_torque=f"{torque!r} N.m")
    assert value(back, "preload") == pytest.approx(preload, rel=1e-9)
    assert value(back, "applied_torque") == torque
    same = set(wanted) & set(back) - {"inputs", "reasons", "asked", "question", "fingerprint"}
    assert {"bolt_stress", "tightening_stress", "torsional_yield", "torque_split", "status"} <= same
    for name in same:
        assert close(back[name], wanted[name]), name
    of_the_window = {name: text for name, text in wanted["reasons"].items() if name.startswith("torque.")}
    assert wanted["reasons"] == back["reasons"] | of_the_window


def close(one: Any, other: Any) -> bool:
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(close(one[key], other[key]) for key in one)
    if isinstance(one, float):
        return bool(other == pytest.approx(one, rel=1e-8))
    return bool(one == other)


def test_a_printed_example_by_nut_factor() -> None:
    """Shigley, solution 8-29: M20 8.8, 0.9 of 600 MPa on 245 mm2 is 132.3 kN; K = 0.18 gives 476 N.m."""
    answer = asked("nut_factor", proof_share=0.9)
    assert value(answer, "preload") == pytest.approx(132.3e3, rel=0.001)
    assert value(answer, "torque.target") == pytest.approx(476, rel=0.001)
    assert answer["share_of_proof"] == 0.9
    assert answer["nut_factor"] == 0.18
    for unknown in ("tightening_stress", "loosening", "permissible", "nut_factor_from_friction",
                    "bearing_diameter"):  # fmt: skip
        assert answer[unknown] is None, unknown
    split = answer["torque_split"]
    assert split["thread_friction"] is split["bearing_friction"] is None
    assert value(split, "pitch") == pytest.approx(value(answer, "preload") * 0.0025 / (2 * pi), rel=1e-9)
    assert "nut factor" in answer["reasons"]["torque_split.thread_friction"]
    assert answer["torque_split_basis"] is None
    assert answer["findings"] == []


def test_a_nut_factor_yields_at_the_latest_by_tension_and_pitch() -> None:
    """M20 8.8: pitch arm 2.5 / 2 pi = 0.39789 mm; tau over sigma 12 x 0.39789 x 244.794 / (pi 17.6545^3) =
    0.067614, together 1.006834 sigma: 660 MPa at 161,564 / 1.006834 = 160,468 N, times 0.18 x 20 mm."""
    answer = asked("nut_factor", proof_share=0.9)
    assert value(answer, "torsional_yield") == pytest.approx(577.68, abs=0.01)
    assert "at the latest" in answer["torsional_yield_basis"]
    asked("nut_factor", preload="160467 N")
    for beyond in ({"preload": "160468 N"}, {"bolt_stress": "660 MPa"}, {"yield_share": 0.994}):
        with pytest.raises(NoAnswer, match="bolt_overstressed"):
            asked("nut_factor", **beyond)


@pytest.mark.parametrize(
    ("method", "share"), [("exact_helix", 0.8), ("nut_factor", 0.9), ("heavy_hex_nut", 0.8)]
)
def test_no_tolerance_reaches_beyond_yield(method: str, share: float) -> None:
    answer = asked(method, yield_share=share)
    reach = value(answer, "torsional_yield") / value(answer, "torque.target") - 1
    within = asked(method, yield_share=share, torque_tolerance=0.999 * reach)
    assert value(within, "torque.maximum") < value(within, "torsional_yield")
    with pytest.raises(NoAnswer, match="torsional_yield_exceeded"):
        asked(method, yield_share=share, torque_tolerance=1.001 * reach)


@pytest.mark.parametrize("method", METHODS)
def test_a_shop_that_takes_nothing_reprinted(method: str) -> None:
    """How stress is judged is a reprint: it is not told, but limits all the same."""
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "from memory", "stated"})))
    asked_for = {"method": method, **OF_METHOD[method], "preload": "100 kN", "steps": True}
    try:
        answer = TORQUE.answer(asked_for, shop, "si")
    except NoAnswer as refusal:
        assert [fault.code for fault in refusal.faults] == ["status_not_accepted"]
        assert method in ("simplified_helix", "rounded_helix")
        return
    assert answer["tightening_stress"] is answer["permissible"] is answer["torsional_yield"] is None
    for name in ("tightening_stress", "permissible", "torsional_yield"):
        assert "withheld" in answer["reasons"][name]
    assert "T_Re" not in [step["symbol"] for step in answer["steps"]]
    with pytest.raises(NoAnswer, match="bolt_overstressed"):
        TORQUE.answer({**asked_for, "preload": "1000 kN"}, shop, "si")


def test_the_strength_decides_too() -> None:
    """L43 is from memory: the checks of a stated preload rest on it."""
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint", "stated"})))
    bolt = {"thread": "3/4-10 UNC", "bolt_grade": "L43", "method": "nut_factor", "nut_factor": 0.2}
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        TORQUE.answer({**bolt, "preload": "10000 lbf"}, shop, "us")


def test_stress_while_tightening_by_hand() -> None:
    """M20, 0.12 in the thread: the shank torque from the exact helix, Wp = pi d0^3 / 12 and / 16."""
    answer = asked("exact_helix", preload="100 kN")
    d2, d0, P, mu = 18.37620, 17.654515, 2.5, 0.12
    shank = 100e3 * d2 / 2 * (P / (pi * d2) + 1.1547005 * mu) / (1 - 1.1547005 * mu * P / (pi * d2))
    tension = 100e3 / (pi / 4 * d0**2)
    for torsion, section in (("plastic", 12), ("elastic", 16)):
        shear = shank * section / (pi * d0**3)
        part = answer["tightening_stress"]
        assert value(part, f"shear_{torsion}") / 1e6 == pytest.approx(shear, rel=1e-5)
        combined = sqrt(tension**2 + 3 * shear**2)
        assert value(part, f"combined_{torsion}") / 1e6 == pytest.approx(combined, rel=1e-5)
        assert part[f"combined_{torsion}_share_of_yield"] == pytest.approx(combined / 660, rel=1e-5)
    split = [
        value(answer, f"torque_split.{each}") for each in ("pitch", "thread_friction", "bearing_friction")
    ]
    assert sum(split) == pytest.approx(value(answer, "torque.target"), rel=1e-9)
    assert split[0] + split[1] == pytest.approx(shank / 1e3, rel=1e-5)
    assert split[2] == pytest.approx(100 * 0.14 * (28.19 + 22) / 4, rel=1e-9)


def test_a_thread_that_only_its_bearing_holds() -> None:
    """M20: tan(phi) = 2.5 / (pi 18.376) = 0.0433 is more than 0.02 / cos 30, so that the thread runs back."""
    slippery = asked("exact_helix", preload="100 kN", thread_friction=0.02)["loosening"]
    assert slippery["self_locking"] == "no"
    assert slippery["torque"]["value"] > 0
    assert asked("exact_helix", preload="100 kN")["loosening"]["self_locking"] == "yes"


@pytest.mark.parametrize(
    ("wanted", "preload"),
    [
        ({"preload": "100 kN"}, 100e3),
        ({"bolt_stress": "400 MPa"}, 400e6 * 244.7944e-6),
        ({"proof_share": 0.75}, 0.75 * 600e6 * 244.7944e-6),
        ({"yield_share": 0.5}, 0.5 * 660e6 * 244.7944e-6),
    ],
)
def test_the_four_ways_to_say_how_far(wanted: dict[str, Any], preload: float) -> None:
    answer = asked("exact_helix", **wanted)
    assert value(answer, "preload") == pytest.approx(preload, rel=1e-6)
    assert value(answer, "stress_area") == pytest.approx(244.7944e-6, rel=1e-6)
    assert answer["area_standard"] == "ISO 898-1"


def test_stated_strength_takes_the_place_of_a_grade() -> None:
    stated = {**OF_METHOD["exact_helix"], "bolt_yield_strength": "660 MPa", "bolt_proof_stress": "600 MPa"}
    del stated["bolt_grade"]
    answer = TORQUE.answer({**stated, "method": "exact_helix", "proof_share": 0.75}, Shop(), "us")
    by_grade = asked("exact_helix", units="us", proof_share=0.75)
    assert answer["torque"]["target"] == by_grade["torque"]["target"]
    assert answer["bolt_grade"] is answer["bolt_grade_sizes"] is None
    assert by_grade["bolt_grade_sizes"] == "over M16 through M39"


def test_window() -> None:
    values = load(BoltRequest(), {"method": "exact_helix", **OF_METHOD["exact_helix"], "preload": "100 kN"})
    window = bolt_window(values, Shop())
    assert window.minimum.torque.value is window.maximum.torque.value is None
    assert "torque_tolerance" in window.minimum.torque.reason
    assert window.torsional_yield is not None
    assert window.torsional_yield > window.goal
    wide = bolt_window({**values, "torque_tolerance": 0.05}, Shop())
    assert (wide.minimum.torque.value, wide.maximum.torque.value) == pytest.approx(
        (0.95 * wide.goal, 1.05 * wide.goal)
    )


def test_torsional_yield_is_where_the_refusal_begins() -> None:
    yields = value(asked("exact_helix", preload="100 kN"), "torsional_yield")
    just_below = applied("exact_helix", applied_torque=f"{0.9999 * yields!r} N.m")
    assert just_below["tightening_stress"]["combined_plastic_share_of_yield"] == pytest.approx(0.9999)
    with pytest.raises(NoAnswer, match="bolt_overstressed"):
        applied("exact_helix", applied_torque=f"{1.0001 * yields!r} N.m")


@pytest.mark.parametrize("method", METHODS)
def test_working(method: str) -> None:
    """The last lines of the working are the answer, and only the method used is shown."""
    answer = asked(method, preload="50 kN", steps=True)
    steps = {step["symbol"]: step["value"]["value"] for step in answer["steps"]}
    assert steps["T"] == value(answer, "torque.target")
    assert steps["arm"] * steps["F"] == pytest.approx(steps["T"], rel=1e-9)
    assert [step["symbol"] for step in answer["steps"]].count("arm") == 1
    back = applied(method, applied_torque=f"{steps['T']!r} N.m", steps=True)
    symbols = [step["symbol"] for step in back["steps"]]
    assert symbols.index("T") < symbols.index("F")
    assert len(symbols) == len(set(symbols))


def test_a_shop_that_takes_no_figure_from_memory() -> None:
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint", "fitted", "stated"})))
    more = {"preload": "100 kN", "grip_length": "80 mm", "tightening_method": "torque_wrench_known_friction"}
    request = {"method": "exact_helix", **OF_METHOD["exact_helix"], **more}
    answer = TORQUE.answer(request, shop, "si")
    assert answer["scatter"] is None
    assert "withheld" in answer["reasons"]["scatter"]
    assert answer["stretch"]["nut_angle"] is None
    ends = TORQUE.answer({**request, "bolt_ends": "hexagon_bolt_and_nut"}, shop, "si")
    assert ends["stretch"] is None
    assert "from memory" not in {each["status"] for each in answer["sources"]}
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        TORQUE.answer(
            {"method": "rounded_helix", **OF_METHOD["rounded_helix"], "preload": "9 kN"}, shop, "si"
        )
