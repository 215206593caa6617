"""Which mark a machine is set to for a window of torque, and how sure the torque is there.

Every mark whose torque lies in the window and that fails no hard check is a candidate; `aimed` chooses. What
a foreman would say of the setting is not decided here, see `api.answers.machines.pressure`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from math import inf
from typing import Any

from api.answers.machines.job import Job, budget_of, uncertainty_of
from api.answers.machines.relief import ReliefAnswer, relief_for
from api.answers.shop import Policy, Range, ratios_of
from api.engineering.checks import NOISE, Amount, Check, Fault, NoAnswer, collecting, refuse
from api.engineering.gauges.gauge import (
    NOUNS,
    Gauge,
    Mark,
    Reading,
    marks_around,
    no_mark_in_window,
)
from api.engineering.machines.aim import (
    WHY,
    WORTH_LEAVING_THE_TARGET,
    Aimed,
    Chance,
    Goal,
    aimed,
    chance,
    first,
)
from api.engineering.machines.limits import (
    FARTHEST,
    Duty,
    MarkTorques,
    duty_checks,
    joint_checks,
    mark_checks,
)
from api.engineering.provenance import Assumption, Knowable, Known, why_not
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True)
class AtMark:
    """A machine at a mark: its torques there, and the checks of the mark.

    Attributes:
        number: of the mark.
        mark: with its nominal torque.
        torques: at the highest efficiency and in the worst case.
        checks: of the machine alone or, where a joint is made up, of both.
    """

    number: int
    mark: Mark
    torques: MarkTorques
    checks: tuple[Check, ...]

    @property
    def faults(self) -> list[Fault]:
        """What speaks against the mark."""
        return failed(self.checks)


@dataclass(frozen=True)
class HeldBack:
    """A mark within the window that fails a limit, and the first of its faults."""

    reading: Reading
    fault: Fault


@dataclass(frozen=True, kw_only=True)
class MachineSetting:
    """A setting that passed every hard check, SI.

    Attributes:
        job: the machine, set to its task.
        duty: what it is to make up.
        at: the mark that is set.
        below, above: the marks on either side of the exact reading of the target.
        aim: why this mark was chosen.
        chance: how probable it is that the torque lies in the window.
        held_back: the next mark, where it would have been better but fails a limit.
        uncertainty: the budget of the torque at the mark, as shown.
        relief: how the relief valve must stand; None for a machine without one.
        break_out_torque: to be expected after this make-up; None where no ratio is known.
        checks: every one, of machine, joint and mark.
        assumptions: rules of the shop that entered.
    """

    job: Job
    duty: Duty
    at: AtMark
    below: Mark | None
    above: Mark | None
    aim: Aimed
    chance: Knowable[Chance]
    held_back: HeldBack | None
    uncertainty: Knowable[Mapping[str, Any]]
    relief: ReliefAnswer | None
    break_out_torque: Range | None
    checks: tuple[Check, ...]
    assumptions: tuple[Assumption, ...]

    @property
    def worked(self) -> tuple[float, float]:
        """The torque and the reading that the working shows: those of the target."""
        return self.duty.goal.target, self.duty.reading

    @property
    def mark(self) -> Mark:
        """The mark that is set."""
        return self.at.mark

    @property
    def aimed_torque(self) -> float:
        """The torque aimed at, N.m: the target, or that of the safest mark."""
        at_target = self.aim.choice in ("target_asked", "nearest_target")
        return self.duty.goal.target if at_target else self.mark.torque

    @property
    def why(self) -> str:
        """Why this mark was chosen, in words."""
        why = WHY[self.aim.choice]
        return f"{why} that fails no limit" if self.held_back and self.aim.choice == "nearest_target" else why

    @property
    def wrong_torque_probability(self) -> float:
        """Probability of a torque outside the window; 1 where it is not known."""
        return 1.0 if self.chance.value is None else 1.0 - self.chance.value.in_window


def machine_setting(
    window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy
) -> MachineSetting:
    """The setting of one machine that makes up a joint.

    Args:
        window: the torque of the joint.
        values: of the request: ``aim``, ``break_out_ratio``, ``grip_friction``, ``grip_margin``.
        job: the machine, set to make up.
        policy: that of the shop.

    Raises:
        NoAnswer: with every reason why this machine cannot make up this joint.
    """
    check_grips(window, job)
    duty, of_window = _duty(window, job, policy)
    ratios, of_ratio = ratios_of(values, policy)
    checks = list(duty_checks(job.profile.limits, job.gauge, duty))
    try:
        marks, held_back = _candidates(job, duty, values, policy)
    except NoAnswer as no_setting:
        raise NoAnswer(_without_its_consequence([*failed(checks), *no_setting.faults])) from None
    if faults := failed(checks):
        raise NoAnswer(faults)
    torque = nominal_torque(job)
    chance_at = _chances(job, duty.goal)
    found = aimed(
        marks,
        lambda number: torque(job.gauge.at(number)),
        None if _shown_chance(chance_at, marks[0]).value is None else chance_at,
        duty.goal,
        at_target=values.get("aim") == "target",
        leaps=_leaps(job.gauge, marks),
    )
    if held_back and not _would_go_on(found, marks, duty.goal, torque, chance_at, job):
        held_back = None
    at = _to_make_up(job, duty, found.number)
    relief = _relief(job, duty, at.mark.at, values, policy)
    of_relief = relief.assumptions if relief else ()
    below, above = marks_around(job.gauge, duty.reading, torque, job.known_readings)
    return MachineSetting(
        job=job,
        duty=duty,
        at=at,
        below=below,
        above=above,
        aim=found,
        chance=_shown_chance(chance_at, found.number),
        held_back=held_back,
        uncertainty=uncertainty_of(job, at.mark.at, "set_on_mark"),
        relief=relief,
        break_out_torque=ratios.times(at.mark.torque) if ratios else None,
        checks=(*checks, *at.checks, *(relief.checks if relief else ())),
        assumptions=(*of_window, *of_ratio, *of_relief),
    )


def check_grips(window: TorqueWindow, job: Job) -> None:
    """Refuse a joint of pipe to what turns nuts alone.

    Raises:
        NoAnswer: ``grips_no_pipe``.
    """
    if window.of_pipe and not job.profile.limits.grips_pipe:
        text = "this machine turns nuts; it grips no pipe"
        raise refuse("grips_no_pipe", text, "machine", "a machine that grips pipe: ask /v1/machine-choice")


def _without_its_consequence(faults: list[Fault]) -> list[Fault]:
    """Faults without that of relief where another stands: a machine too weak needs no word of its valve."""
    return [each for each in faults if each.code != "relief_cannot_protect"] or faults


def _duty(window: TorqueWindow, job: Job, policy: Policy) -> tuple[Duty, tuple[Assumption, ...]]:
    minimum, maximum = window.minimum.torque.value, window.maximum.torque.value
    farthest, assumptions = FARTHEST, []
    if policy.largest_distance_without_window is not None and None in (minimum, maximum):
        farthest = policy.largest_distance_without_window
        assumptions.append(policy.assumed("largest_distance_without_window", f"{farthest:.10g}"))
    efficiency, limits = job.machine.efficiency, job.profile.limits
    largest_pull = limits.largest_pull
    duty = Duty(
        goal=Goal(window.goal, minimum, maximum, farthest, window.minimum.withheld, window.maximum.withheld),
        torsional_yield=window.torsional_yield,
        gripped_diameter=job.task.gripped_diameter,
        reading=job.reading(window.goal, efficiency.nominal),
        reading_at_low_efficiency=if_calibrated(lambda: job.reading(window.goal, efficiency.low)),
        torque_at_largest_pull=None
        if largest_pull is None
        else if_calibrated(lambda: job.torque_at(efficiency.high)(largest_pull)),
    )
    return duty, tuple(assumptions)


def if_calibrated(value: Callable[[], float]) -> float | None:
    """A value that may lie outside what is known of a machine whose torque was measured, not computed."""
    try:
        return value()
    except NoAnswer as no_answer:
        if any(fault.code != "outside_calibration" for fault in no_answer.faults):
            raise
        return None


def nominal_torque(job: Job) -> Callable[[float], float]:
    """Torque of a machine at nominal efficiency as a function of its reading, SI."""
    return job.torque_at(job.machine.efficiency.nominal)


def known_marks(job: Job) -> range:
    """The marks of the gauge at which the torque of the machine is known."""
    gauge, (lowest, highest) = job.gauge, job.known_readings
    every = range(gauge.last + 1)
    start = first(every, lambda number: gauge.at(number) >= lowest * (1 - NOISE))
    end = None if highest == inf else first(every, lambda number: gauge.at(number) > highest * (1 + NOISE))
    return range(every.stop if start is None else start, every.stop if end is None else end)


def _would_go_on(
    found: Aimed,
    marks: range,
    goal: Goal,
    torque: Callable[[float], float],
    chance_at: Callable[[int], Chance],
    job: Job,
) -> bool:
    """Whether the mark above the last candidate would have been better than the one that is set."""
    here, above = found.number, marks[-1] + 1
    if here != marks[-1] or found.choice == "enough_above_minimum":
        return False
    if found.choice == "best_chance":
        return chance_at(above).in_window > chance_at(here).in_window + WORTH_LEAVING_THE_TARGET
    missed = [abs(torque(job.gauge.at(number)) - goal.target) for number in (here, above)]
    return missed[1] < missed[0]


def _candidates(
    job: Job, duty: Duty, values: Mapping[str, Any], policy: Policy
) -> tuple[range, HeldBack | None]:
    """The marks that may be set, in the window and without a fault, and the first of it that fails a limit.

    Every limit has the marks that it allows on one side: the lowest setting above it, all others below.

    Raises:
        NoAnswer: where there is none, with the reasons against the mark that comes nearest.
    """
    marks = _in_window(job, duty)
    lowest_setting = job.profile.limits.lowest_setting * (1 - NOISE)
    start = first(marks, lambda number: job.gauge.at(number) >= lowest_setting)
    marks = range(marks[-1] if start is None else start, marks.stop)

    def faults(number: int) -> list[Fault]:
        found = _to_make_up(job, duty, number).faults
        if not found:
            with collecting(found):
                _relief(job, duty, job.gauge.at(number), values, policy)
        return found

    if against := faults(marks[0]):
        raise NoAnswer(against)
    end = first(marks, lambda number: bool(faults(number)))
    if end is None:
        return marks, None
    return range(marks.start, end), HeldBack(job.gauge.reading(end), faults(end)[0])


def _leaps(gauge: Gauge, marks: range) -> list[int]:
    """The marks from which on a gauge has another error than below."""
    middle_half, last_quarter = (share * gauge.last_reading for share in (0.25, 0.75))
    if gauge.accuracy.uniform:
        return []
    starts = (
        first(marks, lambda number: gauge.at(number) >= middle_half * (1 - NOISE)),
        first(marks, lambda number: gauge.at(number) > last_quarter * (1 + NOISE)),
    )
    return [start for start in starts if start is not None]


def _relief(
    job: Job, duty: Duty, reading: float, values: Mapping[str, Any], policy: Policy
) -> ReliefAnswer | None:
    """The relief for a mark: its joint is limited by its maximum, or by its yield where it has none."""
    maximum = duty.goal.maximum
    limit, limit_is = (duty.torsional_yield, "yield") if maximum is None else (maximum, "maximum")
    torque, torsional_yield = nominal_torque(job)(reading), duty.torsional_yield
    return relief_for(job, reading, torque, limit, values, policy, limit_is, torsional_yield)


def _in_window(job: Job, duty: Duty) -> range:
    gauge, goal, torque = job.gauge, duty.goal, nominal_torque(job)
    known = known_marks(job)
    low, high = max(goal.lowest * (1 - NOISE), 0.0), goal.highest * (1 + NOISE)
    start = first(known, lambda number: torque(gauge.at(number)) >= low)
    end = first(known, lambda number: torque(gauge.at(number)) > high)
    marks = range(known.stop if start is None else start, known.stop if end is None else end)
    if marks:
        return marks
    if duty.reading > gauge.last_reading * (1 + NOISE):
        raise refuse(
            "above_gauge",
            f"the {NOUNS[gauge.quantity]} {{reading}} lies beyond the last mark of gauge {gauge.serial}, "
            "{span}",
            "machine",
            reading=gauge.amount(duty.reading),
            span=gauge.amount(gauge.last_reading),
        )
    around = marks_around(gauge, duty.reading, torque, job.known_readings)
    raise no_mark_in_window(*around, "torque") if goal.closed else _far_from_target(goal, around)


def _far_from_target(goal: Goal, around: tuple[Mark | None, Mark | None]) -> NoAnswer:
    """The refusal of marks too far from a target whose window has an open end."""
    marks = {name: mark for name, mark in zip(("below", "above"), around, strict=True) if mark}
    given = " ".join(f"The mark {mark.reading} gives {{{name}}}." for name, mark in marks.items())
    text = (
        f"no mark lies within {100 * goal.farthest:.6g} % of the target {{target}}. "
        f"{given or 'None is near.'} Without a known minimum and maximum Dialset uses no mark farther off"
    )
    amounts = {name: Amount("torque", mark.torque) for name, mark in marks.items()}
    amounts["target"] = Amount("torque", goal.target)
    return NoAnswer(
        [Fault("mark_far_from_target", text, "machine", amounts, "a finer gauge, or a torque_tolerance")]
    )


def at_mark(job: Job, number: int) -> AtMark:
    """A machine at a mark, with what its own limits say of it."""
    at = job.gauge.at(number)
    low, high = job.torque_range(at)
    mark = Mark(job.gauge.reading(number), at, max(0.0, nominal_torque(job)(at)))
    torques = MarkTorques(job.torque_at(job.machine.efficiency.high)(at), low, high)
    return AtMark(number, mark, torques, tuple(mark_checks(job.profile.limits, job.gauge, mark, torques)))


def _to_make_up(job: Job, duty: Duty, number: int) -> AtMark:
    at = at_mark(job, number)
    of_joint = joint_checks(job.profile.limits, job.gauge, duty, at.mark, at.torques)
    return AtMark(number, at.mark, at.torques, (*at.checks, *of_joint))


def _chances(job: Job, goal: Goal) -> Callable[[int], Chance]:
    @cache
    def chance_at(number: int) -> Chance:
        budget = budget_of(job, job.gauge.at(number), "set_on_mark")
        return chance(budget.estimate, budget.combined * budget.estimate, goal.minimum, goal.maximum)

    return chance_at


def _shown_chance(chance_at: Callable[[int], Chance], number: int) -> Knowable[Chance]:
    try:
        return Known(chance_at(number))
    except NoAnswer as no_answer:
        return why_not(no_answer)


def failed(checks: Any) -> list[Fault]:
    """The faults of the checks that failed."""
    return [check.fault for check in checks if check.verdict == "fail"]
