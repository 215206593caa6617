"""What a break-out will need on a machine, and what it must not exceed: no setting.

Nobody sets a break-out: the pressure rises until the joint moves. So there is a reading to expect, from the
ratio of break-out to make-up torque, and one at which to stop.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import floor
from typing import Any

from api.answers.machines.gauge_low import gauge_low, relief_pressure
from api.answers.machines.job import Job
from api.answers.machines.job_findings import held_torque
from api.answers.machines.mark_choice import choice_for
from api.answers.machines.relief import ReliefAnswer, highest_need, relief_of
from api.answers.machines.setting import check_grips
from api.answers.shop import Policy, Range, check_break_out, ratios_of
from api.engineering.checks import NOISE, Amount, Check, Fault, Finding, NoAnswer, failed, refuse
from api.engineering.gauges.gauge import NOUNS, Gauge, Mark, Reading
from api.engineering.machines.aim import first
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
    check_grips(window, job)
    ratios, of_policy = ratios_of(values, policy)
    assert ratios is not None  # checked above
    made_up, of_make_up = _made_up_torque(window, values, job, policy)
    torque = ratios.times(made_up)
    checks = [diameter_check(job.profile.limits, job.task.gripped_diameter)]
    if faults := failed(checks):
        raise NoAnswer(faults)
    limit, set_by = break_out_limit(window, job, values, policy)
    nominal = job.machine.efficiency.nominal
    likely = job.setup.reading(torque.likely, nominal)
    high = job.setup.reading_if_known(torque.high, nominal)
    if likely > limit.at * (1 + NOISE):
        raise NoAnswer([_beyond_fault(job, torque, likely, limit, set_by)])
    low, of_low = _low_reading(job, torque.low)
    exact = Range(low, likely, limit.at if high is None else high)
    relief = _relief(job, torque, exact, limit, window, values, policy)
    opens_early = relief is not None and relief.lets_through < exact.high * (1 - NOISE)
    beyond = high is None or high > limit.at * (1 + NOISE) or opens_early
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
            *_made_up_findings(window, values),
            *_grip_findings(job, values),
            *_yield_findings(job, limit, window.torsional_yield),
            *(_may_stop_short(torque.high, limit, set_by) if beyond else ()),
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
    torque: Range,
    exact: Range,
    limit: Mark,
    window: TorqueWindow,
    values: Mapping[str, Any],
    policy: Policy,
) -> ReliefAnswer | None:
    """The relief that lets the high expectation through, as far as the limit; else that of the likely one.

    Where the joint can yield, the likely one is enough if relief then protects the joint.

    Raises:
        NoAnswer: ``relief_cannot_protect`` where the machine cannot bear the likely one either.
    """
    torsional_yield = window.torsional_yield
    valve = relief_of(job, torsional_yield, values, policy, "yield", torsional_yield)
    if valve is None:
        return None

    try:
        high = valve.at(min(exact.high, limit.at), min(torque.high, limit.torque))
    except NoAnswer:
        return valve.at(exact.likely, torque.likely)
    if torsional_yield is None or high.protects.value == "joint":
        return high
    likely = valve.at(exact.likely, torque.likely)
    return likely if likely.protects.value == "joint" else high


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
            text="The joint was made up to {value}. Its window ends at {limit}.",
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
            level="look",
            code="grip_not_counted",
            text="The grip of this machine can slip before the limit. What it holds is not counted.",
            step="grip",
            remedy="Give grip_friction and grip_margin.",
        )


def _made_up_torque(
    window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy
) -> tuple[float, tuple[Assumption, ...]]:
    """The torque that the joint was made up to: recorded, else that of the mark to make it up."""
    if given := values.get("made_up_torque"):
        return float(given), ()
    made_up = job.for_operation("make_up")
    found = choice_for(window, values, made_up, policy)
    if found is None:
        reason = "not given, and this machine cannot make up this joint"
        return window.goal, (Assumption("made_up_torque", "the target torque", reason),)
    reason = "not given; taken as made up on this machine"
    number = found.aim.number
    torque, mark = made_up.setup.given(number).torque, made_up.gauge.reading(number)
    return torque, (Assumption("made_up_torque", f"that at {mark}", reason),)


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
    gauge, known = job.gauge, job.setup.known_marks
    number = floor(ends[set_by] * (1 + NOISE) / (gauge.division * gauge.unit_in_si))
    if number not in known or number == 0:
        raise refuse(
            "break_out_beyond_machine",
            f"no mark of gauge {gauge.serial} is below the limit {{limit}}, set by the {set_by}",
            "machine",
            limit=gauge.amount(ends[set_by]),
        )
    at = gauge.at(number)
    return Mark(gauge.reading(number), at, job.setup.torque(at)), set_by


def _ends(
    window: TorqueWindow, job: Job, values: Mapping[str, Any], policy: Policy
) -> Iterator[tuple[str, float]]:
    """Readings that a break-out must not exceed, each with what sets it."""
    limits = job.profile.limits
    yield from limits.reachable(job.gauge).items()
    if limits.relief and job.gauge.quantity == "pressure":
        yield "relief window", highest_need(job.setup, limits.relief, policy)
    torques = {
        "torque rating": limits.torque_rating,
        YIELD: window.torsional_yield,
        GRIP: held_torque(job, values),
    }
    for name, torque in torques.items():
        reading = None if torque is None else job.setup.reading_if_known(torque, job.machine.efficiency.high)
        if reading is not None:
            yield name, reading
    yield "last reading at which the torque is known", job.setup.known_readings[1]


def _on_dial(gauge: Gauge, exact: Range) -> ExpectedReadings:
    division = gauge.division * gauge.unit_in_si
    low, likely = floor(exact.low / division * (1 + NOISE)), round(exact.likely / division)
    high = -floor(-exact.high / division * (1 - NOISE))
    return ExpectedReadings(gauge.reading(low), gauge.reading(likely), gauge.reading(high))


def _yield_findings(job: Job, limit: Mark, torsional_yield: float | None) -> Iterator[Finding]:
    """Tells a limit at which the joint can yield in the worst case, the error of the gauge with it."""
    most = job.setup.torque_range(limit.at)[1]
    if torsional_yield is None or most < torsional_yield:
        return
    known = job.setup.known_marks
    beyond = first(known, lambda number: job.setup.torque_range(job.gauge.at(number))[1] >= torsional_yield)
    safe = job.gauge.reading(max(known.start, (known.stop if beyond is None else beyond) - 1))
    yield Finding(
        level="look",
        code="limit_can_yield",
        text=f"At {limit.reading} the torque can be {{value}} at worst. The joint yields at {{limit}}.",
        step="break_out",
        remedy=f"Up to {safe} it does not. Beyond, go slowly, or use a gauge with less error.",
        value=Amount("torque", most),
        limit=Amount("torque", torsional_yield),
    )


YIELD, GRIP = "torsional yield of the joint", "grip"
BEYOND = {
    YIELD: "No machine may go beyond it. Ask the owner of the joint how to free it.",
    GRIP: "Use a machine with a stronger grip, or jaws with more friction.",
}
"""What to do where the limit is not that of the machine's strength."""
STRONGER = "Use a stronger machine: ask /v1/machine-choice."


def _beyond_fault(job: Job, torque: Range, likely: float, limit: Mark, set_by: str) -> Fault:
    quantity = job.gauge.quantity
    return Fault(
        "break_out_beyond_machine",
        f"breaking this joint out likely needs {{torque}}, a {NOUNS[quantity]} of {{likely}}. "
        f"This machine must stop at {limit.reading}, set by the {set_by}",
        "machine",
        {"torque": Amount("torque", torque.likely), "likely": job.gauge.amount(likely)},
        BEYOND.get(set_by, STRONGER),
    )


def _may_stop_short(torque: float, limit: Mark, set_by: str) -> Iterator[Finding]:
    yield Finding(
        level="look",
        code="break_out_beyond",
        text="Breaking this joint out may need {value}. "
        f"This machine must stop at {limit.reading}, {{limit}}, set by the {set_by}.",
        step="break_out",
        remedy=BEYOND.get(set_by, "Have a stronger machine ready."),
        value=Amount("torque", torque),
        limit=Amount("torque", limit.torque),
    )


def what_if_it_does_not_move(limit: Mark, set_by: str) -> str:
    """What to do if the joint does not move (common practice, no source)."""
    return (
        f"Stop at {limit.reading}. Let the pressure off. Check the hand of the thread, the side under "
        f"pressure and the grip. If all is right: {BEYOND.get(set_by, STRONGER)} Do not exceed the limit."
    )
