"""Budgets against the GUM, against moments worked by hand, and against random numbers."""

from collections.abc import Callable
from math import cos, inf, radians, sin, sqrt

import numpy as np
import pytest
import scipy

from api.engineering.uncertainty.combined import (
    Budget,
    Distribution,
    Doubt,
    Term,
    effective_degrees_of_freedom,
    term_of,
)

LENGTH = 50_000_838.0  # nm
END_GAUGE = [(25, 18), (16.6, 2), (6.7, 8), (5.8, 24), (3.9, 5), (2.9, 50)]
"""JCGM 100 H.1: standard uncertainties of an end gauge, nm, with their degrees of freedom."""


def end_gauge() -> Budget:
    return Budget(
        LENGTH,
        tuple(
            Term("", "length", 2 * u, "normal", 2.0, 1 / LENGTH, u / LENGTH, 0.0, nu) for u, nu in END_GAUGE
        ),
    )


def test_end_gauge_of_the_gum() -> None:
    """JCGM 100 H.1: u_c = 32 nm, 16 effective degrees of freedom, U99 = 2.92 x 32 nm = 93 nm."""
    budget = end_gauge()
    assert round(budget.combined * LENGTH) == 32
    degrees = int(budget.effective_degrees_of_freedom)
    assert degrees == 16
    factor = scipy.special.stdtrit(degrees, 0.995)
    assert factor == pytest.approx(2.92, abs=0.005)
    assert factor * 32 == pytest.approx(93, abs=0.5)
    assert budget.expanded_amount == pytest.approx(2 * sqrt(sum(u * u for u, _ in END_GAUGE)))


@pytest.mark.parametrize(
    ("u", "nu", "expected"),
    [
        ([3.0, 4.0], [inf, inf], inf),
        ([1.0], [7], 7),  # one contribution alone
        ([1.0, 1.0], [5, 5], 10),  # (1 + 1)^2 / (1/5 + 1/5)
        ([3.0, 4.0], [9, inf], 69.4444444444),  # 5^4 / (3^4/9)
        ([0.0, 0.0], [5, 5], inf),
    ],
)
def test_welch_satterthwaite(u: list[float], nu: list[float], expected: float) -> None:
    assert effective_degrees_of_freedom(u, nu) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("distribution", "divisor"), [("rectangular", sqrt(3)), ("triangular", sqrt(6)), ("normal", 2.0)]
)
def test_a_straight_line(distribution: Distribution, divisor: float) -> None:
    """JCGM 100, 4.3.7 and 4.3.9: a/sqrt(3), a/sqrt(6); a stated U is U/2. Here 50 + 4 x, x within 3."""
    term = term_of(Doubt("x", "number", 3.0, distribution, lambda by: 50 + 4 * by), 50.0)
    assert term.divisor == pytest.approx(divisor)
    assert term.contribution == pytest.approx(3 / divisor * 4 / 50)
    assert term.sensitivity == pytest.approx(4 / 50)
    assert term.shift == pytest.approx(0.0, abs=1e-15)


@pytest.mark.parametrize(
    ("distribution", "second", "fourth"),
    # moments of x within 2: a^2/3 and a^4/5; a^2/6 and a^4/15; s^2 and 3 s^4 with s = a/2
    [("rectangular", 4 / 3, 16 / 5), ("triangular", 4 / 6, 16 / 15), ("normal", 1.0, 3.0)],
)
def test_a_parabola(distribution: Distribution, second: float, fourth: float) -> None:
    """T = 100 + 5 x + 3 x^2: mean 100 + 3 m2, variance 25 m2 + 9 (m4 - m2^2)."""
    term = term_of(Doubt("x", "number", 2.0, distribution, lambda by: 100 + 5 * by + 3 * by * by), 100.0)
    mean = 100 + 3 * second
    assert 1 + term.shift == pytest.approx(mean / 100)
    assert term.contribution == pytest.approx(sqrt(25 * second + 9 * (fourth - second**2)) / mean)


@pytest.mark.parametrize("degrees", [1, 5, 10, 15, 30])
def test_one_sided_loss_off_square(degrees: float) -> None:
    """cos x, x uniform within d: mean sin(d)/d, mean square 1/2 + sin(2d)/4d.

    The mean loss is about a third of that at the end, its standard deviation about 0.3 of it.
    """
    d = radians(degrees)
    term = term_of(Doubt("angle", "angle", d, "rectangular", cos), 1.0)
    mean, deviation = sin(d) / d, sqrt(0.5 + sin(2 * d) / (4 * d) - (sin(d) / d) ** 2)
    assert 1 + term.shift == pytest.approx(mean, rel=1e-5)
    assert term.contribution == pytest.approx(deviation / mean, rel=0.01)
    assert term.sensitivity == 0.0
    assert -term.shift == pytest.approx((1 - cos(d)) / 3, rel=0.03)
    assert term.contribution * mean == pytest.approx(0.3 * (1 - cos(d)), rel=0.02)


def random_numbers(distribution: Distribution, half_width: float) -> np.ndarray:
    generator = np.random.default_rng(1)
    if distribution == "rectangular":
        return generator.uniform(-half_width, half_width, 400_000)
    if distribution == "triangular":
        return generator.triangular(-half_width, 0.0, half_width, 400_000)
    return generator.normal(0.0, half_width / 2, 400_000)


@pytest.mark.parametrize("distribution", ["rectangular", "triangular", "normal"])
@pytest.mark.parametrize(
    ("half_width", "result"),
    [
        (0.6, lambda x: 10 + x - 0.5 * x**3),
        (0.3, lambda x: (1 + x) ** 2),
        (0.3, lambda x: 1 / (1 + x)),
        (0.26, np.cos),
        (0.26, lambda x: np.sin(1.2 + x)),
    ],
    ids=["cubic", "square", "inverse", "square angle", "angle"],
)
def test_term_agrees_with_random_numbers(
    distribution: Distribution, half_width: float, result: Callable[..., float]
) -> None:
    drawn = result(random_numbers(distribution, half_width))
    term = term_of(Doubt("x", "number", half_width, distribution, result), result(0.0))
    assert result(0.0) * (1 + term.shift) == pytest.approx(np.mean(drawn), rel=2e-3)
    assert term.contribution == pytest.approx(np.std(drawn) / np.mean(drawn), rel=0.05)


def test_shifts_multiply_and_contributions_add_in_quadrature() -> None:
    def term(contribution: float, shift: float) -> Term:
        return Term("", "number", 1.0, "rectangular", sqrt(3), 1.0, contribution, shift)

    budget = Budget(200.0, (term(0.03, -0.1), term(0.04, 0.05)))
    assert budget.estimate == pytest.approx(200 * 0.9 * 1.05)
    assert budget.combined == pytest.approx(0.05)
    assert budget.expanded == pytest.approx(0.10)
    assert budget.expanded_amount == pytest.approx(18.9)
