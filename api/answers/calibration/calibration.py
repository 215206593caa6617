"""What a calibration says of a machine."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from api.answers.answer import Answer
from api.answers.calibration.efficiency import efficiencies
from api.answers.calibration.machine import CalibratedMachine, machine_of
from api.answers.calibration.notes import size_notes
from api.answers.calibration.profile import made_profile
from api.answers.calibration.series import Series, series_of
from api.answers.calibration.uncertainty import doubt_assumptions, doubt_of, expanded_percent
from api.answers.shop import Shop
from api.answers.standing_notices import COMPUTED, YARDSTICK_ONLY, StandingNotice
from api.engineering.calibration.accuracy_class import against_classes
from api.engineering.calibration.levels import CalibrationReading, Level
from api.engineering.calibration.likely_mistake import FoundEfficiency
from api.engineering.calibration.series import Note
from api.engineering.checks import Amount, Finding
from api.engineering.gauges.gauge import Reading
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
CALIBRATION_NOTICES: tuple[StandingNotice, ...] = (YARDSTICK_ONLY, COMPUTED)
WITHHELD = NotKnown(f"class limits are {CLASS_LIMITS.status}, which this service does not accept")
NO_BREAKAWAY = "the line to use reaches no torque at no pressure above zero"
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
        findings=(*_not_plausible(found), *_lagging(series, values, machine)),
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
        "breakaway_pressure": known(_breakaway(series), NO_BREAKAWAY),
        "zero_error_percent": known(calibration.zero_error, NO_ZERO),
        "expanded_uncertainty_percent": known(expanded_percent(doubt_of(series, values, machine)), NO_DOUBT),
        "yardstick": yardstick,
        "efficiency": known(efficiency, CALIBRATED_BEFORE if machine else NO_GEOMETRY),
        "notes": [*calibration.notes, *_gauge_notes(series, machine)],
    }


def _breakaway(series: Series) -> Reading | None:
    breakaway = series.calibration.breakaway_pressure
    return None if breakaway is None else series.on_dial(breakaway)


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


def _not_plausible(found: Mapping[str, FoundEfficiency]) -> Iterator[Finding]:
    """A finding for every side and gauge whose efficiency is not one of a sound machine."""
    for name, efficiency in found.items():
        if efficiency.verdict != "plausible":
            expected = efficiency.geometry.efficiency
            limit = expected.high if efficiency.value > expected.high else expected.low
            yield Finding(
                level="stop",
                code="efficiency_not_plausible",
                text=f"On {name} the efficiency against geometry is {efficiency.value:.3g}: "
                f"{efficiency.verdict}. The profile has {expected.low:g} to {expected.high:g}.",
                step="choose",
                remedy="Find the mistake before you use this calibration.",
                value=Amount("number", efficiency.value),
                limit=Amount("number", limit),
            )


def _lagging(
    series: Sequence[Series], values: Mapping[str, Any], machine: CalibratedMachine | None
) -> Iterator[Finding]:
    """A finding for every side whose torque lags behind the pressure by more than it is sure of.

    Where the uncertainty is not known, by more than it repeats.
    """
    for each in series:
        figures = each.calibration.figures
        lags, percent = figures["reversibility"], expanded_percent(doubt_of(each, values, machine))
        limit = figures["repeatability"] if percent is None else percent
        if lags is not None and abs(lags) > (limit or 0.0):
            more = "more" if lags > 0 else "less"
            yield Finding(
                level="note",
                code="approach_from_below",
                text=f"On {each.name} torque coming down is up to {abs(lags):.3g} % {more} than going up.",
                step="make_up",
                remedy="Approach the mark from below. After letting pressure back, start again.",
                value=Amount("number", lags / 100),
                limit=None if limit is None else Amount("number", limit / 100),
            )
