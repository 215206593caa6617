"""Round-thread torque against a second implementation, against print, and by its properties."""

from dataclasses import replace
from math import pi

import pytest
import round_thread_us as us
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.rotary.sizes import INCH
from api.engineering.tubular.round_thread import (
    FOOT_POUND,
    PULL_OUT,
    THREAD_HEIGHTS,
    RoundThread,
    area_under_last_perfect_thread,
    fracture_strength,
    make_up,
    printed_torque,
    pull_out_strength,
    yield_strength_of_section,
)

PSI, LBF, LBF_FT = 6894.757293168362, 4.4482216152605, 1.3558179483314004


def ours(joint: us.Joint) -> RoundThread:
    return RoundThread(
        joint.D * INCH, joint.d * INCH, joint.two_h / 2 * INCH, joint.L * INCH, joint.Yp * PSI, joint.Up * PSI
    )


J55_STC = us.Joint(5.5, 4.892, 0.1425, 2.171, 55000, 75000)
J55_EUE = us.Joint(2.594, 1.995, 0.1425, 1.404, 55000, 75000)
J55_NUE = us.Joint(2.375, 1.995, 0.1112, 1.179, 55000, 75000)
FRACTURES = us.Joint(5.5, 4.892, 0.1425, 2.796, 110000, 125000)


@pytest.mark.parametrize("count", [500, pytest.param(20_000, marks=pytest.mark.evidence)])
def test_random_joints_agree_with_an_independent_implementation(count: int) -> None:
    """Origin: independent, written from the formula page alone in US units; see tests/independent."""
    worst = 0.0
    for joint in us.random_joints(count, 11):
        made = make_up(ours(joint))
        pairs = (
            (made.Ajp / INCH**2, joint.Ajp),
            (made.fracture / LBF, joint.P_frac),
            (made.pull_out / LBF, joint.P_pull),
            (made.optimum / LBF_FT, joint.T_opt),
            (made.minimum / LBF_FT, joint.T_min),
            (made.maximum / LBF_FT, joint.T_max),
        )
        worst = max(worst, *(abs(our / their - 1) for our, their in pairs))
        assert worst < 1e-9, (joint, pairs)


def test_the_constant_in_millimetres_is_the_printed_one() -> None:
    """ISO/TR 10400 prints 4.99 for mm: 0.74 x 25.4^0.59 = 4.989."""
    in_mm = PULL_OUT * 1000**0.59
    assert in_mm == pytest.approx(0.74 * 25.4**0.59, rel=1e-14)
    assert round(in_mm, 2) == 4.99


def test_in_millimetres_and_megapascals_as_iso_prints_it() -> None:
    """5-1/2 in 17 lb/ft J55 STC in mm, MPa and N, with the rounded 4.99: 0.03 % above."""
    D, d, L, Up, Yp = 139.7, 124.2568, 55.1434, 517.107, 379.212
    Ajp = 0.7854 * ((D - 3.6195) ** 2 - d**2)
    P = 0.95 * Ajp * L * (4.99 * D**-0.59 * Up / (0.5 * L + 0.14 * D) + Yp / (L + 0.14 * D))
    made = make_up(ours(J55_STC))
    assert made.pull_out == pytest.approx(P, rel=3e-4)
    assert made.optimum == pytest.approx(0.003048 * P, rel=3e-4)


@pytest.mark.parametrize(
    ("joint", "area", "pull_out", "optimum", "printed"),
    [
        # Hand-worked, 5-1/2 in 17 lb/ft J55 STC:
        # Ajp = 0.7854 (5.3575^2 - 4.892^2) = 0.7854 (28.702806 - 23.931664) = 3.7472551 in2
        # 5.5^-0.59 = exp(-0.59 x 1.7047481) = 0.3657514; 0.14 D = 0.77
        # 0.74 x 0.3657514 x 75000 / (1.0855 + 0.77) = 20299.20 / 1.8555 = 10940.02
        # 55000 / (2.171 + 0.77) = 18701.12; 0.95 x 3.7472551 x 2.171 x 29641.14 = 229,082.3 lbf
        (J55_STC, 3.7472551, 229082.3, 2290.823, (2290, 1720, 2860)),
        # 2-3/8 in 4.70 lb/ft J55 EUE: Ajp = 0.7854 (2.4515^2 - 1.995^2) = 0.7854 (6.009852 - 3.980025)
        # = 1.5942263 in2; 2.594^-0.59 = exp(-0.59 x 0.9532011) = 0.5698463; 0.14 D = 0.36316
        # 0.74 x 0.5698463 x 75000 / (0.702 + 0.36316) = 31626.47 / 1.06516 = 29691.75
        # 55000 / (1.404 + 0.36316) = 31123.38; 0.95 x 1.5942263 x 1.404 x 60815.14 = 129,316.0 lbf
        (J55_EUE, 1.5942263, 129316.0, 1293.160, (1290, 970, 1610)),
        # 2-3/8 in 4.60 lb/ft J55 NUE: Ajp = 0.7854 (2.2638^2 - 1.995^2) = 0.7854 (5.124790 - 3.980025)
        # = 0.8990988 in2; 2.375^-0.59 = exp(-0.59 x 0.8649974) = 0.6002863; 0.14 D = 0.3325
        # 0.74 x 0.6002863 x 75000 / (0.5895 + 0.3325) = 33315.89 / 0.922 = 36134.37
        # 55000 / (1.179 + 0.3325) = 36387.69; 0.95 x 0.8990988 x 1.179 x 72522.07 = 73,032.3 lbf
        (J55_NUE, 0.8990988, 73032.3, 730.323, (730, 550, 910)),
    ],
)
def test_hand_worked(
    joint: us.Joint, area: float, pull_out: float, optimum: float, printed: tuple[int, int, int]
) -> None:
    made = make_up(ours(joint))
    rounded = printed_torque(made.optimum)
    assert made.Ajp / INCH**2 == pytest.approx(area, rel=1e-6)
    assert made.pull_out / LBF == pytest.approx(pull_out, rel=1e-6)
    assert made.optimum / LBF_FT == pytest.approx(optimum, rel=1e-6)
    assert (rounded.optimum, rounded.minimum, rounded.maximum) == printed


def test_a_lesser_fracture_strength_leaves_the_torque_alone() -> None:
    """5-1/2 in 17 lb/ft P110 LTC: 445 klbf by fracture, but 4620 ft-lb (Bul 5C2, RP 5C1; from memory)."""
    made = make_up(ours(FRACTURES))
    assert made.fracture < made.pull_out
    assert made.fracture / LBF == pytest.approx(445_000, abs=500)
    assert printed_torque(made.optimum).optimum == 4620
    assert made.optimum / LBF_FT > 1.03 * 0.01 * made.fracture / LBF


@pytest.mark.parametrize(
    ("optimum", "printed"),
    [
        # halves go up: in the optimum, and in 75 and 125 % of the rounded one
        (2285.0, (2290, 1720, 2860)),  # 1717.5 and 2862.5
        (2284.999, (2280, 1710, 2850)),
        (2290.0, (2290, 1720, 2860)),
        (140.0, (140, 110, 180)),  # 105 and 175, both halves; half-even would give 100 and 180
        (180.0, (180, 140, 230)),  # 135 and 225
        (580.0, (580, 440, 730)),  # 435 and 725: printed so for 1.900 in J55 IJ
        (60.0, (60, 50, 80)),  # 45 and 75
        (10.0, (10, 10, 10)),  # 7.5 and 12.5
    ],
)
def test_rounding_as_printed(optimum: float, printed: tuple[int, int, int]) -> None:
    found = printed_torque(optimum * FOOT_POUND)
    assert (found.optimum, found.minimum, found.maximum) == printed
    assert printed == us.as_printed(optimum)


def test_rounding_agrees_with_decimal_arithmetic_over_the_whole_range() -> None:
    for tenths in range(50, 200_000, 7):
        found = printed_torque(tenths * 0.1001 * FOOT_POUND)
        assert (found.optimum, found.minimum, found.maximum) == us.as_printed(tenths * 0.1001)


threads = st.builds(
    lambda D, wall, L, Yp, hard: RoundThread(
        D * INCH, (D - 0.1425) * wall * INCH, THREAD_HEIGHTS[8], D * L * INCH, Yp * PSI, Yp * hard * PSI
    ),
    st.floats(1.5, 24),
    st.floats(0.5, 0.98),
    st.floats(0.1, 0.9),
    st.floats(30_000, 140_000),
    st.floats(1.0, 1.7),
)


@given(threads, st.floats(1.01, 2))
def test_torque_is_proportional_to_strength(thread: RoundThread, factor: float) -> None:
    stronger = make_up(replace(thread, Yp=factor * thread.Yp, Up=factor * thread.Up))
    assert stronger.optimum == pytest.approx(factor * make_up(thread).optimum, rel=1e-12)


@given(threads, st.floats(0.5, 0.99))
def test_torque_falls_with_a_shorter_thread_and_rises_with_a_smaller_bore(
    thread: RoundThread, share: float
) -> None:
    made = make_up(thread)
    assert make_up(replace(thread, L=share * thread.L)).optimum < made.optimum
    assert make_up(replace(thread, d=share * thread.d)).optimum > made.optimum


@given(threads)
def test_the_window_is_75_and_125_percent_of_the_unrounded_optimum(thread: RoundThread) -> None:
    made = make_up(thread)
    assert made.minimum == pytest.approx(0.75 * made.optimum, rel=1e-15)
    assert made.maximum == pytest.approx(1.25 * made.optimum, rel=1e-15)
    assert made.optimum == pytest.approx(made.pull_out * 0.3048 / 100, rel=1e-15)


def test_areas_go_with_print_not_with_pi() -> None:
    """The source prints 0.7854; pi/4 would be 2.3 parts in a million less."""
    area = area_under_last_perfect_thread(0.14, 0.124, 0.0018)
    exact = pi / 4 * ((0.14 - 0.0036) ** 2 - 0.124**2)
    assert area / exact - 1 == pytest.approx(2.34e-6, rel=0.01)


def test_every_function_alone() -> None:
    thread = ours(J55_STC)
    Ajp = area_under_last_perfect_thread(thread.D, thread.d, thread.h)
    assert fracture_strength(Ajp, thread.Up) / LBF == pytest.approx(J55_STC.P_frac, rel=1e-12)
    found = pull_out_strength(Ajp, thread.D, thread.L, thread.Yp, thread.Up)
    assert found / LBF == pytest.approx(J55_STC.P_pull, rel=1e-12)
    strength = yield_strength_of_section(thread.D - 2 * thread.h, thread.d, thread.Yp)
    assert strength / LBF == pytest.approx(us.strength_of_tubing(J55_STC), rel=1e-12)


ROOT = 5.5 - 0.1425


@pytest.mark.parametrize(
    ("changed", "faults"),
    [
        ({"d": (ROOT - 1e-9) * INCH}, []),
        ({"d": (ROOT + 1e-9) * INCH}, [("impossible_geometry", "pipe_inside_diameter")]),
        ({"L": 5.4999 * INCH}, []),
        ({"L": 5.5 * INCH}, [("impossible_geometry", "engaged_length")]),
        ({"Yp": 75000 * PSI}, []),
        ({"Yp": 75001 * PSI}, [("above_tensile_strength", "pipe_yield_strength")]),
        ({"d": float("nan")}, [("impossible_geometry", "pipe_inside_diameter")]),
        (
            {"d": 6 * INCH, "L": 6 * INCH, "Yp": 80000 * PSI},
            [
                ("impossible_geometry", "pipe_inside_diameter"),
                ("impossible_geometry", "engaged_length"),
                ("above_tensile_strength", "pipe_yield_strength"),
            ],
        ),
    ],
)
def test_what_no_pipe_can_have(changed: dict[str, float], faults: list[tuple[str, str]]) -> None:
    thread = replace(ours(J55_STC), **changed)
    found: list[tuple[str, str | None]] = []
    try:
        make_up(thread)
    except NoAnswer as refusal:
        found = [(fault.code, fault.field) for fault in refusal.faults]
    assert found == faults
