"""Two judgements of a make-up that is done: the work as ordered, and the torque against its window.

A verdict refuses no machine for being unfit, whatever the policy does with such a profile: the joint is made
up already. It says that nobody can tell, with the stop. Both rules judge the best estimate, which is what the
probabilities are of. A gauge whose zero is off is never corrected; a zero within half a division is taken off
the reading where that is compared with its mark, and listed.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.job import (
    Job,
    dial_reading,
    job_with,
    profile_of,
    task_from,
    torque_moving,
    uncertainty_of,
)
from api.answers.machines.job_findings import capability_low, gauge_low, job_findings, most_pressure
from api.answers.machines.mark_choice import capability_of, choice_for, goal_of, open_ends, probabilities
from api.answers.machines.pressure import check_machine
from api.answers.machines.profile import validity_checks
from api.answers.machines.setting import check_grips, machine_setting
from api.answers.machines.verdict_findings import far_from_target, verdict_findings
from api.answers.shop import Policy, Shop
from api.engineering.checks import (
    Check,
    Fault,
    NoAnswer,
    collecting,
    failed,
    findings_of,
    findings_of_validity,
    refuse,
)
from api.engineering.gauges.gauge import ON_MARK, Gauge, Reading, inside
from api.engineering.machines.aim import PASSES_FROM, Goal, chance
from api.engineering.machines.limits import reading_checks
from api.engineering.machines.setup import Spread
from api.engineering.machines.verdict import (
    GUARD_BAND,
    NEXT_STEPS,
    Action,
    Judged,
    Reason,
    Rule,
    Told,
    TorqueVerdict,
    Verdict,
    Work,
    next_action,
    torque_reasons,
    work_of,
    work_reasons,
)
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, known, why_not
from api.engineering.torque_window import TorqueWindow


def check_verdict(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses what is wrong with the machine side of a request, and a joint that is broken out."""
    if values["operation"] == "break_out":
        text = "a verdict is of a make-up: the torque of a break-out proves nothing of the joint"
        accepted = "make_up; for the torque behind a reading of a break-out ask /v1/delivered-torque"
        yield Fault("not_a_make_up", text, "operation", accepted=accepted)
        return
    yield from check_machine(values, shop)


@dataclass(frozen=True)
class Ordered:
    """The mark that was ordered, as it stands on the dial, and what was assumed of it."""

    mark: Knowable[Reading]
    at: float | None
    assumptions: tuple[Assumption, ...] = ()


@dataclass(frozen=True)
class Read:
    """A reading with the torque behind it, SI.

    Attributes:
        at: the reading.
        zero: the reading at rest; None where it was not told.
        torque: at nominal efficiency.
        spread: best estimate and standard uncertainty.
        bounds: in the worst case, with half a division of reading.
    """

    at: float
    zero: float | None
    torque: float
    spread: Spread
    bounds: tuple[float, float]


@dataclass(frozen=True)
class Judgement:
    """All that is judged of one make-up."""

    job: Job
    goal: Goal
    ordered: Ordered
    read: Read
    told: Told
    judged: Judged
    capability: Knowable[float]
    work_reasons: tuple[Reason, ...]
    torque_reasons: tuple[Reason, ...]
    torsional_yield: float | None

    @property
    def work(self) -> Work:
        """Whether it was done as ordered."""
        return work_of(self.work_reasons)

    @property
    def torque(self) -> TorqueVerdict:
        """Whether the torque passes: the first reason is that of the verdict."""
        said: Any = self.torque_reasons[0].says
        verdict: TorqueVerdict = said
        return verdict

    @property
    def yielded(self) -> bool:
        """Whether the torque reached the torsional yield of the joint."""
        return self.torsional_yield is not None and self.judged.estimate >= self.torsional_yield

    @property
    def action(self) -> Action:
        """What to do next."""
        codes = frozenset(each.code for each in (*self.work_reasons, *self.torque_reasons))
        never = self.judged.rule == "guarded" and (self.capability.value or PASSES_FROM) < PASSES_FROM
        above = self.ordered.at is not None and self.read.at > self.ordered.at
        return next_action(Verdict(self.work, self.torque, codes, self.yielded, not never, above, self.far))

    @property
    def far(self) -> bool:
        """Whether nothing but its distance from the target speaks of a torque, and that is too large."""
        goal = self.goal
        known = goal.minimum is not None and goal.maximum is not None
        return not known and not inside(self.judged.estimate, goal.lowest, goal.highest)


def verdict_answer(
    window: TorqueWindow, joint_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/verdict`` for a window of torque.

    Raises:
        NoAnswer: ``not_dial_unit``, ``above_gauge``, ``not_a_mark``, ``below_breakaway``, and what this
            machine refuses of any joint.
    """
    window = shop.confirmed(window)
    profile, task = profile_of(values, shop), task_from(values, joint_diameter, window.opening_moment)
    job = job_with(profile, task)
    check_grips(window, job)
    valid = tuple(validity_checks(profile.governance, task.as_of, refuse_unfit=False))
    found = _judgement(window, values, job, valid, shop.policy)
    checks = (
        *valid,
        *reading_checks(
            profile.limits, job.gauge, found.read.at, found.read.bounds[1], task.gripped_diameter
        ),
    )
    if faults := failed(checks):
        raise NoAnswer(faults)
    return Answer(
        result={
            **_shown(found),
            "torque": window,
            "checks": checks,
            "day": task.as_of,
        },
        sources=(
            *window.sources,
            *job.sources,
            *((GUARD_BAND,) if found.judged.rule == "guarded" else ()),
        ),
        status=window.target.status,
        assumptions=(
            *window.assumptions,
            *job.assumptions,
            *found.ordered.assumptions,
            *_assumed(found, shop.policy),
        ),
        findings=(
            *findings_of_validity(valid),
            *window.findings,
            *verdict_findings(
                found.told, found.judged, values, found.torsional_yield, _ordered_torque(found)
            ),
            *(far_from_target(found.judged, found.goal) if found.far else ()),
            *job_findings(job),
            *gauge_low(job, found.read.at, most_pressure(job, found.read.at)),
            *findings_of(checks[len(valid) :]),
            *capability_low(found.capability, shop.policy),
        ),
        working=job.working(found.read.torque, found.read.at),
        profile=profile.version,
        table=window.table,
        steps=profile.kind.to_torque,
    )


def _judgement(
    window: TorqueWindow, values: Mapping[str, Any], job: Job, valid: tuple[Check, ...], policy: Policy
) -> Judgement:
    read, ordered = _taken(window, values, job, policy)
    farthest = policy.largest_distance_without_window
    goal = goal_of(window) if farthest is None else goal_of(window, farthest)
    told = Told(
        job.gauge,
        read.at,
        ordered.at,
        read.zero,
        values.get("marks_moved"),
        values.get("moved_in_last_stroke"),
    )
    fit = all(check.verdict != "caution" for check in valid)
    rule: Rule = policy.decision_rule or "simple"
    judged = Judged(*read.spread, goal.minimum, goal.maximum, rule)
    return Judgement(
        job=job,
        goal=goal,
        ordered=ordered,
        read=read,
        told=told,
        judged=judged,
        capability=capability_of(lambda: read.spread, goal),
        work_reasons=tuple(work_reasons(told, valid)),
        torque_reasons=tuple(torque_reasons(judged, told, fit=fit)),
        torsional_yield=window.torsional_yield,
    )


def _taken(window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy) -> tuple[Read, Ordered]:
    """The reading and the mark that was ordered; every fault of the dial is told at once."""
    faults: list[Fault] = []
    at = {}
    for name in ("gauge_reading", "gauge_zero", "ordered_setting"):
        if name in values:
            with collecting(faults):
                at[name] = dial_reading(values[name], job.gauge, name)
    if "ordered_setting" in at:
        with collecting(faults):
            _check_mark(at["ordered_setting"], job.gauge)
    if faults:
        raise NoAnswer(faults)
    reading = at["gauge_reading"]
    bounds = job.setup.torque_range(reading, 0.5 * job.gauge.division * job.gauge.unit_in_si)
    torque = torque_moving(job, reading)
    read = Read(reading, at.get("gauge_zero"), torque, job.setup.spread_at_reading(reading), bounds)
    if "ordered_setting" in at:
        given = values["ordered_setting"]
        return read, Ordered(Known(Reading(given.value, job.gauge.unit)), at["ordered_setting"])
    return read, _worked_out(window, values, job, policy)


def _check_mark(at: float, gauge: Gauge) -> None:
    """Refuse a setting that stands between two marks: no sheet orders one.

    Raises:
        NoAnswer: ``not_a_mark`` with the marks around it.
    """
    marks = at / (gauge.division * gauge.unit_in_si)
    if abs(marks - round(marks)) > ON_MARK:
        below = gauge.number_below(at)
        around = " or ".join(str(gauge.reading(number)) for number in (below, below + 1))
        text = f"gauge {gauge.serial} has no such mark"
        raise refuse("not_a_mark", text, "ordered_setting", f"a mark as it stands on the dial: {around}")


def _worked_out(window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy) -> Ordered:
    """The mark that ``/v1/pressure`` sets, where the request names none; not known where it sets none."""
    chosen = choice_for(window, values, job, policy)
    if chosen is None:
        try:
            machine_setting(window, values, job, policy)
        except NoAnswer as no_answer:
            return Ordered(why_not(no_answer), None)
        return Ordered(NotKnown("no mark can be set for this joint"), None)
    mark, at = job.gauge.reading(chosen.aim.number), job.gauge.at(chosen.aim.number)
    assumed = Assumption("ordered_setting", str(mark), "not given: the mark that /v1/pressure sets")
    return Ordered(Known(mark), at, (*chosen.assumptions, assumed))


def _assumed(found: Judgement, policy: Policy) -> Iterator[Assumption]:
    """The decision rule, and a zero that was taken off the reading."""
    if policy.decision_rule is None:
        yield Assumption("decision_rule", "simple", "the policy of the shop does not say")
    else:
        yield policy.assumed("decision_rule", policy.decision_rule)
    if len(found.judged.ends) < 2 and policy.largest_distance_without_window is not None:
        yield policy.assumed("largest_distance_without_window", f"{found.goal.farthest:.10g}")
    zero, gauge = found.read.zero, found.job.gauge
    if zero and not found.told.zero_off:
        shown = str(Reading(float(f"{zero / gauge.unit_in_si:.12g}"), gauge.unit))
        reason = (
            "taken off the reading where that is compared with its mark; the torque is that of the reading"
        )
        yield Assumption("gauge_zero", shown, reason)


def _ordered_torque(found: Judgement) -> float | None:
    """The torque at the mark that the request named, N.m; None where it named none, or none is known."""
    if found.ordered.at is None or found.ordered.assumptions:
        return None
    try:
        return found.job.setup.torque(found.ordered.at)
    except NoAnswer:
        return None


def _shown(found: Judgement) -> dict[str, Any]:
    """What is judged, as answers show it."""
    job, read, judged, goal = found.job, found.read, found.judged, found.goal
    gauge, action = job.gauge, found.action
    return {
        "work": found.work,
        "work_reasons": found.work_reasons,
        "torque_verdict": found.torque,
        "torque_reasons": found.torque_reasons,
        "judged_ends": judged.ends,
        "decision_rule": judged.rule,
        "next_step": NEXT_STEPS[action],
        "next_action": action,
        "ordered_setting": found.ordered.mark,
        "gauge_reading": _on_dial(gauge, read.at),
        "reading_less_mark": _off(found),
        "gauge": gauge.serial,
        **job.driven,
        "judged_torque": judged.estimate,
        "standard_uncertainty": judged.deviation,
        "accepted_from": _limit(judged.accepted_from, goal.minimum, "minimum", found),
        "accepted_to": _limit(judged.accepted_to, goal.maximum, "maximum", found),
        **probabilities(Known(chance(*read.spread, goal.minimum, goal.maximum)), goal),
        "capability": found.capability,
        "delivered_torque": read.torque,
        "torque_lower_bound": read.bounds[0],
        "torque_upper_bound": read.bounds[1],
        "uncertainty": uncertainty_of(lambda: job.setup.budget(read.at, "nearest_mark")),
        "gauge_error_share": job.setup.gauge_error(read.at) / read.at,
    }


def _on_dial(gauge: Gauge, at: float) -> Reading:
    """A reading or a difference of readings (SI) in the unit of the dial."""
    return Reading(float(f"{at / gauge.unit_in_si:.10g}"), gauge.unit)


def _off(found: Judgement) -> Knowable[Reading]:
    mark, at, gauge = found.ordered.mark, found.ordered.at, found.job.gauge
    if mark.value is None or at is None:
        return NotKnown("no mark is known that was ordered")
    return Known(_on_dial(gauge, found.read.at - at))


def _limit(limit: float | None, end: float | None, name: str, found: Judgement) -> Knowable[float]:
    """A limit of acceptance; not known where there is no such end, or nothing is accepted."""
    if end is None:
        (missing,) = (each for each in open_ends(found.goal) if name in each.reason)
        return missing
    lowest, highest = found.judged.accepted_from, found.judged.accepted_to
    nothing = lowest is not None and highest is not None and lowest > highest
    return known(None if nothing else limit, "the guard bands of both ends leave nothing between them")
