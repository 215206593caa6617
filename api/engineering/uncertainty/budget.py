"""How sure the torque of a machine at a reading is: its budget by JCGM 100, and its worst case.

The budget stands beside the worst case, not in its place. The worst case takes gauge accuracy, efficiency, an
unknown arm position and every stated tolerance, all at their worst ends at once; a reading also half a
division. The budget adds in quadrature, names every term and what is not in it. A budget that fails says why.

At square an angle counts by its own distribution, not by that of its loss: 0.298 of the end loss, as random
numbers give.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, partial
from math import atan, cos, hypot, sin
from operator import attrgetter
from typing import Any

from api.engineering.checks import NOISE, Amount, Fault, NoAnswer, refuse
from api.engineering.machine_kinds.machine import Efficiency, Machine, Tolerance
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.uncertainty.combined import Budget, Doubt, LeftOut, term_of

ANY = 1e7
"""A reading at which every machine moves, Pa or N: which way a size counts does not depend on it."""


@dataclass(frozen=True)
class ArmWeight:
    """What the weight of an arm may do to the torque.

    Attributes:
        moment: most that it turns the joint by, either way, N.m; None where not stated, 0 where supported.
        in_calibration: whether the torque was measured with the arm in place.
    """

    moment: float | None = None
    in_calibration: bool = False


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


@dataclass(frozen=True)
class _Size:
    """A size that has a half-width.

    Attributes:
        name, kind, half_width: as in `Doubt`.
        off_by: the machine with it off by so much.
    """

    name: str
    kind: str
    half_width: float
    off_by: Callable[[float], Machine]


@dataclass(frozen=True)
class Standing:
    """A machine as it turns and stands, SI, with what is stated of its doubts.

    What does not depend on a reading is worked out once, when it is first asked for.

    Attributes:
        machine: of any kind.
        turning: the way of turning.
        position: how its arm stands.
        half_widths: of its sizes by name, as far as they are stated.
        arm_angle: how far the arm may stand off a stated position to either side, rad; None where not stated.
        weight: of its arm; None for a machine without one.
    """

    machine: Machine
    turning: Turning
    position: ArmPosition
    half_widths: Mapping[str, float] = field(default_factory=dict)
    arm_angle: float | None = None
    weight: ArmWeight | None = None

    @cached_property
    def efficiency(self) -> Efficiency:
        """Low, nominal and high."""
        return self.machine.efficiency

    @cached_property
    def readings(self) -> tuple[float, float]:
        """Lowest and highest reading at which the torque is known."""
        return self.machine.readings(self.turning)

    def torque(self, reading: float) -> float:
        """The torque at nominal efficiency, N.m."""
        return self._torque_of(self.machine, reading)

    def torque_range(self, lowest: float, highest: float) -> tuple[float, float]:
        """Least and most torque between two readings, N.m.

        Over efficiency, arm position, every stated tolerance and the weight of the arm, all at their worst at
        once.

        Raises:
            NoAnswer: ``tolerance_too_wide``, and what the machine itself refuses.
        """
        asked = lowest, highest, self.turning, self.position
        (weakest, strongest), (least, most) = self._worst
        hangs = self.weight.moment or 0.0 if self.weight else 0.0
        low, high = weakest.torque_range(*asked)[0] * least, strongest.torque_range(*asked)[1] * most
        return max(0.0, low - hangs), high + hangs

    def budget(self, reading: float, gauge: GaugeDoubt, *, told: bool = True) -> Budget:
        """The budget of the torque at a reading (JCGM 100, 5.1), all doubts independent of each other.

        Args:
            reading: on its gauge.
            gauge: how well it was read.
            told: whether it will be told, with every size that is not in it; else those are passed over.

        Raises:
            NoAnswer: ``below_breakaway``, ``tolerance_too_wide``, and what the machine itself refuses.
        """
        torque = self.torque(reading)
        if not torque > 0:
            raise refuse(
                "below_breakaway",
                "at {reading} this machine does not move yet, so there is no torque to be uncertain of",
                "machine",
                reading=Amount(gauge.kind, reading),
            )
        sizes: list[Doubt | LeftOut] = [self._size_doubt(each, reading) for each in self._stated]
        if told:
            sizes += self._unstated
        found = [
            *_gauge_doubts(self, reading, torque, gauge),
            *sizes,
            *_position_doubts(self, reading, torque),
            *_weight_doubts(self.weight, torque),
            *self.machine.efficiency_doubts(torque),
        ]
        return Budget(
            torque,
            tuple(term_of(each, torque) for each in found if isinstance(each, Doubt) and each.half_width > 0),
            tuple(each for each in found if isinstance(each, LeftOut)),
        )

    def _torque_of(self, machine: Machine, reading: float) -> float:
        return machine.torque_from_reading(reading, self.turning, self.position, self.efficiency.nominal)

    @cached_property
    def _worst(self) -> tuple[tuple[Machine, Machine], tuple[float, float]]:
        """The machine with its sizes at their worst, and what an angle of the arm leaves of its torque."""
        between = self.machine, self.machine
        if any(self.half_widths.values()):
            between = self._weakest_and_strongest()
        return between, _angle_factors(self.machine, self.position, self.arm_angle)

    @cached_property
    def _where_it_stands(self) -> Machine:
        """The machine without the ends of a stroke: at a stated position they do not matter."""
        return self.machine if self.position == "unknown" else self.machine.where_it_stands()

    @cached_property
    def _stated(self) -> tuple[_Size, ...]:
        """Every size that has a half-width.

        Raises:
            NoAnswer: ``tolerance_too_wide``.
        """
        check_half_widths(self.machine, self.half_widths)
        machine = self._where_it_stands
        return tuple(
            # Each is asked for with the three values of `term_of`, whatever the reading.
            _Size(name, tolerance.kind, self.half_widths[name], cache(partial(off_by, machine, tolerance)))
            for name, tolerance in machine.tolerances.items()
            if name in self.half_widths
        )

    @cached_property
    def _unstated(self) -> tuple[LeftOut, ...]:
        """Every size that matters here and has no half-width."""
        machine = self._where_it_stands
        sizes = {name: each for name, each in machine.tolerances.items() if name not in self.half_widths}
        if not sizes:
            return ()
        torque = self._torque_of(machine, ANY)

        def matters(tolerance: Tolerance) -> bool:
            changed = off_by(machine, tolerance, _little(machine, tolerance))
            return self._torque_of(changed, ANY) != torque

        missing = "no tolerance of it is stated"
        return tuple(LeftOut(name, missing) for name, tolerance in sizes.items() if matters(tolerance))

    def _size_doubt(self, size: _Size, reading: float) -> Doubt:
        def torque(by: float) -> float:
            return self._torque_of(size.off_by(by), reading)

        return Doubt(size.name, size.kind, size.half_width, "rectangular", torque)

    def _weakest_and_strongest(self) -> tuple[Machine, Machine]:
        """Two machines between which this one lies, with all its sizes off at once.

        Torque rises or falls with every size all the way between its ends, so the worst of all together has
        each at one of its own. In an unknown position least and most stand at two places of the stroke, and a
        size may count one way at the one and the other way at the other.

        Raises:
            NoAnswer: ``tolerance_too_wide``, ``dead_centre``.
        """
        check_half_widths(self.machine, self.half_widths)
        weakest = strongest = standing = self._where_it_stands
        for name, tolerance in self.machine.tolerances.items():
            if half_width := self.half_widths.get(name):
                larger, smaller = (
                    off_by(standing, tolerance, by).torque_range(ANY, ANY, self.turning, self.position)
                    for by in (half_width, -half_width)
                )
                weakest = off_by(weakest, tolerance, half_width if larger[0] < smaller[0] else -half_width)
                strongest = off_by(
                    strongest, tolerance, -half_width if larger[1] < smaller[1] else half_width
                )
        return weakest, strongest


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


def off_by(machine: Machine, tolerance: Tolerance, by: float) -> Machine:
    """The machine with a size off by so much, or by such a share of it."""
    for name in tolerance.fields:
        size = attrgetter(name)(machine)
        if size is not None:  # a pull gauge has no cell
            machine = _with(machine, name, size + by * (size if tolerance.kind == "number" else 1.0))
    return machine


def _little(machine: Machine, tolerance: Tolerance) -> float:
    """Enough to see whether a size matters: a thousandth of it, 1 Pa of a pressure that is zero."""
    return 0.001 if tolerance.kind == "number" else 0.001 * _smallest(machine, tolerance) or 1.0


def _smallest(machine: Machine, tolerance: Tolerance) -> float:
    return float(min(attrgetter(name)(machine) for name in tolerance.fields))


def _with(thing: Any, place: str, value: float) -> Any:
    """A copy with another value in a place such as ``cylinder.bore``."""
    name, _, rest = place.partition(".")
    return replace(thing, **{name: _with(getattr(thing, name), rest, value) if rest else value})


def _position_doubts(at: Standing, reading: float, torque: float) -> Iterator[Doubt | LeftOut]:
    """How far the arm may stand off the position that is stated, or where it may stand if none is.

    Where the force meets the arm at ``alpha``, off by x the torque is ``sin(alpha + x) / sin(alpha)`` of what
    it should be: ``cot(alpha) x`` in the first order, and where it should be square a loss of ``1 - cos(x)``.
    """
    if at.position == "unknown":
        if doubt := at.machine.position_doubt(torque, reading, at.turning):
            yield doubt
        return
    slope = at.machine.arm_cotangent(at.position)
    if slope is None:
        return
    if at.arm_angle is None:
        yield LeftOut("arm_angle", "it is not stated how far the arm may stand off its position")
    else:
        yield Doubt(
            "arm_angle",
            "angle",
            at.arm_angle,
            "rectangular",
            lambda by: torque * (cos(by) + slope * sin(by)),
        )


def _weight_doubts(weight: ArmWeight | None, torque: float) -> Iterator[Doubt | LeftOut]:
    """What the weight of the arm adds or takes, which depends on how pipe and arm lie."""
    if weight is None:
        return
    if weight.in_calibration:
        yield LeftOut("arm_weight", "it is in the calibration, if the arm lay then as it lies now")
    elif weight.moment is None:
        yield LeftOut("arm_weight", "weight and centre of mass of the arm are not stated")
    else:
        yield Doubt("arm_weight", "torque", weight.moment, "rectangular", lambda by: torque + by)


def _angle_factors(machine: Machine, position: ArmPosition, arm_angle: float | None) -> tuple[float, float]:
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


def _gauge_doubts(
    at: Standing, reading: float, torque: float, gauge: GaugeDoubt
) -> Iterator[Doubt | LeftOut]:
    def doubt(name: str, half_width: float) -> Doubt:
        return _reading_doubt(at, reading, torque, name, gauge.kind, half_width)

    if gauge.in_calibration:
        calibrated = "the machine was calibrated on this very gauge, so its class error is in the calibration"
        yield LeftOut("gauge", calibrated)
    else:
        yield doubt("gauge", gauge.class_error)
    if at.machine.calibration_gauges and not gauge.in_calibration:
        if gauge.calibration_gauge is None:
            yield LeftOut("calibration_gauge", "the class of the gauge of the calibration is not stated")
        else:
            yield doubt("calibration_gauge", gauge.calibration_gauge)
    if gauge.drift is not None:
        yield doubt("gauge_drift", gauge.drift)
    elif gauge.in_calibration:
        yield LeftOut("gauge_drift", "it is not stated how far it may have drifted since the calibration")
    yield doubt("reading", gauge.reading)


def _reading_doubt(
    at: Standing, reading: float, torque: float, name: str, kind: str, half_width: float
) -> Doubt:
    """Torque along the straight line between both ends of the doubt, as far as the torque is known there.

    Where breakaway or return pressure take their part first, it is more than in proportion to the reading. A
    doubt of nothing, as of a gauge that is said not to drift, changes nothing.
    """
    first, last = at.readings
    low, high = max(first, reading - half_width), min(last, reading + half_width)
    slope = (at.torque(high) - at.torque(low)) / (high - low) if high > low else 0.0
    return Doubt(name, kind, half_width, "rectangular", lambda by: torque + slope * by)
