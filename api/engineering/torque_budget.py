"""The uncertainty of a torque that is known by a gauge reading, term by term."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from api.engineering.efficiency_doubts import efficiency_doubts
from api.engineering.faults import Amount, refuse
from api.engineering.machine_at_reading import AtReading
from api.engineering.machine_tolerances import check_half_widths, tolerance_doubts
from api.engineering.machines.calibrated import Calibrated
from api.engineering.position_doubts import position_doubts
from api.engineering.uncertainty import Budget, Doubt, LeftOut, term_of


@dataclass(frozen=True)
class GaugeDoubt:
    """How far a reading may be from what the machine has, half-widths in SI, > 0.

    Attributes:
        kind: what the gauge reads: ``pressure``, or ``force``.
        class_error: largest error of its class at the reading.
        reading: how finely it is read, see `api.engineering.gauge_reading`.
        in_calibration: whether the machine was calibrated on this very gauge. By as much as it is off now it
            was off then, so that only what it has drifted since is left. With another gauge the class errors
            of both count.
        calibration_gauge: class error at this reading of the gauge that a calibrated machine was calibrated
            on, where it is another; None where not stated.
        drift: what the gauge may have drifted since it was last checked; None where not stated.
    """

    kind: str
    class_error: float
    reading: float
    in_calibration: bool = False
    calibration_gauge: float | None = None
    drift: float | None = None


def torque_budget(
    at: AtReading, gauge: GaugeDoubt, half_widths: Mapping[str, float], arm_angle: float | None = None
) -> Budget:
    """The budget of the torque at a reading (JCGM 100, 5.1), all doubts independent of each other.

    Args:
        at: machine, reading and how it stands.
        gauge: how well it was read.
        half_widths: of the sizes in `api.engineering.machine_tolerances`, as far as they are stated, SI, > 0.
        arm_angle: how far the arm may stand off a stated position, rad; None where not stated.

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
        *efficiency_doubts(at),
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
    if isinstance(at.machine, Calibrated) and not gauge.in_calibration:
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

    Where breakaway or return pressure take their part first, it is more than in proportion to the reading.
    """
    first, last = at.machine.readings(at.turning)
    low, high = max(first, at.reading - half_width), min(last, at.reading + half_width)
    torque, slope = at.torque, (at.torque_at(high) - at.torque_at(low)) / (high - low)
    return Doubt(name, kind, half_width, "rectangular", lambda by: torque + slope * by)
