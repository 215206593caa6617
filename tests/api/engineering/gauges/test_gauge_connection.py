"""Head of oil and line drop between gauge and cylinder."""

import pytest

from api.engineering.gauges.gauge import LARGEST_HEIGHT, static_head, static_head_check

PSI, FOOT = 6894.757293168362, 0.3048


@pytest.mark.parametrize(("feet", "psi"), [(0, 0), (1, 0.4), (5, 2), (12.5, 5)])
def test_static_head(feet: float, psi: float) -> None:
    assert static_head(feet * FOOT) / PSI == pytest.approx(psi, rel=1e-12)


def test_static_head_is_that_of_a_hydraulic_oil() -> None:
    """rho g h with a density that oils are known to have, 881 to 929 kg/m3 at 9.80665 m/s2."""
    assert 881 * 9.80665 * 2 < static_head(2.0) < 929 * 9.80665 * 2


@pytest.mark.parametrize(
    ("feet", "verdict"),
    [
        # 1 % of 3000 psi is 30 psi, a third of it 10 psi, which 25 ft of oil have
        (3, "pass"),
        (25, "pass"),
        (25.1, "caution"),
        (None, "pass"),
    ],
)
def test_head_against_the_gauge_error(feet: float | None, verdict: str) -> None:
    check = static_head_check(None if feet is None else feet * FOOT, 30 * PSI)
    assert (check.name, check.verdict) == ("static_head", verdict)


@pytest.mark.parametrize(
    ("error_psi", "feet", "verdict"),
    # a third of the error over 0.4 psi/ft; 3 m are 9.84 ft, whose 3.937 psi are a third of 11.811 psi
    [(30, 25, "pass"), (15, 12.5, "pass"), (11.9, 11.9 / 1.2, "pass"), (11.8, 11.8 / 1.2, "not_checked")],
)
def test_without_a_height_it_is_told_above_which_it_matters(
    error_psi: float, feet: float, verdict: str
) -> None:
    """decisions 3.11: 1 % of 3000 psi matters only above 25 ft."""
    check = static_head_check(None, error_psi * PSI)
    assert check.verdict == verdict
    assert check.limit is not None
    assert check.limit.value / FOOT == pytest.approx(feet, rel=1e-12)
    assert "{limit}" in check.text
    assert (check.value and check.value.value) == (LARGEST_HEIGHT if verdict == "pass" else None)
