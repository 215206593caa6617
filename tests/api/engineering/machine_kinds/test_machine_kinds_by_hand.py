"""Every further kind of machine against cases worked by hand.

The formulas hold in any units that fit together, so the trade's stand here as they are: in, psi, lbf and
lbf.in, a twelfth of which is the ft-lb. Cases that say so are in m, Pa, N and N.m. Circles keep their pi and
triangles their roots; everything else is pencil and paper, in the comment above each case.
"""

from dataclasses import replace
from math import pi, radians, sqrt
from typing import Any

import pytest
from rows import every_row

from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machine_kinds.torque_wrench import TorqueWrench
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import Cylinder, Piston, Turning

MAKE_UP, BREAK_OUT = Turning("make_up", "right"), Turning("break_out", "right")
LEFT = Turning("make_up", "left")
ONE = Efficiency(1.0, 1.0, 1.0)


def about(value: float | None) -> Any:
    return None if value is None else pytest.approx(value, rel=1e-12, abs=1e-9)


def just(nominal: float) -> Efficiency:
    return Efficiency(nominal, nominal, nominal)


# 5 in bore, 2.5 in rod: cap 25/4 pi = 6.25 pi in2, rod side (25 - 6.25)/4 pi = 4.6875 pi in2.
PISTON = Piston(5.0, 2.5)
PRESS = CylinderOnSquareArm(36.0, None, PISTON, "cap", ONE, 0.0, 0.0)
LOSSY = CylinderOnSquareArm(36.0, radians(60), PISTON, "cap", Efficiency(0.9, 0.95, 1.0), 50.0, 100.0)
METRIC_ARM = CylinderOnSquareArm(0.8, radians(30), Piston(0.100, 0.045), "rod", just(0.9), 0.0, 0.0)

# The same cylinder, arm 36 in, base 60 in: square at sqrt(3600 - 1296) = 48 in of its 36 to 60.
PUSH = CylinderAtArm(Cylinder(5.0, 2.5, 36.0, 60.0), 36.0, 60.0, "cap")
PULL = CylinderAtArm(Cylinder(5.0, 2.5, 36.0, 60.0), 36.0, 60.0, "rod")
PUSH_PULL = TwoCylinders(PUSH, PULL, True, ONE, 0.0, 0.0)
PUSH_PUSH = TwoCylinders(PUSH, PUSH, True, ONE, 0.0, 0.0)
ONE_SIDE = TwoCylinders(PUSH, PUSH, False, ONE, 0.0, 0.0)
# 4 in by 2 in: cap 4 pi, rod side 3 pi in2, arm 36 in. 6 in by 4 in: cap 9 pi, rod side 5 pi in2, arm 30 in,
# base 50 in: square at sqrt(2500 - 900) = 40 in.
SMALL = CylinderAtArm(Cylinder(4.0, 2.0, 40.0, 56.0), 36.0, 60.0, "cap")
LARGE = CylinderAtArm(Cylinder(6.0, 4.0, 32.0, 48.0), 30.0, 50.0, "cap")
UNLIKE = TwoCylinders(SMALL, LARGE, True, Efficiency(0.7, 0.8, 0.9), 100.0, 60.0)
UNLIKE_ONE_SIDE = replace(UNLIKE, on_opposite_sides=False)
# SI: 100 mm bore, 45 mm rod: cap 2500 pi, rod itself 506.25 pi, rod side 1993.75 pi mm2; square at 0.8 m.
METRIC = Cylinder(0.100, 0.045, 0.7, 1.1)
METRIC_COUPLE = TwoCylinders(
    CylinderAtArm(METRIC, 0.6, 1.0, "rod"), CylinderAtArm(METRIC, 0.6, 1.0, "cap"), True, ONE, 0.0, 0.0
)

SMALL_MOTOR = MotorThroughGears(0.5, 1.0, ONE, ONE, 0.0, "A")
RING = MotorThroughGears(0.5, 60.0, Efficiency(0.7, 0.8, 0.85), Efficiency(0.9, 0.95, 0.98), 100.0, "A")
LARGE_MOTOR = MotorThroughGears(12.0, 8.0, just(0.75), just(0.96), 300.0, "B")
METRIC_MOTOR = MotorThroughGears(1e-4, 50.0, ONE, ONE, 0.0, "B")

TONG = LinePull(48.0, radians(15), None, ONE)
CELL = LinePull(48.0, radians(60), 5.0, Efficiency(0.96, 0.98, 1.0))
SMALL_CELL = LinePull(42.0, None, 6.25, just(0.98))
METRIC_LINE = LinePull(1.2, radians(45), None, just(1.0))

WRENCH = TorqueWrench(15.0, Efficiency(0.97, 1.0, 1.03), None)
REACTING = TorqueWrench(15.0, ONE, 6.0)
WORN = TorqueWrench(7.44, just(0.97), 9.0)
METRIC_WRENCH = TorqueWrench(2.5e-4, Efficiency(0.95, 1.0, 1.05), 0.2)

CASES: tuple[tuple[Machine, Turning, Any, float, tuple[str, ...], float, float | None], ...] = (
    # machine, turning, position, reading, sides, torque and side load at the nominal efficiency
    #
    # One cylinder, arm 36 in. 2000 * 6.25 pi = 12,500 pi lbf; * 36 in.
    (PRESS, MAKE_UP, "square", 2000.0, ("cap",), 450_000 * pi, 12_500 * pi),
    # 2000 * 4.6875 pi = 9375 pi lbf; * 36.
    (PRESS, BREAK_OUT, "square", 2000.0, ("rod",), 337_500 * pi, 9_375 * pi),
    # 0.95 (6.25 (2000 - 50) - 4.6875 * 100) pi = 0.95 (12,187.5 - 468.75) pi = 11,132.8125 pi lbf; * 36.
    (LOSSY, MAKE_UP, "square", 2000.0, ("cap",), 400_781.25 * pi, 11_132.8125 * pi),
    # The rod side: 0.95 (4.6875 * 1950 - 6.25 * 100) pi = 0.95 * 8515.625 pi = 8089.84375 pi lbf; * 36.
    # Unknown takes the whole arm.
    (LOSSY, LEFT, "unknown", 2000.0, ("rod",), 291_234.375 * pi, 8_089.84375 * pi),
    # SI: 25 MPa * 1993.75 pi mm2 * 0.9 = 44,859.375 pi N; * 0.8 m. Break-out: 25 * 2500 pi * 0.9 = 56,250 pi.
    (METRIC_ARM, MAKE_UP, "square", 25e6, ("rod",), 35_887.5 * pi, 44_859.375 * pi),
    (METRIC_ARM, BREAK_OUT, "square", 25e6, ("cap",), 45_000 * pi, 56_250 * pi),
    #
    # Two cylinders. 12,500 pi + 9375 pi = 21,875 pi lbf; * 36. Left over 2000 psi on the rod, 1.5625 pi in2:
    # 3125 pi = 9817 lbf. Break-out swaps the two.
    (PUSH_PULL, MAKE_UP, "square", 2000.0, ("cap", "rod"), 787_500 * pi, 3_125 * pi),
    (PUSH_PULL, BREAK_OUT, "square", 2000.0, ("rod", "cap"), 787_500 * pi, 3_125 * pi),
    # Both lines farthest from the pipe: as square, but not parallel, so that the side load is not known.
    (PUSH_PULL, MAKE_UP, "unknown", 2000.0, ("cap", "rod"), 787_500 * pi, None),
    # Twice 12,500 pi; a pure couple. Pull-pull: twice 9375 pi.
    (PUSH_PUSH, MAKE_UP, "square", 2000.0, ("cap", "cap"), 900_000 * pi, 0.0),
    (PUSH_PUSH, BREAK_OUT, "unknown", 2000.0, ("rod", "rod"), 675_000 * pi, 0.0),
    (ONE_SIDE, MAKE_UP, "square", 2000.0, ("cap", "cap"), 900_000 * pi, 25_000 * pi),
    # At 60 in: cos(theta) = (1296 + 3600 - 3600)/4320 = 0.3; h = 36 * 60 sqrt(1 - 0.09)/60 = 36 sqrt(0.91).
    (PUSH_PUSH, MAKE_UP, 60.0, 2000.0, ("cap", "cap"), 900_000 * pi * sqrt(0.91), 0.0),
    # Unlike, 1500 psi. Cap: 0.8 (4*1400 - 3*60) pi = 4336 pi; 0.8 (9*1400 - 5*60) pi = 9840 pi lbf.
    # 4336*36 + 9840*30 = 156,096 + 295,200.
    (UNLIKE, MAKE_UP, "square", 1500.0, ("cap", "cap"), 451_296 * pi, 5_504 * pi),
    (UNLIKE_ONE_SIDE, MAKE_UP, "square", 1500.0, ("cap", "cap"), 451_296 * pi, 14_176 * pi),
    # Rod: 0.8 (3*1400 - 4*60) pi = 3168 pi; 0.8 (5*1400 - 9*60) pi = 5168 pi. 114,048 + 155,040.
    (UNLIKE, BREAK_OUT, "square", 1500.0, ("rod", "rod"), 269_088 * pi, 2_000 * pi),
    # SI, 20 MPa: 50,000 pi + 39,875 pi N on 0.6 m; left over 20 * 506.25 pi N.
    (METRIC_COUPLE, MAKE_UP, "square", 20e6, ("rod", "cap"), 53_925 * pi, 10_125 * pi),
    #
    # Motor. 2000 * 0.5 / (2 pi): 159.155 lbf.in; the book prints 160.
    (SMALL_MOTOR, MAKE_UP, "square", 2000.0, ("A",), 500 / pi, None),
    # (2000 - 100) * 0.5 * 60 * 0.8 * 0.95 / (2 pi) = 57,000 * 0.76 / (2 pi) = 43,320 / (2 pi).
    (RING, BREAK_OUT, "unknown", 2000.0, ("B",), 21_660 / pi, None),
    # (1500 - 300) * 12 * 8 * 0.72 / (2 pi) = 115,200 * 0.72 / (2 pi) = 82,944 / (2 pi).
    (LARGE_MOTOR, LEFT, "square", 1500.0, ("A",), 41_472 / pi, None),
    # SI: 20 MPa * 100 cm3 * 50 / (2 pi) = 100,000 / (2 pi).
    (METRIC_MOTOR, MAKE_UP, "square", 20e6, ("B",), 50_000 / pi, None),
    #
    # Line. 10,000 lbf on 4 ft: 40,000 ft-lb.
    (TONG, MAKE_UP, "square", 10_000.0, (), 480_000.0, 10_000.0),
    (TONG, BREAK_OUT, "unknown", 10_000.0, (), 480_000.0, 10_000.0),
    # 1500 psi * 5 in2 = 7500 lbf; * 48 * 0.98.
    (CELL, MAKE_UP, "square", 1500.0, (), 352_800.0, 7_500.0),
    # 800 psi * 6.25 in2 = 5000 lbf; * 42 * 0.98.
    (SMALL_CELL, LEFT, "square", 800.0, (), 205_800.0, 5_000.0),
    # SI: 50 kN on 1.2 m.
    (METRIC_LINE, MAKE_UP, "square", 50e3, (), 60_000.0, 50_000.0),
    #
    # Wrench. 15 lbf.in/psi (1.25 ft-lb/psi) at 4000 psi: 60,000 lbf.in = 5000 ft-lb; / 6 in = 10,000 lbf.
    (WRENCH, MAKE_UP, "square", 4000.0, (), 60_000.0, None),
    (REACTING, BREAK_OUT, "unknown", 4000.0, (), 60_000.0, 10_000.0),
    # 7.44 * 5000 * 0.97 = 36,084 lbf.in; / 9 in = 4009 1/3 lbf.
    (WORN, LEFT, "square", 5000.0, (), 36_084.0, 4009 + 1 / 3),
    # SI: 0.25 N.m/kPa at 50 MPa; / 0.2 m.
    (METRIC_WRENCH, MAKE_UP, "square", 50e6, (), 12_500.0, 62_500.0),
)  # fmt: skip


@every_row(
    ("machine", "turning", "position", "reading", "sides", "torque", "side_load"),
    CASES,
    ids=lambda value: type(value).__name__ if hasattr(value, "efficiency") else None,
)
def test_case_worked_by_hand(
    machine: Machine,
    turning: Turning,
    position: Any,
    reading: float,
    sides: tuple[str, ...],
    torque: float,
    side_load: float | None,
) -> None:
    nominal = machine.efficiency.nominal
    assert machine.sides(turning) == sides
    assert machine.torque_from_reading(reading, turning, position, nominal) == pytest.approx(
        torque, rel=1e-12
    )
    assert machine.reading_from_torque(torque, turning, position, nominal) == pytest.approx(
        reading, rel=1e-12
    )
    assert machine.side_load(reading, turning, position) == about(side_load)


@pytest.mark.parametrize(
    ("machine", "turning", "position", "lowest", "highest", "least", "most"),
    [
        # Half the arm at 60 degrees. 0.9 (6.25*950 - 468.75) pi * 18 = 4921.875 pi * 18; and
        # 1.0 (6.25*1950 - 468.75) pi * 36 = 11,718.75 pi * 36.
        (LOSSY, MAKE_UP, "unknown", 1000.0, 2000.0, 88_593.75 * pi, 421_875 * pi),
        (LOSSY, MAKE_UP, "square", 1000.0, 2000.0, 177_187.5 * pi, 421_875 * pi),
        # Below the 50 psi that the seals take: none.
        (LOSSY, MAKE_UP, "unknown", 0.0, 40.0, 0.0, 0.0),
        # cos 30 deg = sqrt(3)/2 of 35,887.5 pi.
        (METRIC_ARM, MAKE_UP, "unknown", 25e6, 25e6, 17_943.75 * sqrt(3) * pi, 35_887.5 * pi),
        # The least arm at 36 in: cos(theta) = 3600/4320 = 5/6, h = 60 sqrt(11)/6 = 33.17 in, of both.
        (PUSH_PULL, MAKE_UP, "unknown", 2000.0, 2000.0, 218_750 * sqrt(11) * pi, 787_500 * pi),
        (PUSH_PULL, MAKE_UP, "square", 1000.0, 2000.0, 393_750 * pi, 787_500 * pi),
        # 130 psi on the rod sides: 3*30 - 4*60 and 5*30 - 9*60 are below zero: both are pushed back.
        (UNLIKE, BREAK_OUT, "square", 130.0, 130.0, 0.0, 0.0),
        # 0.7*0.9 = 0.63, 0.85*0.98 = 0.833: 900*30*0.63/(2 pi) and 1900*30*0.833/(2 pi).
        (RING, MAKE_UP, "unknown", 1000.0, 2000.0, 8_505 / pi, 23_740.5 / pi),
        # cos 15 deg = (sqrt(6) + sqrt(2))/4: 38,637 of 40,000 ft-lb.
        (TONG, MAKE_UP, "unknown", 10_000.0, 10_000.0, 120_000 * (sqrt(6) + sqrt(2)), 480_000.0),
        # Half the arm at 60 degrees: 1000*5*24*0.96 and 1500*5*48*1.
        (CELL, MAKE_UP, "unknown", 1000.0, 1500.0, 115_200.0, 360_000.0),
        (METRIC_LINE, MAKE_UP, "unknown", 50e3, 50e3, 30_000 * sqrt(2), 60_000.0),
        (WRENCH, BREAK_OUT, "square", 3900.0, 4100.0, 56_745.0, 63_345.0),
    ],
)  # fmt: skip
def test_range_worked_by_hand(
    machine: Machine,
    turning: Turning,
    position: Any,
    lowest: float,
    highest: float,
    least: float,
    most: float,
) -> None:
    found = machine.torque_range(lowest, highest, turning, position)
    assert found == pytest.approx((least, most), rel=1e-12)


@pytest.mark.parametrize(
    ("machine", "position", "arm"),
    [
        (PRESS, "square", 36.0),
        (LOSSY, "unknown", 36.0),
        (TONG, "unknown", 48.0),
        (PUSH_PULL, "square", 36.0),
        (PUSH_PUSH, 60.0, 36 * sqrt(0.91)),
        (UNLIKE, "square", None),  # 36 in and 30 in: no one distance gives the torque
        (UNLIKE, "unknown", None),
        (SMALL_MOTOR, "square", None),
        (WRENCH, "unknown", None),
    ],
)
def test_moment_arm(machine: Machine, position: Any, arm: float | None) -> None:
    assert machine.moment_arm(position) == about(arm)


@pytest.mark.parametrize("machine", [LOSSY, UNLIKE, UNLIKE_ONE_SIDE])
def test_a_piston_that_does_not_move_bears_on_nothing(machine: Machine) -> None:
    assert machine.side_load(40.0, MAKE_UP, "square") == 0.0
