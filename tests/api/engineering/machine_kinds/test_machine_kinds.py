"""What every kind of machine must answer."""

from dataclasses import fields, replace
from inspect import isfunction, signature
from itertools import pairwise, product
from math import inf
from typing import Any

import pytest
from machine_kinds import KINDS, RIGHT_MAKE_UP, TURNINGS, Kind, every_kind, every_position, every_turning
from rows import every_row

from api.engineering.checks import NoAnswer
from api.engineering.machine_kinds.machine import MEMBERS, Machine
from api.engineering.machines.cylinder import Turning


@every_kind
def test_methods_are_those_of_the_protocol(kind: Kind) -> None:
    wanted = {name: vars(Machine).get(name) for name in MEMBERS}
    assert {"tolerances", "torque_range", "position_doubt", "where_it_stands"} < set(wanted)
    for name, member in wanted.items():
        assert hasattr(kind.machine, name)
        if isfunction(member):
            own = signature(getattr(type(kind.machine), name))
            assert list(own.parameters) == list(signature(member).parameters), name


@every_kind
def test_a_machine_is_a_value(kind: Kind) -> None:
    """Frozen, and equal to another of the same sizes."""
    machine: Any = kind.machine
    assert replace(machine) == machine
    with pytest.raises(AttributeError):
        setattr(machine, fields(machine)[0].name, None)


@every_position
@every_turning
def test_reading_is_the_inverse_of_torque(kind: Kind, position: Any, turning: Turning) -> None:
    for share, efficiency in product(kind.known(turning, 0.3, 1.0, 3.0), (0.5, 0.95)):
        torque = kind.machine.torque_from_reading(share * kind.reading, turning, position, efficiency)
        reading = kind.machine.reading_from_torque(torque, turning, position, efficiency)
        assert torque > 0
        assert reading == pytest.approx(share * kind.reading, rel=1e-12)


@every_position
@every_turning
def test_torque_rises_with_the_reading(kind: Kind, position: Any, turning: Turning) -> None:
    torques = [
        kind.machine.torque_from_reading(share * kind.reading, turning, position, 0.95)
        for share in kind.known(turning, 0.0, 0.01, 0.5, 0.500001, 1.0, 2.0)
    ]
    assert len(torques) >= 4
    assert all(low < high for low, high in pairwise(torques))


@every_position
def test_torque_is_in_proportion_to_efficiency(kind: Kind, position: Any) -> None:
    half, whole = (
        kind.machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, position, efficiency)
        for efficiency in (0.45, 0.9)
    )
    assert whole == pytest.approx(2 * half, rel=1e-12)


@every_position
@every_turning
def test_range_holds_every_torque_that_it_should(kind: Kind, position: Any, turning: Turning) -> None:
    """Between its readings, from the lowest to the highest efficiency, wherever the arm stands."""
    machine, efficiency = kind.machine, kind.machine.efficiency
    least, most = machine.torque_range(0.9 * kind.reading, 1.1 * kind.reading, turning, position)
    assert 0 < least < most
    stands = (position, *kind.lengths) if position == "unknown" else (position,)
    for share, at, stand in product(
        (0.9, 1.0, 1.1), (efficiency.low, efficiency.nominal, efficiency.high), stands
    ):
        torque = machine.torque_from_reading(share * kind.reading, turning, stand, at)
        assert least * (1 - 1e-12) <= torque <= most * (1 + 1e-12)


@every_position
def test_range_of_known_reading_and_place_is_that_of_efficiency(kind: Kind, position: Any) -> None:
    """Nothing wider than it must be: an unknown position alone adds to it, and only below."""
    machine, efficiency = kind.machine, kind.machine.efficiency
    least, most = machine.torque_range(kind.reading, kind.reading, RIGHT_MAKE_UP, position)
    low, high = (
        machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, position, at)
        for at in (efficiency.low, efficiency.high)
    )
    assert most == pytest.approx(high, rel=1e-12)
    if position == "unknown" and machine.arm_cotangent("square") is not None:
        assert least < low * (1 - 1e-3)
    elif position != "unknown":
        assert least == pytest.approx(low, rel=1e-12)


@every_position
def test_a_machine_that_does_not_move_gives_no_torque(kind: Kind, position: Any) -> None:
    if not kind.known(RIGHT_MAKE_UP, 0.0):  # nobody has measured it there
        with pytest.raises(NoAnswer):
            kind.machine.torque_from_reading(0.0, RIGHT_MAKE_UP, position, 0.95)
        return
    assert kind.machine.torque_range(0.0, 0.0, RIGHT_MAKE_UP, position) == (0.0, 0.0)


OTHER = {"cap": "rod", "rod": "cap", "A": "B", "B": "A"}


@every_kind
def test_hand_and_operation_both_reverse_the_sides(kind: Kind) -> None:
    make_up, make_up_left, break_out, break_out_left = map(kind.machine.sides, TURNINGS)
    assert make_up == break_out_left
    assert make_up_left == break_out == tuple(OTHER[side] for side in make_up)


@pytest.mark.parametrize(
    ("kind", "sides"),
    [
        ("north-bay-2", ("rod",)),
        ("north-bay-7", ("cap",)),
        ("south-bay-8", ("cap", "rod")),
        ("push-push", ("cap", "cap")),
        ("pull-pull", ("rod", "rod")),
        ("north-bay-8", ("A",)),
        ("yard-2", ()),
        ("bench-1", ()),
        ("south-bay-9", ("cap",)),
    ],
)
def test_right_hand_make_up_takes_the_sides_of_the_profile(kind: str, sides: tuple[str, ...]) -> None:
    assert KINDS[kind].machine.sides(RIGHT_MAKE_UP) == sides


@every_kind
def test_no_position_has_more_torque_than_the_unknown_one(kind: Kind) -> None:
    if not kind.may_be_unknown:
        with pytest.raises(NoAnswer):
            kind.machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, "unknown", 0.95)
        return
    unknown = kind.machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, "unknown", 0.95)
    for position in kind.positions:
        torque = kind.machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, position, 0.95)
        assert torque <= unknown * (1 + 1e-12)


@every_position
def test_moment_arm_is_torque_over_the_force_of_its_one_cylinder(kind: Kind, position: Any) -> None:
    machine = kind.machine
    if machine.piston is None:
        return
    torque = machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, position, machine.efficiency.nominal)
    force = machine.side_load(kind.reading, RIGHT_MAKE_UP, position)
    assert force is not None
    assert machine.moment_arm(position) == pytest.approx(torque / force, rel=1e-12)


@pytest.mark.parametrize("name", ["yard-1", "yard-2"])
def test_moment_arm_of_a_line_is_torque_over_its_pull(name: str) -> None:
    """A line is read before its losses."""
    kind = KINDS[name]
    nominal = kind.machine.efficiency.nominal
    torque = kind.machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, "square", nominal)
    pull = kind.machine.side_load(kind.reading, RIGHT_MAKE_UP, "square")
    assert pull is not None
    assert kind.machine.moment_arm("square") == pytest.approx(torque / (pull * nominal), rel=1e-12)


@every_kind
def test_a_machine_has_an_arm_or_stands_alike_everywhere(kind: Kind) -> None:
    """One that says that it has no arm has no lever, no swing, and one torque wherever it stands."""
    machine, at = kind.machine, (kind.reading, RIGHT_MAKE_UP)
    if machine.arm_cotangent("square") is not None:
        assert machine.arm_cotangent("square") == 0.0
        assert not kind.may_be_unknown or machine.position_doubt(1.0, *at)
        return
    assert (machine.moment_arm("square"), machine.swing, machine.position_doubt(1.0, *at)) == (None,) * 3
    if kind.may_be_unknown:
        square, unknown = (
            machine.torque_from_reading(*at, position, 0.9) for position in ("square", "unknown")
        )
        assert square == unknown


@every_position
def test_where_it_stands_it_gives_what_it_gives(kind: Kind, position: Any) -> None:
    if position == "unknown":
        return
    whole, standing = (
        machine.torque_from_reading(kind.reading, RIGHT_MAKE_UP, position, 0.9)
        for machine in (kind.machine, kind.machine.where_it_stands())
    )
    assert whole == standing


@every_kind
def test_a_computed_torque_is_known_at_every_reading(kind: Kind) -> None:
    for turning in TURNINGS:
        low, high = kind.machine.readings(turning)
        if kind.machine.calibration_gauges:
            assert 0 < low < high < 1e9
        else:
            assert (low, high) == (0.0, inf)


def asked(machine: Machine, position: Any) -> dict[str, Any]:
    """Every method of a machine that takes a position, ready to call."""
    return {
        "moment_arm": lambda: machine.moment_arm(position),
        "torque": lambda: machine.torque_from_reading(1e7, RIGHT_MAKE_UP, position, 0.9),
        "reading": lambda: machine.reading_from_torque(1e4, RIGHT_MAKE_UP, position, 0.9),
        "range": lambda: machine.torque_range(1e6, 1e7, RIGHT_MAKE_UP, position),
        "side_load": lambda: machine.side_load(1e7, RIGHT_MAKE_UP, position),
    }


METHODS = list(asked(KINDS["bench-1"].machine, "square"))
NO_LENGTH = {"no_cylinder_length", "no_common_length", "position_not_calibrated"}
LENGTHLESS = [name for name, kind in KINDS.items() if not kind.lengths]


def test_there_are_kinds_that_take_a_length_and_kinds_that_do_not() -> None:
    assert {"north-bay-2", "push-push"} <= KINDS.keys() - {*LENGTHLESS}
    assert {"north-bay-7", "push-pull", "north-bay-8", "yard-1", "bench-1", "south-bay-9"} <= {*LENGTHLESS}


@every_row("method", METHODS)
@every_row("name", LENGTHLESS)
def test_a_length_is_refused_where_there_is_none(name: str, method: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        asked(KINDS[name].machine, 1.2)[method]()
    (fault,) = refusal.value.faults
    assert fault.code in NO_LENGTH
    assert fault.field == "arm_position"
    ((told, amount),) = fault.amounts.items()
    assert amount.value == 1.2
    assert f"{{{told}}}" in fault.text


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("name", ["north-bay-7", "yard-1"])
def test_an_unknown_position_needs_the_angle(name: str, method: str) -> None:
    machine: Any = replace(KINDS[name].machine, largest_angle_off_square=None)  # type: ignore[type-var]
    with pytest.raises(NoAnswer) as refusal:
        asked(machine, "unknown")[method]()
    assert [fault.code for fault in refusal.value.faults] == ["angle_off_square_unknown"]
    assert asked(machine, "square")[method]() is not None
