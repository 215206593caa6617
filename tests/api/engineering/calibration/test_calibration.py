"""The figures of a calibration, worked by hand; which line is used and why; what practice misses."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.calibration.accuracy_class import against_classes
from api.engineering.calibration.levels import CalibrationReading, Direction
from api.engineering.calibration.series import Calibration, calibrate
from api.engineering.calibration.straight_line import line_through_zero, line_with_offset
from api.engineering.checks import NoAnswer
from api.reference.calibration_classes import CLASSES


def run_of(
    number: int, points: dict[float, float], direction: Direction = "rising"
) -> list[CalibrationReading]:
    return [CalibrationReading(pressure, torque, number, direction) for pressure, torque in points.items()]


THREE_RUNS = [
    *run_of(1, {0.0: 0.5, 10.0: 99.0, 20.0: 200.0, 30.0: 299.0, 40.0: 400.0, 50.0: 500.0}),
    *run_of(2, {10.0: 100.0, 20.0: 202.0, 30.0: 300.0, 40.0: 402.0, 50.0: 500.0}),
    *run_of(3, {10.0: 101.0, 20.0: 201.0, 30.0: 301.0, 40.0: 401.0, 50.0: 500.0}),
    *run_of(3, {0.0: -1.0, 10.0: 103.0, 20.0: 204.0, 30.0: 306.0, 40.0: 405.0}, "falling"),
]
CALIBRATED = calibrate(THREE_RUNS, "side cap on gauge G")


@pytest.mark.parametrize(
    ("index", "mean", "repeatability", "reversibility"),
    [
        (0, 100.0, 2.0, 3.0),  # (101 - 99) / 100; (103 - 100) / 100
        (1, 201.0, 100 * 2 / 201, 100 * 3 / 201),
        (2, 300.0, 100 * 2 / 300, 2.0),
        (3, 401.0, 100 * 2 / 401, 100 * 4 / 401),
        (4, 500.0, 0.0, None),
    ],
)
def test_level_by_hand(index: int, mean: float, repeatability: float, reversibility: float | None) -> None:
    level = CALIBRATED.levels[index]
    assert level.mean_torque == pytest.approx(mean, rel=1e-12)
    assert level.repeatability == pytest.approx(repeatability, rel=1e-12)
    if reversibility is None:
        assert level.reversibility is None
    else:
        assert level.reversibility == pytest.approx(reversibility, rel=1e-12)


def test_line_by_hand() -> None:
    """Means 100 201 300 401 500 at 10 to 50: Sxy of the means = (-20)(-200.4) + (-10)(-99.4) + 10 x 100.6
    + 20 x 199.6 = 10,000, Sxx = 1000, so b = 10.0 and a = 300.4 - 300 = 0.4. Residuals of the means -0.4 0.6
    -0.4 0.6 -0.4 three times, squares 1.2 x 3 = 3.6; within the levels 2 + 2 + 2 + 2 + 0 = 8; SSR 11.6
    over 13."""
    line = CALIBRATED.with_offset
    assert (line.b, line.a, line.ssr) == pytest.approx((10.0, 0.4, 11.6), rel=1e-9)
    assert line.degrees_of_freedom == 13
    # u(a) = s sqrt(1/15 + 30^2 / 3000) = 0.9446 x 0.6055 = 0.572: 0.4 is within twice that
    assert line.u_a == pytest.approx(sqrt(11.6 / 13) * sqrt(1 / 15 + 0.3), rel=1e-9)
    assert CALIBRATED.chosen == "through_zero"
    assert CALIBRATED.reason.code == "offset_insignificant"
    # through zero: sum xy = 3 (1000 + 4020 + 9000 + 16,040 + 25,000) = 165,180, sum xx = 3 x 5500 = 16,500
    assert CALIBRATED.line.b == pytest.approx(165_180 / 16_500, rel=1e-12)


def test_figures_by_hand() -> None:
    b = 165_180 / 16_500  # 10.010909
    worst = 100 * (10 * b - 100) / 100  # + 0.109 %; the others lie within 0.11 %
    assert [level.relative_error(CALIBRATED.line) for level in CALIBRATED.levels] == pytest.approx(
        [
            worst,
            100 * (20 * b / 201 - 1),
            100 * (30 * b / 300 - 1),
            100 * (40 * b / 401 - 1),
            100 * (50 * b / 500 - 1),
        ]
    )
    assert CALIBRATED.figures["repeatability"] == pytest.approx(2.0)
    assert CALIBRATED.figures["reversibility"] == pytest.approx(3.0)
    assert CALIBRATED.figures["zero"] == pytest.approx(-0.2)  # - 1 of 500, farther from zero than + 0.5
    first = CALIBRATED.readings[1]
    assert CALIBRATED.residual(first) == pytest.approx(99 - 10 * b)


def test_falling_and_zero_readings_enter_no_line() -> None:
    rising = [each for each in THREE_RUNS if each.direction == "rising" and each.pressure]
    x, y = [each.pressure for each in rising], [each.torque for each in rising]
    assert CALIBRATED.with_offset.b == pytest.approx(line_with_offset(x, y).b, rel=1e-12)
    assert CALIBRATED.through_zero.b == pytest.approx(line_through_zero(x, y).b, rel=1e-12)


def test_offset_that_matters() -> None:
    """Breakaway of 3: T = 10 (p - 3), which a line through zero would miss by far."""
    found = calibrate(
        run_of(1, {p: 10 * (p - 3) + (-1) ** int(p / 10) * 0.1 for p in (10.0, 20, 30, 40, 50)}), "s"
    )
    assert found.chosen == "with_offset"
    assert found.reason.code == "offset_significant"
    assert found.reason.amounts["offset"].value == pytest.approx(-30, abs=0.5)
    assert "offset_positive" not in {note.code for note in found.notes}


def codes(found: Calibration) -> set[str]:
    return {note.code for note in found.notes}


FIVE = (10.0, 20.0, 30.0, 40.0, 50.0)


@pytest.mark.parametrize(
    ("readings", "noted"),
    [
        (THREE_RUNS, set()),
        (THREE_RUNS[:16], {"no_falling_run"}),
        ([each for each in THREE_RUNS if each.pressure], {"no_zero_reading"}),
        ([each for each in THREE_RUNS if each.run < 3], {"few_rising_runs", "no_falling_run"}),
        ([each for each in THREE_RUNS if each.pressure != 30], {"few_levels"}),
        ([each for each in THREE_RUNS if each.pressure != 10], {"few_levels", "lowest_level_high"}),
        # one level of one run missing is enough
        ([each for each in THREE_RUNS if (each.run, each.pressure) != (2, 40)], {"few_rising_runs"}),
        (
            run_of(1, {p: 10 * p + 30 + (p % 3) / 10 for p in FIVE}),
            {"few_rising_runs", "no_falling_run", "no_zero_reading", "offset_positive"},
        ),
    ],
)
def test_notes(readings: list[CalibrationReading], noted: set[str]) -> None:
    assert codes(calibrate(readings, "side cap on gauge G")) == noted


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        (run_of(1, {10.0: 100.0, 20.0: 200.0}), "too_few_points"),
        (run_of(1, {0.0: 0.0, 10.0: 100.0, 20.0: 200.0}), "too_few_points"),  # the zero is no level
        (run_of(1, {10.0: 100.0}) + run_of(2, {10.0: 101.0}) + run_of(3, {10.0: 99.0}), "too_few_points"),
        (run_of(1, {p: 10 * p for p in FIVE}, "falling"), "too_few_points"),
        (run_of(1, {p: 600 - 10 * p for p in FIVE}), "torque_not_rising"),
        (run_of(1, dict.fromkeys(FIVE, 100.0)), "torque_not_rising"),
    ],
)
def test_no_calibration(readings: list[CalibrationReading], code: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        calibrate(readings, "side cap on gauge G")
    (fault,) = refusal.value.faults
    assert (fault.code, fault.field) == (code, "readings")
    assert "side cap on gauge G" in fault.text


@pytest.mark.parametrize(
    ("figures", "best", "not_measured"),
    [
        # ISO 7500-1 (from memory): q and b 0.5 1 2 3 %, v 1.5 times that, zero a tenth, resolution half
        ({"relative_error": 0.5, "repeatability": 0.5}, "0.5", ()),
        ({"relative_error": -0.51, "repeatability": 0.5}, "1", ()),
        ({"relative_error": 0.4, "repeatability": 1.5}, "2", ()),
        ({"relative_error": 0.4, "repeatability": 0.4, "reversibility": 4.5}, "3", ()),
        ({"relative_error": 0.4, "repeatability": 0.4, "reversibility": 4.6}, None, ()),
        ({"relative_error": 0.4, "repeatability": 0.4, "reversibility": None}, "0.5", ("reversibility",)),
        ({"relative_error": 0.4, "repeatability": 0.4, "zero": -0.15}, "2", ()),
        ({"relative_error": 0.4, "repeatability": 0.4, "resolution": 1.5}, "3", ()),
        ({"relative_error": 3.1, "repeatability": 0.4}, None, ()),
        ({"relative_error": 0.1, "repeatability": None}, None, ("repeatability",)),  # one run tells nothing
    ],
)
def test_yardstick(figures: dict[str, float | None], best: str | None, not_measured: tuple[str, ...]) -> None:
    found = against_classes(figures, CLASSES)
    assert (found.best_class, found.not_measured) == (best, not_measured)


@given(st.floats(0.1, 10), st.floats(-5, 0), st.integers(2, 8), st.integers(1, 4))
def test_an_exact_machine_has_no_error(slope: float, offset: float, levels: int, runs: int) -> None:
    points = {10.0 * level: slope * 10 * level + offset * 0.19 for level in range(1, levels + 2)}
    readings = [each for run in range(1, runs + 1) for each in run_of(run, points)]
    found = calibrate(readings, "s")
    assert found.line.b == pytest.approx(slope, rel=1e-9)
    assert found.figures["relative_error"] == pytest.approx(0, abs=1e-9)
    assert all(found.residual(each) == pytest.approx(0, abs=1e-9) for each in readings)
