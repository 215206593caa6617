"""Squeeze, wedge and grip cylinder against published figures, hand-worked cases and statics."""

from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.grip.squeeze import (
    GripCylinder,
    friction_to_lock,
    pressure_for_squeeze,
    slip_torque,
    squeeze_for_torque,
    travel_used,
)
from api.engineering.machines.cylinder import Piston, Side


@pytest.mark.parametrize(
    ("torque", "radius", "friction", "margin", "squeeze"),
    [
        # Published: 10 000 lbf.ft on 5 in outside diameter, friction 0.3, margin 1.5. lbf.ft, ft, lbf.
        (10_000, 5 / 24, 0.3, 1.5, 240_000),
        # By hand: 1.2 * 20 000 / (0.4 * 0.25 ft) lbf, on 6 in
        (20_000, 0.25, 0.4, 1.2, 240_000),
        # By hand, metric: 2 * 5000 N.m / (0.1 * 0.05 m) N, on 100 mm, greasy
        (5_000, 0.05, 0.1, 2.0, 2_000_000),
        # 30 000 N.m on 200 mm, friction 0.5 without margin: 30 000 / (0.5 * 0.1) N
        (30_000, 0.1, 0.5, 1.0, 600_000),
    ],
)
def test_squeeze(torque: float, radius: float, friction: float, margin: float, squeeze: float) -> None:
    assert squeeze_for_torque(torque, radius, friction, margin) == pytest.approx(squeeze, rel=1e-12)
    assert slip_torque(squeeze, radius, friction) == pytest.approx(margin * torque, rel=1e-12)


@given(st.integers(2, 8), st.floats(1e3, 1e6), st.floats(0.02, 0.3), st.floats(0.05, 0.9))
def test_slip_torque_is_the_moment_of_friction_at_every_jaw(
    jaws: int, each: float, radius: float, friction: float
) -> None:
    moment = sum(friction * each * radius for _ in range(jaws))
    assert slip_torque(jaws * each, radius, friction) == pytest.approx(moment, rel=1e-12)


@pytest.mark.parametrize(
    ("angle", "needed"),
    # Tangents from a printed table.
    [(5, 0.0875), (10, 0.1763), (15, 0.2679), (20, 0.3640), (30, 0.5774), (45, 1.0)],
)
def test_friction_to_lock(angle: float, needed: float) -> None:
    assert friction_to_lock(radians(angle)) == pytest.approx(needed, abs=5e-5)


@given(st.floats(0.5, 45), st.floats(0.02, 1.5))
def test_a_wedge_that_locks_needs_less_friction_than_there_is(angle: float, friction: float) -> None:
    """A jaw on a smooth wedge: pushed by the wedge across its face, with N inwards and N tan(angle) along."""
    across = 1.0  # force of the wedge on the jaw, square to the sliding face
    inwards, along = across * cos(radians(angle)), across * sin(radians(angle))
    locks = along < friction * inwards
    if abs(along - friction * inwards) > 1e-9:
        assert locks == (friction > friction_to_lock(radians(angle)))


@pytest.mark.parametrize(
    ("piston", "side", "ratio", "efficiency", "squeeze", "pressure"),
    [
        # One cylinder pushes one of two jaws: the diameter closes by its travel, N = 2 F.
        # 4 in bore, 4 pi in2; 40 000 lbf need F = 20 000 lbf, 20 000 / (4 pi) psi.
        (Piston(4, 2), "cap", 1.0, 1.0, 40_000, 5_000 / pi),
        # The same pulling: 3 pi in2.
        (Piston(4, 2), "rod", 1.0, 1.0, 40_000, 20_000 / (3 * pi)),
        # A wedge of 1 in 6 on radius: 3 in of travel close the diameter by 1 in; efficiency 0.5.
        # F = 240 000 / (2 * 3 * 0.5) = 80 000 lbf; 6 in bore, 9 pi in2.
        (Piston(6, 3), "cap", 3.0, 0.5, 240_000, 80_000 / (9 * pi)),
        # Metric: bore 100 mm, pi/400 m2; 200 kN, ratio 0.5, efficiency 0.8: F = 250 kN.
        (Piston(0.1, 0.05), "cap", 0.5, 0.8, 200_000, 250_000 * 400 / pi),
    ],
)
def test_grip_pressure(
    piston: Piston, side: Side, ratio: float, efficiency: float, squeeze: float, pressure: float
) -> None:
    cylinder = GripCylinder(piston, side, 1.0, 1.0, ratio, efficiency)
    assert pressure_for_squeeze(cylinder, squeeze) == pytest.approx(pressure, rel=1e-12)


@pytest.mark.parametrize(
    ("open_diameter", "ratio", "diameter", "used"),
    [(10, 0.5, 6, 2), (10, 0.5, 10, 0), (10, 3, 8.5, 4.5), (0.25, 1, 0.1, 0.15), (8, 1, 9, -1)],
)
def test_travel(open_diameter: float, ratio: float, diameter: float, used: float) -> None:
    cylinder = GripCylinder(Piston(4, 2), "cap", 5.0, open_diameter, ratio, 1.0)
    assert travel_used(cylinder, diameter) == pytest.approx(used, abs=1e-12)


@given(st.floats(0.1, 5), st.floats(0.05, 0.5), st.floats(1e-4, 1e-3))
def test_the_work_of_the_cylinder_is_the_work_of_the_squeeze(
    ratio: float, diameter: float, closer: float
) -> None:
    cylinder = GripCylinder(Piston(0.1, 0.05), "cap", 9.0, 1.0, ratio, 1.0)
    pressure = pressure_for_squeeze(cylinder, 1e5)
    travel = travel_used(cylinder, diameter - closer) - travel_used(cylinder, diameter)
    assert pressure * pi / 4 * 0.1**2 * travel == pytest.approx(1e5 * closer / 2, rel=1e-9)
