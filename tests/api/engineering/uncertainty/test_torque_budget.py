"""Budgets of torques: a published one, terms worked by hand, and what is left out of them."""

from dataclasses import replace
from math import radians, sqrt

import pytest
from machine_kinds import Kind, every_position, every_turning

from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.calibrated import Calibrated, CalibratedSide
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import Efficiency
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import ArmPosition, Cylinder, Turning
from api.engineering.uncertainty.budget import GaugeDoubt, Standing
from api.engineering.uncertainty.combined import Budget

# Engineering knows no units: here it is given inches, psi and lbf, and answers in lbf.in.
MAKE_UP = Turning("make_up", "right")
SWING = Cylinder(5.0, 2.5, 40.0, 62.0)
EXACT = Efficiency(1.0, 1.0, 1.0)
PUSH = CylinderOnArm(SWING, 36.0, 60.0, "cap", EXACT, 0.0, 0.0)
PULL = replace(PUSH, right_hand_make_up_side="rod")
LOSSY = {"breakaway_pressure": 50.0, "return_pressure": 40.0}
GAUGE = GaugeDoubt("pressure", 50.0, 12.5)


def percent(budget: Budget) -> dict[str, float]:
    return {term.name: 100 * term.contribution for term in budget.terms}


def published(reading: float) -> Budget:
    """5 in bore in a tolerance zone of 0.003 in, 36 in +-1/8 arm, +-5 deg, efficiency 0.95 +-0.03.

    Read to half a division of 50 psi on a 5000 psi dial of grade 1A.
    """
    machine = replace(PUSH, efficiency=Efficiency(0.92, 0.95, 0.98))
    half_widths = {"bore": 0.0015, "arm_radius": 0.125}
    return Standing(machine, MAKE_UP, "square", half_widths, radians(5)).budget(reading, GAUGE)


def test_published_budget_of_an_invented_machine() -> None:
    """Calibration notes, table T10.

    Its angle, 0.110, takes the *loss* of 0 to 0.381 % as rectangular: 0.381/2/sqrt(3). A rectangular *angle*
    gives 0.298 x 0.381 = 0.113, as random numbers do; the sums are the same to their digits.
    """
    budget = published(2500.0)
    terms = {"gauge": 1.155, "reading": 0.289, "bore": 0.035, "arm_radius": 0.200, "efficiency": 1.823}
    found = percent(budget)
    assert found.pop("arm_angle") == pytest.approx(0.110, abs=0.004)
    assert found == pytest.approx(terms, abs=0.0005)
    assert 100 * budget.combined == pytest.approx(2.19, abs=0.005)
    assert 100 * budget.expanded == pytest.approx(4.4, abs=0.05)
    certain = tuple(term for term in budget.terms if term.name != "efficiency")
    assert 100 * replace(budget, terms=certain).expanded == pytest.approx(2.4, abs=0.05)
    assert percent(published(1000.0))["gauge"] == pytest.approx(2.9, abs=0.05)


ALIKE = TwoCylinders(
    CylinderAtArm(SWING, 36.0, 60.0, "cap"), CylinderAtArm(SWING, 36.0, 60.0, "cap"), True, EXACT, 0.0, 0.0
)


@pytest.mark.parametrize(
    ("machine", "position", "reading", "half_widths", "arm_angle", "expected"),
    [
        # A = 19.635, a = 14.726 in2. Pushing at 1000 psi: 19.635 x 950 - 14.726 x 40 = 18653.3 - 589.0 =
        # 18064.2; gauge 50/sqrt(3) x 19.635 / 18064.2; breakaway 20/sqrt(3) x 19.635 / 18064.2; return
        # 15/sqrt(3) x 14.726 / 18064.2
        (
            replace(PUSH, **LOSSY),
            "square",
            1000.0,
            {"breakaway_pressure": 20.0, "return_pressure": 15.0},
            None,
            {"gauge": 3.1378, "reading": 0.78445, "breakaway_pressure": 1.2551, "return_pressure": 0.7060},
        ),
        # Pulling: 14.726 x 950 - 19.635 x 40 = 13989.9 - 785.4 = 13204.5
        (
            replace(PULL, **LOSSY),
            "square",
            1000.0,
            {"breakaway_pressure": 20.0, "return_pressure": 15.0},
            None,
            {"gauge": 3.2194, "reading": 0.80485, "breakaway_pressure": 1.2878, "return_pressure": 1.2878},
        ),
        # Pushing, 2 u/D: 2 x 0.01/sqrt(3)/5; the rod does not matter
        (
            PUSH,
            "square",
            2500.0,
            {"bore": 0.01, "rod": 0.01},
            None,
            {"gauge": 1.1547, "reading": 0.28868, "bore": 0.23094, "rod": 0.0},
        ),
        # Pulling, D^2 - d^2 = 18.75: 2 x 5 x 0.01/sqrt(3)/18.75 and 2 x 2.5 x 0.01/sqrt(3)/18.75
        (
            PULL,
            "square",
            2500.0,
            {"bore": 0.01, "rod": 0.01},
            None,
            {"gauge": 1.1547, "reading": 0.28868, "bore": 0.30792, "rod": 0.15396},
        ),
        # At 60 in h/a = 0.95394, cot(alpha) = sqrt(1 - 0.95394^2)/0.95394 = 0.31447; 2 deg/sqrt(3) = 0.020153
        # x = (36^2 + 60^2 - 60^2)/120 = 10.8, h = 60 sqrt(36^2 - 10.8^2)/60 = 34.3418: dh/da = (a - x a/60)/h
        # = (36 - 10.8 x 36/60)/34.3418 = 0.85960, so 0.25/sqrt(3) x 0.85960/34.3418.
        # dx/db = 1 - x/b = 0.82 and h = b y/L: dh/db = (y - b x 0.82/y)/L = (34.3418 - 15.4726)/60 = 0.31449
        (
            PUSH,
            60.0,
            2500.0,
            {"arm_radius": 0.25, "base_distance": 0.25},
            radians(2),
            {
                "gauge": 1.1547,
                "reading": 0.28868,
                "arm_radius": 0.36129,
                "base_distance": 0.13218,
                "arm_angle": 0.6338,
            },
        ),
        # Two alike at that length, measured alike: the same shares
        (
            ALIKE,
            60.0,
            2500.0,
            {"arm_radius": 0.25, "bore": 0.01},
            radians(2),
            {
                "gauge": 1.1547,
                "reading": 0.28868,
                "arm_radius": 0.36129,
                "bore": 0.23094,
                "arm_angle": 0.6338,
            },
        ),
        # 1500 - 300 = 1200 psi: 50/sqrt(3)/1200, 60/sqrt(3)/1200; 2 %/sqrt(3);
        # 0.04/sqrt(3)/0.80, 0.02/sqrt(3)/0.95
        (
            MotorThroughGears(
                24.0, 60.0, Efficiency(0.76, 0.8, 0.84), Efficiency(0.93, 0.95, 0.97), 300.0, "A"
            ),
            "square",
            1500.0,
            {"displacement": 0.02, "return_pressure": 60.0},
            None,
            {
                "gauge": 2.4056,
                "reading": 0.6014,
                "displacement": 1.1547,
                "return_pressure": 2.8868,
                "starting_efficiency": 2.8868,
                "gear_efficiency": 1.2155,
            },
        ),
        # 0.5/sqrt(3)/48; 1 %/sqrt(3)
        (
            LinePull(48.0, None, 5.0, EXACT),
            "square",
            1000.0,
            {"arm_radius": 0.5, "cell_area": 0.01},
            None,
            {"gauge": 2.8868, "reading": 0.7217, "arm_radius": 0.6014, "cell_area": 0.57735},
        ),
    ],
    ids=["push", "pull", "push sizes", "pull sizes", "at a length", "two alike", "motor", "line"],
)
def test_terms_worked_by_hand(
    machine: object,
    position: ArmPosition,
    reading: float,
    half_widths: dict[str, float],
    arm_angle: float | None,
    expected: dict[str, float],
) -> None:
    budget = Standing(machine, MAKE_UP, position, half_widths, arm_angle).budget(reading, GAUGE)
    assert percent(budget) == pytest.approx(expected, rel=1e-3, abs=1e-9)
    assert budget.combined == pytest.approx(sqrt(sum(each**2 for each in expected.values())) / 100, rel=1e-3)


SIDES = {"cap": CalibratedSide("G-1", ((500.0, 20_000.0), (1000.0, 42_000.0), (2000.0, 88_000.0)))}
CALIBRATED = Calibrated(SIDES, "cap", "square", 0.03)


@pytest.mark.parametrize(
    ("gauge", "expected", "left_out"),
    [
        # At 1500 psi 65,000 with a slope of 46: 50/sqrt(3) x 46/65000, 12.5/sqrt(3) x ..; certificate 3 %/2
        (GAUGE, {"gauge": 2.0430, "reading": 0.51074, "calibration": 1.5}, ["calibration_gauge"]),
        (
            replace(GAUGE, calibration_gauge=25.0),
            {"gauge": 2.0430, "calibration_gauge": 1.02148, "reading": 0.51074, "calibration": 1.5},
            [],
        ),
        (
            replace(GAUGE, in_calibration=True),
            {"reading": 0.51074, "calibration": 1.5},
            ["gauge", "gauge_drift"],
        ),
        (
            replace(GAUGE, in_calibration=True, drift=25.0),
            {"gauge_drift": 1.02148, "reading": 0.51074, "calibration": 1.5},
            ["gauge"],
        ),
    ],
)
def test_the_gauge_of_the_calibration_does_not_count_its_class_twice(
    gauge: GaugeDoubt, expected: dict[str, float], left_out: list[str]
) -> None:
    budget = Standing(CALIBRATED, MAKE_UP, "square").budget(1500.0, gauge)
    assert percent(budget) == pytest.approx(expected, rel=1e-3)
    assert [each.name for each in budget.left_out] == left_out


@pytest.mark.parametrize(
    ("reading", "slope", "torque"),
    [(500.0, 44.0, 20_000.0), (2000.0, 46.0, 88_000.0), (1000.0, 45.0, 42_000.0)],
)
def test_at_the_ends_of_a_calibration_nothing_is_extrapolated(
    reading: float, slope: float, torque: float
) -> None:
    """Slopes of 44 and 46 before and after the point in the middle."""
    budget = Standing(CALIBRATED, MAKE_UP, "square").budget(reading, GAUGE)
    assert percent(budget)["gauge"] == pytest.approx(100 * 50 / sqrt(3) * slope / torque)


def test_a_lopsided_efficiency_moves_the_best_estimate_to_the_middle_of_its_range() -> None:
    lopsided = replace(PUSH, efficiency=Efficiency(0.85, 0.95, 0.97))
    budget = Standing(lopsided, MAKE_UP, "square").budget(2500.0, GAUGE)
    assert budget.estimate / budget.nominal == pytest.approx(0.91 / 0.95)
    assert percent(budget)["efficiency"] == pytest.approx(100 * 0.06 / sqrt(3) / 0.91)


def test_unlike_cylinders_in_an_unknown_position_lie_anywhere_between_their_extremes() -> None:
    """Unlike by their rods alone, which do not matter to a push: from 0.93861 of 72 in at 62 in to 72 in."""
    thinner = replace(ALIKE.second, cylinder=Cylinder(5.0, 2.0, 40.0, 62.0))
    unlike = replace(ALIKE, second=thinner, efficiency=Efficiency(0.9, 0.95, 1.0))
    budget = Standing(unlike, MAKE_UP, "unknown").budget(1000.0, GAUGE)
    assert budget.nominal == pytest.approx(1000 * 19.63495 * 72 * 0.95, rel=1e-6)
    assert budget.estimate / budget.nominal == pytest.approx((1 + 0.93861) / 2, abs=1e-5)
    assert percent(budget)["arm_position"] == pytest.approx(100 * 0.06139 / 1.93861 / sqrt(3), rel=1e-3)


@pytest.mark.parametrize("closed_length", [40.0, 48.0])
def test_a_stroke_that_begins_at_square_is_no_reason_for_no_budget(closed_length: float) -> None:
    machine = replace(PUSH, cylinder=replace(SWING, closed_length=closed_length))
    budget = Standing(machine, MAKE_UP, "square", {"arm_radius": 0.25}).budget(2500.0, GAUGE)
    assert percent(budget)["arm_radius"] == pytest.approx(100 * 0.25 / sqrt(3) / 36)


@pytest.mark.parametrize(
    ("machine", "position", "half_widths", "left_out"),
    [
        (PUSH, "square", {"bore": 0.01}, "arm_radius breakaway_pressure return_pressure arm_angle"),
        (PULL, 60.0, {}, "bore rod arm_radius base_distance breakaway_pressure return_pressure arm_angle"),
        (PUSH, "unknown", {}, "bore arm_radius breakaway_pressure return_pressure"),
        (LinePull(48.0, None, None, EXACT), "square", {}, "arm_radius arm_angle"),
        (LinePull(48.0, None, 5.0, EXACT), "square", {}, "arm_radius cell_area arm_angle"),
    ],
)
def test_what_matters_and_has_no_tolerance_is_named(
    machine: object, position: ArmPosition, half_widths: dict[str, float], left_out: str
) -> None:
    budget = Standing(machine, MAKE_UP, position, half_widths).budget(1000.0, GAUGE)
    assert [each.name for each in budget.left_out] == left_out.split()


@pytest.mark.parametrize(
    ("half_widths", "faults"),
    [
        ({"bore": 0.5, "arm_radius": 3.6, "breakaway_pressure": 50.0, "return_pressure": 40.0}, 0),
        ({"bore": 0.51}, 1),
        ({"rod": 0.3, "arm_radius": 3.7, "return_pressure": 41.0}, 3),
    ],
)
def test_a_size_known_to_no_better_than_a_tenth_is_not_known(
    half_widths: dict[str, float], faults: int
) -> None:
    at = Standing(replace(PUSH, **LOSSY), MAKE_UP, "square", half_widths)
    if not faults:
        assert at.budget(1000.0, GAUGE).terms
        return
    with pytest.raises(NoAnswer) as refusal:
        at.budget(1000.0, GAUGE)
    assert [fault.code for fault in refusal.value.faults] == ["tolerance_too_wide"] * faults


@pytest.mark.parametrize("reading", [0.0, 80.0])
def test_a_machine_that_does_not_move_has_no_budget(reading: float) -> None:
    """Pushing begins at 50 + 40 x 14.726/19.635 = 80.0 psi."""
    with pytest.raises(NoAnswer, match="below_breakaway"):
        Standing(replace(PUSH, **LOSSY), MAKE_UP, "square").budget(reading, GAUGE)


@every_position
@every_turning
def test_every_kind_has_a_budget_wherever_it_has_a_torque(
    kind: Kind, position: ArmPosition, turning: Turning
) -> None:
    kind_of_gauge = GaugeDoubt("pressure", 0.01 * kind.reading, 0.001 * kind.reading)
    at = Standing(kind.machine, turning, position, arm_angle=radians(5))
    budget = at.budget(kind.reading, kind_of_gauge)
    least, most = kind.machine.torque_range(0.99 * kind.reading, 1.01 * kind.reading, turning, position)
    assert budget.nominal == at.torque(kind.reading)
    assert least < budget.estimate < most
    assert 0 < budget.combined < 0.1
    assert {"gauge", "reading"} < {term.name for term in budget.terms}
