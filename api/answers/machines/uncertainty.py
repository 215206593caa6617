"""The uncertainty of the torque of a machine at a reading, as answers show it."""

from collections.abc import Mapping
from typing import Any

from api.answers.machines.job import Job
from api.engineering.checks import Amount, NoAnswer
from api.engineering.gauges.gauge import HowRead, reading_half_width
from api.engineering.provenance import Knowable, Known, why_not
from api.engineering.uncertainty.budget import AtReading, GaugeDoubt, torque_budget
from api.engineering.uncertainty.combined import COVERAGE_FACTOR, Budget, Term


def uncertainty_of(job: Job, reading: float, how: HowRead) -> Knowable[Mapping[str, Any]]:
    """The budget of the torque at a reading (JCGM 100), term by term, expanded with k = 2.

    Args:
        job: machine and gauge.
        reading: SI.
        how: how the gauge is read; a display is always read by its digits.

    Where there is none, as with tolerances too wide to mean anything, it is not known: a setting does not
    depend on how well its torque is known.
    """
    gauge = job.gauge
    doubt = GaugeDoubt(
        gauge.quantity,
        gauge.error_at(reading),
        reading_half_width(gauge.division * gauge.unit_in_si, "digital" if gauge.digital else how),
        in_calibration=job.gauge_in_calibration,
        calibration_gauge=job.calibration_gauge_error(reading),
        drift=gauge.drift,
    )
    at = AtReading(job.machine, reading, job.task.turning, job.task.position)
    try:
        return Known(_shown(torque_budget(at, doubt, job.profile.half_widths, job.profile.arm_angle)))
    except NoAnswer as no_answer:
        return why_not(no_answer)


def _shown(budget: Budget) -> dict[str, Any]:
    return {
        "best_estimate": budget.estimate,
        "expanded": budget.expanded_amount,
        "expanded_share": budget.expanded,
        "coverage_factor": COVERAGE_FACTOR,
        "combined_share": budget.combined,
        "terms": [_term(term) for term in budget.terms],
        "left_out": [{"name": each.name, "reason": each.reason} for each in budget.left_out],
    }


def _term(term: Term) -> dict[str, Any]:
    return {
        "name": term.name,
        "half_width": Amount(term.kind, term.half_width),
        "distribution": term.distribution,
        "standard_uncertainty_share": term.contribution,
        "shift_share": term.shift,
    }
