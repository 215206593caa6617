"""How sure the profile is that a calibration makes, and that all that entered is told."""

from collections.abc import Callable
from math import hypot, sqrt
from statistics import stdev
from typing import Any

import pytest
from calibrations import LEVELS, SCATTER, TrueMachine, WrittenDown, readings, request

from api.answers.calibration.calibration import calibration_answer
from api.answers.machine_kinds import calibrated as calibrated_kind
from api.answers.shop import Shop
from api.engineering.machines.cylinder import Turning
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.calibration.answer import CalibrationAnswer
from schemas.calibration.request import CalibrationRequest
from schemas.core.faults import load
from schemas.machine_kinds.calibrated import CalibratedProfile

CALIBRATION = Calculation(
    "calibration",
    LOOK_UP,
    "",
    "",
    {"": CalibrationRequest()},
    calibration_answer,
    CalibrationAnswer(),
    (),
    {},
)
PSI, FT_LB = 6894.757293168362, 1.3558179483314004
TRUE = TrueMachine()


def answered(**asked: Any) -> dict[str, Any]:
    return CALIBRATION.answer(asked, Shop(), "us")


PRINTED_T = 2.05
"""Of 50 and more degrees of freedom (JCGM 100:2008, table G.2)."""


@pytest.mark.parametrize(("gauge", "quarter_division"), [("EX-9", 0.0), ("EX-1", 5.0)])
def test_uncertainty_by_hand(gauge: str, quarter_division: float) -> None:
    """The reference has 0.5 % (k = 2); EX-1 has divisions of 20 psi, EX-9 is not known."""
    (found,) = answered(**request(readings("cap", gauge)))["sides"]
    means = [
        TRUE.torque("cap", level) * (1 + sum(shares) / 3)
        for level, shares in zip(LEVELS, SCATTER, strict=True)
    ]
    spreads = [stdev([1 + share for share in shares]) / (1 + sum(shares) / 3) for shares in SCATTER]
    pooled, worst = sqrt(sum(spread**2 for spread in spreads) / 5), max(spreads)  # of 10 degrees of freedom
    setting = quarter_division * (means[1] - means[0]) / 500 / means[0]
    bend = max(abs(means[at] - (means[at - 1] + means[at + 1]) / 2) / means[at] for at in (1, 2, 3))
    known = hypot(0.0025, setting / sqrt(3), bend / sqrt(3))
    next_run, next_at_worst = pooled * sqrt(4 / 3), worst * sqrt(4 / 3)
    assert 10 * (hypot(next_run, known) / next_run) ** 4 > 50  # effective degrees of freedom
    factor = PRINTED_T if gauge == "EX-9" else 2.025
    expected = max(factor * hypot(next_run, known), 2 * hypot(next_at_worst, known))
    assert found["expanded_uncertainty_percent"] == pytest.approx(100 * expected, rel=1e-8)


def runs(*torques: Callable[[float], float], levels: tuple[int, ...]) -> list[dict[str, Any]]:
    """One rising run of each torque (ft-lb from psi), on a gauge that is not known."""
    return [
        WrittenDown().reading("cap", "EX-9", psi, torque(psi), run, "rising")
        for run, torque in enumerate(torques, 1)
        for psi in levels
    ]


def straight(psi: float) -> float:
    return TRUE.torque("cap", psi)


def bent(psi: float) -> float:
    """120 ft-lb less than straight for each 100,000 psi2 between the ends, 500 and 2500 psi."""
    return straight(psi) - 1.2e-3 * (psi - 500) * (2500 - psi)


def test_two_levels_make_no_profile() -> None:
    """Two equal runs at two levels: it is not known what lies between them, however equal they are."""
    answer = answered(**request(runs(bent, bent, levels=(500, 2500))))
    assert answer["profile"] is None
    assert "fewer than 3 levels" in answer["reasons"]["profile"]
    assert answer["sides"][0]["expanded_uncertainty_percent"] is None


def test_a_bent_machine_lies_within_its_uncertainty() -> None:
    """Three levels of a machine that is not straight: 0.6 % off half way between two of them."""
    made = answered(**request(runs(bent, bent, levels=(500, 1500, 2500))))["profile"]
    share = made["calibrated"]["expanded_uncertainty_percent"] / 100
    machine, turning = (
        calibrated_kind.KIND.build(load(CalibratedProfile(), made), None),
        Turning("make_up", "right"),
    )
    off = [
        machine.torque_from_reading(psi * PSI, turning, "square", 1.0) / FT_LB / bent(psi) - 1
        for psi in range(500, 2501, 50)
    ]
    assert 0.005 < max(map(abs, off)) < share


def test_few_runs_are_less_sure() -> None:
    """The same standard deviation of 0.2 %, from 2 runs at 3 levels (t of 3 is 3.31) and from 5 at 5."""

    def of(*shares: float, levels: tuple[int, ...]) -> float:
        scale = 0.002 / stdev(shares)
        torques = [lambda psi, by=1 + scale * share: by * straight(psi) for share in shares]
        (side,) = answered(**request(runs(*torques, levels=levels)))["sides"]
        return float(side["expanded_uncertainty_percent"])

    few, many = of(-1, 1, levels=(500, 1500, 2500)), of(-2, -1, 0, 1, 2, levels=LEVELS)
    # 0.2 % against the mean of two, 0.2449 %, and 0.25 % of the reference: 3 (0.35/0.2449)^4 = 12.5
    assert few == pytest.approx(2.28 * hypot(0.2 * sqrt(1.5), 0.25), rel=1e-6)
    assert many == pytest.approx(2.025 * hypot(0.2 * sqrt(1.2), 0.25), rel=1e-6)


def test_everything_in_the_uncertainty_is_an_assumption() -> None:
    asked = request(readings("cap", "EX-1"), readings("rod", "EX-9"))
    told = [
        each["value"]
        for each in answered(**asked)["assumptions"]
        if each["field"] == "expanded_uncertainty_percent"
    ]
    for name in ("side cap on gauge EX-1", "side rod on gauge EX-9"):
        of_side = " ".join(value for value in told if value.startswith(name))
        for term in ("spread", "10 degrees of freedom", "pressure", "straight between levels", "reference"):
            assert term in of_side
    # a quarter of 20 psi on the 470 psi that 500 are beyond breakaway
    assert any("EX-1: pressure set within 1.06 %" in value for value in told)
    assert any("EX-9: nothing for how the pressure was set" in value for value in told)
    assert not [
        each
        for each in answered(**request(readings("cap"), reference_uncertainty_percent=None))["assumptions"]
        if each["field"] == "expanded_uncertainty_percent"
    ]
