"""Which mark a machine is set to for a window of torque, and how sure the torque is there.

Every mark whose torque lies in the window and that fails no hard check is a candidate; `aimed` chooses. Here
no word is told of it: that is for the one machine that is set, see `api.answers.machines.setting`, not for
each that it is compared with.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from api.answers.machines.job import Job
from api.answers.machines.relief import JobRelief, relief_of
from api.answers.shop import Policy
from api.engineering.checks import NOISE, NoAnswer
from api.engineering.machines.aim import (
    WORTH_LEAVING_THE_TARGET,
    Aimed,
    Chance,
    Goal,
    aimed,
    capability,
    chance,
    first,
)
from api.engineering.machines.limits import FARTHEST, Duty, allowed_marks, duty_allowed
from api.engineering.machines.setup import Setup, Spread, if_calibrated
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, why_not
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True, kw_only=True)
class MakeUp:
    """A machine that is to make up a joint.

    Attributes:
        job: the machine, set to make up.
        duty: what it is to make up.
        valve: what its relief valve can be set to; None for a machine without one.
        at_target: whether the request asks for the mark nearest the target.
        assumptions: rules of the shop that entered.
    """

    job: Job
    duty: Duty
    valve: JobRelief | None
    at_target: bool
    assumptions: tuple[Assumption, ...]


@dataclass(frozen=True, kw_only=True)
class Chosen(MakeUp):
    """The mark that it is set to.

    Attributes:
        aim: the number of the mark, and why it was chosen.
        chance: how probable it is that the torque lies in the window.
        better: the number of the next mark, where it would have been better but fails a limit.
    """

    aim: Aimed
    chance: Knowable[Chance]
    better: int | None

    @property
    def torque(self) -> float:
        """The torque at the mark, N.m."""
        return self.job.setup.given(self.aim.number).torque

    @cached_property
    def capability(self) -> Knowable[float]:
        """How well machine and gauge can prove the window, as a verdict on a reading of the mark has it."""
        return capability_of(lambda: self.job.setup.spread_read(self.aim.number), self.duty.goal)

    @property
    def wrong_torque_probability(self) -> float:
        """Probability of a torque outside the window; 1 where it is not known."""
        return 1.0 if self.chance.value is None else 1.0 - self.chance.value.in_window


def goal_of(window: TorqueWindow, farthest: float = FARTHEST) -> Goal:
    """What a make-up is to reach; ``farthest`` is the share of the target by which it may miss that."""
    return Goal(
        window.goal,
        window.minimum.torque.value,
        window.maximum.torque.value,
        farthest,
        window.minimum.withheld,
        window.maximum.withheld,
    )


def open_ends(goal: Goal) -> list[NotKnown]:
    """Why an end of the window is not known, for each that is not."""
    ends = (
        ("minimum", goal.minimum, goal.withheld_minimum),
        ("maximum", goal.maximum, goal.withheld_maximum),
    )
    return [
        NotKnown(f"no {name} torque is known" if withheld is None else f"the {name} torque is withheld")
        for name, end, withheld in ends
        if end is None
    ]


PROBABILITIES = ("probability_in_window", "probability_below_minimum", "probability_above_maximum")


def probabilities(found: Knowable[Chance], goal: Goal) -> Mapping[str, Knowable[float]]:
    """The probabilities of both ends; of one that is not known, why."""
    if found.value is None:
        return dict.fromkeys(PROBABILITIES, found)
    missing, here = open_ends(goal), found.value
    return {
        "probability_in_window": missing[0] if missing else Known(here.in_window),
        "probability_below_minimum": missing[0] if goal.minimum is None else Known(here.below_minimum),
        "probability_above_maximum": missing[-1] if goal.maximum is None else Known(here.above_maximum),
    }


def capability_of(spread: Callable[[], Spread], goal: Goal) -> Knowable[float]:
    """How well a torque with this spread can be proved within a window; not known where an end is not."""
    if goal.minimum is None or goal.maximum is None:
        return open_ends(goal)[0]
    try:
        return Known(capability(spread().deviation, goal.minimum, goal.maximum))
    except NoAnswer as no_answer:
        return why_not(no_answer)


def grips(window: TorqueWindow, job: Job) -> bool:
    """Whether a machine can take hold of a joint: `check_grips` says why not."""
    limits, diameter = job.profile.limits, job.task.gripped_diameter
    unknown_nut = window.of_nut and limits.diameters is not None and diameter is None
    return not unknown_nut and (limits.grips_pipe or not window.of_pipe)


def choice_for(window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy) -> Chosen | None:
    """The mark that a machine is set to for a joint; None where it cannot make it up, for whatever reason.

    The arguments are those of `machine_setting`.
    """
    if not grips(window, job):
        return None
    try:
        asked = to_make_up(window, values, job, policy)
    except NoAnswer:
        return None
    return chosen_mark(asked)


def to_make_up(window: TorqueWindow, values: Mapping[str, Any], job: Job, policy: Policy) -> MakeUp:
    """A machine that is to make up a joint; the arguments are those of `machine_setting`.

    Raises:
        NoAnswer: where no torque of this machine is known for the target.
    """
    goal, assumptions = goal_of(window), []
    if policy.largest_distance_without_window is not None and not goal.closed:
        farthest = policy.largest_distance_without_window
        goal = replace(goal, farthest=farthest)
        assumptions.append(policy.assumed("largest_distance_without_window", f"{farthest:.10g}"))
    setup, largest_pull, torsional_yield = job.setup, job.profile.limits.largest_pull, window.torsional_yield
    efficiency = setup.standing.efficiency
    duty = Duty(
        goal=goal,
        torsional_yield=torsional_yield,
        gripped_diameter=job.task.gripped_diameter,
        reading=setup.reading(window.goal, efficiency.nominal),
        reading_at_low_efficiency=setup.reading_if_known(window.goal, efficiency.low),
        torque_at_largest_pull=None
        if largest_pull is None
        else if_calibrated(lambda: setup.torque_at(efficiency.high, largest_pull)),
    )
    # The joint is limited by its maximum, or by its yield where it has none.
    limit, withheld = duty.goal.limit, duty.goal.withheld_maximum is not None
    end, end_is = (torsional_yield, "yield") if limit is None else (limit, "maximum")
    valve = relief_of(job, end, values, policy, end_is, torsional_yield, withheld=withheld)
    at_target = values.get("aim") == "target"
    return MakeUp(job=job, duty=duty, valve=valve, at_target=at_target, assumptions=tuple(assumptions))


def chosen_mark(asked: MakeUp) -> Chosen | None:
    """The mark that a machine is set to; None where it cannot make up the joint."""
    setup, goal = asked.job.setup, asked.duty.goal
    marks, beyond = _candidates(asked)
    if not marks or not duty_allowed(asked.job.profile.limits, asked.job.gauge, asked.duty):
        return None
    chance_at = _chances(setup, goal)
    found = aimed(
        marks,
        lambda number: setup.given(number).torque,
        None if _shown(chance_at, marks[0]).value is None else chance_at,
        goal,
        at_target=asked.at_target,
        leaps=setup.leaps,
    )
    would_go_on = beyond is not None and _would_go_on(found, marks, goal, setup, chance_at)
    return Chosen(
        job=asked.job,
        duty=asked.duty,
        valve=asked.valve,
        at_target=asked.at_target,
        assumptions=asked.assumptions,
        aim=found,
        chance=_shown(chance_at, found.number),
        better=beyond if would_go_on else None,
    )


def marks_in_window(setup: Setup, duty: Duty) -> range:
    """The marks whose torque lies in the window; none where the gauge is too coarse or ends before."""
    known, given, goal = setup.known_marks, setup.given, duty.goal
    low, high = max(goal.lowest * (1 - NOISE), 0.0), goal.highest * (1 + NOISE)
    near = setup.gauge.number_below(duty.reading)
    start = first(known, lambda number: given(number).torque >= low, near)
    end = first(known, lambda number: given(number).torque > high, near)
    return range(known.stop if start is None else start, known.stop if end is None else end)


def not_too_low(marks: range, job: Job) -> range:
    """The marks from the lowest setting up; the last where all lie below it."""
    lowest_setting, given = job.profile.limits.lowest_setting * (1 - NOISE), job.setup.given
    start = first(marks, lambda number: given(number).at >= lowest_setting, near=marks.start)
    return range(marks[-1] if start is None else start, marks.stop)


def _candidates(asked: MakeUp) -> tuple[range, int | None]:
    """The marks that may be set, in the window and without a fault, and the first of it that fails a limit.

    Every limit has the marks that it allows on one side: the lowest setting above it, all others below.
    """
    job, valve, given = asked.job, asked.valve, asked.job.setup.given
    marks = marks_in_window(job.setup, asked.duty)
    if not marks:
        return marks, None
    marks, allowed = not_too_low(marks, job), allowed_marks(job.profile.limits, job.gauge, asked.duty)
    beyond = first(marks, lambda number: not allowed(*given(number)))
    if beyond is not None:
        marks = range(marks.start, beyond)
    if valve and marks:
        too_high = first(marks, lambda number: not valve.can_protect(*given(number)[:2]), near=marks[-1])
        if too_high is not None:
            beyond, marks = too_high, range(marks.start, too_high)
    return marks, beyond


def _would_go_on(
    found: Aimed, marks: range, goal: Goal, setup: Setup, chance_at: Callable[[int], Chance]
) -> bool:
    """Whether the mark above the last candidate would have been better than the one that is set."""
    here, above = found.number, marks[-1] + 1
    if here != marks[-1] or found.choice == "enough_above_minimum":
        return False
    if found.choice == "best_chance":
        return chance_at(above).in_window > chance_at(here).in_window + WORTH_LEAVING_THE_TARGET
    missed = [abs(setup.given(number).torque - goal.target) for number in (here, above)]
    return missed[1] < missed[0]


def _chances(setup: Setup, goal: Goal) -> Callable[[int], Chance]:
    known: dict[int, Chance] = {}

    def chance_at(number: int) -> Chance:
        if number not in known:
            known[number] = chance(*setup.spread(number), goal.minimum, goal.maximum)
        return known[number]

    return chance_at


def _shown(chance_at: Callable[[int], Chance], number: int) -> Knowable[Chance]:
    try:
        return Known(chance_at(number))
    except NoAnswer as no_answer:
        return why_not(no_answer)
