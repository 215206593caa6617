"""Head of oil and line drop between gauge and cylinder."""

import pytest

from api.engineering.gauges.gauge import LINE_DROP, static_head, static_head_check

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
        (None, "not_checked"),
    ],
)
def test_head_against_the_gauge_error(feet: float | None, verdict: str) -> None:
    check = static_head_check(None if feet is None else feet * FOOT, 30 * PSI)
    assert (check.name, check.verdict) == ("static_head", verdict)


def test_only_a_gauge_at_the_pump_reads_the_line_drop() -> None:
    assert LINE_DROP["work_port"] is None
    assert "stall" in (LINE_DROP["pump"] or "")
