"""The limits that a chart marks: of the machine, its relief valve, its gauge and its calibration."""

from collections.abc import Iterator
from math import inf
from typing import Any

from api.answers.machine_job import Job
from api.engineering.faults import Amount
from api.engineering.gauge import Reading, working_range

LimitShown = dict[str, Any]


def limits_shown(job: Job, highest_torque: float | None) -> Iterator[LimitShown]:
    """Every limit of a machine set to a task, readings first.

    Args:
        job: machine and gauge.
        highest_torque: what it gives at the most that it reaches and at its highest efficiency, N.m; None
            where not known.
    """
    for name, text, reading in _readings(job):
        gauge = job.gauge
        yield {
            "name": name,
            "text": text,
            "reading": Reading(reading / gauge.unit_in_si, gauge.unit),
            "amount": Amount(gauge.quantity, reading),
        }
    limits = job.profile.limits
    yield _of_torque("torque_rating", "torque rating of the machine", limits.torque_rating)
    if highest_torque is not None:
        name, where = ("torque_at_relief", "at full relief flow") if limits.relief else _AT_LARGEST_PULL
        yield _of_torque(name, f"torque {where}", highest_torque)


_AT_LARGEST_PULL = ("torque_at_largest_pull", "at the largest pull")


def _readings(job: Job) -> Iterator[tuple[str, str, float]]:
    limits, gauge = job.profile.limits, job.gauge
    if limits.lowest_setting:
        yield "lowest_setting", "lowest setting", limits.lowest_setting
    low, high = working_range(gauge)
    yield "working_range_from", "best part of the dial, from", low
    yield "working_range_to", "best part of the dial, to", high
    lowest, highest = job.known_readings
    if highest < inf:
        yield "calibrated_from", "calibrated from", lowest
        yield "calibrated_to", "calibrated to", highest
    if limits.relief:
        yield "relief_cracking", "relief valve begins to open", limits.relief.cracking
        yield "relief_full_flow", "relief valve passes all flow", limits.relief.full_flow
    if limits.largest_pull is not None:
        yield "largest_pull", "largest line pull", limits.largest_pull
    for part, rated in limits.rated.items():
        yield f"rated_{part}", f"rating of the {part}", rated
    yield "gauge_end", "end of the dial", gauge.last_reading


def _of_torque(name: str, text: str, torque: float) -> LimitShown:
    return {"name": name, "text": text, "reading": None, "amount": Amount("torque", torque)}
