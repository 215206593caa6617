"""Turn and travel of a circumferential displacement, by hand and against the printed degrees."""

from math import asin, pi, sin

import pytest

from api.engineering.tubular.rod_displacement import (
    DisplacementWindow,
    travel_from_turn,
    turn_from_displacement,
)

INCH = 0.0254


@pytest.mark.parametrize(
    ("displacement", "diameter", "printed"),
    [
        # API RP 11BR table 4 (from memory): first run of new grade D on full-size couplings, whole degrees
        (8 / 32, 1.500, 19),
        (9 / 32, 1.500, 21),
        (9 / 32, 1.625, 20),
        (11 / 32, 1.625, 24),
        (11 / 32, 1.812, 22),
        (12 / 32, 1.812, 24),
        (14 / 32, 2.188, 23),
        (16 / 32, 2.188, 26),
        (18 / 32, 2.375, 27),
        (21 / 32, 2.375, 32),
    ],
)
def test_printed_degrees(displacement: float, diameter: float, printed: int) -> None:
    """Independent: the share of the circumference, times 360; printed to the nearest degree."""
    turn = turn_from_displacement(displacement * INCH, diameter * INCH)
    assert turn * 180 / pi == pytest.approx(360 * displacement / (pi * diameter), rel=1e-12)
    assert abs(turn * 180 / pi - printed) <= 0.5


@pytest.mark.parametrize(
    ("displacement", "diameter", "degrees", "travel"),
    [
        # pi in of 2 in coupling: half a turn, half of the 0.1 in lead
        (pi, 2.0, 180.0, 0.05),
        (pi / 4, 1.0, 90.0, 0.025),
        # 3/4 in rod, 9/32 in: 0.28125 / 5.105088 = 0.0550921 of a turn
        (0.28125, 1.625, 19.83315, 0.00550921),
    ],
)
def test_by_hand(displacement: float, diameter: float, degrees: float, travel: float) -> None:
    turn = turn_from_displacement(displacement * INCH, diameter * INCH)
    assert turn * 180 / pi == pytest.approx(degrees, rel=1e-6)
    assert travel_from_turn(turn, 10) / INCH == pytest.approx(travel, rel=1e-6)


def test_the_displacement_is_an_arc_not_its_chord() -> None:
    """The chord of the arc turned is shorter than the displacement; they agree for small turns."""
    turn = turn_from_displacement(0.5, 2.0)
    assert 2 * sin(turn / 2) < 0.5
    assert 2 * asin(0.001 / 2) == pytest.approx(turn_from_displacement(0.001, 2.0), rel=1e-6)


@pytest.mark.parametrize(
    ("measured", "verdict"),
    [
        (0.0, "short"),
        (8.4 / 32, "short"),
        (9 / 32, "accepted"),
        (0.281, "accepted"),  # 9/32 in typed with three decimals
        (10 / 32, "accepted"),
        (11 / 32, "accepted"),
        (0.344, "accepted"),  # 11/32 in, likewise
        (0.345, "over"),
        (1.0, "over"),
    ],
)
def test_verdicts(measured: float, verdict: str) -> None:
    window = DisplacementWindow(9 / 32 * INCH, 11 / 32 * INCH, 1.625 * INCH, 10)
    assert window.verdict(measured * INCH) == verdict
