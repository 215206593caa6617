"""The machine against cases worked by hand from areas and levers, and by its properties."""

import pytest
from hand_worked_machine_cases import CASES, MachineCase
from hypothesis import given
from hypothesis import strategies as st
from rows import every_row

from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.machine import Efficiency
from api.engineering.machines.cylinder import (
    Cylinder,
    Hand,
    Operation,
    Side,
    Turning,
    cap_area,
    rod_side_area,
)

UNITS = {
    # length, pressure and torque of the case in SI
    "us": (0.0254, 6894.757293168362, 1.3558179483314004),
    "metric": (0.001, 1e5, 1.0),
}


def machine_of(case: MachineCase) -> CylinderOnArm:
    length, pressure, _ = UNITS[case.unit_system]
    return CylinderOnArm(
        Cylinder(
            case.bore * length, case.rod * length, case.closed_length * length, case.open_length * length
        ),
        case.arm_radius * length,
        case.base_distance * length,
        case.right_hand_make_up_side,
        Efficiency(case.efficiency, case.efficiency, case.efficiency),
        case.breakaway_pressure * pressure,
        case.return_pressure * pressure,
    )


@every_row("case", CASES, ids=lambda case: case.name)
def test_hand_worked_case(case: MachineCase) -> None:
    """Side, lever and pressure of the case; its working stands above it in tests/independent."""
    length, pressure, torque = UNITS[case.unit_system]
    machine = machine_of(case)
    turning = Turning(case.operation, case.thread_hand)
    position = case.arm_position if isinstance(case.arm_position, str) else case.arm_position * length
    wanted = case.make_up_torque * (case.break_out_ratio or 1.0) * torque
    assert machine.side(turning) == case.expected_side
    assert machine.moment_arm(position) / length == pytest.approx(case.expected_moment_arm, rel=1e-9)
    exact = machine.reading_from_torque(wanted, turning, position, case.efficiency)
    assert exact / pressure == pytest.approx(case.expected_pressure, rel=1e-9)
    back = machine.torque_from_reading(
        case.expected_pressure * pressure,
        turning,
        position,
        case.efficiency,
    )
    assert back == pytest.approx(wanted, rel=1e-9)


DEMO = CylinderOnArm(
    Cylinder(0.127, 0.0635, 1.016, 1.5748), 0.9144, 1.524, "rod", Efficiency(0.92, 0.95, 0.98), 2e5, 0.0
)


@pytest.mark.parametrize(
    ("side", "operation", "hand", "expected"),
    [
        ("rod", "make_up", "right", "rod"),
        ("rod", "make_up", "left", "cap"),
        ("rod", "break_out", "right", "cap"),
        ("rod", "break_out", "left", "rod"),
        ("cap", "make_up", "right", "cap"),
        ("cap", "make_up", "left", "rod"),
        ("cap", "break_out", "right", "rod"),
        ("cap", "break_out", "left", "cap"),
    ],
)
def test_side(side: Side, operation: Operation, hand: Hand, expected: Side) -> None:
    machine = CylinderOnArm(DEMO.cylinder, 0.9, 1.5, side, DEMO.efficiency, 0.0, 0.0)
    assert machine.side(Turning(operation, hand)) == expected


@given(st.floats(100.0, 1e5), st.floats(1.02, 1.57))
def test_without_return_pressure_the_sides_differ_by_the_area_ratio(torque: float, length: float) -> None:
    machine = CylinderOnArm(DEMO.cylinder, 0.9144, 1.524, "cap", DEMO.efficiency, 0.0, 0.0)
    cap = machine.reading_from_torque(torque, Turning("make_up", "right"), length, 0.95)
    rod = machine.reading_from_torque(torque, Turning("make_up", "left"), length, 0.95)
    assert rod / cap == pytest.approx(cap_area(DEMO.cylinder) / rod_side_area(DEMO.cylinder), rel=1e-12)


@given(st.floats(1e6, 2e7), st.floats(1e5, 1e7), st.floats(1.02, 1.57))
def test_torque_rises_with_pressure(pressure: float, more: float, length: float) -> None:
    turning = Turning("make_up", "right")
    low = DEMO.torque_from_reading(pressure, turning, length, 0.95)
    assert DEMO.torque_from_reading(pressure + more, turning, length, 0.95) > low


@given(st.floats(1.016, 1.5748))
def test_no_position_has_more_lever_than_the_unknown_one(length: float) -> None:
    assert DEMO.moment_arm(length) <= DEMO.moment_arm("unknown") * (1 + 1e-12)


@pytest.mark.parametrize(
    ("cylinder", "arm", "base", "position", "code"),
    [
        (DEMO.cylinder, 0.9, 0.8, "square", "square_not_reached"),  # base nearer than the arm pin
        (Cylinder(0.1, 0.05, 0.7, 1.0), 0.9144, 1.524, "square", "square_not_reached"),  # 1.2192 m needed
        (Cylinder(0.1, 0.05, 1.3, 1.6), 0.9144, 1.524, "square", "square_not_reached"),
        (DEMO.cylinder, 0.9144, 1.524, 1.0, "outside_stroke"),
        (DEMO.cylinder, 0.9144, 1.524, 1.6, "outside_stroke"),
        (Cylinder(0.1, 0.05, 0.5, 3.0), 0.9, 1.5, 0.6, "dead_centre"),  # |a - b| = 0.6
        (Cylinder(0.1, 0.05, 0.5, 3.0), 0.9, 1.5, 2.4, "dead_centre"),  # a + b = 2.4
        # 4.9 degrees: sqrt(0.81 + 2.25 - 2.7 cos 4.9 deg) = 0.608169 m
        (Cylinder(0.1, 0.05, 0.5, 3.0), 0.9, 1.5, 0.608, "dead_centre"),
    ],
)
def test_position_that_cannot_be(
    cylinder: Cylinder, arm: float, base: float, position: float, code: str
) -> None:
    machine = CylinderOnArm(cylinder, arm, base, "cap", DEMO.efficiency, 0.0, 0.0)
    with pytest.raises(NoAnswer) as refusal:
        machine.moment_arm(position)
    assert [fault.code for fault in refusal.value.faults] == [code]


def test_five_degrees_from_dead_centre_is_far_enough() -> None:
    """sqrt(0.81 + 2.25 - 2.7 cos 5 deg) = 0.6085017 m; h = 0.9 * 1.5 sin 5 deg / 0.6085017 = 0.193361 m."""
    machine = CylinderOnArm(Cylinder(0.1, 0.05, 0.5, 3.0), 0.9, 1.5, "cap", DEMO.efficiency, 0.0, 0.0)
    assert machine.moment_arm(0.608502) == pytest.approx(0.193361, abs=1e-5)


@pytest.mark.parametrize("length", [1.016, 1.5748])
def test_the_ends_of_the_stroke_are_reached(length: float) -> None:
    assert 0 < DEMO.moment_arm(length) < DEMO.arm_radius
