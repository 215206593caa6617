"""What a break-out will need on a machine, and what it must not exceed: no setting.

Nobody sets a break-out: the pressure rises until the joint moves. So there is a reading to expect, from the
ratio of break-out to make-up torque, and one at which to stop.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import floor
from typing import Any

from api.answers.machines.break_out_ratio import Range, check_break_out, ratios_of
from api.answers.machines.gauge_low import gauge_low
from api.answers.machines.grip_hold import held_torque
from api.answers.machines.job import Job
from api.answers.machines.relief import ReliefAnswer, highest_need, relief_for, relief_pressure
from api.answers.machines.setting import failed, if_calibrated, known_marks, machine_setting
from api.answers.policy import Policy
from api.engineering.checks import NOISE, Amount, Check, Fault, NoAnswer, refuse
from api.engineering.findings import Finding
from api.engineering.gauges.gauge import NOUNS, Gauge, Mark, Reading
from api.engineering.machines.limits import diameter_check, gauge_checks
from api.engineering.provenance import Assumption
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True)
class ExpectedReadings:
    """Readings of the dial to be expected: the low one rounded down to a mark, the high one up."""

    low: Reading
    likely: Reading
    high: Reading


@dataclass(frozen=True, kw_only=True)
class BreakOut:
    """What a break-out will need, SI.

    Attributes:
        job: the machine, set to break out.
        torque: to be expected.
        exact: readings for it, without rounding.
        expected: the same on the dial.
        limit: the mark not to be exceeded.
        limit_set_by: what sets it.
        relief: how the relief valve must stand; None for a machine without one.
        checks: of the machine.
        findings: what differs from the last job.
        assumptions: rules and values that entered without having been given.
    """

    job: Job
    torque: Range
    exact: Range
    expected: ExpectedReadings
    limit: Mark
    limit_set_by: str
    relief: ReliefAnswer | None
    checks: tuple[Check, ...]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]

    @property
    def worked(self) -> tuple[float, float]:
        """The torque and the reading that the working shows: the likely ones."""
        return self.torque.likely, self.exact.likely


def break_out(window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy) -> BreakOut:
    """What a break-out needs on a machine.

    Args:
        window: the make-up torque of the joint.
        values: of the request: ``break_out_ratio``, ``made_up_torque``.
        job: the machine, set to break out.
        policy: that of the shop.

    Raises:
        NoAnswer: ``break_out_ratio_required``, ``break_out_beyond_machine``, and what the machine refuses.
    """
    check_break_out(values, policy)
    ratios, of_policy = ratios_of(values, policy)
    assert ratios is not None  # checked above
    made_up, of_make_up = _made_up_torque(window, values, job, policy)
    torque = ratios.times(made_up)
    checks = [diameter_check(job.profile.limits, job.task.gripped_diameter)]
    if faults := failed(checks):
        raise NoAnswer(faults)
    limit, set_by = break_out_limit(window, job, values, policy)
    nominal = job.machine.efficiency.nominal
    likely = job.reading(torque.likely, nominal)
    high = _reading(job, torque.high, nominal)
    if likely > limit.at * (1 + NOISE):
        raise NoAnswer([_beyond_fault(job, torque, likely, limit, set_by)])
    low, of_low = _low_reading(job, torque.low)
    exact = Range(low, likely, limit.at if high is None else high)
    relief, for_high = _relief(job, torque, exact, window.torsional_yield, values, policy)
    beyond = high is None or high > limit.at * (1 + NOISE) or not for_high
    return BreakOut(
        job=job,
        torque=torque,
        exact=exact,
        expected=_on_dial(job.gauge, exact),
        limit=limit,
        limit_set_by=set_by,
        relief=relief,
        checks=(*checks, *gauge_checks(job.gauge, likely), *(relief.checks if relief else ())),
        findings=(
            *(_may_stop_short(torque.high, limit, set_by) if beyond else ()),
            *gauge_low(job, likely, relief_pressure(relief)),
        ),
        assumptions=(*of_policy, *of_make_up, *of_low, *(relief.assumptions if relief else ())),
    )


def _low_reading(job: Job, torque: float) -> tuple[float, tuple[Assumption, ...]]:
    """The reading for the low expectation; where it is not known, the lowest that is."""
    reading = _reading(job, torque, job.machine.efficiency.nominal)
    if reading is not None:
        return reading, ()
    reason = "the reading for the low expectation lies below the calibration of this machine"
    return job.known_readings[0], (Assumption("expected.low", "the lowest calibrated reading", reason),)


def _relief(
    job: Job,
    torque: Range,
    exact: Range,
    joint_limit: float | None,
    values: Mapping[str, Any],
    policy: Policy,
) -> tuple[ReliefAnswer | None, bool]:
    """The relief, and whether it lets the high expectation through; else it is that of the likely one.

    Raises:
        NoAnswer: ``relief_cannot_protect`` where it cannot bear that either.
    """
    try:
        return relief_for(job, exact.high, torque.high, joint_limit, values, policy, "yield"), True
    except NoAnswer:
        return relief_for(job, exact.likely, torque.likely, joint_limit, values, policy, "yield"), False


def _made_up_torque(
    window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy
) -> tuple[float, tuple[Assumption, ...]]:
    """The torque that the joint was made up to: recorded, else that of the mark to make it up."""
    if given := values.get("made_up_torque"):
        return float(given), ()
    try:
        found = machine_setting(window, values, job.for_operation("make_up"), policy)
    except NoAnswer:
        reason = "not given, and this machine cannot make up this joint"
        return window.goal, (Assumption("made_up_torque", "the target torque", reason),)
    reason = "not given; taken as made up on this machine"
    return found.mark.torque, (Assumption("made_up_torque", f"that at {found.mark.reading}", reason),)


def break_out_limit(
    window: TorqueWindow, job: Job, values: Mapping[str, Any], policy: Policy
) -> tuple[Mark, str]:
    """The highest mark that a break-out may reach on a machine, and what sets it.

    At its highest efficiency the machine must stay within its torque rating, the joint below its torsional
    yield and the grip within what it holds, as far as these are known.

    Raises:
        NoAnswer: ``break_out_beyond_machine`` where there is no such mark.
    """
    ends = dict(_ends(window, job, values, policy))
    set_by = min(ends, key=lambda name: ends[name])
    gauge, known = job.gauge, known_marks(job)
    number = floor(ends[set_by] * (1 + NOISE) / (gauge.division * gauge.unit_in_si))
    if number not in known or number == 0:
        raise refuse(
            "break_out_beyond_machine",
            f"no mark of gauge {gauge.serial} is below the limit {{limit}}, set by the {set_by}",
            "machine",
            limit=gauge.amount(ends[set_by]),
        )
    at = gauge.at(number)
    return Mark(gauge.reading(number), at, job.torque_at(job.machine.efficiency.nominal)(at)), set_by


def _ends(
    window: TorqueWindow, job: Job, values: Mapping[str, Any], policy: Policy
) -> Iterator[tuple[str, float]]:
    """Readings that a break-out must not exceed, each with what sets it."""
    limits = job.profile.limits
    yield from limits.reachable(job.gauge).items()
    if limits.relief and job.gauge.quantity == "pressure":
        yield "relief window", highest_need(job, limits.relief, policy)
    torques = {
        "torque rating": limits.torque_rating,
        "torsional yield of the joint": window.torsional_yield,
        "grip": held_torque(job, values),
    }
    for name, torque in torques.items():
        if torque is not None and (reading := _reading(job, torque, job.machine.efficiency.high)) is not None:
            yield name, reading
    yield "last reading at which the torque is known", job.known_readings[1]


def _reading(job: Job, torque: float, efficiency: float) -> float | None:
    """The reading for a torque; None where it is not known."""
    return if_calibrated(lambda: job.reading(torque, efficiency))


def _on_dial(gauge: Gauge, exact: Range) -> ExpectedReadings:
    division = gauge.division * gauge.unit_in_si
    low, likely = floor(exact.low / division * (1 + NOISE)), round(exact.likely / division)
    high = -floor(-exact.high / division * (1 - NOISE))
    return ExpectedReadings(gauge.reading(low), gauge.reading(likely), gauge.reading(high))


def _beyond_fault(job: Job, torque: Range, likely: float, limit: Mark, set_by: str) -> Fault:
    quantity = job.gauge.quantity
    return Fault(
        "break_out_beyond_machine",
        f"breaking this joint out likely needs {{torque}}, a {NOUNS[quantity]} of {{likely}}; "
        f"this machine must stop at {limit.reading}, set by the {set_by}",
        "machine",
        {"torque": Amount("torque", torque.likely), "likely": job.gauge.amount(likely)},
        "a stronger machine: ask /v1/machine-choice",
    )


def _may_stop_short(torque: float, limit: Mark, set_by: str) -> Iterator[Finding]:
    yield Finding(
        level="look",
        code="break_out_beyond",
        text="Breaking this joint out may need {value}. "
        f"This machine must stop at {limit.reading}, {{limit}}. That is set by the {set_by}.",
        step="break_out",
        remedy="Have a stronger machine ready.",
        value=Amount("torque", torque),
        limit=Amount("torque", limit.torque),
    )


def what_if_it_does_not_move(limit: Mark) -> str:
    """What to do if the joint does not move (common practice, no source)."""
    return (
        f"Stop at {limit.reading}. Let the pressure off. Check the hand of the thread, the side under "
        "pressure and the grip. If all is right, use a stronger machine. Do not exceed the limit."
    )
