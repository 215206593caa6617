"""The calibrated machine: hand-worked readings on both sides, another library, and what it refuses."""

import numpy as np
import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.interpolation import value_at
from api.engineering.machine_kinds.calibrated import Calibrated, CalibratedSide
from api.engineering.machines.cylinder import Hand, Operation, Side, Turning

PSI, FT_LB = 6894.757293168362, 1.3558179483314004
# invented certificate: psi and ft-lb
ROD = ((500, 16_000), (1000, 33_500), (1500, 51_000), (2500, 86_500))
CAP = ((400, 17_000), (1200, 55_000), (2400, 112_600))
MAKE_UP, BREAK_OUT = Turning("make_up", "right"), Turning("break_out", "right")


def side(serial: str, points: tuple[tuple[float, float], ...]) -> CalibratedSide:
    return CalibratedSide(serial, tuple((psi * PSI, ft_lb * FT_LB) for psi, ft_lb in points))


MACHINE = Calibrated({"rod": side("G-11", ROD), "cap": side("G-12", CAP)}, "rod", "square", 0.02)


@pytest.mark.parametrize(
    ("turning", "psi", "efficiency", "ft_lb"),
    [
        (MAKE_UP, 500, 1.0, 16_000),  # rod: a point itself, the first
        (MAKE_UP, 750, 1.0, 24_750),  # half way: (16,000 + 33,500) / 2
        (MAKE_UP, 1100, 1.0, 37_000),  # 33,500 + 100/500 x 17,500
        (MAKE_UP, 2000, 1.0, 68_750),  # 51,000 + 500/1000 x 35,500
        (MAKE_UP, 2000, 0.98, 67_375),  # 0.98 x 68,750
        (MAKE_UP, 2500, 1.0, 86_500),  # the last
        # cap: break-out of a right-hand thread, make-up of a left-hand one
        (BREAK_OUT, 600, 1.0, 26_500),  # 17,000 + 200/800 x 38,000
        (BREAK_OUT, 1800, 1.0, 83_800),  # 55,000 + 600/1200 x 57,600
        (Turning("make_up", "left"), 1800, 1.02, 85_476),  # 1.02 x 83,800
        (Turning("break_out", "left"), 750, 1.0, 24_750),  # the rod again
    ],
)
def test_hand_worked_case(turning: Turning, psi: float, efficiency: float, ft_lb: float) -> None:
    torque = MACHINE.torque_from_reading(psi * PSI, turning, "square", efficiency)
    assert torque / FT_LB == pytest.approx(ft_lb, rel=1e-12)
    reading = MACHINE.reading_from_torque(ft_lb * FT_LB, turning, "square", efficiency)
    assert reading / PSI == pytest.approx(psi, rel=1e-12)


@pytest.mark.parametrize(
    ("turning", "low_psi", "high_psi", "least", "most"),
    [
        # U = 2 %: the least by 0.98, the most by 1.02
        (MAKE_UP, 1000, 1500, 0.98 * 33_500, 1.02 * 51_000),
        # 30 psi of doubt about the first point: 30 x 17,500/500 = 1050 below 16,000
        (MAKE_UP, 470, 530, 0.98 * 14_950, 1.02 * 17_050),
        # about the last: 40 x 35,500/1000 = 1420 either way
        (MAKE_UP, 2460, 2540, 0.98 * 85_080, 1.02 * 87_920),
        # cap, about the first: 50 x 38,000/800 = 2375
        (BREAK_OUT, 350, 450, 0.98 * 14_625, 1.02 * 19_375),
        # so wide a doubt that no torque is sure: 16,000 - 490 x 35 < 0
        (MAKE_UP, 10, 990, 0.0, 1.02 * 33_150),
    ],
)
def test_range_by_hand(turning: Turning, low_psi: float, high_psi: float, least: float, most: float) -> None:
    low, high = MACHINE.torque_range(low_psi * PSI, high_psi * PSI, turning, "square")
    assert (low / FT_LB, high / FT_LB) == pytest.approx((least, most), rel=1e-12)


def test_what_is_known() -> None:
    assert MACHINE.readings(MAKE_UP) == pytest.approx((500 * PSI, 2500 * PSI))
    assert MACHINE.readings(BREAK_OUT) == pytest.approx((400 * PSI, 2400 * PSI))
    assert MACHINE.efficiency.low == pytest.approx(0.98)
    assert MACHINE.efficiency.nominal == 1.0
    assert MACHINE.efficiency.high == pytest.approx(1.02)
    assert MACHINE.moment_arm("square") is None
    assert MACHINE.side_load(1000 * PSI, MAKE_UP, "square") is None


@pytest.mark.parametrize(
    ("own", "operation", "hand", "expected"),
    [
        ("rod", "make_up", "right", "rod"),
        ("rod", "make_up", "left", "cap"),
        ("rod", "break_out", "right", "cap"),
        ("cap", "break_out", "left", "cap"),
        ("A", "make_up", "right", "A"),
        ("A", "break_out", "right", "B"),
        ("B", "make_up", "left", "A"),
    ],
)
def test_side(own: Side, operation: Operation, hand: Hand, expected: Side) -> None:
    machine = Calibrated(MACHINE.measured, own, "square", 0.02)
    assert machine.sides(Turning(operation, hand)) == (expected,)


def test_the_gauges_of_the_calibration() -> None:
    assert MACHINE.calibration_gauges == {"rod": "G-11", "cap": "G-12"}
    assert ONE_SIDE.calibration_gauges == {"rod": "G-11"}


ONE_SIDE = Calibrated({"rod": side("G-11", ROD)}, "rod", 1.2, 0.02)


@pytest.mark.parametrize("position", [1.2, 1.2005, 1.1995])
def test_half_a_millimetre_is_the_same_position(position: float) -> None:
    assert ONE_SIDE.torque_from_reading(750 * PSI, MAKE_UP, position, 1.0) / FT_LB == pytest.approx(24_750)


@pytest.mark.parametrize(
    ("machine", "turning", "position"),
    [
        (MACHINE, MAKE_UP, "unknown"),
        (MACHINE, MAKE_UP, 1.2),
        (ONE_SIDE, MAKE_UP, "square"),
        (ONE_SIDE, MAKE_UP, "unknown"),
        (ONE_SIDE, MAKE_UP, 1.2006),
        (ONE_SIDE, MAKE_UP, 1.1994),
    ],
)
def test_another_position(machine: Calibrated, turning: Turning, position: float) -> None:
    for ask in (
        lambda: machine.moment_arm(position),
        lambda: machine.torque_from_reading(750 * PSI, turning, position, 1.0),
        lambda: machine.reading_from_torque(24_750 * FT_LB, turning, position, 1.0),
        lambda: machine.torque_range(700 * PSI, 800 * PSI, turning, position),
        lambda: machine.side_load(750 * PSI, turning, position),
    ):
        assert refused(ask) == "position_not_calibrated"


def test_side_without_points() -> None:
    for ask in (
        lambda: ONE_SIDE.torque_from_reading(750 * PSI, BREAK_OUT, 1.2, 1.0),
        lambda: ONE_SIDE.reading_from_torque(24_750 * FT_LB, BREAK_OUT, 1.2, 1.0),
        lambda: ONE_SIDE.torque_range(700 * PSI, 800 * PSI, BREAK_OUT, 1.2),
        lambda: ONE_SIDE.readings(BREAK_OUT),
    ):
        assert refused(ask) == "side_not_calibrated"


@pytest.mark.parametrize(
    "ask",
    [
        lambda: MACHINE.torque_from_reading(499.9 * PSI, MAKE_UP, "square", 1.0),
        lambda: MACHINE.torque_from_reading(2500.1 * PSI, MAKE_UP, "square", 1.0),
        lambda: MACHINE.torque_from_reading(2450 * PSI, BREAK_OUT, "square", 1.0),
        lambda: MACHINE.reading_from_torque(15_990 * FT_LB, MAKE_UP, "square", 1.0),
        lambda: MACHINE.reading_from_torque(86_510 * FT_LB, MAKE_UP, "square", 1.0),
        lambda: MACHINE.reading_from_torque(
            86_000 * FT_LB, MAKE_UP, "square", 0.98
        ),  # 0.98 x 86,500 = 84,770
        lambda: MACHINE.torque_range(400 * PSI, 499 * PSI, MAKE_UP, "square"),
        lambda: MACHINE.torque_range(2501 * PSI, 2600 * PSI, MAKE_UP, "square"),
    ],
)
def test_nothing_is_extrapolated(ask) -> None:  # type: ignore[no-untyped-def]
    assert refused(ask) == "outside_calibration"


def test_the_refusal_names_the_range() -> None:
    with pytest.raises(NoAnswer) as refusal:
        MACHINE.torque_from_reading(3000 * PSI, MAKE_UP, "square", 1.0)
    (fault,) = refusal.value.faults
    told = {name: amount.value / PSI for name, amount in fault.amounts.items()}
    assert told == pytest.approx({"value": 3000, "first": 500, "last": 2500})


def refused(ask) -> str:  # type: ignore[no-untyped-def]
    with pytest.raises(NoAnswer) as refusal:
        ask()
    (fault,) = refusal.value.faults
    assert fault.text.count("{") == len(fault.amounts)
    return fault.code


rising = st.lists(st.integers(1, 10_000), min_size=2, max_size=12, unique=True).map(sorted)


@pytest.mark.evidence
@given(rising, rising, st.floats(0, 1))
def test_another_library_agrees(xs: list[int], ys: list[int], share: float) -> None:
    count = min(len(xs), len(ys))
    x, y = np.array(xs[:count], float), np.array(ys[:count], float)
    at = x[0] + share * (x[-1] - x[0])
    points = tuple(zip(x.tolist(), y.tolist(), strict=True))
    line = scipy.interpolate.make_interp_spline(x, y, k=1)
    assert value_at(points, at) == pytest.approx(float(line(at)), rel=1e-9)
    machine = Calibrated({"cap": CalibratedSide("G", points)}, "cap", "square", 0.01)
    torque = machine.torque_from_reading(at, MAKE_UP, "square", 1.0)
    assert torque == pytest.approx(np.interp(at, x, y), rel=1e-9)
    # beyond the ends, as doubt is carried
    assert value_at(points, x[0] - 5) == pytest.approx(float(line(x[0] - 5)), rel=1e-9)
    assert value_at(points, x[-1] + 5) == pytest.approx(float(line(x[-1] + 5)), rel=1e-9)


@given(rising, st.floats(0, 1), st.floats(0.0, 500.0))
def test_torque_rises_and_the_range_holds_it(xs: list[int], share: float, doubt: float) -> None:
    points = tuple((float(x), 3.0 * x + 0.001 * x * x) for x in xs)
    machine = Calibrated({"cap": CalibratedSide("G", points)}, "cap", "square", 0.01)
    at = min(points[0][0] + share * (points[-1][0] - points[0][0]), points[-1][0])
    torque = machine.torque_from_reading(at, MAKE_UP, "square", 1.0)
    low, high = machine.torque_range(at - doubt, at + doubt, MAKE_UP, "square")
    assert low < torque < high
    assert machine.reading_from_torque(torque, MAKE_UP, "square", 1.0) == pytest.approx(at, rel=1e-9)
