"""What a calibration says of a machine."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.calibration.efficiency import efficiencies, not_plausible
from api.answers.calibration.machine import CalibratedMachine, machine_of
from api.answers.calibration.notes import size_notes
from api.answers.calibration.profile import made_profile
from api.answers.calibration.series import Series, series_of
from api.answers.calibration.uncertainty import doubt_assumptions, doubt_of, expanded_percent
from api.answers.shop import Shop
from api.engineering.calibration.accuracy_class import against_classes
from api.engineering.calibration.levels import CalibrationReading, Level
from api.engineering.calibration.likely_mistake import FoundEfficiency
from api.engineering.calibration.series import Note
from api.engineering.provenance import Assumption, Known, NotKnown, Source, known
from api.reference.calibration_classes import CLASS_LIMITS, CLASSES

LEAST_SQUARES = Source(
    "lines and their uncertainties", "read", "JCGM 100:2008 (GUM) H.3; ISO/TS 28037:2010 6.3"
)
FEW_READINGS = Source(
    "factor by which an uncertainty from few readings is expanded",
    "from memory",
    "JCGM 100:2008 (GUM) G.6.4 and table G.2; its entries agree with Student's t",
)
PRACTICE = Source(
    "usual practice: 5 levels from 20 to 100 %, 3 rising runs",
    "from memory",
    "ISO 7500-1 and the trade",
)
RISING_ONLY = Assumption(
    "readings",
    "rising ones above zero pressure",
    "they alone make the lines, the profile and its uncertainty: a make-up comes from below",
)
WITHHELD = NotKnown(f"class limits are {CLASS_LIMITS.status}, which this service does not accept")
NO_ZERO = "no reading at zero pressure"
NO_DOUBT = (
    "needs reference_uncertainty_percent, levels read in two rising runs, and 3 levels at least to know how "
    "straight the torque is between them"
)
NO_GEOMETRY = "no machine given, so there is no geometry to hold the torque against"
CALIBRATED_BEFORE = "the profile of this machine is itself a calibration and has no geometry"


def calibration_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/calibration``: every side and gauge on its own, and the profile they make.

    Raises:
        NoAnswer: ``too_few_points``, ``torque_not_rising``, ``contradiction``, ``not_dial_unit``,
            ``above_gauge``, ``no_such_side``, and the profile's own faults.
    """
    machine = machine_of(values, shop)
    gauges = {gauge.serial: gauge for gauge in machine.profile.gauges.values()} if machine else {}
    series = series_of(values["readings"], gauges)
    found = efficiencies(series, values, machine)
    made = made_profile(series, values, machine, found)
    result = {
        "sides": [_side(each, values, machine, found.get(each.name), shop) for each in series],
        "notes": list(size_notes(series, machine, found)),
        "profile": made.profile,
        "profile_lacks": made.lacks,
    }
    sources = [LEAST_SQUARES, FEW_READINGS, CLASS_LIMITS, PRACTICE]
    if found and machine:
        sources.append(machine.profile.kind.source)
    return Answer(
        result=result,
        sources=tuple(sources),
        status="stated",
        assumptions=(RISING_ONLY, *doubt_assumptions(series, values, machine)),
        cautions=tuple(_cautions(found)),
        profile=machine.profile.version if machine else None,
    )


def _side(
    series: Series,
    values: Mapping[str, Any],
    machine: CalibratedMachine | None,
    efficiency: FoundEfficiency | None,
    shop: Shop,
) -> dict[str, Any]:
    calibration = series.calibration
    accepted = CLASS_LIMITS.status in shop.accepted_statuses
    yardstick = Known(against_classes(_figures(series, machine), CLASSES)) if accepted else WITHHELD
    return {
        "side": series.side,
        "gauge": series.gauge,
        "line_to_use": calibration.chosen,
        "line_to_use_basis": calibration.reason,
        "with_offset": calibration.with_offset,
        "through_zero": calibration.through_zero,
        "levels": [_level(series, level) for level in calibration.levels],
        "readings": [_residual(series, reading) for reading in calibration.readings],
        "zero_error_percent": known(calibration.zero_error, NO_ZERO),
        "expanded_uncertainty_percent": known(expanded_percent(doubt_of(series, values, machine)), NO_DOUBT),
        "yardstick": yardstick,
        "efficiency": known(efficiency, CALIBRATED_BEFORE if machine else NO_GEOMETRY),
        "notes": [*calibration.notes, *_gauge_notes(series, machine)],
    }


def _level(series: Series, level: Level) -> dict[str, Any]:
    line = series.calibration.line
    return {
        "pressure": series.on_dial(level.pressure),
        "rising_runs": len(level.rising),
        "mean_torque": level.mean_torque,
        "line_torque": line.at(level.pressure),
        "line_torque_standard_uncertainty": line.next_uncertainty(level.pressure),
        "relative_error_percent": level.relative_error(line),
        "repeatability_percent": level.repeatability,
        "reversibility_percent": level.reversibility,
    }


def _residual(series: Series, reading: CalibrationReading) -> dict[str, Any]:
    return {
        "pressure": series.on_dial(reading.pressure),
        "torque": reading.torque,
        "run": reading.run,
        "direction": reading.direction,
        "residual": series.calibration.residual(reading),
    }


def _figures(series: Series, machine: CalibratedMachine | None) -> dict[str, float | None]:
    """The figures of merit; the resolution, of a gauge known, is half a division at the lowest level."""
    gauge = machine.gauge(series.gauge) if machine else None
    lowest = series.calibration.levels[0].pressure
    resolution = 100 * gauge.division * gauge.unit_in_si / 2 / lowest if gauge else None
    return {**series.calibration.figures, "resolution": resolution}


def _gauge_notes(series: Series, machine: CalibratedMachine | None) -> Iterator[Note]:
    if machine and machine.gauge(series.gauge) is None:
        text = (
            f"gauge {series.gauge} is none of this machine's: with another one its error adds to that of the "
            "gauge of the calibration"
        )
        yield Note("gauge_not_of_machine", text)


def _cautions(found: Mapping[str, FoundEfficiency]) -> Iterator[str]:
    yield (
        "Class limits are those of a standard for force testing machines, as a yardstick only: no conformity "
        "to any standard is claimed. Each side, gauge and arm position is a calibration of its own."
    )
    for clause in not_plausible(found):
        yield f"On {clause}: find the mistake before this calibration is used."
