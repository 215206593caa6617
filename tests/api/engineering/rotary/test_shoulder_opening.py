"""The bending moment that opens a shoulder, against strips of the ring added up and by hand."""

from math import pi, sqrt

import pytest

from api.engineering.rotary.sizes import shoulder_opening_moment


def second_moment_by_strips(outer: float, inner: float, strips: int = 20_000) -> float:
    """Second moment of a ring about its diameter: y^2 dA of flat strips."""

    def width(diameter: float, y: float) -> float:
        return 2 * sqrt(max(0.0, diameter**2 / 4 - y**2))

    step = outer / strips
    heights = [-outer / 2 + (number + 0.5) * step for number in range(strips)]
    return sum(y**2 * (width(outer, y) - width(inner, y)) * step for y in heights)


@pytest.mark.parametrize(("outer", "inner"), [(6.5, 5.3125), (4.75, 4.078125), (8.0, 7.9)])
def test_no_pressure_is_left_at_the_edge(outer: float, inner: float) -> None:
    preload = 700_000.0
    moment = shoulder_opening_moment(preload, outer, inner)
    bending_stress = moment * outer / 2 / second_moment_by_strips(outer, inner)
    assert bending_stress == pytest.approx(preload / (pi / 4 * (outer**2 - inner**2)), rel=1e-4)


def test_nc50_by_hand() -> None:
    """62,500 psi on 11.5355 in2 of the box; (6.5^2 + 5.3125^2) / 52 = 1.35524 in; over 12 in ft-lb."""
    assert shoulder_opening_moment(62_500 * 11.5355, 6.5, 5.3125) / 12 == pytest.approx(81_424, abs=5)


def test_it_is_in_proportion_to_the_preload_and_nothing_without() -> None:
    assert shoulder_opening_moment(0.0, 5, 4) == 0
    assert shoulder_opening_moment(2.0, 5, 4) == 2 * shoulder_opening_moment(1.0, 5, 4)
