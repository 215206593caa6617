"""The uncertainty of a calibration, worked by hand: few runs, few levels and a bent machine are less sure."""

from math import inf, sqrt

import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.calibration.levels import Level
from api.engineering.calibration.uncertainty import (
    T95,
    calibration_uncertainty,
    coverage_factor,
    interpolation_error,
)

TWO_SIGMA = scipy.special.ndtr(2)


def student(degrees: float) -> float:
    """The factor of Student's t for two sigma, by another library."""
    return float(scipy.special.stdtrit(degrees, TWO_SIGMA))


def levels(*torques: tuple[float, ...]) -> list[Level]:
    """Levels at 10, 20, 30 ..."""
    return [Level(10.0 * index, each, ()) for index, each in enumerate(torques, 1)]


@pytest.mark.parametrize(("nu", "printed"), T95)
def test_table_against_another_library(nu: float, printed: float) -> None:
    exact = 2.0 if nu == inf else student(nu)
    assert printed == pytest.approx(exact, abs=0.006)


@given(st.floats(1, 1e6))
def test_a_factor_is_never_below_t(nu: float) -> None:
    """Between the rows the lower one, so a little more; the print is rounded to 0.005."""
    assert coverage_factor(nu) > student(nu) - 0.006


# s = 1 % at one level of three runs, the others straight and single
ONE_SPREAD = levels((99.0, 100.0, 101.0), (200.0,), (300.0,))
# s = sqrt(2) % of 100, 200 and 300, each of two runs: 3 degrees of freedom, t = 3.31
TWO_RUNS = levels((99.0, 101.0), (198.0, 202.0), (297.0, 303.0))
# the same spread, 3 levels of 5 runs: 12 degrees of freedom, the row of 10, 2.28
FIVE_RUNS = levels(*(tuple(100 * level + level * each for each in (-1, -1, 0, 1, 1)) for level in (1, 2, 3)))


@pytest.mark.parametrize(
    ("measured", "reference", "setting", "expanded"),
    [
        # a spread of 1 % with 2 degrees of freedom, against a single run: 4.53 x 0.01 sqrt(2)
        (ONE_SPREAD, 0.0, None, 4.53 * 0.01 * sqrt(2)),
        # against the mean of two: sqrt(2) % sqrt(3/2) = sqrt(3) %
        (TWO_RUNS, 0.0, None, 3.31 * 0.01 * sqrt(3)),
        # s = 1 %, against the mean of five
        (FIVE_RUNS, 0.0, None, 2.28 * 0.01 * sqrt(6 / 5)),
        # no scatter at all: the reference alone, and with it half a unit of pressure on 100 at 10 per unit
        (levels((100, 100), (200, 200), (300, 300)), 0.005, None, 0.005),
        (
            levels((100, 100), (200, 200), (300, 300)),
            0.006,
            0.1 * sqrt(3) * 0.4,
            2 * sqrt(0.003**2 + 0.004**2),
        ),
        # 50, 110, 150: 10 of 110 off the straight line, and no spread
        (levels((50, 50), (110, 110), (150, 150)), 0.0, None, 2 * 10 / 110 / sqrt(3)),
        # u = sqrt(3) % of 3 degrees of freedom and 1 % of the reference: nu = 3 (4/3)^2 = 5.33, t = 2.65
        (TWO_RUNS, 0.02, None, 2.65 * 0.02),
        # one level of five repeats to sqrt(2) %, the others exactly: pooled sqrt(2/5) %, t of 5 is 2.65:
        # 2.65 sqrt(0.4) < 2 sqrt(2), so the worst level counts
        (
            levels((99, 101), (200, 200), (300, 300), (400, 400), (500, 500)),
            0.0,
            None,
            2 * 0.01 * sqrt(2) * sqrt(1.5),
        ),
    ],
)
def test_by_hand(measured: list[Level], reference: float, setting: float | None, expanded: float) -> None:
    found = calibration_uncertainty(measured, reference, setting)
    assert found is not None
    assert found.expanded == pytest.approx(expanded, rel=1e-9)


@pytest.mark.parametrize(
    "measured",
    [
        levels((100.0,), (200.0,), (300.0,)),  # single runs tell nothing of the spread
        levels((99.0, 101.0), (199.0, 201.0)),  # two levels nothing of what lies between
    ],
)
def test_not_known(measured: list[Level]) -> None:
    assert calibration_uncertainty(measured, 0.005, None) is None


@pytest.mark.parametrize(
    ("measured", "error"),
    [
        (levels((100,), (200,), (300,)), 0.0),
        (levels((100,), (200,), (300,), (500,)), 50 / 300),  # 350 between 200 and 500
        ([Level(10.0, (100,), ()), Level(30.0, (290,), ()), Level(40.0, (400,), ())], 10 / 290),
    ],
)
def test_interpolation_by_hand(measured: list[Level], error: float) -> None:
    assert interpolation_error(measured) == pytest.approx(error, abs=1e-12)


@given(st.floats(-2e-3, 2e-3), st.integers(1, 9))
def test_interpolation_covers_a_machine_that_bends(bend: float, tenth: int) -> None:
    """T = p + bend p^2 at 100, 200 and 300: what is read between two levels lies within the term."""

    def torque(pressure: float) -> float:
        return pressure + bend * pressure**2

    measured = [Level(pressure, (torque(pressure),), ()) for pressure in (100.0, 200.0, 300.0)]
    for low, high in ((100.0, 200.0), (200.0, 300.0)):
        pressure = low + tenth / 10 * (high - low)
        straight = torque(low) + tenth / 10 * (torque(high) - torque(low))
        error = abs(straight - torque(pressure)) / torque(pressure)
        assert error <= interpolation_error(measured) + 1e-12


@given(st.integers(2, 9), st.floats(0, 0.02), st.floats(0.001, 0.05))
def test_more_runs_are_never_less_sure(runs: int, reference: float, half: float) -> None:
    """The same standard deviation from more runs."""

    def expanded(count: int) -> float:
        scale = half / sqrt(count / (count - 1))  # a deviation of `half` whatever the count, which is even
        shares = [1 + scale * (-1) ** index for index in range(count)]
        found = calibration_uncertainty(
            levels(*(tuple(100 * level * share for share in shares) for level in (1, 2, 3))), reference, None
        )
        assert found is not None
        return found.expanded

    assert expanded(2 * runs) <= expanded(2 * runs - 2) * (1 + 1e-9)
