"""The tensioner against cases worked by hand, in units that fit together."""

import pytest

from api.engineering.checks import Verdict
from api.engineering.machines.stud_tensioner import StudTensioner


@pytest.mark.parametrize(
    ("area", "factor", "pressure", "tool_load", "preload"),
    [
        # in2, psi, lbf: 5.5 * 15,000 = 82,500; / 1.25
        (5.5, 1.25, 15_000.0, 82_500.0, 66_000.0),
        # 8 * 20,000 = 160,000; / 1.6
        (8.0, 1.6, 20_000.0, 160_000.0, 100_000.0),
        # no loss at all
        (3.2, 1.0, 10_000.0, 32_000.0, 32_000.0),
        # SI: 40 cm2 * 100 MPa = 400 kN; / 1.1 = 363,636 4/11 N
        (40e-4, 1.1, 100e6, 400e3, 363_636 + 4 / 11),
        # SI: 62.5 cm2 * 120 MPa = 750 kN; / 1.2
        (62.5e-4, 1.2, 120e6, 750e3, 625e3),
    ],
)
def test_case_worked_by_hand(
    area: float, factor: float, pressure: float, tool_load: float, preload: float
) -> None:
    tool = StudTensioner(area, factor)
    assert tool.tool_load(pressure) == pytest.approx(tool_load, rel=1e-12)
    assert tool.preload_from_pressure(pressure) == pytest.approx(preload, rel=1e-12)
    assert tool.pressure_from_preload(preload) == pytest.approx(pressure, rel=1e-12)


@pytest.mark.parametrize(
    ("pressure", "stress", "verdict"),
    [
        # 5.25 in2 on a stud of 1.25 in2 with 105,000 psi yield: 0.95 * 105,000 = 99,750 psi
        (15_000.0, 63_000.0, "pass"),
        (23_750.0, 99_750.0, "pass"),  # the limit itself
        (23_751.0, 99_754.2, "fail"),
        (30_000.0, 126_000.0, "fail"),
    ],
)
def test_stud_under_the_tool(pressure: float, stress: float, verdict: Verdict) -> None:
    """The load under the tool counts, not the preload that is left of it."""
    check = StudTensioner(5.25, 1.3).stud_stress_check(pressure, 1.25, 105_000.0)
    assert (check.code, check.verdict) == ("stud_overstressed", verdict)
    assert check.value is not None
    assert check.limit is not None
    assert check.value.value == pytest.approx(stress, rel=1e-12)
    assert check.limit.value == pytest.approx(99_750.0, rel=1e-12)
