"""What the chart of a machine shows: torque against the marks of its gauges, with the limits.

A mark is charted if and only if the machine itself allows it, by the checks that `/v1/pressure` makes of
every mark: the chart has no rules of its own. It has at most 21 rows a sheet, and printed worst cases are
rounded outward.
"""

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.chart_marks import marks_to_set, readable
from api.answers.machines.job import Job, job_with, task_from, uncertainty_of
from api.answers.machines.job_findings import job_findings, unknown_position
from api.answers.machines.machine_findings import reach_findings, relief_findings
from api.answers.machines.profile import Profile, validity_checks
from api.answers.machines.relief import highest_relief
from api.answers.shop import Policy, Shop
from api.answers.standing_notices import CHART_OF_BREAK_OUT, LIVE_VALVE, THIS_CHART_ONLY, StandingNotice
from api.engineering.checks import Amount, Check, Finding, NoAnswer, failed, findings_of_validity, ranked
from api.engineering.gauges.gauge import Reading, working_range
from api.engineering.machines.cylinder import Operation
from api.engineering.machines.limits import diameter_check
from api.engineering.machines.relief import Relief
from api.engineering.machines.setup import AtMark, if_calibrated
from api.engineering.provenance import Knowable, Known

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
        name, where = _AT_RELIEF if limits.relief else _AT_LARGEST_PULL
        yield _of_torque(name, f"torque {where}", highest_torque)


_AT_RELIEF = ("torque_at_relief", "at full relief flow")
_AT_LARGEST_PULL = ("torque_at_largest_pull", "at the largest pull")


def _readings(job: Job) -> Iterator[tuple[str, str, float]]:
    limits, gauge = job.profile.limits, job.gauge
    if limits.lowest_setting:
        yield "lowest_setting", "lowest setting", limits.lowest_setting
    low, high = working_range(gauge)
    yield "working_range_from", "best part of the dial, from", low
    yield "working_range_to", "best part of the dial, to", high
    lowest, highest = job.setup.known_readings
    if highest < inf:
        yield "calibrated_from", "calibrated from", lowest
        yield "calibrated_to", "calibrated to", highest
    if limits.relief:
        yield from _relief(job, limits.relief)
    if limits.largest_pull is not None:
        yield "largest_pull", "largest line pull", limits.largest_pull
    for part, rated in limits.rated.items():
        yield f"rated_{part}", f"rating of the {part}", rated
    yield "gauge_end", "end of the dial", gauge.last_reading


def _relief(job: Job, relief: Relief) -> Iterator[tuple[str, str, float]]:
    """Where a fixed valve opens; where another can be set, and up to where it protects the machine."""
    if relief.fixed:
        yield "relief_cracking", "relief valve begins to open", relief.cracking
        yield "relief_full_flow", "relief valve passes all flow", relief.full_flow
        return
    yield "relief_setting_from", "relief can be set from", relief.lowest
    yield "relief_setting_to", "relief can be set to", relief.highest
    protects = highest_relief(job.setup, relief)
    if protects > 0:
        yield "relief_protects", "relief protects the machine if set up to", protects
    yield "relief_full_flow", "relief at its highest passes all flow", relief.full_flow


def _of_torque(name: str, text: str, torque: float) -> LimitShown:
    return {"name": name, "text": text, "reading": None, "amount": Amount("torque", torque)}


OPERATIONS: tuple[Operation, ...] = ("make_up", "break_out")
ROWS = 21
"""Rows of a sheet with digits that can be read from the machine."""
EVERY = 1000
"""Marks of the finest dial; only a display can have more."""
CHARTING: tuple[StandingNotice, ...] = (THIS_CHART_ONLY, LIVE_VALVE, CHART_OF_BREAK_OUT)
"""The notices of every chart."""


def chart_answer(profile: Profile, values: Mapping[str, Any], shop: Shop) -> Answer:
    """Both operations of a machine as it stands, each on its own gauge.

    An operation that has no chart is told with its reasons beside one that has.

    Raises:
        NoAnswer: where the machine is not to be used or does not grip; where neither operation has a chart,
            with the reasons of both.
    """
    checks = [
        *validity_checks(profile.governance, values.get("as_of"), shop.refuse_unfit),
        diameter_check(profile.limits, values.get("gripped_outside_diameter")),
    ]
    if faults := failed(checks):
        raise NoAnswer(faults)
    charts, not_charted, jobs = [], [], []
    for operation in OPERATIONS:
        job = job_with(profile, task_from({**values, "operation": operation}))
        try:
            charts.append(_charted(job, EVERY if values.get("every") else ROWS, shop.policy))
            jobs.append(job)
        except NoAnswer as no_answer:
            not_charted.append({"operation": operation, "reasons": no_answer.faults})
    if not charts:
        raise NoAnswer(_each_once([fault for each in not_charted for fault in each["reasons"]]))
    result = {
        **_head(profile, values, jobs[0]),
        "checks": checks,
        "charts": charts,
        "not_charted": not_charted,
        "standing_notices": [*CHARTING, *profile.notices],
    }
    sources = _each_once([source for job in jobs for source in job.sources])
    return Answer(
        result=result,
        sources=tuple(sources),
        status="stated",
        assumptions=jobs[0].posture.assumptions,
        findings=tuple(_findings(checks, jobs[0])),
        profile=profile.version,
    )


def _head(profile: Profile, values: Mapping[str, Any], job: Job) -> dict[str, Any]:
    position, gripped = job.position, values.get("gripped_outside_diameter")
    length = None if isinstance(position, str) else Amount("length", position)
    return {
        "machine": profile.version.id,
        "site": profile.loaded.get("site"),
        "kind": profile.kind.key,
        "thread_hand": values["thread_hand"],
        **({"arm_position": "length" if length else position} if job.machine.has_arm else {}),
        "arm_length": length,
        "gripped_outside_diameter": None if gripped is None else Amount("length", gripped),
        "as_of": values.get("as_of"),
        "governance": profile.governance,
    }


def _charted(job: Job, most: int, policy: Policy) -> dict[str, Any]:
    gauge = job.gauge
    numbers = readable(marks_to_set(job, policy), gauge, most)
    highest = if_calibrated(
        lambda: job.setup.torque_at(job.machine.efficiency.high, job.profile.limits.highest_reading)
    )
    return {
        "operation": job.task.turning.operation,
        **job.driven,
        "gauge": gauge.serial,
        "gauge_span": Reading(gauge.span, gauge.unit),
        "gauge_division": Reading(gauge.division, gauge.unit),
        "gauge_accuracy": gauge.accuracy.name,
        "connected_at": gauge.connected_at,
        "limits": list(limits_shown(job, highest)),
        "marks": [_row(job, job.setup.at_mark(number)) for number in numbers],
        "findings": ranked(_findings_of(job, highest)),
    }


def _row(job: Job, at: AtMark) -> dict[str, Any]:
    mark = at.mark
    verdicts = {check.name: check.verdict for check in at.checks}
    return {
        "gauge_setting": mark.reading,
        "reading": Amount(job.gauge.quantity, mark.at),
        "torque_at_gauge_setting": Amount("torque", mark.torque),
        "torque_lower_bound": Amount("torque", at.torques.lower_bound),
        "torque_upper_bound": Amount("torque", at.torques.upper_bound),
        "uncertainty": _uncertainty(uncertainty_of(lambda: job.setup.budget_at(at.number))),
        "gauge_error_share": job.setup.gauge_error(mark.at) / mark.at,
        "in_working_range": verdicts["gauge_working_range"] == "pass",
        "worst_case_within_rating": verdicts["torque_rating_worst_case"] == "pass",
    }


def _uncertainty(doubt: Knowable[Mapping[str, Any]]) -> Knowable[Mapping[str, Any]]:
    if doubt.value is None:
        return doubt
    shown = {name: Amount("torque", doubt.value[name]) for name in ("best_estimate", "expanded")}
    return Known({**shown, "expanded_share": doubt.value["expanded_share"]})


def _findings(checks: list[Check], job: Job) -> Iterator[Finding]:
    """What sets this chart apart, whatever the operation."""
    yield from findings_of_validity(checks)
    if not job.position_known:
        yield unknown_position(job.machine, job.task.turning)


def _findings_of(job: Job, highest: float | None) -> Iterator[Finding]:
    """What sets the chart of one operation apart; what its arm does is told for the whole machine."""
    if job.position_known:
        yield from job_findings(job)
    else:
        whole = unknown_position(job.machine, job.task.turning)
        yield from (each for each in job_findings(job) if each != whole)
    relief = job.profile.limits.relief
    told = (
        list(relief_findings(relief, job.setup.ends, job.task.turning.operation, job.gauge)) if relief else []
    )
    yield from told or reach_findings(job, highest)


def _each_once(found: list[Any]) -> list[Any]:
    return [each for number, each in enumerate(found) if each not in found[:number]]
