"""How sure the torque of a machine at a reading is: its budget by JCGM 100, and its worst case.

The budget stands beside the worst case, not in its place. The worst case takes gauge accuracy, efficiency, an
unknown arm position and every stated tolerance, all at their worst ends at once; a reading also half a
division. The budget adds in quadrature, names every term and what is not in it. A budget that fails says why.

At square an angle counts by its own distribution, not by that of its loss: 0.298 of the end loss, as random
numbers give.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import atan, cos, hypot, sin
from operator import attrgetter
from typing import Any

from api.engineering.checks import NOISE, Amount, Fault, NoAnswer, refuse
from api.engineering.machine_kinds.machine import Machine, Tolerance
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.uncertainty.combined import Budget, Doubt, LeftOut, term_of


@dataclass(frozen=True)
class AtReading:
    """A machine at a reading, SI.

    Attributes:
        machine: of any kind.
        reading: on its gauge.
        turning: the way of turning.
        position: how its arm stands.
    """

    machine: Machine
    reading: float
    turning: Turning
    position: ArmPosition

    @cached_property
    def torque(self) -> float:
        """The torque at nominal efficiency, N.m."""
        return self.torque_at(self.reading)

    def torque_at(self, reading: float) -> float:
        """The torque at another reading, N.m."""
        nominal = self.machine.efficiency.nominal
        return self.machine.torque_from_reading(reading, self.turning, self.position, nominal)

    @property
    def where_it_stands(self) -> "AtReading":
        """The same without the ends of a stroke: at a stated position they do not matter."""
        return self if self.position == "unknown" else replace(self, machine=self.machine.where_it_stands())

    def torque_off_by(self, tolerance: Tolerance) -> Callable[[float], float]:
        """The torque as a function of how far a size is off."""
        return lambda by: replace(self, machine=off_by(self.machine, tolerance, by)).torque


def check_half_widths(machine: Machine, half_widths: Mapping[str, float]) -> None:
    """Refuse half-widths so large that their sizes are not known at all.

    Raises:
        NoAnswer: ``tolerance_too_wide``, for every one.
    """
    faults = []
    for name, tolerance in machine.tolerances.items():
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
    at = at.where_it_stands
    for name, tolerance in at.machine.tolerances.items():
        if name in half_widths:
            torque = at.torque_off_by(tolerance)
            yield Doubt(name, tolerance.kind, half_widths[name], "rectangular", torque)
        elif _matters(at.machine, at.turning, at.position, name):
            yield LeftOut(name, "no tolerance of it is stated")


ANY = 1e7
"""A reading at which every machine moves, Pa or N: which way a size counts does not depend on it."""


@lru_cache(maxsize=1024)
def _matters(machine: Machine, turning: Turning, position: ArmPosition, name: str) -> bool:
    """Whether a size enters the torque at all, which does not depend on the reading."""
    at = AtReading(machine, ANY, turning, position)
    tolerance = machine.tolerances[name]
    return at.torque_off_by(tolerance)(_little(machine, tolerance)) != at.torque


def off_by(machine: Machine, tolerance: Tolerance, by: float) -> Machine:
    """The machine with a size off by so much, or by such a share of it."""
    for field in tolerance.fields:
        size = attrgetter(field)(machine)
        if size is not None:  # a pull gauge has no cell
            machine = _with(machine, field, size + by * (size if tolerance.kind == "number" else 1.0))
    return machine


def _little(machine: Machine, tolerance: Tolerance) -> float:
    """Enough to see whether a size matters: a thousandth of it, 1 Pa of a pressure that is zero."""
    return 0.001 if tolerance.kind == "number" else 0.001 * _smallest(machine, tolerance) or 1.0


def _smallest(machine: Machine, tolerance: Tolerance) -> float:
    return float(min(attrgetter(field)(machine) for field in tolerance.fields))


def _with(thing: Any, field: str, value: float) -> Any:
    """A copy with another value in a field such as ``cylinder.bore``."""
    name, _, rest = field.partition(".")
    return replace(thing, **{name: _with(getattr(thing, name), rest, value) if rest else value})


def weakest_and_strongest(
    machine: Machine, turning: Turning, position: ArmPosition, half_widths: Mapping[str, float]
) -> tuple[Machine, Machine]:
    """Two machines between which this one lies, with all its sizes off at once.

    Torque rises or falls with every size all the way between its ends, so the worst of all together has
    each at one of its own. In an unknown position least and most stand at two places of the stroke, and a
    size may count one way at the one and the other way at the other.

    Args:
        machine: the machine.
        turning, position: how it turns and stands.
        half_widths: of its sizes by name, SI, as far as they are stated.

    Raises:
        NoAnswer: ``tolerance_too_wide``, ``dead_centre``.
    """
    check_half_widths(machine, half_widths)
    weakest = strongest = standing = AtReading(machine, ANY, turning, position).where_it_stands.machine
    for name, tolerance in machine.tolerances.items():
        if half_width := half_widths.get(name):
            larger, smaller = (
                off_by(standing, tolerance, by).torque_range(ANY, ANY, turning, position)
                for by in (half_width, -half_width)
            )
            weakest = off_by(weakest, tolerance, half_width if larger[0] < smaller[0] else -half_width)
            strongest = off_by(strongest, tolerance, -half_width if larger[1] < smaller[1] else half_width)
    return weakest, strongest


def position_doubts(at: AtReading, arm_angle: float | None) -> Iterator[Doubt | LeftOut]:
    """How far the arm may stand off the position that is stated, or where it may stand if none is.

    Where the force meets the arm at ``alpha``, off by x the torque is ``sin(alpha + x) / sin(alpha)`` of what
    it should be: ``cot(alpha) x`` in the first order, and where it should be square a loss of ``1 - cos(x)``.

    Args:
        at: the machine at its reading.
        arm_angle: how far the arm may stand off a stated position to either side, rad; None where not stated.
    """
    torque = at.torque
    if at.position == "unknown":
        if doubt := at.machine.position_doubt(torque, at.reading, at.turning):
            yield doubt
        return
    slope = at.machine.arm_cotangent(at.position)
    if slope is None:
        return
    if arm_angle is None:
        yield LeftOut("arm_angle", "it is not stated how far the arm may stand off its position")
    else:
        yield Doubt(
            "arm_angle", "angle", arm_angle, "rectangular", lambda by: torque * (cos(by) + slope * sin(by))
        )


@dataclass(frozen=True)
class ArmWeight:
    """What the weight of an arm may do to the torque.

    Attributes:
        moment: most that it turns the joint by, either way, N.m; None where not stated, 0 where supported.
        in_calibration: whether the torque was measured with the arm in place.
    """

    moment: float | None = None
    in_calibration: bool = False


def weight_doubts(at: AtReading, weight: ArmWeight | None) -> Iterator[Doubt | LeftOut]:
    """What the weight of the arm adds or takes, which depends on how pipe and arm lie.

    Args:
        at: the machine at its reading.
        weight: of its arm; None for a machine without one.
    """
    torque = at.torque
    if weight is None:
        return
    if weight.in_calibration:
        yield LeftOut("arm_weight", "it is in the calibration, if the arm lay then as it lies now")
    elif weight.moment is None:
        yield LeftOut("arm_weight", "weight and centre of mass of the arm are not stated")
    else:
        yield Doubt("arm_weight", "torque", weight.moment, "rectangular", lambda by: torque + by)


def angle_factors(machine: Machine, position: ArmPosition, arm_angle: float | None) -> tuple[float, float]:
    """Least and most that an angle off a stated position leaves of the torque, as shares of it.

    ``cos(x) + cot(alpha) sin(x)`` at both ends, or its top where that lies between.
    """
    if not arm_angle or position == "unknown":
        return 1.0, 1.0
    slope = machine.arm_cotangent(position)
    if slope is None:
        return 1.0, 1.0
    ends = [cos(arm_angle) + sign * slope * sin(arm_angle) for sign in (-1, 1)]
    top = hypot(1.0, slope) if atan(slope) <= arm_angle else max(ends)
    return max(0.0, min(ends)), top


@dataclass(frozen=True)
class GaugeDoubt:
    """How far a reading may be from what the machine has, half-widths in SI, > 0.

    Attributes:
        kind: what the gauge reads: ``pressure``, or ``force``.
        class_error: largest error of its class at the reading.
        reading: how finely it is read, see `api.engineering.gauges.gauge`.
        in_calibration: whether the machine was calibrated on this very gauge. By as much as it is off now it
            was off then, so that only what it has drifted since is left. With another gauge the class errors
            of both count.
        calibration_gauge: class error at this reading of the gauge that the machine was calibrated on, where
            it is another; None where not stated.
        drift: what the gauge may have drifted since it was last checked; None where not stated.
    """

    kind: str
    class_error: float
    reading: float
    in_calibration: bool = False
    calibration_gauge: float | None = None
    drift: float | None = None


def torque_budget(
    at: AtReading,
    gauge: GaugeDoubt,
    half_widths: Mapping[str, float],
    arm_angle: float | None = None,
    weight: ArmWeight | None = None,
) -> Budget:
    """The budget of the torque at a reading (JCGM 100, 5.1), all doubts independent of each other.

    Args:
        at: machine, reading and how it stands.
        gauge: how well it was read.
        half_widths: of its sizes by name, SI, > 0, as far as they are stated.
        arm_angle: how far the arm may stand off a stated position, rad; None where not stated.
        weight: of its arm; None for a machine without one.

    Raises:
        NoAnswer: ``below_breakaway``, ``tolerance_too_wide``, and what the machine itself refuses.
    """
    if not at.torque > 0:
        raise refuse(
            "below_breakaway",
            "at {reading} this machine does not move yet, so there is no torque to be uncertain of",
            "machine",
            reading=Amount(gauge.kind, at.reading),
        )
    check_half_widths(at.machine, half_widths)
    found = [
        *_gauge_doubts(at, gauge),
        *tolerance_doubts(at, half_widths),
        *position_doubts(at, arm_angle),
        *weight_doubts(at, weight),
        *at.machine.efficiency_doubts(at.torque),
    ]
    return Budget(
        at.torque,
        tuple(term_of(each, at.torque) for each in found if isinstance(each, Doubt) and each.half_width > 0),
        tuple(each for each in found if isinstance(each, LeftOut)),
    )


def _gauge_doubts(at: AtReading, gauge: GaugeDoubt) -> Iterator[Doubt | LeftOut]:
    if gauge.in_calibration:
        calibrated = "the machine was calibrated on this very gauge, so its class error is in the calibration"
        yield LeftOut("gauge", calibrated)
    else:
        yield _reading_doubt("gauge", gauge.class_error, at, gauge.kind)
    if at.machine.calibration_gauges and not gauge.in_calibration:
        if gauge.calibration_gauge is None:
            yield LeftOut("calibration_gauge", "the class of the gauge of the calibration is not stated")
        else:
            yield _reading_doubt("calibration_gauge", gauge.calibration_gauge, at, gauge.kind)
    if gauge.drift is not None:
        yield _reading_doubt("gauge_drift", gauge.drift, at, gauge.kind)
    elif gauge.in_calibration:
        yield LeftOut("gauge_drift", "it is not stated how far it may have drifted since the calibration")
    yield _reading_doubt("reading", gauge.reading, at, gauge.kind)


def _reading_doubt(name: str, half_width: float, at: AtReading, kind: str) -> Doubt:
    """Torque along the straight line between both ends of the doubt, as far as the torque is known there.

    Where breakaway or return pressure take their part first, it is more than in proportion to the reading. A
    doubt of nothing, as of a gauge that is said not to drift, changes nothing.
    """
    first, last = at.machine.readings(at.turning)
    low, high = max(first, at.reading - half_width), min(last, at.reading + half_width)
    torque = at.torque
    slope = (at.torque_at(high) - at.torque_at(low)) / (high - low) if high > low else 0.0
    return Doubt(name, kind, half_width, "rectangular", lambda by: torque + slope * by)
