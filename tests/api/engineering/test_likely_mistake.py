"""Efficiencies that geometry does not allow, and the mistake that each of them is."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.cylinder import Piston
from api.engineering.likely_mistake import SLIPS, FoundEfficiency, Geometry
from api.engineering.size_in_doubt import SizeInDoubt, bore_or_arm

# 5 in bore, 2.5 in rod: phi = 25 / 18.75 = 1.3333
CAP, ROD = Geometry(1.0, 0.75, 0.95), Geometry(0.75, 1.0, 0.95)


@pytest.mark.parametrize(
    ("geometry", "efficiency", "verdict", "code"),
    [
        (CAP, 0.95, "plausible", None),
        (CAP, 0.85, "plausible", None),
        (CAP, 1.0, "plausible", None),
        (CAP, 1.019, "plausible", None),  # within two standard uncertainties, 0.01, above 1
        (CAP, 0.95 * 12, "impossible", "inch_foot"),
        (CAP, 0.95 / 12, "low", "inch_foot"),
        (CAP, 0.95 * 2 * pi, "impossible", "radian_revolution"),
        (CAP, 0.95 / (2 * pi), "low", "radian_revolution"),
        (CAP, 0.95 * 1.3558179, "impossible", "newton_metre_foot_pound"),
        (CAP, 0.95 / 1.3558179, "low", "newton_metre_foot_pound"),
        (CAP, 0.95 * 14.503774, "impossible", "psi_bar"),
        (CAP, 0.95 / 14.503774, "low", "psi_bar"),
        (CAP, 0.95 * 2, "impossible", "radius_diameter"),
        (CAP, 0.95 / 2, "low", "radius_diameter"),
        (CAP, 0.95 * 10, "impossible", "factor_ten"),
        (CAP, 0.95 / 10, "low", "factor_ten"),
        (CAP, 0.95 * 25.4, "impossible", "inch_millimetre"),
        (CAP, 0.95 / 25.4, "low", "inch_millimetre"),
        (CAP, 0.95 * 0.75, "low", "wrong_side"),
        (ROD, 0.95 / 0.75, "impossible", "wrong_side"),
        # two at once
        (Geometry(1.0, 0.6, 0.95), 0.95 * 0.6 / 12, "low", "inch_foot+wrong_side"),
        (CAP, 0.95 * 0.75 / 1.3558179, "low", "newton_metre_foot_pound+wrong_side"),
        (CAP, 0.95 * 145.03774, "impossible", "psi_bar+factor_ten"),  # MPa for psi
        (CAP, 0.95 / 145.03774, "low", "psi_bar+factor_ten"),
        # nothing else fits: (4.5/5)^2, (5.5/5)^2, a hole at 30 instead of 36 in
        (CAP, 0.95 * 0.81, "low", "bore_or_arm_hole"),
        (CAP, 0.95 * 1.21, "impossible", "bore_or_arm_hole"),
        (CAP, 0.95 * 30 / 36, "low", "bore_or_arm_hole"),
        (CAP, 1.03, "impossible", "bore_or_arm_hole"),
        (CAP, 0.001, "low", "bore_or_arm_hole"),
    ],
)
def test_mistake(geometry: Geometry, efficiency: float, verdict: str, code: str | None) -> None:
    found = FoundEfficiency(efficiency, 0.01, geometry)
    assert found.verdict == verdict
    assert (found.mistakes[0].code if found.mistakes else None) == code


def test_two_ratios_that_lie_close_are_both_named() -> None:
    """An area ratio of 1.333 and a foot-pound of 1.356 N.m: 0.7125 may be either, or another size."""
    found = FoundEfficiency(0.95 * 0.75, 0.001, CAP).mistakes
    assert [mistake.code for mistake in found] == [
        "wrong_side",
        "newton_metre_foot_pound",
        "bore_or_arm_hole",
    ]
    assert found[0].efficiency_without == pytest.approx(0.95)
    assert found[1].efficiency_without == pytest.approx(0.7125 * 1.3558179, rel=1e-6)


def test_without_another_side_there_is_no_wrong_one() -> None:
    found = FoundEfficiency(0.95 * 0.75, 0.001, Geometry(1.0, None, 0.95)).mistakes
    assert [mistake.code for mistake in found] == ["newton_metre_foot_pound", "bore_or_arm_hole"]


@given(st.sampled_from(SLIPS), st.floats(0.86, 0.99))
def test_every_slip_is_among_the_mistakes_named(slip, efficiency: float) -> None:  # type: ignore[no-untyped-def]
    found = FoundEfficiency(efficiency * slip.ratio, 0.001, Geometry(1.0, 0.6, efficiency))
    assert found.mistakes[0].code == slip.kind
    assert found.mistakes[0].efficiency_without == pytest.approx(efficiency)


@pytest.mark.parametrize("kind", sorted({slip.kind for slip in SLIPS}))
def test_every_slip_has_its_inverse(kind: str) -> None:
    one, other = (slip.ratio for slip in SLIPS if slip.kind == kind)
    assert one * other == pytest.approx(1)


def doubts(cap: float, rod: float) -> list[SizeInDoubt]:
    piston = Piston(5.0, 2.5)
    return [SizeInDoubt("cap", piston, 36.0, cap), SizeInDoubt("rod", piston, 36.0, rod)]


@pytest.mark.parametrize(
    ("cap", "rod", "which", "bore", "arm"),
    [
        # bore 4.5: cap 20.25/25, rod (20.25 - 6.25)/18.75
        (0.81, 14 / 18.75, "bore", 4.5, None),
        # bore 4: 16/25, (16 - 6.25)/18.75
        (0.64, 9.75 / 18.75, "bore", 4.0, None),
        # bore 6: 36/25, (36 - 6.25)/18.75
        (1.44, 29.75 / 18.75, "bore", 6.0, None),
        (30 / 36, 30 / 36, "arm", None, 30.0),
        (45 / 36, 45 / 36, "arm", None, 45.0),
        (0.81, 0.78, None, None, None),  # between the two
        # too near to tell: by bore 5.270 and 5.204 in
        (40 / 36, 40 / 36, None, None, 40.0),
    ],
)
def test_bore_or_arm(cap: float, rod: float, which: str | None, bore: float, arm: float) -> None:
    found = doubts(cap, rod)
    assert bore_or_arm(found) == which
    if bore is not None:
        assert [each.bore for each in found] == pytest.approx([bore, bore])
    if arm is not None:
        assert [each.arm for each in found] == pytest.approx([arm, arm])


def test_one_side_alone_does_not_tell() -> None:
    assert bore_or_arm(doubts(0.81, 0.7467)[:1]) is None
