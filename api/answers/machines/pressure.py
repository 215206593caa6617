"""What to set on a machine to make up a joint, or what to expect of it as the joint is broken out."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.machine_kinds.registry import KINDS
from api.answers.machines.break_out import BreakOut, break_out
from api.answers.machines.break_out_limit import break_out_limit
from api.answers.machines.job import (
    NO_SIDE_LOAD,
    Job,
    job_with,
    profile_of,
    task_from,
)
from api.answers.machines.job_findings import (
    bending_findings,
    capability_low,
    gauge_low,
    grip_findings,
    job_findings,
    relief_pressure,
)
from api.answers.machines.mark_choice import probabilities
from api.answers.machines.no_mark import with_remedy
from api.answers.machines.profile import validity_checks
from api.answers.machines.remedies import Remedies, of_100
from api.answers.machines.setting import HeldBack, MachineSetting, machine_setting
from api.answers.shop import Policy, Shop, check_break_out
from api.engineering.checks import (
    Amount,
    Fault,
    Finding,
    NoAnswer,
    collecting,
    failed,
    findings_of,
    findings_of_validity,
    refuse,
)
from api.engineering.gauges.gauge import Gauge
from api.engineering.machines.cylinder import position_required
from api.engineering.provenance import Assumption, Known, known
from api.engineering.torque_window import TorqueWindow

NO_RATIO = "no break_out_ratio is given, in the request or in the policy of the shop"
SURER = "Choose a machine that is surer."

Operated = MachineSetting | BreakOut
"""What a machine is set to, or what is expected of it."""


def check_machine(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses what is wrong with the machine side of a request, before the joint is computed.

    A profile in the request was judged as it was loaded.
    """
    faults: list[Fault] = []
    with collecting(faults):
        if isinstance(values["machine"], str):
            shop.machine(values["machine"])
        faults += _check_position(values, shop)
    with collecting(faults):
        check_operation(values, shop.policy)
    yield from faults


def _check_position(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses a request that does not say how the arm of its machine stands, before anything is computed.

    Raises:
        NoAnswer: ``unknown_machine``.
    """
    if "arm_position" in values or "rod_exposed" in values:
        return
    given = values["machine"]
    kind = shop.machine(given).kind if isinstance(given, str) else KINDS[given["loaded"]["kind"]]
    if kind.position_required:
        yield position_required()


def check_operation(values: Mapping[str, Any], policy: Policy) -> None:
    """Refuse a break-out without its ratio, and a make-up of a joint that is made up already.

    Raises:
        NoAnswer: ``break_out_ratio_required``, ``made_up_already``.
    """
    check_break_out(values, policy)
    if values["operation"] == "make_up" and "made_up_torque" in values:
        text = "made_up_torque is that of a joint to be broken out"
        raise refuse("made_up_already", text, "made_up_torque", "leave it out, or ask for a break_out")


def pressure_answer(
    window: TorqueWindow, joint_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/pressure`` for a window of torque.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    window = shop.confirmed(window)
    profile, task = profile_of(values, shop), task_from(values, joint_diameter, window.opening_moment)
    job = job_with(profile, task)
    valid = list(validity_checks(profile.governance, task.as_of, shop.refuse_unfit))
    faults = failed(valid)
    found: Operated | None = None
    remedies = Remedies(window, values, shop)
    with collecting(faults):
        found = operated(window, values, job, shop.policy)
    if found is None or faults:
        raise with_remedy(NoAnswer(faults), job, window, remedies)
    told = findings(window, values, found, shop.policy, remedies)
    return Answer(
        result={
            **shown(found),
            "torque": window,
            "checks": (*valid, *found.checks),
        },
        sources=(*window.sources, *job.sources),
        status=window.target.status,
        assumptions=(*window.assumptions, *job.assumptions, *rules_of(found, shop.policy)),
        findings=(*findings_of_validity(valid), *window.findings, *told),
        working=job.working(*found.worked),
        profile=profile.version,
        table=window.table,
        steps=profile.kind.to_reading,
    )


def operated(window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy) -> Operated:
    """What a machine is set to, or what is expected of it.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    work = machine_setting if job.making_up else break_out
    return work(window, values, job, policy)


def findings(
    window: TorqueWindow,
    values: Mapping[str, Any],
    found: Operated,
    policy: Policy,
    remedies: Remedies | None = None,
) -> Iterator[Finding]:
    """What makes this job on this machine differ from the last, beside what is so of the joint itself.

    Args:
        window: the torque of the joint.
        values: of the request.
        found: what was found.
        policy: that of the shop.
        remedies: looks for machines and gauges that would do better; None in a list of all machines.
    """
    yield from job_findings(found.job)
    yield from findings_of(found.checks)
    if isinstance(found, BreakOut):
        yield from found.findings
    else:
        yield from _make_up_findings(window, values, found, policy, remedies)
    if found.relief:  # last: that the limit alone holds is so of most make-ups
        yield from found.relief.findings


def _make_up_findings(
    window: TorqueWindow,
    values: Mapping[str, Any],
    found: MachineSetting,
    policy: Policy,
    remedies: Remedies | None,
) -> Iterator[Finding]:
    yield from bending_findings(found.job, found.mark.at)
    yield from grip_findings(found.job, values, found.at.torques.at_high)
    yield from gauge_low(found.job, found.mark.at, relief_pressure(found.relief))
    if found.held_back:
        yield _held_back(found.held_back)
    yield from _wrong_torque_findings(found, policy, remedies)
    yield from capability_low(found.capability, policy)
    yield from _break_out_ahead(window, values, found, policy)
    if found.duty.goal.minimum is None and found.duty.goal.withheld_minimum is None:
        yield Finding(
            level="note",
            code="no_minimum",
            text="No minimum torque is known for this joint.",
            step="make_up",
            remedy="State a torque_tolerance where the shop has one.",
        )


def _held_back(mark: HeldBack) -> Finding:
    text, remedy = WHY_HELD_BACK.get(mark.fault.code, HELD_BACK)
    amounts = mark.fault.amounts
    return Finding(
        level="look",
        code="better_mark_fails",
        text=text.replace("{mark}", str(mark.reading)),
        step="make_up",
        remedy=remedy,
        value=amounts.get("value"),
        limit=amounts.get("limit"),
    )


STRONGER = "Use a stronger machine where the torque matters."
WHY_HELD_BACK: Mapping[str, tuple[str, str]] = {
    "joint_maximum_exceeded": (
        "At its highest efficiency the mark {mark} can exceed the maximum, {limit}.",
        "Use a calibrated or surer machine where the torque matters.",
    ),
    "torsional_yield_exceeded": (
        "At its highest efficiency the mark {mark} can yield the joint, at {limit}.",
        "Set no mark beyond it, on no machine.",
    ),
    "torque_rating_exceeded": ("The mark {mark} gives {value}. The machine is rated for {limit}.", STRONGER),
    "relief_cannot_protect": ("At the mark {mark} relief cannot protect the machine.", STRONGER),
}
"""Why a better mark is not set, by the refusal of it, and what to do."""
HELD_BACK = ("The mark {mark} would be better. It is beyond what this machine reaches.", STRONGER)
"""The same of any other refusal: the machine ends below it."""


def _wrong_torque_findings(
    found: MachineSetting, policy: Policy, remedies: Remedies | None
) -> Iterator[Finding]:
    """Tells an end of the window that the torque may well miss, with a remedy in figures.

    Where both ends together are too probable, and neither is alone, the likelier one is told.
    """
    chance_here, goal = found.chance.value, found.duty.goal
    if chance_here is None:
        return
    limit, either = policy.worth_telling, found.wrong_torque_probability
    misses = [
        ("below_minimum_likely", "fall below", chance_here.below_minimum, goal.minimum),
        ("above_maximum_likely", "exceed", chance_here.above_maximum, goal.maximum),
    ]
    likely = [each for each in misses if each[3] is not None and each[2] > limit]
    if not likely and either > limit:
        likely = [max(misses, key=lambda each: each[2])]
    if not likely:
        return
    missed = f"{of_100(either)} such settings miss the window"
    remedy = _remedy(found, remedies)
    for code, miss, probability, end in likely:
        yield Finding(
            level="look",
            code=code,
            text=f"{missed}: {100 * probability:.0f} {miss} {{end}}.",
            step="make_up",
            remedy=remedy,
            value=Amount("number", probability if probability > limit else either),
            limit=Amount("number", limit),
            amounts={} if end is None else {"end": Amount("torque", end)},
        )


def rules_of(found: Operated, policy: Policy) -> tuple[Assumption, ...]:
    """What entered a setting or an expectation; with it the rules by which a doubt of the torque is told."""
    if isinstance(found, BreakOut):
        return found.assumptions
    rule, entered = policy.wrong_torque_probability, list(found.assumptions)
    if rule is not None and found.chance.value is not None and not found.duty.goal.open:
        entered.append(policy.assumed("wrong_torque_probability", f"{rule:.10g}"))
    if policy.decision_rule == "guarded" and found.capability.value is not None:
        entered.append(policy.assumed("decision_rule", policy.decision_rule))
    return tuple(entered)


def _remedy(found: MachineSetting, remedies: Remedies | None) -> str:
    if remedies is None:
        return SURER
    surer = " ".join(remedies.of(found))
    return surer or "Dialset found nothing clearly surer. Ask who planned the joint before you set it."


def _break_out_ahead(
    window: TorqueWindow, values: Mapping[str, Any], found: MachineSetting, policy: Policy
) -> Iterator[Finding]:
    """Tells of a make-up that this machine may not break out again, where the ratio is known."""
    if found.break_out_torque is None:
        return
    try:
        limit = break_out_limit(window, found.job.for_operation("break_out"), values, policy)
        most: float | None = limit.mark.torque
        ends = f"This machine ends at {{limit}}, set by the {limit.set_by}."
    except NoAnswer:
        most, ends = None, "This machine breaks nothing out here."
    if most is None or found.break_out_torque.likely > most:
        yield Finding(
            level="look",
            code="break_out_beyond",
            text=f"Breaking this out likely needs {{value}}. {ends}",
            step="choose",
            remedy="Make it up where it can be broken out: ask /v1/machine-choice for can_both.",
            value=Amount("torque", found.break_out_torque.likely),
            limit=None if most is None else Amount("torque", most),
        )


def shown(found: Operated) -> dict[str, Any]:
    """What a machine is set to, or what is expected of it, as answers show it."""
    return _make_up_shown(found) if isinstance(found, MachineSetting) else _break_out_shown(found)


def _make_up_shown(found: MachineSetting) -> dict[str, Any]:
    job, mark, torques = found.job, found.mark, found.at.torques
    return {
        **job.driven,
        **as_reading(job.gauge, found.duty.reading),
        "gauge_setting": mark.reading,
        "torque_at_gauge_setting": mark.torque,
        "aim": {"torque": found.aimed_torque, "reason": found.why},
        **probabilities(found.chance, found.duty.goal),
        "torque_lower_bound": torques.lower_bound,
        "torque_upper_bound": torques.upper_bound,
        "neighbouring_marks": {"below": found.below, "above": found.above},
        "gauge": job.gauge.serial,
        **({"relief": found.relief} if found.relief else {}),
        "uncertainty": found.uncertainty,
        "capability": found.capability,
        "gauge_error_share": job.setup.gauge_error(mark.at) / mark.at,
        "break_out_torque": known(found.break_out_torque, NO_RATIO),
        **forces(job, mark.at),
    }


def as_reading(gauge: Gauge, reading: float) -> dict[str, float]:
    """An exact reading as answers name it: a pressure, or on a pull gauge a line pull."""
    return {"line_pull" if gauge.quantity == "force" else "pressure": reading}


def forces(job: Job, reading: float) -> dict[str, Any]:
    """Moment arm, side load and bending of a machine at a reading, as answers show them."""
    arm = job.moment_arm
    return {
        **({} if arm is None else {"moment_arm": arm}),
        "side_load": known(job.side_load(reading), NO_SIDE_LOAD),
        "bending_at_joint": job.bending(reading),
        "bending_allowed": job.bending_allowed,
    }


def _break_out_shown(found: BreakOut) -> dict[str, Any]:
    job, likely = found.job, found.exact.likely
    return {
        **job.driven,
        **as_reading(job.gauge, likely),
        "gauge": job.gauge.serial,
        **({"relief": found.relief} if found.relief else {}),
        "gauge_error_share": job.setup.gauge_error(likely) / likely,
        "break_out_torque": Known(found.torque),
        "expected": found.expected,
        "do_not_exceed": Known(found.limit.mark.reading, f"set by the {found.limit.set_by}"),
        "if_it_does_not_move": found.limit.if_it_does_not_move,
        **forces(job, likely),
    }
