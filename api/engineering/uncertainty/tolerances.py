"""The stated tolerances of a machine: their limits, and the machine with its sizes at their worst.

Worst-case bounds take gauge accuracy, efficiency, an unknown arm position and every stated tolerance, all
at their worst ends at once; a reading also half a division. What is not stated is not in them, and the
budget names it.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import inf
from operator import attrgetter
from typing import Any

from api.engineering.checks import NOISE, Fault, NoAnswer
from api.engineering.machine_kinds.calibrated import Calibrated
from api.engineering.machine_kinds.cylinder_on_arm import CylinderOnArm
from api.engineering.machine_kinds.cylinder_on_square_arm import CylinderOnSquareArm
from api.engineering.machine_kinds.line_pull import LinePull
from api.engineering.machine_kinds.machine import ArmPosition
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machine_kinds.torque_wrench import TorqueWrench
from api.engineering.machine_kinds.two_cylinders import TwoCylinders
from api.engineering.machines.cylinder import Turning
from api.engineering.uncertainty.combined import Doubt, LeftOut


@dataclass(frozen=True)
class AtReading:
    """A machine at a reading, SI.

    Attributes:
        machine: one of `api.engineering.machines`.
        reading: on its gauge.
        turning: the way of turning.
        position: how its arm stands.
    """

    machine: Any
    reading: float
    turning: Turning
    position: ArmPosition

    @cached_property
    def torque(self) -> float:
        """At nominal efficiency, N.m."""
        return self.torque_at(self.reading)

    def torque_at(self, reading: float) -> float:
        """At another reading, N.m."""
        nominal = self.machine.efficiency.nominal
        return float(self.machine.torque_from_reading(reading, self.turning, self.position, nominal))


@dataclass(frozen=True)
class Tolerance:
    """A size that may have a half-width.

    Attributes:
        fields: where it stands in the machine. Two cylinders are measured alike, so that both are off
            together: on the safe side, since both drive.
        kind: kind of quantity of its half-width, in SI; ``number`` where that is a share of the size.
        largest_share: of the size itself; more means that it is not known (own judgement).
    """

    fields: tuple[str, ...]
    kind: str = "length"
    largest_share: float = 0.1


ANY = 1e7
"""A reading to see by whether a size matters, Pa or N: any does."""
_PISTON = {"bore": Tolerance(("cylinder.bore",)), "rod": Tolerance(("cylinder.rod",))}
_ARM = {"arm_radius": Tolerance(("arm_radius",))}
_BREAKAWAY = {"breakaway_pressure": Tolerance(("breakaway_pressure",), "pressure", 1.0)}
_RETURN = {"return_pressure": Tolerance(("return_pressure",), "pressure", 1.0)}

TOLERANCES: Mapping[type, Mapping[str, Tolerance]] = {
    CylinderOnArm: {
        **_PISTON,
        **_ARM,
        "base_distance": Tolerance(("base_distance",)),
        **_BREAKAWAY,
        **_RETURN,
    },
    CylinderOnSquareArm: {**_PISTON, **_ARM, **_BREAKAWAY, **_RETURN},
    TwoCylinders: {
        "bore": Tolerance(("first.cylinder.bore", "second.cylinder.bore")),
        "rod": Tolerance(("first.cylinder.rod", "second.cylinder.rod")),
        "arm_radius": Tolerance(("first.arm_radius", "second.arm_radius")),
        "base_distance": Tolerance(("first.base_distance", "second.base_distance")),
        **_BREAKAWAY,
        **_RETURN,
    },
    MotorThroughGears: {"displacement": Tolerance(("displacement_per_revolution",), "number"), **_RETURN},
    LinePull: {**_ARM, "cell_area": Tolerance(("cell_area",), "number")},
    TorqueWrench: {"torque_factor": Tolerance(("torque_factor",), "number")},
    Calibrated: {},
}
"""By kind, named as in its profile. A gear ratio is one of teeth, and exact; a calibration holds them all."""

_CYLINDERS: Mapping[type, tuple[str, ...]] = {
    CylinderOnArm: ("cylinder",),
    TwoCylinders: ("first.cylinder", "second.cylinder"),
}


def check_half_widths(machine: Any, half_widths: Mapping[str, float]) -> None:
    """Refuse half-widths so large that their sizes are not known at all.

    Raises:
        NoAnswer: ``tolerance_too_wide``, for every one.
    """
    faults = []
    for name, tolerance in TOLERANCES[type(machine)].items():
        size = 1.0 if tolerance.kind == "number" else _smallest(machine, tolerance)
        if half_widths.get(name, 0.0) > tolerance.largest_share * size * (1 + NOISE):
            percent = f"{100 * tolerance.largest_share:g} %"
            text = (
                f"the tolerance of the {name.replace('_', ' ')} is more than {percent} of it to either side"
            )
            faults.append(Fault("tolerance_too_wide", text, "machine"))
    if faults:
        raise NoAnswer(faults)


def tolerance_doubts(at: AtReading, half_widths: Mapping[str, float]) -> Iterator[Doubt | LeftOut]:
    """Every size that has a half-width, and every one that matters here and has none.

    Args:
        at: the machine at its reading.
        half_widths: of the sizes by name, SI, > 0.
    """
    if at.position != "unknown":
        at = replace(at, machine=reaching_where_it_stands(at.machine))
    for name, tolerance in TOLERANCES[type(at.machine)].items():
        if name in half_widths:
            torque = _torque_off_by(at, tolerance)
            yield Doubt(name, tolerance.kind, half_widths[name], "rectangular", torque)
        elif _matters(at.machine, at.turning, at.position, name):
            yield LeftOut(name, "no tolerance of it is stated")


@lru_cache(maxsize=1024)
def _matters(machine: Any, turning: Turning, position: ArmPosition, name: str) -> bool:
    """Whether a size enters the torque at all, which does not depend on the reading."""
    at = AtReading(machine, ANY, turning, position)
    tolerance = TOLERANCES[type(machine)][name]
    return _torque_off_by(at, tolerance)(_little(machine, tolerance)) != at.torque


def _torque_off_by(at: AtReading, tolerance: Tolerance) -> Callable[[float], float]:
    return lambda by: replace(at, machine=off_by(at.machine, tolerance, by)).torque


def off_by(machine: Any, tolerance: Tolerance, by: float) -> Any:
    """The machine with a size off by so much, or by such a share of it."""
    for field in tolerance.fields:
        size = attrgetter(field)(machine)
        if size is not None:  # a pull gauge has no cell
            machine = _with(machine, field, size + by * (size if tolerance.kind == "number" else 1.0))
    return machine


def _little(machine: Any, tolerance: Tolerance) -> float:
    """Enough to see whether a size matters: a thousandth of it, 1 Pa of a pressure that is zero."""
    return 0.001 if tolerance.kind == "number" else 0.001 * _smallest(machine, tolerance) or 1.0


def _smallest(machine: Any, tolerance: Tolerance) -> float:
    return float(min(attrgetter(field)(machine) for field in tolerance.fields))


def _with(thing: Any, field: str, value: Any) -> Any:
    """A copy with another value in a field such as ``cylinder.bore``."""
    name, _, rest = field.partition(".")
    return replace(thing, **{name: _with(getattr(thing, name), rest, value) if rest else value})


def reaching_where_it_stands(machine: Any) -> Any:
    """How far a cylinder reaches is another matter than what it gives where it stands."""
    for cylinder in _CYLINDERS.get(type(machine), ()):
        machine = _with(machine, f"{cylinder}.closed_length", 0.0)
        machine = _with(machine, f"{cylinder}.open_length", inf)
    return machine


def weakest_and_strongest(at: AtReading, half_widths: Mapping[str, float]) -> tuple[Any, Any]:
    """Two machines between which this one lies, with all its sizes off at once.

    Torque rises or falls with every size all the way between its ends, so the worst of all together has
    each at one of its own.

    Args:
        at: the machine at a reading at which it moves, and at the position in question.
        half_widths: of its sizes by name, SI, as far as they are stated.

    Raises:
        NoAnswer: ``tolerance_too_wide``, ``dead_centre``.
    """
    check_half_widths(at.machine, half_widths)
    weakest = strongest = at.machine if at.position == "unknown" else reaching_where_it_stands(at.machine)
    for name, tolerance in TOLERANCES[type(at.machine)].items():
        if half_widths.get(name):
            falls = _torque(at, tolerance, half_widths[name]) < _torque(at, tolerance, -half_widths[name])
            by = -half_widths[name] if falls else half_widths[name]
            weakest, strongest = off_by(weakest, tolerance, -by), off_by(strongest, tolerance, by)
    return weakest, strongest


def _torque(at: AtReading, tolerance: Tolerance, by: float) -> float:
    machine = at.machine if at.position == "unknown" else reaching_where_it_stands(at.machine)
    return AtReading(off_by(machine, tolerance, by), at.reading, at.turning, at.position).torque
