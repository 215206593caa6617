"""The setting of a machine that makes up a joint, with all that is told of it, or every reason against it.

What a foreman would say of the setting is not decided here, see `api.answers.machines.pressure`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.machines.job import Job, uncertainty_of
from api.answers.machines.mark_choice import (
    Chosen,
    MakeUp,
    chosen_mark,
    marks_in_window,
    not_too_low,
    to_make_up,
)
from api.answers.machines.relief import ReliefAnswer
from api.answers.shop import Policy, Range, ratios_of
from api.engineering.checks import NOISE, Amount, Check, Fault, NoAnswer, collecting, failed, refuse
from api.engineering.gauges.gauge import NOUNS, Mark, Reading, marks_around, no_mark_in_window
from api.engineering.machines.aim import WHY, Goal
from api.engineering.machines.limits import Duty, duty_checks, joint_checks
from api.engineering.machines.setup import AtMark
from api.engineering.provenance import Knowable
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True)
class HeldBack:
    """A mark within the window that fails a limit, and the first of its faults."""

    reading: Reading
    fault: Fault


@dataclass(frozen=True, kw_only=True)
class MachineSetting(Chosen):
    """A setting that passed every hard check, SI, with all that an answer tells of it.

    Attributes:
        at: the mark that is set.
        below, above: the marks on either side of the exact reading of the target.
        held_back: the next mark, where it would have been better but fails a limit.
        uncertainty: the budget of the torque at the mark, as shown.
        relief: how the relief valve must stand; None for a machine without one.
        break_out_torque: to be expected after this make-up; None where no ratio is known.
        checks: every one, of machine, joint and mark.
    """

    at: AtMark
    below: Mark | None
    above: Mark | None
    held_back: HeldBack | None
    uncertainty: Knowable[Mapping[str, Any]]
    relief: ReliefAnswer | None
    break_out_torque: Range | None
    checks: tuple[Check, ...]

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
    asked = to_make_up(window, values, job, policy)
    chosen = chosen_mark(asked)
    if chosen is None:
        raise _refusal(asked)
    duty, setup = asked.duty, job.setup
    at = _to_make_up(asked, chosen.aim.number)
    relief = asked.valve.at(at.mark.at, setup.given(at.number).torque) if asked.valve else None
    ratios, of_ratio = ratios_of(values, policy)
    below, above = marks_around(job.gauge, duty.reading, setup.torque, setup.known_readings)
    return MachineSetting(
        job=job,
        duty=duty,
        valve=asked.valve,
        at_target=asked.at_target,
        aim=chosen.aim,
        chance=chosen.chance,
        better=chosen.better,
        at=at,
        below=below,
        above=above,
        held_back=_held_back(asked, chosen.better),
        uncertainty=uncertainty_of(lambda: setup.budget_at(at.number)),
        relief=relief,
        break_out_torque=ratios.times(at.mark.torque) if ratios else None,
        checks=(
            *duty_checks(job.profile.limits, job.gauge, duty),
            *at.checks,
            *(relief.checks if relief else ()),
        ),
        assumptions=(*asked.assumptions, *of_ratio, *(relief.assumptions if relief else ())),
    )


def check_grips(window: TorqueWindow, job: Job) -> None:
    """Refuse a joint of pipe to what turns nuts alone, and a nut to what grips pipe unless it grips the nut.

    Raises:
        NoAnswer: ``grips_no_pipe``, ``gripped_diameter_required``.
    """
    if window.of_nut and job.profile.limits.diameters and job.task.gripped_diameter is None:
        text = "this machine grips pipe, and whether it grips this nut is not known"
        accepted = "the outside diameter of the nut in the grip, or a machine that turns nuts"
        raise refuse("gripped_diameter_required", text, "gripped_outside_diameter", accepted)
    if window.of_pipe and not job.profile.limits.grips_pipe:
        text = "this machine turns nuts; it grips no pipe"
        raise refuse("grips_no_pipe", text, "machine", "a machine that grips pipe: ask /v1/machine-choice")


def _refusal(asked: MakeUp) -> NoAnswer:
    """Every reason why a machine cannot make up a joint, of its marks those against the one nearest to it."""
    job, duty = asked.job, asked.duty
    found = failed(duty_checks(job.profile.limits, job.gauge, duty))
    if marks := marks_in_window(job.setup, duty):
        found += _faults(asked, not_too_low(marks, job)[0])
    else:
        found += _none_in_window(job, duty).faults
    # A machine too weak needs no word of its valve.
    return NoAnswer([each for each in found if each.code != "relief_cannot_protect"] or found)


def _held_back(asked: MakeUp, number: int | None) -> HeldBack | None:
    return None if number is None else HeldBack(asked.job.gauge.reading(number), _faults(asked, number)[0])


def _faults(asked: MakeUp, number: int) -> list[Fault]:
    """What speaks against a mark: the limits that it fails, else a relief valve that cannot protect there."""
    found = _to_make_up(asked, number).faults
    if not found and asked.valve:
        at, torque, _ = asked.job.setup.given(number)
        with collecting(found):
            asked.valve.at(at, torque)
    return found


def _none_in_window(job: Job, duty: Duty) -> NoAnswer:
    """The refusal of a gauge that has no mark in the window."""
    gauge, goal, setup = job.gauge, duty.goal, job.setup
    if duty.reading > gauge.last_reading * (1 + NOISE):
        return refuse(
            "above_gauge",
            f"the {NOUNS[gauge.quantity]} {{reading}} lies beyond the last mark of gauge {gauge.serial}, "
            "{span}",
            "machine",
            reading=gauge.amount(duty.reading),
            span=gauge.amount(gauge.last_reading),
        )
    around = marks_around(gauge, duty.reading, setup.torque, setup.known_readings)
    return no_mark_in_window(*around, "torque") if goal.closed else _far_from_target(goal, around)


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


def _to_make_up(asked: MakeUp, number: int) -> AtMark:
    job, at = asked.job, asked.job.setup.at_mark(number)
    of_joint = joint_checks(job.profile.limits, job.gauge, asked.duty, at.mark, at.torques)
    return AtMark(number, at.mark, at.torques, (*at.checks, *of_joint))
