"""How a machine stands for what a request says: every kind, and rod by tape."""

from typing import Any

import pytest
from machine_kinds import KINDS, PUSHING, SPREAD, Kind, every_kind

from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.calibrated import Calibrated, CalibratedSide
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.two_cylinders import TwoCylinders
from api.engineering.machines.cylinder import Cylinder, posture_of

INCH = 0.0254
WITHOUT_ARM = {"bench-1", "north-bay-8"}
OWN = {"yard-1", "yard-2", "south-bay-9", "line on load cell"}


def machine(showing: float | None = None) -> CylinderOnArm:
    """40 to 62 in long, an arm of 36 in, a base at 60 in: square at 48 in."""
    cylinder = Cylinder(5 * INCH, 2.5 * INCH, 40 * INCH, 62 * INCH, showing and showing * INCH)
    return CylinderOnArm(cylinder, 36 * INCH, 60 * INCH, "cap", SPREAD, 0.0, 0.0)


@every_kind
def test_a_position_is_asked_only_where_there_is_an_arm(kind: Kind) -> None:
    name = next(name for name, each in KINDS.items() if each is kind)
    assert kind.machine.has_arm == (name not in WITHOUT_ARM)
    if name in WITHOUT_ARM | OWN:
        posture = posture_of(kind.machine, None, None)
        assert posture.position == "square"
        assert bool(posture.assumptions) == (name in OWN)
        return
    with pytest.raises(NoAnswer) as refusal:
        posture_of(kind.machine, None, None)
    (fault,) = refusal.value.faults
    assert (fault.code, fault.field) == ("arm_position_required", "arm_position")


@pytest.mark.parametrize("name", sorted(WITHOUT_ARM))
@pytest.mark.parametrize("stated", ["square", "unknown", 1.2])
def test_what_means_nothing_is_passed_over(name: str, stated: Any) -> None:
    posture = posture_of(KINDS[name].machine, stated, None)
    assert (posture.position, posture.assumptions) == ("square", ())
    assert posture_of(KINDS[name].machine, None, 0.2) == posture


@pytest.mark.parametrize(
    ("showing", "rod", "length"), [(None, 8, 48), (0, 8, 48), (1.5, 9.5, 48), (1.5, 1.5, 40), (None, 22, 62)]
)
def test_rod_exposed(showing: float | None, rod: float, length: float) -> None:
    posture = posture_of(machine(showing), None, rod * INCH)
    assert posture.position == pytest.approx(length * INCH)
    assert [each.field for each in posture.assumptions] == (
        ["rod_showing_when_closed"] if showing is None else []
    )


def test_at_48_in_the_arm_of_the_example_is_square() -> None:
    """3-4-5: the moment arm is the arm radius."""
    position = posture_of(machine(), None, 8 * INCH).position
    assert machine().moment_arm(position) == pytest.approx(36 * INCH)


@pytest.mark.parametrize(("showing", "rod"), [(None, 22.1), (1.5, 1.4), (1.5, 23.6)])
def test_rod_outside_the_stroke(showing: float | None, rod: float) -> None:
    with pytest.raises(NoAnswer) as refusal:
        posture_of(machine(showing), None, rod * INCH)
    (fault,) = refusal.value.faults
    assert (fault.code, fault.field) == ("outside_stroke", "rod_exposed")


@pytest.mark.parametrize("name", ["north-bay-7", "yard-1", "south-bay-9", "push-pull"])
def test_rod_of_a_machine_whose_closed_length_is_not_known(name: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        posture_of(KINDS[name].machine, None, 0.2)
    (fault,) = refusal.value.faults
    assert (fault.code, fault.field) == ("no_cylinder_length", "rod_exposed")


def test_two_cylinders_alike_have_one_rod() -> None:
    pair = TwoCylinders(PUSHING, PUSHING, True, SPREAD, 0.0, 0.0)
    assert posture_of(pair, None, 0.2).position == pytest.approx(PUSHING.cylinder.closed_length + 0.2)


def test_a_calibrated_motor_has_no_arm() -> None:
    side = CalibratedSide("G", ((1e6, 1e4), (2e6, 2e4)))
    motor = Calibrated({"A": side}, "A", "square", 0.01)
    assert not motor.has_arm
    assert posture_of(motor, "unknown", None).position == "square"
