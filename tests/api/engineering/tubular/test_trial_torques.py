"""Statistics of trial torques, by hand and by properties."""

import random
from math import sqrt

import pytest

from api.engineering.tubular.trial_torques import trial_torques


@pytest.mark.parametrize(
    ("torques", "mean", "deviation", "median", "departure"),
    [
        # s^2 = (4 + 4) / 1; MAD 2, 3.5 x 2 / 0.6745 = 10.378
        ([10, 14], 12, sqrt(8), 12, 7 / 0.6745),
        # deviations -3 -1 0 4 (sum of squares 26) over 3; median 10.5, |d| 0.5 0.5 2.5 4.5
        ([8, 10, 11, 15], 11, sqrt(26 / 3), 10.5, 3.5 / 0.6745 * 1.5),
        # all alike: nothing spreads, and 10 % of the median is left
        ([200, 200, 200], 200, 0, 200, 20),
        # the text-book sample: mean 5, sum of squares 32 over 7; median 4.5, |d| 2.5 .5 .5 .5 .5 .5 2.5 4.5
        ([2, 4, 4, 4, 5, 5, 7, 9], 5, sqrt(32 / 7), 4.5, 3.5 / 0.6745 * 0.5),
    ],
)
def test_by_hand(
    torques: list[float], mean: float, deviation: float, median: float, departure: float
) -> None:
    found = trial_torques(torques)
    assert found.count == len(torques)
    assert (found.mean, found.middle) == (mean, median)
    assert found.standard_deviation == pytest.approx(deviation, rel=1e-12)
    assert found.departure == pytest.approx(departure, rel=1e-12)
    assert (found.lowest, found.highest, found.spread) == (
        min(torques),
        max(torques),
        max(torques) - min(torques),
    )


@pytest.mark.parametrize(
    ("torques", "apart"),
    [
        ([100, 101, 99, 100, 150], [150]),
        ([100, 101, 99, 100, 60], [60]),
        ([100, 100, 100, 110], []),  # just 10 % from the median
        ([100, 100, 100, 111], [111]),
        ([90, 95, 100, 105, 110], []),
        ([60, 80, 100, 120, 140], []),  # wide, but none apart
        ([100, 1000], []),  # of two none can be told
        ([100, 100, 1000], [1000]),
        ([10, 11, 10, 100, 101], [100, 101]),  # two of five
    ],
)
def test_what_stands_apart(torques: list[float], apart: list[float]) -> None:
    found = trial_torques(torques)
    assert [each for each in torques if found.stands_apart(each)] == apart


def test_one_torque_has_no_spread() -> None:
    with pytest.raises(ValueError, match="at least 2"):
        trial_torques([1000.0])


def test_units_and_order_change_nothing() -> None:
    """Twice the torque is twice every figure, in whatever order the joints were run; seed 20260115."""
    rng = random.Random(20260115)
    torques = [rng.uniform(5000, 9000) for _ in range(15)]
    found, other = trial_torques(torques), trial_torques([2 * each for each in sorted(torques)])
    for name in ("mean", "standard_deviation", "lowest", "highest", "middle", "departure", "spread"):
        assert getattr(other, name) == pytest.approx(2 * getattr(found, name), rel=1e-12)
    assert found.lowest <= found.mean <= found.highest


@pytest.mark.parametrize("count", range(2, 12))
def test_three_sigma_would_never_see_a_slip_among_few(count: int) -> None:
    """Why the median is used: one value apart lies (n - 1) / sqrt(n) deviations from the mean at most."""
    found = trial_torques([1000.0] * (count - 1) + [10000.0])
    distance = (10000 - found.mean) / found.standard_deviation
    assert distance == pytest.approx((count - 1) / sqrt(count), rel=1e-9)
    assert found.stands_apart(10000.0) is (count > 2)
