"""A bolt under an external load: worked by hand from Fb = Fi + C P, and every reason to refuse."""

import random
from math import isfinite
from typing import Any

import pytest

from api.answers.shop import Policy, Shop
from api.engineering.bolts.service import bolt_force, safety_margin_to_proof
from api.engineering.checks import NoAnswer
from api.registry.calculations import CALCULATIONS
from schemas.core.faults import InvalidInput

TORQUE, PRELOAD = (
    next(each for each in CALCULATIONS if each.name == f"{name}/bolt") for name in ("torque", "preload")
)
# M12, 8.8: stress area 84.27 mm2, proof 580 MPa, yield 640 MPa (ISO 898-1); preload and load of the worked
# solution to Shigley's problem 8-23
BOLT = {"thread": "M12", "bolt_grade": "8.8", "method": "nut_factor", "nut_factor": 0.2}
LOADED = {"preload": "37.9 kN", "external_load": "8.48 kN", "bolt_load_share": 0.256}
AREA = 84.2665e-6
"""pi/4 (d - 0.9382 P)^2 of M12 x 1.75, m2."""


def asked(**given: Any) -> dict[str, Any]:
    request = {name: value for name, value in {**BOLT, **LOADED, **given}.items() if value is not None}
    return TORQUE.answer(request, Shop(), "si")


def in_service(**given: Any) -> dict[str, Any]:
    part = asked(**given)["in_service"]
    return {name: each["value"] if isinstance(each, dict) else each for name, each in part.items()}


@pytest.mark.parametrize(
    ("given", "constant", "force"),
    [
        # 37,900 + 0.256 * 8,480 = 40,070.88 N
        ({}, 0.256, 40_070.88),
        # clamped parts three times as stiff as the bolt: C = 1 / (1 + 3)
        ({"bolt_load_share": None, "stiffness_ratio": 3.0}, 0.25, 40_020.0),
        ({"bolt_load_share": 0.5, "external_load": "10 kN"}, 0.5, 42_900.0),
    ],
)
def test_force_and_stress_worked_by_hand(given: dict[str, Any], constant: float, force: float) -> None:
    part = in_service(**given)
    assert part["bolt_load_share"] == pytest.approx(constant, rel=1e-12)
    assert part["bolt_force"] == pytest.approx(force, rel=1e-9)
    assert part["bolt_stress"] == pytest.approx(force / AREA, rel=1e-4)
    assert part["share_of_yield"] == pytest.approx(force / AREA / 640e6, rel=1e-4)
    assert part["separated"] == "no"


def test_how_much_more_the_joint_takes() -> None:
    """(580 * 84.27 - 37,900) / (0.256 * 8,480) = 5.056 times the load; 37,900 / (0.744 * 8,480) = 6.007."""
    part = in_service()
    assert part["safety_margin_to_proof"] == pytest.approx(
        (580 * 84.2665 - 37_900) / (0.256 * 8_480), rel=1e-3
    )
    assert part["safety_margin_to_separation"] == pytest.approx(6.0072, rel=1e-4)


@pytest.mark.parametrize(
    ("preload", "load", "constant"),
    [("10 kN", 5_000, 0.1), ("10 kN", 12_000, 0.1), ("30 kN", 50_500, 0.1), ("1000 N", 1_000, 0.3)],
)
def test_a_joint_that_opens_first_reaches_proof_with_all_of_the_load(
    preload: str, load: float, constant: float
) -> None:
    """580 MPa on 84.27 mm2 are 48,875 N, and the bolt then carries the load alone: 48,875 / P."""
    part = in_service(preload=preload, external_load=f"{load} N", bolt_load_share=constant)
    assert part["safety_margin_to_proof"] == pytest.approx(580 * 84.2665 / load, rel=1e-3)


def test_at_its_load_factor_the_bolt_is_at_its_proof_load() -> None:
    """Whatever preload, load and share: the force under n times the load is the proof load."""
    chance = random.Random(3)
    for _ in range(500):
        proof, share = chance.uniform(1e3, 1e6), chance.uniform(0.001, 0.999)
        preload, load = chance.uniform(0.01, 0.99) * proof, chance.uniform(1, 1e6)
        n = safety_margin_to_proof(proof, preload, load, share)
        assert bolt_force(preload, n * load, share) == pytest.approx(proof, rel=1e-9)


def test_a_preload_at_proof_leaves_no_factor_and_beyond_proof_is_told() -> None:
    answer = asked(preload="50 kN", external_load="1 kN", bolt_load_share=0.2)
    assert answer["in_service"]["safety_margin_to_proof"] is None
    assert "preload alone" in answer["reasons"]["in_service.safety_margin_to_proof"]
    beyond = asked(preload="30 kN", external_load="50.5 kN", bolt_load_share=0.1)
    codes = ["joint_opens", "above_proof_stress_under_load"]
    assert [(each["level"], each["code"]) for each in beyond["findings"]] == [
        ("stop", code) for code in codes
    ]
    assert asked()["findings"] == []


@pytest.mark.parametrize("name", ["bolt_load_share", "stiffness_ratio"])
@pytest.mark.parametrize("value", [5e-324, 1e-300, 1e-17, 0.00099, 0.9999999999999999, 1e4])
def test_a_share_that_no_joint_has_is_refused_and_never_a_failure(name: str, value: float) -> None:
    if (name, value) == ("stiffness_ratio", 0.9999999999999999):
        value = 1000.1
    with pytest.raises(InvalidInput):
        TORQUE.answer({**BOLT, "preload": "10 kN", "external_load": "8 kN", name: value}, Shop(), "us")


@pytest.mark.parametrize("load", ["0.001 N", "10 kN"])
@pytest.mark.parametrize(
    "share", [{"bolt_load_share": 0.001}, {"bolt_load_share": 0.999}, {"stiffness_ratio": 1000.0}]
)
def test_the_ends_of_the_fields_give_numbers(load: str, share: dict[str, float]) -> None:
    part = in_service(**{"bolt_load_share": None, **share, "external_load": load})
    assert all(isfinite(value) for value in part.values() if isinstance(value, float))


def test_once_open_the_bolt_takes_all_of_the_load() -> None:
    """37,900 N are gone from the faces at 37,900 / 0.744 = 50,941 N."""
    closed, opened = in_service(external_load="50.9 kN"), in_service(external_load="51 kN")
    assert (closed["separated"], opened["separated"]) == ("no", "yes")
    assert closed["bolt_force"] == pytest.approx(37_900 + 0.256 * 50_900, rel=1e-9)
    assert opened["bolt_force"] == pytest.approx(51_000, rel=1e-9)
    found, beyond = asked(external_load="51 kN", units="si")["findings"]
    assert (found["level"], found["code"]) == ("stop", "joint_opens")
    assert (found["value"]["value"], found["limit"]["value"]) == pytest.approx((51_000, 50_940.86), rel=1e-6)
    assert beyond["code"] == "above_proof_stress_under_load"


def test_a_load_that_yields_the_bolt_is_refused() -> None:
    """640 MPa on 84.27 mm2 are 53.93 kN."""
    assert in_service(external_load="53.9 kN")["share_of_yield"] < 1
    with pytest.raises(NoAnswer) as refused:
        asked(external_load="54 kN")
    (fault,) = refused.value.faults
    assert (fault.code, fault.field) == ("bolt_overstressed", "external_load")


@pytest.mark.parametrize(
    ("given", "field", "code"),
    [
        ({"bolt_load_share": None}, "bolt_load_share", "coefficient_required"),
        ({"stiffness_ratio": 3.0}, "stiffness_ratio", "contradiction"),
        ({"external_load": None}, "bolt_load_share", "coefficient_not_taken"),
        (
            {"external_load": None, "bolt_load_share": None, "stiffness_ratio": 3.0},
            "stiffness_ratio",
            "coefficient_not_taken",
        ),
    ],
)
def test_what_share_the_bolt_takes_is_never_assumed(given: dict[str, Any], field: str, code: str) -> None:
    with pytest.raises(NoAnswer) as refused:
        asked(**given)
    assert [(fault.field, fault.code) for fault in refused.value.faults] == [(field, code)]


@pytest.mark.parametrize("value", [0, 1, -0.2, 1.5, "0,2", "1", None])
def test_a_share_lies_between_none_and_all(value: Any) -> None:
    with pytest.raises(InvalidInput):
        TORQUE.answer({**BOLT, **LOADED, "bolt_load_share": value}, Shop(), "us")


def test_without_a_load_nothing_is_told_and_why() -> None:
    answer = asked(external_load=None, bolt_load_share=None)
    assert (answer["in_service"], answer["reasons"]["in_service"]) == (None, "needs external_load")


def test_the_same_from_an_applied_torque() -> None:
    """0.2 * 12 mm * 37.9 kN = 90.96 N.m."""
    given = {**BOLT, **LOADED, "applied_torque": "90.96 N.m"}
    answer = PRELOAD.answer({name: value for name, value in given.items() if name != "preload"}, Shop(), "si")
    assert answer["in_service"]["bolt_force"]["value"] == pytest.approx(40_070.88, rel=1e-9)


def test_a_shop_that_takes_no_reprint_is_not_told() -> None:
    shop = Shop(policy=Policy(accepted_statuses=frozenset({"read", "from memory", "stated"})))
    answer = TORQUE.answer({**BOLT, **LOADED}, shop, "si")
    assert answer["in_service"] is None
    assert answer["reasons"]["in_service"].startswith("withheld")
