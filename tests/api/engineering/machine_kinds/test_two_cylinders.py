"""Two cylinders against forces and levers from the coordinates of their pins, wherever each stands."""

from dataclasses import replace
from math import hypot, pi, sqrt
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.machine import Efficiency
from api.engineering.machine_kinds.two_cylinders import CylinderAtArm, TwoCylinders
from api.engineering.machines.cylinder import Cylinder, Turning

PSI = 6894.757293168362
TURNINGS = [Turning("make_up", "right"), Turning("break_out", "right")]
FIRST = CylinderAtArm(Cylinder(0.127, 0.0635, 1.016, 1.5748), 0.9144, 1.524, "cap")
SECOND = CylinderAtArm(Cylinder(0.080, 0.056, 0.7, 1.3), 0.8, 1.2, "rod")
BOTH = TwoCylinders(FIRST, SECOND, True, Efficiency(0.9, 0.95, 0.98), 30 * PSI, 150 * PSI)


def lever(at: CylinderAtArm, length: float) -> float:
    """Pipe at (0, 0), base pin at (b, 0), arm pin where the circles of arm and cylinder meet."""
    x = (at.arm_radius**2 + at.base_distance**2 - length**2) / (2 * at.base_distance)
    y = sqrt(at.arm_radius**2 - x**2)
    return at.base_distance * y / hypot(at.base_distance - x, y)


def force(at: CylinderAtArm, pressure: float, make_up: bool) -> float:
    """Without losses in the pins: the driven area less what breakaway and return pressure take."""
    cap = pi / 4 * at.cylinder.bore**2
    rod_side = cap - pi / 4 * at.cylinder.rod**2
    on_cap = (at.right_hand_make_up_side == "cap") == make_up
    driven, returning = (cap, rod_side) if on_cap else (rod_side, cap)
    return driven * (pressure - 30 * PSI) - returning * 150 * PSI


@given(
    st.floats(0.0, 3000.0),
    st.floats(1.016, 1.5748),
    st.floats(0.7, 1.3),
    st.floats(0.9, 0.98),
    st.booleans(),
)
@example(250.0, 1.2192, 1.3, 0.98, True)
@example(180.0, 1.5748, 0.9, 0.98, False)
def test_an_unknown_position_bounds_every_pair_of_lengths(
    psi: float, first: float, second: float, efficiency: float, make_up: bool
) -> None:
    """Also where the return pressure still pushes one of them back while the other drives."""
    pressure = psi * PSI
    torque = efficiency * (
        force(FIRST, pressure, make_up) * lever(FIRST, first)
        + force(SECOND, pressure, make_up) * lever(SECOND, second)
    )
    least, most = BOTH.torque_range(pressure, pressure, TURNINGS[not make_up], "unknown")
    assert least - 1e-6 <= max(0.0, torque) <= most + 1e-6


@given(st.floats(500.0, 3000.0), st.floats(1.016, 1.5748), st.booleans())
def test_two_alike_are_twice_one(psi: float, length: float, make_up: bool) -> None:
    alike = replace(BOTH, second=FIRST)
    torque = alike.torque_from_reading(psi * PSI, TURNINGS[not make_up], length, 0.95)
    assert torque == pytest.approx(
        2 * 0.95 * force(FIRST, psi * PSI, make_up) * lever(FIRST, length), rel=1e-9
    )


@pytest.mark.parametrize(
    ("second", "position", "code"),
    [
        (SECOND, 1.2, "no_common_length"),
        (replace(FIRST, right_hand_make_up_side="rod"), 1.2, "no_common_length"),  # one opens, one closes
        (replace(FIRST, base_distance=1.5), 1.2, "no_common_length"),
        (FIRST, 1.6, "outside_stroke"),
        (replace(SECOND, base_distance=0.75), "square", "square_not_reached"),  # nearer than the arm pin
        (replace(SECOND, cylinder=Cylinder(0.08, 0.05, 0.95, 1.3)), "square", "square_not_reached"),  # 0.894
        (replace(SECOND, cylinder=Cylinder(0.08, 0.05, 0.405, 1.3)), "unknown", "dead_centre"),  # 0.4 m
    ],
)
def test_position_that_cannot_be(second: CylinderAtArm, position: Any, code: str) -> None:
    machine = replace(BOTH, second=second)
    with pytest.raises(NoAnswer) as refusal:
        machine.moment_arm(position)
    assert [fault.code for fault in refusal.value.faults] == [code]


@pytest.mark.parametrize(
    ("opposite", "second", "position", "known"),
    [
        (True, FIRST, "unknown", True),  # alike: the forces are parallel wherever they stand
        (True, SECOND, "square", True),
        (True, SECOND, "unknown", False),
        (False, SECOND, "unknown", True),  # the sum, parallel or not, is the most
    ],
)
def test_side_load_is_told_where_it_is_known(
    opposite: bool, second: CylinderAtArm, position: Any, known: bool
) -> None:
    machine = replace(BOTH, second=second, on_opposite_sides=opposite)
    assert (machine.side_load(1e7, TURNINGS[0], position) is not None) == known
