"""Whether a machine can make a joint at a mark, limit by limit. A machine that fails one is not used.

An open window is not a licence: a mark that would reach the torsional yield is refused as well.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from api.engineering.checks import Check, at_least, at_most
from api.engineering.gauges.gauge import NOUNS, Gauge, Mark
from api.engineering.machines.aim import Goal
from api.engineering.machines.limits import (
    Limits,
    capacity_check,
    diameter_check,
    gauge_checks,
    lowest_setting_check,
)

FARTHEST = 0.10
"""Share of the target by which a mark may miss it where the window is open (own judgement: the width that
API RP 7G gives a drill collar above its value). The policy of a shop may say less."""


@dataclass(frozen=True)
class Duty:
    """What a machine is to make up, SI.

    Attributes:
        goal: the torque wanted and its window.
        torsional_yield: torque at which the joint yields, where known.
        gripped_diameter: outside diameter in the grip, where known.
        reading: that of the target at nominal efficiency.
        reading_at_low_efficiency: that at the lowest; None where no torque is known there.
        torque_at_largest_pull: on a machine that is limited by a pull alone, at the highest efficiency; None
            on any other.
    """

    goal: Goal
    torsional_yield: float | None
    gripped_diameter: float | None
    reading: float
    reading_at_low_efficiency: float | None
    torque_at_largest_pull: float | None


@dataclass(frozen=True)
class MarkTorques:
    """Torque at a mark at the highest efficiency, and its worst-case bounds with the gauge, N.m."""

    at_high: float
    lower_bound: float
    upper_bound: float


def duty_checks(limits: Limits, gauge: Gauge, duty: Duty) -> Iterator[Check]:
    """The checks that need no mark: diameter, rating, capacity, and the largest pull."""
    yield diameter_check(limits, duty.gripped_diameter)
    yield at_most(
        name="torque_rating",
        code="torque_rating_exceeded",
        text="target torque {value} against the torque rating of the machine {limit}",
        kind="torque",
        value=duty.goal.target,
        limit=limits.torque_rating,
    )
    yield _capacity_check(limits, gauge, duty)
    if duty.torque_at_largest_pull is not None:
        yield _largest_pull_check(duty, duty.torque_at_largest_pull)


def _capacity_check(limits: Limits, gauge: Gauge, duty: Duty) -> Check:
    if duty.reading_at_low_efficiency is None:
        text = "the torque at the lowest efficiency is not known where this target would be reached"
        return Check(name="capacity", verdict="not_checked", text=text)
    needed = f"{NOUNS[gauge.quantity]} needed at the lowest efficiency"
    return capacity_check(limits, gauge, duty.reading_at_low_efficiency, needed)


def _largest_pull_check(duty: Duty, torque: float) -> Check:
    """Compares the torque of the largest pull: only the setting keeps it below."""
    maximum = duty.goal.limit
    limit = "the joint maximum {limit}" if maximum is not None else "the target {limit}"
    return at_most(
        name="torque_at_largest_pull",
        text=f"torque at the largest line pull and the highest efficiency {{value}} against {limit}",
        kind="torque",
        value=torque,
        limit=maximum if maximum is not None else duty.goal.target,
        bad="caution",
    )


def mark_checks(limits: Limits, gauge: Gauge, mark: Mark, torques: MarkTorques) -> Iterator[Check]:
    """The checks of a mark on the machine alone, whatever the joint."""
    yield at_most(
        name="torque_at_setting",
        code="torque_rating_exceeded",
        text="torque at the setting {value} against the torque rating of the machine {limit}",
        kind="torque",
        value=mark.torque,
        limit=limits.torque_rating,
    )
    yield at_most(
        name="torque_rating_worst_case",
        text="worst-case torque at the setting {value} against the torque rating of the machine {limit}",
        kind="torque",
        value=torques.upper_bound,
        limit=limits.torque_rating,
        bad="caution",
    )
    yield from gauge_checks(gauge, mark.at)


def joint_checks(
    limits: Limits, gauge: Gauge, duty: Duty, mark: Mark, torques: MarkTorques
) -> Iterator[Check]:
    """The checks of a mark that is set to make up a joint."""
    yield from _yield_checks(duty, torques)
    yield lowest_setting_check(limits, gauge, mark.at)
    if limits.relief is None:  # where there is a valve, the pressures that it can be set to end the marks
        yield capacity_check(limits, gauge, mark.at, "the setting", "setting_reached")
    yield from _maximum_checks(duty.goal, torques)
    yield _minimum_check(duty.goal, torques)


def _yield_checks(duty: Duty, torques: MarkTorques) -> Iterator[Check]:
    if duty.torsional_yield is None:
        yield Check(
            name="torsional_yield",
            verdict="not_checked",
            text="the torsional yield of this joint is not known",
        )
        return
    yield at_most(
        name="torsional_yield",
        code="torsional_yield_exceeded",
        text="torque at the setting and the highest efficiency {value} against the torsional yield {limit}",
        kind="torque",
        value=torques.at_high,
        limit=duty.torsional_yield,
    )
    yield at_most(
        name="torsional_yield_worst_case",
        text="worst-case torque at the setting {value} against the torsional yield {limit}",
        kind="torque",
        value=torques.upper_bound,
        limit=duty.torsional_yield,
        bad="caution",
    )


def _maximum_checks(goal: Goal, torques: MarkTorques) -> Iterator[Check]:
    if goal.limit is None:
        yield Check(
            name="joint_maximum", verdict="not_checked", text="no maximum torque is known for this joint"
        )
        return
    yield at_most(
        name="joint_maximum",
        code="joint_maximum_exceeded",
        text="torque at the setting and the highest efficiency {value} against the joint maximum {limit}",
        kind="torque",
        value=torques.at_high,
        limit=goal.limit,
    )
    yield at_most(
        name="joint_maximum_worst_case",
        text="worst-case torque at the setting {value} against the joint maximum {limit}",
        kind="torque",
        value=torques.upper_bound,
        limit=goal.limit,
        bad="caution",
    )


def _minimum_check(goal: Goal, torques: MarkTorques) -> Check:
    if goal.minimum is None:
        return Check(
            name="joint_minimum", verdict="not_checked", text="no minimum torque is known for this joint"
        )
    return at_least(
        name="joint_minimum",
        text="worst-case torque at the setting {value} against the joint minimum {limit}",
        kind="torque",
        value=torques.lower_bound,
        limit=goal.minimum,
        bad="caution",
    )
