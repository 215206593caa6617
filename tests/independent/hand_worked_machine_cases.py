"""Gauge pressures of an arm swung by one hydraulic cylinder, worked by hand from areas and levers.

Every expected number follows from the working in the comment above its case, with pencil and paper:

    T = h * efficiency * (A * (p - p_breakaway) - A' * p_return)
    p = T / (h * efficiency * A) + p_breakaway + A'/A * p_return

A is the area of the driving side (cap pi/4 D^2, rod pi/4 (D^2 - d^2)), A' the area of the other side, and h
the distance of the cylinder line from the pipe centre. O is the pipe centre, P the arm pin at radius a, B the
base pin at distance b, L the length from pin to pin and theta the angle POB.

* Square, the cylinder line at right angles to the arm: h = a, at L = sqrt(b^2 - a^2).
* A length L: h = a b sin(theta) / L with cos(theta) = (a^2 + b^2 - L^2) / (2 a b). Or drop the perpendicular
  h from O on the cylinder line: L is sqrt(b^2 - h^2) plus or minus sqrt(a^2 - h^2).
* Unknown: the largest h of the stroke. That is a if the square length lies within the stroke, otherwise the
  larger of both ends. (Only machine F, at the end, has b < a: there the largest possible h is b.)
* Driving side: the profile stores the side of right-hand make-up. A left-hand thread turns it over, and so
  does a break-out, whose torque is the break-out ratio times the make-up torque.

The comments round to six decimals; the expected numbers carry fifteen significant digits.
"""

from dataclasses import dataclass
from typing import Literal

Side = Literal["cap", "rod"]


@dataclass(frozen=True)
class MachineCase:
    """One machine, one job, and the side, moment arm and exact pressure that follow from them."""

    name: str
    unit_system: Literal["us", "metric"]  # us: in, psi, ft-lb; metric: mm, bar, N.m
    bore: float
    rod: float
    arm_radius: float
    base_distance: float
    closed_length: float
    open_length: float
    right_hand_make_up_side: Side
    operation: Literal["make_up", "break_out"]
    thread_hand: Literal["right", "left"]
    arm_position: Literal["square", "unknown"] | float  # a number is the cylinder length
    efficiency: float  # nominal
    breakaway_pressure: float
    return_pressure: float
    make_up_torque: float  # the target of the make-up, also where the job is a break-out
    break_out_ratio: float | None  # None for make-up
    expected_side: Side
    expected_moment_arm: float
    expected_pressure: float  # before any rounding to a gauge mark


CASES: tuple[MachineCase, ...] = (
    # ----------------------------------------
    # US machine A: cylinder 4 in by 2 in, arm 36 in, base 60 in, 40 in closed, 62 in open, efficiency 0.8.
    # Cap side pi/4 * 4^2 = 4 pi in2, rod side pi/4 * (4^2 - 2^2) = 3 pi in2.
    # Square at L = sqrt(60^2 - 36^2) = 48 in (3-4-5), within the stroke; there h = a = 36 in.
    # ----------------------------------------
    # Right-hand make-up is stored on the cap side: the cap drives, A = 4 pi in2. Square: h = a = 36 in.
    # Force: 30,000 ft-lb = 360,000 in-lb; / 36 in = 10,000 lbf; / 0.8 = 12,500 lbf.
    # p = 12,500 / (4 pi) = 3,125 / pi = 994.718394 psi.
    MachineCase(
        name="us square, cap stored, make-up, right hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=30000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=994.718394324346,
    ),
    # Right-hand make-up is stored on the rod side: the rod side drives, A = 3 pi in2. Square: h = a = 36 in.
    # Force: 21,600 ft-lb = 259,200 in-lb; / 36 in = 7,200 lbf; / 0.8 = 9,000 lbf.
    # p = 9,000 / (3 pi) = 3,000 / pi = 954.929659 psi.
    MachineCase(
        name="us square, rod stored, make-up, right hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=21600.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=36.0,
        expected_pressure=954.929658551372,
    ),
    # Stored cap, turned over once by the left-hand thread: the rod side drives, A = 3 pi in2.
    # Square: h = a = 36 in.
    # Force: 28,800 ft-lb = 345,600 in-lb; / 36 in = 9,600 lbf; / 0.8 = 12,000 lbf.
    # p = 12,000 / (3 pi) = 4,000 / pi = 1,273.239545 psi.
    MachineCase(
        name="us square, cap stored, make-up, left hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="left",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=28800.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=36.0,
        expected_pressure=1273.23954473516,
    ),
    # Stored rod, turned over once by the left-hand thread: the cap drives, A = 4 pi in2.
    # Square: h = a = 36 in.
    # Force: 24,000 ft-lb = 288,000 in-lb; / 36 in = 8,000 lbf; / 0.8 = 10,000 lbf.
    # p = 10,000 / (4 pi) = 2,500 / pi = 795.774715 psi.
    MachineCase(
        name="us square, rod stored, make-up, left hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="left",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=24000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=795.774715459477,
    ),
    # Stored cap, turned over once by the break-out: the rod side drives, A = 3 pi in2. Square: h = a = 36 in.
    # Torque: 1.5 * 16,000 = 24,000 ft-lb = 288,000 in-lb.
    # Force: 288,000 / 36 in = 8,000 lbf; / 0.8 = 10,000 lbf.
    # p = 10,000 / (3 pi) = 1,061.032954 psi.
    MachineCase(
        name="us square, cap stored, break-out, right hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=16000.0,
        break_out_ratio=1.5,
        expected_side="rod",
        expected_moment_arm=36.0,
        expected_pressure=1061.03295394597,
    ),
    # Stored rod, turned over once by the break-out: the cap drives, A = 4 pi in2. Square: h = a = 36 in.
    # Torque: 1.25 * 28,800 = 36,000 ft-lb = 432,000 in-lb.
    # Force: 432,000 / 36 in = 12,000 lbf; / 0.8 = 15,000 lbf.
    # p = 15,000 / (4 pi) = 3,750 / pi = 1,193.662073 psi.
    MachineCase(
        name="us square, rod stored, break-out, right hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=28800.0,
        break_out_ratio=1.25,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=1193.66207318922,
    ),
    # Stored cap, turned over twice (left hand, break-out): the cap drives, A = 4 pi in2.
    # Square: h = a = 36 in. Torque: 1.5 * 22,400 = 33,600 ft-lb = 403,200 in-lb.
    # Force: 403,200 / 36 in = 11,200 lbf; / 0.8 = 14,000 lbf.
    # p = 14,000 / (4 pi) = 3,500 / pi = 1,114.084602 psi.
    MachineCase(
        name="us square, cap stored, break-out, left hand",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="left",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=22400.0,
        break_out_ratio=1.5,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=1114.08460164327,
    ),
    # Stored rod, turned over twice (left hand, break-out): the rod side drives, A = 3 pi in2.
    # Square: h = a = 36 in.
    # Torque: 0.75 * 22,400 = 16,800 ft-lb = 201,600 in-lb.
    # Force: 201,600 / 36 in = 5,600 lbf; / 0.8 = 7,000 lbf.
    # p = 7,000 / (3 pi) = 742.723068 psi.
    MachineCase(
        name="us square, rod stored, break-out, left hand, ratio below 1",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="left",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=22400.0,
        break_out_ratio=0.75,
        expected_side="rod",
        expected_moment_arm=36.0,
        expected_pressure=742.723067762178,
    ),
    # The cap drives, A = 4 pi in2. Square: h = a = 36 in.
    # Force: 24,000 ft-lb = 288,000 in-lb; / 36 in = 8,000 lbf; / 0.8 = 10,000 lbf.
    # For the torque 10,000 / (4 pi) = 2,500 / pi = 795.774715 psi, and 30 psi of breakaway before that.
    # p = 795.774715 + 30 = 825.774715 psi.
    MachineCase(
        name="us square, cap drives, breakaway only",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=30.0,
        return_pressure=0.0,
        make_up_torque=24000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=825.774715459477,
    ),
    # The cap drives, A = 4 pi in2; the return acts on the rod side, A' = 3 pi in2. Square: h = a = 36 in.
    # Force: 24,000 ft-lb = 288,000 in-lb; / 36 in = 8,000 lbf; / 0.8 = 10,000 lbf.
    # For the torque 10,000 / (4 pi) = 2,500 / pi = 795.774715 psi; against the return 3/4 * 60 = 45 psi.
    # p = 795.774715 + 45 = 840.774715 psi.
    MachineCase(
        name="us square, cap drives, return pressure only",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=60.0,
        make_up_torque=24000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=840.774715459477,
    ),
    # The rod side drives, A = 3 pi in2; the return acts on the cap side, A' = 4 pi in2.
    # Square: h = a = 36 in.
    # Force: 21,600 ft-lb = 259,200 in-lb; / 36 in = 7,200 lbf; / 0.8 = 9,000 lbf.
    # For the torque 9,000 / (3 pi) = 3,000 / pi = 954.929659 psi; against the return 4/3 * 60 = 80 psi.
    # p = 954.929659 + 80 = 1,034.929659 psi.
    MachineCase(
        name="us square, rod side drives, return pressure only",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=60.0,
        make_up_torque=21600.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=36.0,
        expected_pressure=1034.92965855137,
    ),
    # Stored cap, turned over by the break-out: the rod side drives, A = 3 pi in2, A' = 4 pi in2.
    # Square: h = a = 36 in.
    # Torque: 1.25 * 14,400 = 18,000 ft-lb = 216,000 in-lb.
    # Force: 216,000 / 36 in = 6,000 lbf; / 0.8 = 7,500 lbf.
    # For the torque 7,500 / (3 pi) = 2,500 / pi = 795.774715 psi; against the return 4/3 * 45 = 60 psi.
    # p = 795.774715 + 25 + 60 = 880.774715 psi.
    MachineCase(
        name="us square, break-out on the rod side, breakaway and return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=25.0,
        return_pressure=45.0,
        make_up_torque=14400.0,
        break_out_ratio=1.25,
        expected_side="rod",
        expected_moment_arm=36.0,
        expected_pressure=880.774715459477,
    ),
    # Stored rod, turned over by the left-hand thread: the cap drives, A = 4 pi in2, A' = 3 pi in2.
    # Square: h = a = 36 in.
    # Force: 31,200 ft-lb = 374,400 in-lb; / 36 in = 10,400 lbf; / 0.8 = 13,000 lbf.
    # For the torque 13,000 / (4 pi) = 3,250 / pi = 1,034.507130 psi; against the return 3/4 * 80 = 60 psi.
    # p = 1,034.507130 + 40 + 60 = 1,134.507130 psi.
    MachineCase(
        name="us square, left-hand make-up on the cap side, breakaway and return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="left",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=40.0,
        return_pressure=80.0,
        make_up_torque=31200.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=36.0,
        expected_pressure=1134.50713009732,
    ),
    # The rod side drives, A = 3 pi in2. Cylinder 45 in long, 3 in short of square:
    # cos(theta) = (36^2 + 60^2 - 45^2) / (2 * 36 * 60) = 2,871 / 4,320 = 319/480,
    # sin(theta) = sqrt(480^2 - 319^2) / 480 = sqrt(128,639) / 480 = 0.747214,
    # h = 36 * 60 / 45 * sin(theta) = 48 * sin(theta) = sqrt(128,639) / 10 = 35.866279 in.
    # Torque over efficiency: 288,000 in-lb / 0.8 = 360,000 in-lb.
    # p = 360,000 / (h * 3 pi) = 120,000 / (pi h) = 1,064.988813 psi.
    MachineCase(
        name="us length 45 in by the cosine rule, short of square, rod side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position=45.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=24000.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=35.8662794278972,
        expected_pressure=1064.98881264904,
    ),
    # The cap drives, A = 4 pi in2. Cylinder 60 in long, as long as the base distance: with pins O, B, P the
    # triangle is isosceles, 60-60-36. Half of OP over OB gives cos(theta) = 18/60 = 0.3, and as L = b,
    # h = a b sin(theta) / L = a sin(theta) = 36 sqrt(1 - 0.09) = 36 sqrt(0.91) = 34.341811 in.
    # Torque over efficiency: 288,000 in-lb / 0.8 = 360,000 in-lb.
    # p = 360,000 / (h * 4 pi) = 90,000 / (pi h) = 834.198568 psi.
    MachineCase(
        name="us length 60 in, isosceles, beyond square, cap side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position=60.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=24000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=34.34181125101,
        expected_pressure=834.198567662869,
    ),
    # Stored cap, turned over by the break-out: the rod side drives, A = 3 pi in2, A' = 4 pi in2.
    # Cylinder 60 in long as in the case before: h = 36 sqrt(0.91) = 34.341811 in.
    # Torque: 1.2 * 16,000 = 19,200 ft-lb = 230,400 in-lb; / 0.8 = 288,000 in-lb.
    # For the torque 288,000 / (h * 3 pi) = 96,000 / (pi h) = 889.811806 psi; return 4/3 * 30 = 40 psi.
    # p = 889.811806 + 20 + 40 = 949.811806 psi.
    MachineCase(
        name="us length 60 in, isosceles, break-out on the rod side, breakaway and return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=36.0,
        base_distance=60.0,
        closed_length=40.0,
        open_length=62.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="right",
        arm_position=60.0,
        efficiency=0.8,
        breakaway_pressure=20.0,
        return_pressure=30.0,
        make_up_torque=16000.0,
        break_out_ratio=1.2,
        expected_side="rod",
        expected_moment_arm=34.34181125101,
        expected_pressure=949.81180550706,
    ),
    # ----------------------------------------
    # US machine B: cylinder 6 in by 4 in, arm 25 in, base 65 in, 48 in closed, 75 in open, efficiency 0.9.
    # Cap side pi/4 * 6^2 = 9 pi in2, rod side pi/4 * (6^2 - 4^2) = 5 pi in2.
    # Square at L = sqrt(65^2 - 25^2) = 60 in (5-12-13), within the stroke; there h = a = 25 in.
    # ----------------------------------------
    # The cap drives, A = 9 pi in2. Square: h = a = 25 in.
    # Force: 37,500 ft-lb = 450,000 in-lb; / 25 in = 18,000 lbf; / 0.9 = 20,000 lbf.
    # p = 20,000 / (9 pi) = 707.355303 psi.
    MachineCase(
        name="us square, cap stored, make-up, right hand, big rod",
        unit_system="us",
        bore=6.0,
        rod=4.0,
        arm_radius=25.0,
        base_distance=65.0,
        closed_length=48.0,
        open_length=75.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=37500.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=25.0,
        expected_pressure=707.355302630646,
    ),
    # The rod side drives, A = 5 pi in2, A' = 9 pi in2. Square: h = a = 25 in.
    # Force: 28,125 ft-lb = 337,500 in-lb; / 25 in = 13,500 lbf; / 0.9 = 15,000 lbf.
    # For the torque 15,000 / (5 pi) = 3,000 / pi = 954.929659 psi; against the return 9/5 * 50 = 90 psi.
    # p = 954.929659 + 20 + 90 = 1,064.929659 psi.
    MachineCase(
        name="us square, rod side drives, big rod, breakaway and return",
        unit_system="us",
        bore=6.0,
        rod=4.0,
        arm_radius=25.0,
        base_distance=65.0,
        closed_length=48.0,
        open_length=75.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=20.0,
        return_pressure=50.0,
        make_up_torque=28125.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=25.0,
        expected_pressure=1064.92965855137,
    ),
    # Stored rod, turned over by the break-out: the cap drives, A = 9 pi in2, A' = 5 pi in2.
    # Unknown: 60 in (square) lies between 48 and 75 in, so the largest moment arm is h = a = 25 in.
    # Torque: 1.25 * 36,000 = 45,000 ft-lb = 540,000 in-lb.
    # Force: 540,000 / 25 in = 21,600 lbf; / 0.9 = 24,000 lbf.
    # For the torque 24,000 / (9 pi) = 848.826363 psi; against the return 5/9 * 90 = 50 psi.
    # p = 848.826363 + 50 = 898.826363 psi.
    MachineCase(
        name="us unknown, square within the stroke, break-out on the cap side, return",
        unit_system="us",
        bore=6.0,
        rod=4.0,
        arm_radius=25.0,
        base_distance=65.0,
        closed_length=48.0,
        open_length=75.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.9,
        breakaway_pressure=0.0,
        return_pressure=90.0,
        make_up_torque=36000.0,
        break_out_ratio=1.25,
        expected_side="cap",
        expected_moment_arm=25.0,
        expected_pressure=898.826363156775,
    ),
    # ----------------------------------------
    # US machine C: cylinder 4 in by 2 in (4 pi and 3 pi in2), arm 26 in, base 51 in, 34 to 56 in;
    # efficiency 0.8. Two lengths put the cylinder line 24 in from the pipe centre.
    # Drop that perpendicular, foot Q:
    # arm pin to Q is sqrt(26^2 - 24^2) = 10 in, base pin to Q is sqrt(51^2 - 24^2) = 45 in.
    # With Q between the pins L = 45 + 10 = 55 in, with Q beyond the arm pin L = 45 - 10 = 35 in;
    # h = 24 in in both.
    # Square at sqrt(51^2 - 26^2) = sqrt(1,925) = 43.874822 in, within the stroke; there h = a = 26 in.
    # ----------------------------------------
    # The cap drives, A = 4 pi in2. Cylinder 55 = 45 + 10 in long: h = 24 in.
    # Force: 25,600 ft-lb = 307,200 in-lb; / 24 in = 12,800 lbf; / 0.8 = 16,000 lbf.
    # p = 16,000 / (4 pi) = 4,000 / pi = 1,273.239545 psi.
    MachineCase(
        name="us length 55 in, beyond square, cap side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position=55.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=25600.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=1273.23954473516,
    ),
    # The rod side drives, A = 3 pi in2. Cylinder 35 = 45 - 10 in long: h = 24 in.
    # Force: 14,400 ft-lb = 172,800 in-lb; / 24 in = 7,200 lbf; / 0.8 = 9,000 lbf.
    # p = 9,000 / (3 pi) = 3,000 / pi = 954.929659 psi.
    MachineCase(
        name="us length 35 in, short of square, rod side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position=35.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=14400.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=24.0,
        expected_pressure=954.929658551372,
    ),
    # Stored rod, turned over by the break-out: the cap drives, A = 4 pi in2, A' = 3 pi in2.
    # Cylinder 55 = 45 + 10 in long: h = 24 in. Torque: 1.5 * 12,800 = 19,200 ft-lb = 230,400 in-lb.
    # Force: 230,400 / 24 in = 9,600 lbf; / 0.8 = 12,000 lbf.
    # For the torque 12,000 / (4 pi) = 3,000 / pi = 954.929659 psi; against the return 3/4 * 40 = 30 psi.
    # p = 954.929659 + 35 + 30 = 1,019.929659 psi.
    MachineCase(
        name="us length 55 in, break-out on the cap side, breakaway and return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="right",
        arm_position=55.0,
        efficiency=0.8,
        breakaway_pressure=35.0,
        return_pressure=40.0,
        make_up_torque=12800.0,
        break_out_ratio=1.5,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=1019.92965855137,
    ),
    # Stored cap, turned over by the left-hand thread: the rod side drives, A = 3 pi in2, A' = 4 pi in2.
    # Cylinder 35 = 45 - 10 in long: h = 24 in.
    # Force: 16,000 ft-lb = 192,000 in-lb; / 24 in = 8,000 lbf; / 0.8 = 10,000 lbf.
    # For the torque 10,000 / (3 pi) = 1,061.032954 psi; against the return 4/3 * 30 = 40 psi.
    # p = 1,061.032954 + 15 + 40 = 1,116.032954 psi.
    MachineCase(
        name="us length 35 in, left-hand make-up on the rod side, breakaway and return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="left",
        arm_position=35.0,
        efficiency=0.8,
        breakaway_pressure=15.0,
        return_pressure=30.0,
        make_up_torque=16000.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=24.0,
        expected_pressure=1116.03295394597,
    ),
    # The cap drives, A = 4 pi in2. Unknown: square (43.87 in) lies between 34 and 56 in, so h = a = 26 in.
    # Force: 31,200 ft-lb = 374,400 in-lb; / 26 in = 14,400 lbf; / 0.8 = 18,000 lbf.
    # p = 18,000 / (4 pi) = 4,500 / pi = 1,432.394488 psi.
    MachineCase(
        name="us unknown, square within the stroke, cap side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=31200.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=26.0,
        expected_pressure=1432.39448782706,
    ),
    # ----------------------------------------
    # US machine C with a longer cylinder, 55 to 70 in: the whole stroke lies beyond square (43.87 in).
    # Closed, L = 55 = 45 + 10 in: h = 24 in. Open, L = 70 in:
    # cos(theta) = (26^2 + 51^2 - 70^2) / (2 * 26 * 51) = -1,623 / 2,652,
    # h = 26 * 51 / 70 * sin(theta) = 14.98 in.
    # The larger moment arm is 24 in, at the closed end.
    # ----------------------------------------
    # The cap drives, A = 4 pi in2. Unknown: h = 24 in, at the closed end.
    # Force: 22,400 ft-lb = 268,800 in-lb; / 24 in = 11,200 lbf; / 0.8 = 14,000 lbf.
    # p = 14,000 / (4 pi) = 3,500 / pi = 1,114.084602 psi.
    MachineCase(
        name="us unknown, stroke wholly beyond square, cap side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=55.0,
        open_length=70.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=22400.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=1114.08460164327,
    ),
    # Stored cap, turned over twice (left hand, break-out): the cap drives, A = 4 pi in2, A' = 3 pi in2.
    # Unknown: h = 24 in, at the closed end. Torque: 1.25 * 20,480 = 25,600 ft-lb = 307,200 in-lb.
    # Force: 307,200 / 24 in = 12,800 lbf; / 0.8 = 16,000 lbf.
    # For the torque 16,000 / (4 pi) = 4,000 / pi = 1,273.239545 psi; against the return 3/4 * 100 = 75 psi.
    # p = 1,273.239545 + 75 = 1,348.239545 psi.
    MachineCase(
        name="us unknown, stroke wholly beyond square, left-hand break-out, return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=55.0,
        open_length=70.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="left",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=100.0,
        make_up_torque=20480.0,
        break_out_ratio=1.25,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=1348.23954473516,
    ),
    # ----------------------------------------
    # US machine C with a shorter cylinder, 28 to 35 in: the whole stroke lies short of square (43.87 in).
    # Open, L = 35 = 45 - 10 in: h = 24 in. Closed, L = 28 in:
    # cos(theta) = (26^2 + 51^2 - 28^2) / (2 * 26 * 51) = 2,493 / 2,652,
    # h = 26 * 51 / 28 * sin(theta) = 16.15 in.
    # The larger moment arm is 24 in, at the open end.
    # ----------------------------------------
    # Stored rod, turned over by the left-hand thread: the cap drives, A = 4 pi in2.
    # Unknown: h = 24 in, at the open end.
    # Force: 16,000 ft-lb = 192,000 in-lb; / 24 in = 8,000 lbf; / 0.8 = 10,000 lbf.
    # For the torque 10,000 / (4 pi) = 2,500 / pi = 795.774715 psi.
    # p = 795.774715 + 20 = 815.774715 psi.
    MachineCase(
        name="us unknown, stroke wholly short of square, left-hand make-up, breakaway",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=28.0,
        open_length=35.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="left",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=20.0,
        return_pressure=0.0,
        make_up_torque=16000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=815.774715459477,
    ),
    # Stored rod, turned over twice (left hand, break-out): the rod side drives, A = 3 pi in2, A' = 4 pi in2.
    # Unknown: h = 24 in, at the open end. Torque: 1.2 * 12,000 = 14,400 ft-lb = 172,800 in-lb.
    # Force: 172,800 / 24 in = 7,200 lbf; / 0.8 = 9,000 lbf.
    # For the torque 9,000 / (3 pi) = 3,000 / pi = 954.929659 psi; against the return 4/3 * 45 = 60 psi.
    # p = 954.929659 + 10 + 60 = 1,024.929659 psi.
    MachineCase(
        name="us unknown, stroke wholly short of square, left-hand break-out, breakaway and return",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=26.0,
        base_distance=51.0,
        closed_length=28.0,
        open_length=35.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="left",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=10.0,
        return_pressure=45.0,
        make_up_torque=12000.0,
        break_out_ratio=1.2,
        expected_side="rod",
        expected_moment_arm=24.0,
        expected_pressure=1024.92965855137,
    ),
    # ----------------------------------------
    # US machine D: cylinder 5 in by 3 in, arm 30 in, base 40 in, 30 in closed, 52 in open, efficiency 0.8.
    # Cap side pi/4 * 5^2 = 6.25 pi in2, rod side pi/4 * (5^2 - 3^2) = 4 pi in2.
    # At L = 50 in arm and base line stand at right angles (3-4-5): theta = 90 deg, h = 30 * 40 / 50 = 24 in.
    # ----------------------------------------
    # The cap drives, A = 6.25 pi in2. Cylinder 50 in long: h = 30 * 40 / 50 = 24 in.
    # Force: 20,000 ft-lb = 240,000 in-lb; / 24 in = 10,000 lbf; / 0.8 = 12,500 lbf.
    # p = 12,500 / (6.25 pi) = 2,000 / pi = 636.619772 psi.
    MachineCase(
        name="us length 50 in, arm at right angles to the base line, cap side",
        unit_system="us",
        bore=5.0,
        rod=3.0,
        arm_radius=30.0,
        base_distance=40.0,
        closed_length=30.0,
        open_length=52.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position=50.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=20000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=636.619772367581,
    ),
    # ----------------------------------------
    # US machine E: cylinder 5 in by 3 in (6.25 pi and 4 pi in2), arm 30 in, base 51 in, efficiency 0.8.
    # Perpendicular of 24 in from the pipe centre: arm pin to foot sqrt(30^2 - 24^2) = 18 in, base pin to foot
    # sqrt(51^2 - 24^2) = 45 in, so h = 24 in at L = 45 + 18 = 63 in and at L = 45 - 18 = 27 in.
    # 63^2 = 3,969 is more than 30^2 + 51^2 = 3,501: there theta is an obtuse angle. Cylinder 40 to 64 in for
    # the first length, 26 to 45 in for the second.
    # ----------------------------------------
    # The rod side drives, A = 4 pi in2, A' = 6.25 pi in2. Cylinder 63 = 45 + 18 in long: h = 24 in.
    # Force: 20,000 ft-lb = 240,000 in-lb; / 24 in = 10,000 lbf; / 0.8 = 12,500 lbf.
    # For the torque 12,500 / (4 pi) = 3,125 / pi = 994.718394 psi; return 6.25/4 * 48 = 75 psi.
    # p = 994.718394 + 25 + 75 = 1,094.718394 psi.
    MachineCase(
        name="us length 63 in, obtuse angle between arm and base line, rod side, breakaway and return",
        unit_system="us",
        bore=5.0,
        rod=3.0,
        arm_radius=30.0,
        base_distance=51.0,
        closed_length=40.0,
        open_length=64.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position=63.0,
        efficiency=0.8,
        breakaway_pressure=25.0,
        return_pressure=48.0,
        make_up_torque=20000.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=24.0,
        expected_pressure=1094.71839432435,
    ),
    # Stored cap, turned over twice (left hand, break-out): the cap drives, A = 6.25 pi in2, A' = 4 pi in2.
    # Cylinder 27 = 45 - 18 in long: h = 24 in. Torque: 1.25 * 16,000 = 20,000 ft-lb = 240,000 in-lb.
    # Force: 240,000 / 24 in = 10,000 lbf; / 0.8 = 12,500 lbf.
    # For the torque 12,500 / (6.25 pi) = 2,000 / pi = 636.619772 psi; return 4/6.25 * 50 = 32 psi.
    # p = 636.619772 + 32 = 668.619772 psi.
    MachineCase(
        name="us length 27 in, short of square, left-hand break-out, return",
        unit_system="us",
        bore=5.0,
        rod=3.0,
        arm_radius=30.0,
        base_distance=51.0,
        closed_length=26.0,
        open_length=45.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="left",
        arm_position=27.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=50.0,
        make_up_torque=16000.0,
        break_out_ratio=1.25,
        expected_side="cap",
        expected_moment_arm=24.0,
        expected_pressure=668.619772367581,
    ),
    # ----------------------------------------
    # Metric machine A: cylinder 100 mm by 60 mm, arm 600 mm, base 1,000 mm, 650 to 1,000 mm, efficiency 0.9.
    # Cap side pi/4 * 100^2 = 2,500 pi mm2, rod side pi/4 * (100^2 - 60^2) = 1,600 pi mm2. 1 N/mm2 = 10 bar.
    # Square at L = sqrt(1,000^2 - 600^2) = 800 mm (3-4-5), within the stroke; there h = a = 600 mm = 0.6 m.
    # ----------------------------------------
    # The cap drives, A = 2,500 pi mm2. Square: h = a = 0.6 m.
    # Force: 27,000 N.m / 0.6 m = 45,000 N; / 0.9 = 50,000 N.
    # p = 50,000 / (2,500 pi) = 20 / pi N/mm2 = 200 / pi bar = 63.661977 bar.
    MachineCase(
        name="metric square, cap stored, make-up, right hand",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=27000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=63.6619772367581,
    ),
    # The rod side drives, A = 1,600 pi mm2. Square: h = a = 0.6 m.
    # Force: 21,600 N.m / 0.6 m = 36,000 N; / 0.9 = 40,000 N.
    # p = 40,000 / (1,600 pi) = 25 / pi N/mm2 = 250 / pi bar = 79.577472 bar.
    MachineCase(
        name="metric square, rod stored, make-up, right hand",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=21600.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=600.0,
        expected_pressure=79.5774715459477,
    ),
    # Stored cap, turned over by the left-hand thread: the rod side drives, A = 1,600 pi, A' = 2,500 pi mm2.
    # Square: h = a = 0.6 m. Force: 17,280 N.m / 0.6 m = 28,800 N; / 0.9 = 32,000 N.
    # For the torque 32,000 / (1,600 pi) = 20 / pi N/mm2 = 200 / pi bar = 63.661977 bar;
    # against the return 25/16 * 3.2 = 5 bar.
    # p = 63.661977 + 2 + 5 = 70.661977 bar.
    MachineCase(
        name="metric square, left-hand make-up on the rod side, breakaway and return",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="left",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=2.0,
        return_pressure=3.2,
        make_up_torque=17280.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=600.0,
        expected_pressure=70.6619772367581,
    ),
    # Stored rod, turned over by the break-out: the cap drives, A = 2,500 pi mm2, A' = 1,600 pi mm2.
    # Square: h = a = 0.6 m. Torque: 1.25 * 27,000 = 33,750 N.m.
    # Force: 33,750 N.m / 0.6 m = 56,250 N; / 0.9 = 62,500 N.
    # For the torque 62,500 / (2,500 pi) = 25 / pi N/mm2 = 250 / pi bar = 79.577472 bar;
    # against the return 16/25 * 5 = 3.2 bar.
    # p = 79.577472 + 3.2 = 82.777472 bar.
    MachineCase(
        name="metric square, break-out on the cap side, return pressure only",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="right",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=0.0,
        return_pressure=5.0,
        make_up_torque=27000.0,
        break_out_ratio=1.25,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=82.7774715459477,
    ),
    # Stored cap, turned over twice (left hand, break-out): the cap drives, A = 2,500 pi mm2.
    # Square: h = a = 0.6 m. Torque: 0.8 * 27,000 = 21,600 N.m.
    # Force: 21,600 N.m / 0.6 m = 36,000 N; / 0.9 = 40,000 N.
    # For the torque 40,000 / (2,500 pi) = 16 / pi N/mm2 = 160 / pi bar = 50.929582 bar.
    # p = 50.929582 + 3 = 53.929582 bar.
    MachineCase(
        name="metric square, left-hand break-out on the cap side, ratio below 1, breakaway only",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="left",
        arm_position="square",
        efficiency=0.9,
        breakaway_pressure=3.0,
        return_pressure=0.0,
        make_up_torque=27000.0,
        break_out_ratio=0.8,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=53.9295817894065,
    ),
    # The cap drives, A = 2,500 pi mm2. Cylinder 900 mm long, 100 mm beyond square:
    # cos(theta) = (600^2 + 1,000^2 - 900^2) / (2 * 600 * 1,000) = 550,000 / 1,200,000 = 11/24,
    # sin(theta) = sqrt(24^2 - 11^2) / 24 = sqrt(455) / 24 = 0.888780,
    # h = 600 * 1,000 / 900 * sin(theta) = 250 sqrt(455) / 9 = 592.520250 mm.
    # Torque over efficiency: 27,000 / 0.9 = 30,000 N.m = 30,000,000 N.mm.
    # p = 30,000,000 / (h * 2,500 pi) = 12,000 / (pi h) N/mm2 = 120,000 / (pi h) bar = 64.465622 bar.
    MachineCase(
        name="metric length 900 mm by the cosine rule, beyond square, cap side",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position=900.0,
        efficiency=0.9,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=27000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=592.520250213932,
        expected_pressure=64.4656217711777,
    ),
    # Stored rod, turned over by the left-hand thread: the cap drives, A = 2,500 pi mm2, A' = 1,600 pi mm2.
    # Unknown: 800 mm (square) lies between 650 and 1,000 mm, so the largest moment arm is h = a = 0.6 m.
    # Force: 54,000 N.m / 0.6 m = 90,000 N; / 0.9 = 100,000 N.
    # For the torque 100,000 / (2,500 pi) = 40 / pi N/mm2 = 400 / pi bar = 127.323954 bar;
    # against the return 16/25 * 10 = 6.4 bar.
    # p = 127.323954 + 4 + 6.4 = 137.723954 bar.
    MachineCase(
        name="metric unknown, square within the stroke, left-hand make-up, breakaway and return",
        unit_system="metric",
        bore=100.0,
        rod=60.0,
        arm_radius=600.0,
        base_distance=1000.0,
        closed_length=650.0,
        open_length=1000.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="left",
        arm_position="unknown",
        efficiency=0.9,
        breakaway_pressure=4.0,
        return_pressure=10.0,
        make_up_torque=54000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=137.723954473516,
    ),
    # ----------------------------------------
    # Metric machine B: cylinder 80 mm by 40 mm, arm 500 mm, base 1,300 mm, 950 to 1,400 mm, efficiency 0.8.
    # Cap side pi/4 * 80^2 = 1,600 pi mm2, rod side pi/4 * (80^2 - 40^2) = 1,200 pi mm2.
    # Square at L = sqrt(1,300^2 - 500^2) = 1,200 mm (5-12-13), within the stroke;
    # there h = a = 500 mm = 0.5 m.
    # ----------------------------------------
    # The cap drives, A = 1,600 pi mm2. Square: h = a = 0.5 m.
    # Force: 16,000 N.m / 0.5 m = 32,000 N; / 0.8 = 40,000 N.
    # For the torque 40,000 / (1,600 pi) = 25 / pi N/mm2 = 250 / pi bar = 79.577472 bar.
    # p = 79.577472 + 3 = 82.577472 bar.
    MachineCase(
        name="metric square, cap side, breakaway only",
        unit_system="metric",
        bore=80.0,
        rod=40.0,
        arm_radius=500.0,
        base_distance=1300.0,
        closed_length=950.0,
        open_length=1400.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=3.0,
        return_pressure=0.0,
        make_up_torque=16000.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=500.0,
        expected_pressure=82.5774715459477,
    ),
    # Stored rod, turned over twice (left hand, break-out):
    # the rod side drives, A = 1,200 pi, A' = 1,600 pi mm2.
    # Square: h = a = 0.5 m. Torque: 1.5 * 8,000 = 12,000 N.m.
    # Force: 12,000 N.m / 0.5 m = 24,000 N; / 0.8 = 30,000 N.
    # For the torque 30,000 / (1,200 pi) = 25 / pi N/mm2 = 250 / pi bar = 79.577472 bar;
    # against the return 4/3 * 6 = 8 bar.
    # p = 79.577472 + 8 = 87.577472 bar.
    MachineCase(
        name="metric square, left-hand break-out on the rod side, return pressure only",
        unit_system="metric",
        bore=80.0,
        rod=40.0,
        arm_radius=500.0,
        base_distance=1300.0,
        closed_length=950.0,
        open_length=1400.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="left",
        arm_position="square",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=6.0,
        make_up_torque=8000.0,
        break_out_ratio=1.5,
        expected_side="rod",
        expected_moment_arm=500.0,
        expected_pressure=87.5774715459477,
    ),
    # ----------------------------------------
    # Metric machine C: cylinder 160 mm by 100 mm, arm 650 mm, base 1,000 mm, 540 to 1,060 mm, efficiency 0.8.
    # Cap side pi/4 * 160^2 = 6,400 pi mm2, rod side pi/4 * (160^2 - 100^2) = 3,900 pi mm2.
    # Perpendicular of 600 mm from the pipe centre: arm pin to its foot sqrt(650^2 - 600^2) = 250 mm,
    # base pin to its foot sqrt(1,000^2 - 600^2) = 800 mm. So h = 600 mm at L = 800 + 250 = 1,050 mm and at
    # L = 800 - 250 = 550 mm. Square at sqrt(1,000^2 - 650^2) = sqrt(577,500) = 759.9342 mm,
    # within the stroke;
    # there h = a = 650 mm.
    # ----------------------------------------
    # The cap drives, A = 6,400 pi mm2. Cylinder 1,050 = 800 + 250 mm long: h = 0.6 m.
    # Force: 61,440 N.m / 0.6 m = 102,400 N; / 0.8 = 128,000 N.
    # p = 128,000 / (6,400 pi) = 20 / pi N/mm2 = 200 / pi bar = 63.661977 bar.
    MachineCase(
        name="metric length 1,050 mm, beyond square, cap side",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=540.0,
        open_length=1060.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position=1050.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=61440.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=63.6619772367581,
    ),
    # The rod side drives, A = 3,900 pi mm2, A' = 6,400 pi mm2. Cylinder 550 = 800 - 250 mm long: h = 0.6 m.
    # Force: 37,440 N.m / 0.6 m = 62,400 N; / 0.8 = 78,000 N.
    # For the torque 78,000 / (3,900 pi) = 20 / pi N/mm2 = 200 / pi bar = 63.661977 bar;
    # against the return 64/39 * 3.9 = 6.4 bar.
    # p = 63.661977 + 2 + 6.4 = 72.061977 bar.
    MachineCase(
        name="metric length 550 mm, short of square, rod side, breakaway and return",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=540.0,
        open_length=1060.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position=550.0,
        efficiency=0.8,
        breakaway_pressure=2.0,
        return_pressure=3.9,
        make_up_torque=37440.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=600.0,
        expected_pressure=72.0619772367581,
    ),
    # Stored cap, turned over by the break-out: the rod side drives, A = 3,900 pi mm2.
    # Cylinder 1,050 = 800 + 250 mm long: h = 0.6 m. Torque: 1.2 * 39,000 = 46,800 N.m.
    # Force: 46,800 N.m / 0.6 m = 78,000 N; / 0.8 = 97,500 N.
    # p = 97,500 / (3,900 pi) = 25 / pi N/mm2 = 250 / pi bar = 79.577472 bar.
    MachineCase(
        name="metric length 1,050 mm, break-out on the rod side",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=540.0,
        open_length=1060.0,
        right_hand_make_up_side="cap",
        operation="break_out",
        thread_hand="right",
        arm_position=1050.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=39000.0,
        break_out_ratio=1.2,
        expected_side="rod",
        expected_moment_arm=600.0,
        expected_pressure=79.5774715459477,
    ),
    # Stored rod, turned over by the left-hand thread: the cap drives, A = 6,400 pi mm2, A' = 3,900 pi mm2.
    # Cylinder 550 = 800 - 250 mm long: h = 0.6 m.
    # Force: 46,080 N.m / 0.6 m = 76,800 N; / 0.8 = 96,000 N.
    # For the torque 96,000 / (6,400 pi) = 15 / pi N/mm2 = 150 / pi bar = 47.746483 bar;
    # against the return 39/64 * 6.4 = 3.9 bar.
    # p = 47.746483 + 3.9 = 51.646483 bar.
    MachineCase(
        name="metric length 550 mm, left-hand make-up on the cap side, return pressure only",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=540.0,
        open_length=1060.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="left",
        arm_position=550.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=6.4,
        make_up_torque=46080.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=51.6464829275686,
    ),
    # The rod side drives, A = 3,900 pi mm2.
    # Unknown: square (759.93 mm) lies between 540 and 1,060 mm, so the largest moment arm is h = a = 0.65 m.
    # Force: 40,560 N.m / 0.65 m = 62,400 N; / 0.8 = 78,000 N.
    # p = 78,000 / (3,900 pi) = 20 / pi N/mm2 = 200 / pi bar = 63.661977 bar.
    MachineCase(
        name="metric unknown, square within the stroke, rod side",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=540.0,
        open_length=1060.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=40560.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=650.0,
        expected_pressure=63.6619772367581,
    ),
    # ----------------------------------------
    # Metric machine C with a longer cylinder, 1,050 to 1,300 mm: all beyond square (759.93 mm).
    # Closed, L = 1,050 = 800 + 250 mm: h = 600 mm. Open, L = 1,300 mm: cos(theta) = -267,500 / 1,300,000,
    # h = 650 * 1,000 / 1,300 * sin(theta) = 489.30 mm.
    # The larger moment arm is 600 mm, at the closed end.
    # ----------------------------------------
    # The cap drives, A = 6,400 pi mm2. Unknown: h = 0.6 m, at the closed end.
    # Force: 76,800 N.m / 0.6 m = 128,000 N; / 0.8 = 160,000 N.
    # p = 160,000 / (6,400 pi) = 25 / pi N/mm2 = 250 / pi bar = 79.577472 bar.
    MachineCase(
        name="metric unknown, stroke wholly beyond square, cap side",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=1050.0,
        open_length=1300.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=76800.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=79.5774715459477,
    ),
    # ----------------------------------------
    # Metric machine C with a shorter cylinder, 420 to 550 mm: all short of square (759.93 mm).
    # Open, L = 550 = 800 - 250 mm: h = 600 mm. Closed, L = 420 mm: cos(theta) = 1,246,100 / 1,300,000,
    # h = 650 * 1,000 / 420 * sin(theta) = 441.01 mm.
    # The larger moment arm is 600 mm, at the open end.
    # ----------------------------------------
    # Stored rod, turned over by the break-out: the cap drives, A = 6,400 pi mm2.
    # Unknown: h = 0.6 m, at the open end. Torque: 1.25 * 49,152 = 61,440 N.m.
    # Force: 61,440 N.m / 0.6 m = 102,400 N; / 0.8 = 128,000 N.
    # For the torque 128,000 / (6,400 pi) = 20 / pi N/mm2 = 200 / pi bar = 63.661977 bar.
    # p = 63.661977 + 2.5 = 66.161977 bar.
    MachineCase(
        name="metric unknown, stroke wholly short of square, break-out on the cap side, breakaway",
        unit_system="metric",
        bore=160.0,
        rod=100.0,
        arm_radius=650.0,
        base_distance=1000.0,
        closed_length=420.0,
        open_length=550.0,
        right_hand_make_up_side="rod",
        operation="break_out",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=2.5,
        return_pressure=0.0,
        make_up_torque=49152.0,
        break_out_ratio=1.25,
        expected_side="cap",
        expected_moment_arm=600.0,
        expected_pressure=66.1619772367581,
    ),
    # ----------------------------------------
    # US machine F: machine C with arm and base exchanged, arm 51 in, base 26 in:
    # the base pin is the nearer one.
    # 4 pi and 3 pi in2, 34 to 56 in, efficiency 0.8.
    # The cylinder can never stand square to this arm; the largest
    # moment arm is the base distance, h = b = 26 in, where the cylinder stands square to the base line at
    # L = sqrt(51^2 - 26^2) = 43.874822 in.
    # At L = 45 + 10 = 55 in and L = 45 - 10 = 35 in, h = 24 in as before.
    # ----------------------------------------
    # The rod side drives, A = 3 pi in2. Cylinder 55 = 45 + 10 in long: h = 24 in.
    # Force: 19,200 ft-lb = 230,400 in-lb; / 24 in = 9,600 lbf; / 0.8 = 12,000 lbf.
    # p = 12,000 / (3 pi) = 4,000 / pi = 1,273.239545 psi.
    MachineCase(
        name="us base nearer than arm pin, length 55 in, rod side",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=51.0,
        base_distance=26.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="rod",
        operation="make_up",
        thread_hand="right",
        arm_position=55.0,
        efficiency=0.8,
        breakaway_pressure=0.0,
        return_pressure=0.0,
        make_up_torque=19200.0,
        break_out_ratio=None,
        expected_side="rod",
        expected_moment_arm=24.0,
        expected_pressure=1273.23954473516,
    ),
    # The cap drives, A = 4 pi in2, A' = 3 pi in2.
    # Unknown: 43.87 in lies between 34 and 56 in, so h = b = 26 in.
    # Force: 15,600 ft-lb = 187,200 in-lb; / 26 in = 7,200 lbf; / 0.8 = 9,000 lbf.
    # For the torque 9,000 / (4 pi) = 2,250 / pi = 716.197244 psi; against the return 3/4 * 20 = 15 psi.
    # p = 716.197244 + 10 + 15 = 741.197244 psi.
    MachineCase(
        name="us base nearer than arm pin, unknown, square to the base line within the stroke",
        unit_system="us",
        bore=4.0,
        rod=2.0,
        arm_radius=51.0,
        base_distance=26.0,
        closed_length=34.0,
        open_length=56.0,
        right_hand_make_up_side="cap",
        operation="make_up",
        thread_hand="right",
        arm_position="unknown",
        efficiency=0.8,
        breakaway_pressure=10.0,
        return_pressure=20.0,
        make_up_torque=15600.0,
        break_out_ratio=None,
        expected_side="cap",
        expected_moment_arm=26.0,
        expected_pressure=741.197243913529,
    ),
)
