"""The torque behind a reading taken at a machine."""

from collections.abc import Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.job import (
    dial_reading,
    job_with,
    profile_of,
    task_from,
    torque_moving,
    uncertainty_of,
)
from api.answers.machines.job_findings import bending_findings, gauge_low, job_findings, most_pressure
from api.answers.machines.pressure import as_reading, forces
from api.answers.machines.profile import validity_checks
from api.answers.shop import Shop
from api.answers.standing_notices import COMPUTED, StandingNotice
from api.engineering.checks import NoAnswer, failed, findings_of_validity
from api.engineering.machines.limits import reading_checks

DELIVERED_NOTICES: tuple[StandingNotice, ...] = (COMPUTED,)


def delivered_torque_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/delivered-torque``: torque from a reading, with its worst-case bounds.

    The bounds take the accuracy of the gauge and half a division for reading it, the range of efficiency
    and, where the arm position is unknown, every position of the stroke.

    Raises:
        NoAnswer: ``arm_position_required``, ``not_dial_unit``, ``above_gauge``, ``below_breakaway``, and the
            profile's own faults.
    """
    profile, task = profile_of(values, shop), task_from(values)
    job = job_with(profile, task, values.get("gauge_read"))
    reading = dial_reading(values["gauge_reading"], job.gauge, "gauge_reading")
    torque = torque_moving(job, reading)
    low, high = job.setup.torque_range(reading, job.gauge.division * job.gauge.unit_in_si / 2)
    checks = [
        *validity_checks(profile.governance, task.as_of, shop.refuse_unfit),
        *reading_checks(profile.limits, job.gauge, reading, high, task.gripped_diameter),
    ]
    if faults := failed(checks):
        raise NoAnswer(faults)
    result = {
        "delivered_torque": torque,
        "torque_lower_bound": low,
        "torque_upper_bound": high,
        **job.driven,
        "uncertainty": uncertainty_of(lambda: job.setup.budget(reading, "nearest_mark")),
        "gauge_error_share": job.setup.gauge_error(reading) / reading,
        **as_reading(job.gauge, reading),
        "gauge": job.gauge.serial,
        **forces(job, reading),
        "checks": checks,
    }
    return Answer(
        result=result,
        sources=job.sources,
        status="stated",
        assumptions=job.assumptions,
        findings=(
            *job_findings(job),
            *bending_findings(job, reading),
            *gauge_low(job, reading, most_pressure(job, reading)),
            *findings_of_validity(checks),
        ),
        working=job.working(torque, reading),
        profile=profile.version,
        steps=profile.kind.to_torque,
    )
