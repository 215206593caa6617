"""What would make a make-up possible that no mark of a gauge allows: a finer dial, or another machine."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, floor

from api.answers.machines.job import Job
from api.answers.machines.remedies import FINER, Remedies, of_100
from api.engineering.checks import NOISE, Fault, Finding, NoAnswer
from api.engineering.torque_window import TorqueWindow

NO_MARK = ("no_mark_in_window", "joint_maximum_exceeded", "mark_far_from_target")
"""Refusals that another gauge or machine may mend."""


def with_remedy(no_answer: NoAnswer, job: Job, window: TorqueWindow, remedies: Remedies) -> NoAnswer:
    """A refusal whose faults of a mark say what would be accepted in its place."""
    if found := [each for each in window.findings if each.level == "stop"]:
        return NoAnswer([*no_answer.faults, *map(_stop, found)])
    if not job.making_up or not any(fault.code in NO_MARK for fault in no_answer.faults):
        return no_answer
    told = "; or ".join(_remedies(job, window, remedies))
    return NoAnswer([_told(fault, told) for fault in no_answer.faults])


def _stop(finding: Finding) -> Fault:
    """A stop of the joint itself, beside what speaks against the machine: no other machine mends it."""
    return Fault("joint_stop", f"{finding.text} {finding.remedy}", amounts=finding.named_amounts)


def _told(fault: Fault, remedy: str) -> Fault:
    if fault.code not in NO_MARK or not remedy:
        return fault
    return replace(fault, accepted=f"{fault.accepted}; or {remedy}" if fault.accepted else remedy)


def _remedies(job: Job, window: TorqueWindow, remedies: Remedies) -> Iterator[str]:
    division = _division_needed(job, window)
    if division is not None:
        yield f"a gauge with marks every {division:.6g} {job.gauge.unit}"
    if better := remedies.machine(job):
        where, risk = better
        if window.minimum.torque.value is None and window.maximum.torque.value is None:
            yield f"{where}, which has a mark near enough"
        elif risk <= remedies.shop.policy.worth_telling:
            yield f"{where}, where {of_100(risk)} miss the window"


def _division_needed(job: Job, window: TorqueWindow) -> float | None:
    """The coarsest division of a dial with a mark in the window; None where the window has an open end.

    The mark gives the minimum at nominal efficiency, and no more than the maximum at the highest one.
    """
    minimum, maximum = window.minimum.torque.value, window.maximum.torque.value
    if minimum is None or maximum is None:
        return None
    efficiency, gauge = job.machine.efficiency, job.gauge
    low = job.setup.reading_if_known(minimum, efficiency.nominal)
    high = job.setup.reading_if_known(maximum, efficiency.high)
    if low is None or high is None:
        return None
    for parts in FINER[1:]:
        division = gauge.division / parts
        step = division * gauge.unit_in_si
        if ceil(low / step * (1 - NOISE)) <= floor(high / step * (1 + NOISE)):
            return division
    return None
