"""Efficiencies that geometry does not allow, and the mistake that each of them is."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import every_row

from api.engineering.calibration.likely_mistake import FoundEfficiency, Geometry
from api.engineering.calibration.slips import CYLINDER, MOTOR, Drive
from api.engineering.machine_kinds.machine import Efficiency

USUAL = Efficiency(0.92, 0.95, 0.98)
# 5 in bore, 2.5 in rod: phi = 25 / 18.75 = 1.3333
CAP, ROD = Geometry(1.0, 0.75, USUAL, CYLINDER), Geometry(0.75, 1.0, USUAL, CYLINDER)
# a motor with gears: its ports are alike
GEARS = Geometry(1.0, 1.0, Efficiency(0.744, 0.7708, 0.798), MOTOR)
WORN = Geometry(1.0, 0.75, Efficiency(0.6, 0.65, 0.7), CYLINDER)
WIDE = Geometry(1.0, 0.75, Efficiency(0.5, 0.75, 1.0), CYLINDER)


@every_row(
    ("geometry", "efficiency", "verdict", "code"),
    [
        (CAP, 0.95, "plausible", None),
        # 0.92 x 0.97 = 0.8924, less two standard uncertainties; 0.98/0.97 lies above 1
        (CAP, 0.88, "plausible", None),
        (CAP, 0.86, "low", "bore_or_arm_hole"),
        (CAP, 1.0, "plausible", None),
        (CAP, 1.019, "plausible", None),  # within two standard uncertainties, 0.01, above 1
        (CAP, 0.95 * 12, "impossible", "inch_foot"),
        (CAP, 0.95 / 12, "low", "inch_foot"),
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
        (Geometry(1.0, 0.6, USUAL, CYLINDER), 0.95 * 0.6 / 12, "low", "inch_foot+wrong_side"),
        (CAP, 0.95 * 0.75 / 1.3558179, "low", "newton_metre_foot_pound+wrong_side"),
        (CAP, 0.95 * 145.03774, "impossible", "psi_bar+factor_ten"),  # MPa for psi
        (CAP, 0.95 / 145.03774, "low", "psi_bar+factor_ten"),
        # nothing else fits: (4.5/5)^2, (5.5/5)^2, a hole at 30 instead of 36 in
        (CAP, 0.95 * 0.81, "low", "bore_or_arm_hole"),
        (CAP, 0.95 * 1.21, "impossible", "bore_or_arm_hole"),
        (CAP, 0.95 * 30 / 36, "low", "bore_or_arm_hole"),
        (CAP, 1.03, "impossible", "bore_or_arm_hole"),
        (CAP, 0.001, "low", "bore_or_arm_hole"),
        # a motor with gears, whose sound efficiency is below 0.85: no arm, no bore
        (GEARS, 0.772, "plausible", None),
        (GEARS, 0.75, "plausible", None),
        (GEARS, 0.7708 * 2 * pi, "impossible", "radian_revolution"),
        (GEARS, 0.7708 / (2 * pi), "low", "radian_revolution"),
        (GEARS, 0.7708 * 12, "impossible", "inch_foot"),
        (GEARS, 0.7708 * 16.387064, "impossible", "cubic_inch_centimetre"),
        (GEARS, 0.7708 / 16.387064, "low", "cubic_inch_centimetre"),
        (GEARS, 0.7708 * 1.5, "impossible", "displacement_or_gear_ratio"),
        (GEARS, 0.66, "low", "displacement_or_gear_ratio"),
        (GEARS, 0.95, "high", "displacement_or_gear_ratio"),  # a motor better than it can be, and below 1
        # a cylinder with great losses that its profile knows of, and one of which little is known
        (WORN, 0.65, "plausible", None),
        (WORN, 0.6, "plausible", None),
        (WORN, 0.65 / 1.3558179, "low", "newton_metre_foot_pound"),
        (WORN, 0.65 / 12, "low", "inch_foot"),
        (WORN, 0.95, "high", "newton_metre_foot_pound"),  # 0.70 without
        (WIDE, 0.5, "plausible", None),
        (WIDE, 1.0, "plausible", None),
    ],
)
def test_mistake(geometry: Geometry, efficiency: float, verdict: str, code: str | None) -> None:
    found = FoundEfficiency(efficiency, 0.01 * efficiency, geometry)
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
    found = FoundEfficiency(0.95 * 0.75, 0.001, Geometry(1.0, None, USUAL, CYLINDER)).mistakes
    assert [mistake.code for mistake in found] == ["newton_metre_foot_pound", "bore_or_arm_hole"]


DRIVES = st.sampled_from([(drive, slip) for drive in (CYLINDER, MOTOR) for slip in drive.slips])


@given(DRIVES, st.floats(0.55, 0.99))
def test_every_slip_is_among_the_mistakes_named(case, efficiency: float) -> None:  # type: ignore[no-untyped-def]
    drive, slip = case
    expected = Efficiency(0.99 * efficiency, efficiency, efficiency)
    found = FoundEfficiency(efficiency * slip.ratio, 0.001, Geometry(1.0, 0.6, expected, drive))
    assert found.mistakes[0].code == slip.kind
    assert found.mistakes[0].efficiency_without == pytest.approx(efficiency)


@given(st.floats(0.5, 1), st.floats(0, 1), st.floats(0, 1), st.sampled_from([CYLINDER, MOTOR]))
def test_what_the_profile_expects_is_plausible(low: float, high: float, at: float, drive: Drive) -> None:
    high = low + high * (1 - low)
    value = low + at * (high - low)
    geometry = Geometry(1.0, 0.75, Efficiency(low, (low + high) / 2, high), drive)
    assert FoundEfficiency(value, 0.0, geometry).mistakes == ()


@pytest.mark.parametrize("drive", [CYLINDER, MOTOR])
def test_every_slip_has_its_inverse(drive: Drive) -> None:
    for kind in {slip.kind for slip in drive.slips}:
        one, other = (slip.ratio for slip in drive.slips if slip.kind == kind)
        assert one * other == pytest.approx(1)


@pytest.mark.parametrize(
    ("drive", "words", "not_there"),
    [
        (CYLINDER, ("bore", "rod", "arm hole"), ("displacement", "gear")),
        (MOTOR, ("displacement", "gear ratio"), ("bore", "rod", "arm")),
    ],
)
@pytest.mark.parametrize(
    ("efficiency", "losses"), [(0.66, "greater losses"), (0.9, "smaller losses"), (1.2, None)]
)
def test_another_size_by_kind(
    drive: Drive, words: tuple[str, ...], not_there: tuple[str, ...], efficiency: float, losses: str | None
) -> None:
    """No losses explain an efficiency above 1, and smaller ones only what is above the range."""
    geometry = Geometry(1.0, None, Efficiency(0.75, 0.77, 0.79), drive)
    text = FoundEfficiency(efficiency, 0.001, geometry).mistakes[-1].text
    assert all(word in text for word in words)
    assert not any(word in text for word in not_there)
    assert ("losses" in text) == (losses is not None)
    assert losses is None or losses in text
