"""Fitted lines against printed examples, another library, and what must hold for every line."""

from math import sqrt

import numpy as np
import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st
from rows import every_row

from api.engineering.calibration.straight_line import Line, line_through_zero, line_with_offset
from api.engineering.checks import NoAnswer

THERMOMETER = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160]
ONE_TO_SIX = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0]
SENSOR = [0, 0.2039, 0.4080, 0.6120, 0.8160, 1.0201, 1.2242, 1.4283, 1.6325, 1.8367, 2.0410]
SENSOR_PRESSURE = [0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20]

H3 = line_with_offset([read - 20 for read in THERMOMETER], CORRECTION)
KNOWN = line_with_offset(ONE_TO_SIX, [3.3, 5.6, 7.1, 9.3, 10.7, 12.1], 0.5)
SCATTERED = line_with_offset(ONE_TO_SIX, [3.014, 5.225, 7.004, 9.061, 11.201, 12.762])
PRESSURE = line_with_offset(SENSOR, SENSOR_PRESSURE)
PRESSURE_THROUGH_ZERO = line_through_zero(SENSOR, SENSOR_PRESSURE)


@every_row(
    ("computed", "published"),
    [
        # JCGM 100:2008 H.3, as printed
        (H3.a, "-0.1712"),
        (H3.u_a, "0.0029"),
        (H3.b, "0.00218"),
        (H3.u_b, "0.00067"),
        (H3.r, "-0.930"),
        (H3.s, "0.0035"),
        (H3.ssr, "0.000110096583"),
        (H3.at(10), "-0.1494"),
        (H3.mean_uncertainty(10), "0.0041"),
        # the same, more digits, computed elsewhere
        (H3.a, "-0.17120379"),
        (H3.u_a, "0.0028776"),
        (H3.b, "0.00218270"),
        (H3.u_b, "0.00066794"),
        (H3.r, "-0.93043"),
        (H3.s, "0.00349756"),
        # ISO/TS 28037:2010 6.3, example 1: u(y) = 0.5
        (KNOWN.a, "1.867"),
        (KNOWN.u_a, "0.465"),
        (KNOWN.b, "1.757"),
        (KNOWN.u_b, "0.120"),
        (KNOWN.covariance, "-0.050"),
        (KNOWN.chi_squared, "1.665"),
        (KNOWN.x_from_y(10.5), "4.91328"),
        (KNOWN.x_uncertainty(10.5), "0.32204"),
        # ISO/TS 28037:2010 appendix E
        (SCATTERED.a, "1.172"),
        (SCATTERED.u_a, "0.159"),
        (SCATTERED.b, "1.964"),
        (SCATTERED.u_b, "0.041"),
        (SCATTERED.ssr, "0.1164983"),
        (SCATTERED.x_from_y(10.5), "4.751"),
        (SCATTERED.x_uncertainty(10.5), "0.097"),
        (SCATTERED.at(3.5), "8.04"),
        (SCATTERED.next_uncertainty(3.5), "0.18"),
        (SCATTERED.at(3.5), "8.044"),
        (SCATTERED.mean_uncertainty(3.5), "0.070"),
        # a pressure sensor, Measurement 45 (2012) 1661; its lines computed elsewhere
        (PRESSURE.a, "0.00227"),
        (PRESSURE.b, "9.79934"),
        (PRESSURE.s, "0.00155"),
        (PRESSURE_THROUGH_ZERO.b, "9.80093"),
        (PRESSURE_THROUGH_ZERO.s, "0.00195"),
        (abs(PRESSURE.a) / PRESSURE.u_a, "2.6"),
    ],
)
def test_every_printed_digit(computed: float, published: str) -> None:
    """8.0445 is exact and is printed 8.044: of a tie either digit will do."""
    half_a_digit = 0.5 * 10.0 ** -len(published.partition(".")[2])
    assert abs(computed - float(published)) <= half_a_digit * (1 + 1e-9)


@pytest.mark.parametrize(
    ("line", "degrees"), [(H3, 9), (KNOWN, 4), (PRESSURE, 9), (PRESSURE_THROUGH_ZERO, 10)]
)
def test_degrees_of_freedom(line: Line, degrees: int) -> None:
    assert line.degrees_of_freedom == degrees


@pytest.mark.parametrize(
    ("line", "significant"),
    [
        (PRESSURE, True),  # 2.6 times its uncertainty
        (H3, True),
        (PRESSURE_THROUGH_ZERO, False),
        # no offset, but 9e-10 of rounding and no scatter at all
        (
            line_with_offset([3.4e6 * at for at in range(1, 7)], [0.7 * 3.4e6 * at for at in range(1, 7)]),
            False,
        ),
        (line_with_offset([1.0, 2.0, 3.0], [2.1, 3.9, 6.0]), False),  # worked below
    ],
)
def test_offset(line: Line, significant: bool) -> None:
    """The last one by hand: b = 1.95, a = 4 - 3.9 = 0.1, residuals 0.05 -0.1 0.05, SSR 0.015,
    s = 0.12247, u(a) = s sqrt(14 / (3 x 2)) = 0.18708."""
    assert line.offset_is_significant() is significant


def test_hand_worked_line() -> None:
    line = line_with_offset([1.0, 2.0, 3.0], [2.1, 3.9, 6.0])
    assert (line.b, line.a, line.ssr) == pytest.approx((1.95, 0.1, 0.015), rel=1e-12)
    assert line.u_a == pytest.approx(0.187083, abs=5e-7)
    assert line.u_b == pytest.approx(sqrt(0.015 / 2), rel=1e-12)
    # through zero: sum xy = 2.1 + 7.8 + 18 = 27.9, sum x^2 = 14
    assert line_through_zero([1.0, 2.0, 3.0], [2.1, 3.9, 6.0]).b == pytest.approx(27.9 / 14, rel=1e-12)


@st.composite
def points(draw: st.DrawFn) -> tuple[list[float], list[float]]:
    """Pressures and torques as a machine gives them, with scatter and an offset."""
    seed = draw(st.integers(0, 2**32 - 1))
    n = draw(st.integers(6, 40))
    random = np.random.default_rng(seed)
    x = random.uniform(1e6, 3e7, n)
    slope, offset = 10 ** random.uniform(-4, -2), random.uniform(-500, 500)
    y = offset + slope * x + random.normal(0, 10 ** random.uniform(0.5, 2.5), n)
    return x.tolist(), y.tolist()


@pytest.mark.evidence
@given(points())
def test_another_library_agrees_with_offset(drawn: tuple[list[float], list[float]]) -> None:
    x, y = drawn
    line, theirs = line_with_offset(x, y), scipy.stats.linregress(x, y)
    scale = max(map(abs, y))
    assert line.b == pytest.approx(theirs.slope, rel=1e-9)
    assert line.a == pytest.approx(theirs.intercept, abs=1e-9 * scale)
    assert line.ssr == pytest.approx(
        float(np.sum((np.array(y) - line.a - line.b * np.array(x)) ** 2)), rel=1e-9
    )
    # linregress takes s from 1 - r^2 and so loses digits of its own: the covariance matrix is the judge
    design = np.column_stack([np.ones(len(x)), (np.array(x) - 1.5e7) / 1e7])
    (a, b), residual, *_ = np.linalg.lstsq(design, np.array(y))
    assert line.ssr == pytest.approx(residual[0], rel=1e-9)
    covariance = np.linalg.inv(design.T @ design) * residual[0] / (len(x) - 2)
    assert line.u_b == pytest.approx(sqrt(covariance[1, 1]) / 1e7, rel=1e-9)
    at = np.array([1.0, (2e7 - 1.5e7) / 1e7])
    assert line.at(2e7) == pytest.approx(a + b * 0.5, rel=1e-9, abs=1e-9 * scale)
    assert line.mean_uncertainty(2e7) == pytest.approx(sqrt(at @ covariance @ at), rel=1e-9)


@given(points())
def test_another_library_agrees_through_zero(drawn: tuple[list[float], list[float]]) -> None:
    x, y = drawn
    line = line_through_zero(x, y)
    (b,), residual, *_ = np.linalg.lstsq(np.array(x)[:, None], np.array(y))
    assert line.b == pytest.approx(b, rel=1e-9)
    assert line.ssr == pytest.approx(float(residual[0]), rel=1e-9)
    assert line.u_b == pytest.approx(sqrt(residual[0] / (len(x) - 1) / np.dot(x, x)), rel=1e-9)


@given(points(), st.floats(2e6, 3e7))
def test_the_inverse_of_the_line(drawn: tuple[list[float], list[float]], x: float) -> None:
    line = line_with_offset(*drawn)
    y = line.at(x)
    assert line.x_from_y(y) == pytest.approx(x, rel=1e-9)
    # one future reading scatters and lies on an uncertain line: the two forms are the same doubt
    assert line.x_uncertainty(y) * abs(line.b) == pytest.approx(line.next_uncertainty(x), rel=1e-6)
    assert line.x_uncertainty(y, 10**9) * abs(line.b) == pytest.approx(line.mean_uncertainty(x), rel=1e-3)


@given(points())
def test_the_parameters_propagate_to_the_mean(drawn: tuple[list[float], list[float]]) -> None:
    """``u^2(a + b x) = u^2(a) + x^2 u^2(b) + 2 x r u(a) u(b)`` (GUM 5.2)."""
    line, x = line_with_offset(*drawn), 1.3e7
    assert line.covariance == pytest.approx(line.r * line.u_a * line.u_b, rel=1e-9)
    terms = (line.u_a**2, (x * line.u_b) ** 2, 2 * x * line.covariance)
    assert line.mean_uncertainty(x) ** 2 == pytest.approx(sum(terms), abs=1e-9 * sum(map(abs, terms)))


def test_far_from_zero_no_digit_is_lost() -> None:
    """The same scatter at 1e9: sums of squares of x would leave nothing of it."""
    scatter = [0.1, -0.2, 0.05, 0.15, -0.1]
    near = line_with_offset([0.0, 1.0, 2.0, 3.0, 4.0], [2 * x + e for x, e in enumerate(scatter)])
    far = line_with_offset([1e9 + x for x in range(5)], [2 * x + e for x, e in enumerate(scatter)])
    assert (far.b, far.s, far.u_b) == pytest.approx((near.b, near.s, near.u_b), rel=1e-12)


@pytest.mark.parametrize(
    ("fit", "x", "y"),
    [
        (line_with_offset, [], []),
        (line_with_offset, [1.0, 2.0], [1.0, 2.0]),
        (line_with_offset, [2.0, 2.0, 2.0], [1.0, 2.0, 3.0]),
        (line_through_zero, [1.0], [1.0]),
        (line_through_zero, [0.0, 0.0], [1.0, 2.0]),
    ],
)
def test_too_few_points(fit, x: list[float], y: list[float]) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(NoAnswer) as refusal:
        fit(x, y)
    assert [fault.code for fault in refusal.value.faults] == ["too_few_points"]
