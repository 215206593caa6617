"""Every budget agrees within 5 % with torques drawn at random, which our code has no part in."""

from collections.abc import Callable
from math import radians
from typing import NamedTuple

import numpy as np
import pytest
import random_torques as drawn

from api.engineering.machine_kinds.calibrated import Calibrated, CalibratedSide
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machine_kinds.torque_wrench import TorqueWrench
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import ArmPosition, Cylinder, Piston, Turning
from api.engineering.uncertainty.budget import GaugeDoubt, Standing

# Engineering knows no units: here it is given inches, psi and lbf, and answers in lbf.in.
MAKE_UP = Turning("make_up", "right")
SWING = Cylinder(5.0, 2.5, 40.0, 62.0)
SPREAD = Efficiency(0.92, 0.95, 0.98)
NARROW = Efficiency(0.94, 0.95, 0.96)
FOUR = Cylinder(4.0, 2.0, 27.0, 60.0)
PUSHING = CylinderAtArm(FOUR, 20.0, 45.0, "cap")
MEASURED = {"cap": CalibratedSide("G-1", tuple(zip(*drawn.POINTS, strict=True)))}
SMALL = {"bore": 0.0015, "rod": 0.0015}


class Case(NamedTuple):
    machine: Machine
    position: ArmPosition
    reading: float
    gauge: GaugeDoubt
    half_widths: dict[str, float]
    arm_angle: float | None
    drawn: Callable[[], np.ndarray]


def gauge(class_error: float, reading: float, **more: float) -> GaugeDoubt:
    return GaugeDoubt("pressure", class_error, reading, **more)


CASES = {
    "push": Case(
        CylinderOnArm(SWING, 36.0, 60.0, "cap", SPREAD, 40.0, 60.0),
        "square",
        2500.0,
        gauge(50, 12.5),
        {**SMALL, "arm_radius": 0.125, "breakaway_pressure": 15, "return_pressure": 30},
        radians(5),
        drawn.push,
    ),
    "pull": Case(
        CylinderOnArm(SWING, 36.0, 60.0, "rod", Efficiency(0.86, 0.95, 0.98), 40.0, 60.0),
        "square",
        800.0,
        gauge(40, 25),
        {"bore": 0.04, "rod": 0.03, "arm_radius": 0.25, "breakaway_pressure": 15, "return_pressure": 30},
        None,
        drawn.pull_lopsided,
    ),
    "at a length": Case(
        CylinderOnArm(SWING, 36.0, 60.0, "cap", SPREAD, 0.0, 0.0),
        60.0,
        2000.0,
        gauge(30, 12.5),
        {**SMALL, "arm_radius": 0.25, "base_distance": 0.25},
        radians(3),
        drawn.at_length,
    ),
    "unknown position": Case(
        CylinderOnArm(SWING, 36.0, 60.0, "cap", NARROW, 0.0, 0.0),
        "unknown",
        2000.0,
        gauge(30, 12.5),
        {**SMALL, "arm_radius": 0.25},
        None,
        drawn.anywhere_in_the_stroke,
    ),
    "unknown position, arm alone": Case(
        CylinderOnSquareArm(30.0, radians(15), Piston(4.0, 2.0), "rod", NARROW, 0.0, 0.0),
        "unknown",
        1500.0,
        gauge(20, 10),
        {"bore": 0.002, "rod": 0.002, "arm_radius": 0.1},
        None,
        drawn.square_arm_anywhere,
    ),
    "push-pull": Case(
        TwoCylinders(
            PUSHING,
            CylinderAtArm(FOUR, 20.0, 45.0, "rod"),
            True,
            Efficiency(0.9, 0.95, 0.98),
            50.0,
            30.0,
        ),
        "square",
        1800.0,
        gauge(30, 12.5),
        {"bore": 0.02, "rod": 0.02, "arm_radius": 0.1, "breakaway_pressure": 20, "return_pressure": 30},
        radians(8),
        drawn.push_pull,
    ),
    "push-push, unknown position": Case(
        TwoCylinders(PUSHING, PUSHING, True, NARROW, 0.0, 0.0),
        "unknown",
        1800.0,
        gauge(30, 12.5),
        {"bore": 0.02},
        None,
        drawn.push_push_anywhere,
    ),
    "motor": Case(
        MotorThroughGears(24.0, 60.0, Efficiency(0.78, 0.82, 0.86), Efficiency(0.94, 0.96, 0.98), 80.0, "A"),
        "square",
        1500.0,
        gauge(25, 12.5),
        {"displacement": 0.01, "return_pressure": 40},
        None,
        drawn.motor,
    ),
    "line pull": Case(
        LinePull(48.0, None, 5.0, Efficiency(0.97, 0.985, 1.0)),
        "square",
        1200.0,
        gauge(20, 6.25),
        {"arm_radius": 0.25, "cell_area": 0.005},
        radians(10),
        drawn.line_on_load_cell,
    ),
    "wrench": Case(
        TorqueWrench(15.0, Efficiency(0.97, 1.0, 1.03), None),
        "square",
        4000.0,
        gauge(100, 25),
        {"torque_factor": 0.02},
        None,
        drawn.wrench,
    ),
    "calibrated": Case(
        Calibrated(MEASURED, "cap", "square", 0.02),
        "square",
        1500.0,
        gauge(30, 12.5, calibration_gauge=15),
        {},
        None,
        drawn.calibrated,
    ),
    "calibrated on this gauge": Case(
        Calibrated(MEASURED, "cap", "square", 0.02),
        "square",
        1500.0,
        gauge(30, 12.5, in_calibration=True, drift=10),
        {},
        None,
        drawn.calibrated_on_this_gauge,
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_budget_agrees_with_torques_drawn_at_random(case: Case) -> None:
    at = Standing(case.machine, MAKE_UP, case.position, case.half_widths, case.arm_angle)
    budget = at.budget(case.reading, case.gauge)
    torques = case.drawn()
    mean, deviation = np.mean(torques), np.std(torques)
    assert budget.estimate == pytest.approx(mean, rel=2e-3)
    assert budget.combined == pytest.approx(deviation / mean, rel=0.05)
    assert 0.94 <= np.mean(np.abs(torques - budget.estimate) <= budget.expanded_amount) <= 1
