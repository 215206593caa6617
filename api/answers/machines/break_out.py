"""What a break-out will need on a machine, and what it must not exceed: no setting.

Nobody sets a break-out: the pressure rises until the joint moves. So there is a reading to expect, from the
ratio of break-out to make-up torque, and one at which to stop.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import floor
from typing import Any

from api.answers.machines.break_out_limit import (
    PROTECTING,
    RELIEF,
    WINDOW,
    BreakOutLimit,
    beyond_fault,
    break_out_limit,
    let_through,
    may_stop_short,
    number_above,
    number_nearest,
    yield_findings,
)
from api.answers.machines.job import Job
from api.answers.machines.job_findings import gauge_low, held_torque, relief_pressure
from api.answers.machines.mark_choice import choice_for
from api.answers.machines.relief import ReliefAnswer, relief_of
from api.answers.machines.setting import check_grips
from api.answers.shop import Policy, Range, check_break_out, ratios_of
from api.engineering.checks import NOISE, Amount, Check, Finding, NoAnswer, failed
from api.engineering.gauges.gauge import Gauge, Reading
from api.engineering.machines.limits import FARTHEST, diameter_check, gauge_checks
from api.engineering.provenance import Assumption
from api.engineering.torque_window import TorqueWindow
from schemas.machines.profile import GRIP_PARTS


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
        reach: the last mark that it may reach for this joint, wherever its relief is set.
        limit: the mark not to be exceeded with relief as it is set, and what sets it.
        relief: how the relief valve must stand; None for a machine without one.
        checks: of the machine.
        findings: what differs from the last job.
        assumptions: rules and values that entered without having been given.
    """

    job: Job
    torque: Range
    exact: Range
    expected: ExpectedReadings
    reach: BreakOutLimit
    limit: BreakOutLimit
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
    check_grips(window, job)
    ratios, of_policy = ratios_of(values, policy)
    assert ratios is not None  # checked above
    made_up, of_make_up = _made_up_torque(window, values, job, policy)
    torque = ratios.times(made_up)
    checks = [diameter_check(job.profile.limits, job.task.gripped_diameter)]
    if faults := failed(checks):
        raise NoAnswer(faults)
    reach = break_out_limit(window, job, values, policy)
    nominal = job.machine.efficiency.nominal
    likely = job.setup.reading(torque.likely, nominal)
    high = job.setup.reading_if_known(torque.high, nominal)
    if likely > reach.mark.at * (1 + NOISE):
        raise NoAnswer([beyond_fault(job, torque.likely, likely, reach)])
    low, of_low = _low_reading(job, torque.low)
    exact = Range(low, likely, reach.mark.at if high is None else high)
    relief, why = _relief(job, exact, reach, window.torsional_yield, values, policy)
    limit = let_through(job, reach, relief, why, values)
    beyond = high is None or high > limit.mark.at * (1 + NOISE)
    return BreakOut(
        job=job,
        torque=torque,
        exact=exact,
        expected=_on_dial(job.gauge, exact),
        reach=reach,
        limit=limit,
        relief=relief,
        checks=(*checks, *gauge_checks(job.gauge, likely), *(relief.checks if relief else ())),
        findings=(
            *_made_up_findings(window, values),
            *_grip_findings(job, values),
            *yield_findings(job, exact, limit, window.torsional_yield),
            *(may_stop_short(torque.high, limit) if beyond else ()),
            *gauge_low(job, likely, relief_pressure(relief)),
        ),
        assumptions=(*of_policy, *of_make_up, *of_low, *(relief.assumptions if relief else ())),
    )


def _low_reading(job: Job, torque: float) -> tuple[float, tuple[Assumption, ...]]:
    """The reading for the low expectation; where it is not known, the lowest that is."""
    reading = job.setup.reading_if_known(torque, job.machine.efficiency.nominal)
    if reading is not None:
        return reading, ()
    reason = "the reading for the low expectation lies below the calibration of this machine"
    return job.setup.known_readings[0], (Assumption("expected.low", "the lowest calibrated reading", reason),)


def _relief(
    job: Job,
    exact: Range,
    reach: BreakOutLimit,
    torsional_yield: float | None,
    values: Mapping[str, Any],
    policy: Policy,
) -> tuple[ReliefAnswer | None, str]:
    """The relief that lets the high expectation through, as far as the reach; else that of the likely one.

    Where the joint can yield, the likely one is enough if relief then protects the joint. Either is let
    through as the dial shows it, so that nobody has to stop below it. With it comes what a limit is set by
    that this relief sets.

    Raises:
        NoAnswer: ``relief_cannot_protect`` where the machine cannot bear the likely one either.
    """
    gauge, setup = job.gauge, job.setup
    valve = relief_of(job, torsional_yield, values, policy, "yield", torsional_yield)
    if valve is None:
        return None, RELIEF
    high_mark = gauge.at(number_above(gauge, exact.high))
    likely_mark = gauge.at(max(number_nearest(gauge, exact.likely), setup.known_marks.start, 1))

    def up_to(reading: float) -> ReliefAnswer:
        return valve.at(reading, setup.torque(reading))

    try:
        high = up_to(min(high_mark, reach.mark.at))
    except NoAnswer:
        return up_to(max(exact.likely, likely_mark)), WINDOW
    if torsional_yield is None or high.protects.value == "joint":
        return high, RELIEF
    likely = up_to(max(exact.likely, likely_mark))
    return (likely, PROTECTING) if likely.protects.value == "joint" else (high, RELIEF)


def _made_up_findings(window: TorqueWindow, values: Mapping[str, Any]) -> Iterator[Finding]:
    """Tells a recorded torque that is not one of this joint."""
    made_up = values.get("made_up_torque")
    if made_up is None:
        return
    low, high = window.minimum.torque.value, window.maximum.torque.value
    low = window.goal * (1 - FARTHEST) if low is None else low
    high = window.goal * (1 + FARTHEST) if high is None else high
    limit = window.torsional_yield
    if limit is not None and made_up >= limit:
        yield Finding(
            level="stop",
            code="made_up_beyond_yield",
            text="The joint was made up to {value}. It yields at {limit}.",
            step="identify",
            remedy="Check the record. If it is right, have pin and box inspected before you break out.",
            value=Amount("torque", made_up),
            limit=Amount("torque", limit),
        )
    elif not low * (1 - NOISE) <= made_up <= high * (1 + NOISE):
        yield Finding(
            level="look",
            code="made_up_outside_window",
            text=f"The joint was made up to {{value}}. Its window {'begins' if made_up < low else 'ends'} "
            "at {limit}.",
            step="identify",
            remedy="Check the record, and that it is of this joint.",
            value=Amount("torque", made_up),
            limit=Amount("torque", low if made_up < low else high),
        )


def _grip_findings(job: Job, values: Mapping[str, Any]) -> Iterator[Finding]:
    """Tells that the hold of a grip is not in the limit, where the machine has one of its own."""
    loaded = job.profile.loaded
    has_grip = any(part in loaded for part in GRIP_PARTS)
    if has_grip and loaded.get("grip_supply") != "common" and held_torque(job, values) is None:
        yield Finding(
            level="note",
            code="grip_not_counted",
            text="The grip of this machine can slip before the limit. What it holds is not counted.",
            step="grip",
            remedy="Give grip_friction and grip_margin.",
        )


def _made_up_torque(
    window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy
) -> tuple[float, tuple[Assumption, ...]]:
    """The torque that the joint was made up to: recorded, else that of the mark to make it up.

    Where this machine sets none, it is that of the middle of the window, as a machine that can would aim.
    """
    if given := values.get("made_up_torque"):
        return float(given), ()
    made_up = job.for_operation("make_up")
    found = choice_for(window, values, made_up, policy)
    if found is None:
        reason = "not given, and this machine cannot make up this joint"
        low, high = window.minimum.torque.value, window.maximum.torque.value
        if low is None or high is None:
            return window.goal, (Assumption("made_up_torque", "the target torque", reason),)
        return (low + high) / 2, (Assumption("made_up_torque", "the middle of the window", reason),)
    reason = "not given; taken as made up on this machine"
    mark = made_up.gauge.reading(found.aim.number)
    return found.torque, (Assumption("made_up_torque", f"that at {mark}", reason),)


def _on_dial(gauge: Gauge, exact: Range) -> ExpectedReadings:
    division = gauge.division * gauge.unit_in_si
    low, likely = floor(exact.low / division * (1 + NOISE)), number_nearest(gauge, exact.likely)
    return ExpectedReadings(
        gauge.reading(low), gauge.reading(likely), gauge.reading(number_above(gauge, exact.high))
    )
