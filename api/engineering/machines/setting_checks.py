"""Whether a machine can make a joint at a setting, limit by limit. A machine that fails one is not used.

An open window is not a licence: where a joint has no minimum or no maximum, and at every break-out, a mark
more than 10 % from the target is refused. So is one that would reach the torsional yield.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from api.engineering.checks import Check, at_least, at_most
from api.engineering.gauges.gauge import NOUNS, Gauge, Mark
from api.engineering.machines.limits import (
    Limits,
    capacity_check,
    diameter_check,
    gauge_checks,
    lowest_setting_check,
    relief_cracking_check,
    relief_rating_check,
)

FARTHEST = 0.10
"""Share of the target by which a mark may miss it where the window is open (own judgement: the width that
API RP 7G gives a drill collar above its value)."""


@dataclass(frozen=True)
class Duty:
    """A duty of a machine, SI.

    Attributes:
        making_up: whether the joint is made up; a break-out has no window.
        target, minimum, maximum: torque wanted, and the ends of its window where there are any.
        torsional_yield: torque at which the joint yields, where known.
        gripped_diameter: outside diameter in the grip, where known.
        reading: that of the target at nominal efficiency.
        reading_at_low_efficiency: that at the lowest; None where no torque is known there.
        torque_at_highest: torque at the highest reading that the machine reaches, full relief flow if it has
            a relief valve, at the highest efficiency; None where it is not known.
    """

    making_up: bool
    target: float
    minimum: float | None
    maximum: float | None
    torsional_yield: float | None
    gripped_diameter: float | None
    reading: float
    reading_at_low_efficiency: float | None
    torque_at_highest: float | None


@dataclass(frozen=True)
class SettingTorques:
    """Torque at a setting at the highest efficiency, and its worst-case bounds with the gauge, N.m."""

    at_high: float
    lower_bound: float
    upper_bound: float


def machine_checks(limits: Limits, gauge: Gauge, duty: Duty) -> Iterator[Check]:
    """The checks that need no setting: diameter, rating, capacity, relief and its torque."""
    yield diameter_check(limits, duty.gripped_diameter)
    yield at_most(
        name="torque_rating",
        code="torque_rating_exceeded",
        text="target torque {value} against the torque rating of the machine {limit}",
        kind="torque",
        value=duty.target,
        limit=limits.torque_rating,
    )
    yield _capacity_check(limits, gauge, duty)
    yield from relief_rating_check(limits, gauge)
    yield _highest_check(limits, duty)


def _capacity_check(limits: Limits, gauge: Gauge, duty: Duty) -> Check:
    if duty.reading_at_low_efficiency is None:
        text = "the torque at the lowest efficiency is not known where this target would be reached"
        return Check(name="capacity", verdict="not_checked", text=text)
    needed = f"{NOUNS[gauge.quantity]} needed at the lowest efficiency"
    return capacity_check(limits, gauge, duty.reading_at_low_efficiency, needed)


def _highest_check(limits: Limits, duty: Duty) -> Check:
    """Compares the highest torque the machine can reach: only the setting keeps it below."""
    name, where = "torque_at_relief", "at full relief flow"
    if not limits.relief:
        name, where = "torque_at_largest_pull", "at the largest line pull"
    if duty.torque_at_highest is None:
        return Check(name=name, verdict="not_checked", text=f"the torque {where} is not known")
    limit = "the joint maximum {limit}" if duty.maximum is not None else "the target {limit}"
    return at_most(
        name=name,
        text=f"torque {where} and the highest efficiency {{value}} against {limit}; only the setting "
        "limits the torque",
        kind="torque",
        value=duty.torque_at_highest,
        limit=duty.maximum if duty.maximum is not None else duty.target,
        bad="caution",
    )


def setting_checks(
    limits: Limits, gauge: Gauge, duty: Duty, mark: Mark, torques: SettingTorques
) -> Iterator[Check]:
    """The checks of the mark to be set."""
    yield from relief_cracking_check(limits, gauge, mark.at)
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
    yield from _yield_checks(duty, torques)
    yield from _open_end_checks(duty, mark)
    if duty.making_up:
        yield lowest_setting_check(limits, gauge, mark.at)
        yield from _maximum_checks(duty, torques)
        yield _minimum_check(duty, torques)


def _yield_checks(duty: Duty, torques: SettingTorques) -> Iterator[Check]:
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
        bad="fail" if duty.making_up else "caution",
    )
    yield at_most(
        name="torsional_yield_worst_case",
        text="worst-case torque at the setting {value} against the torsional yield {limit}",
        kind="torque",
        value=torques.upper_bound,
        limit=duty.torsional_yield,
        bad="caution",
    )


def _open_end_checks(duty: Duty, mark: Mark) -> Iterator[Check]:
    """Checks that a mark is near the target where the joint has no end of its own."""
    text = "torque at the nearest mark {value} against the target less or plus 10 % {limit}; without a "
    text += "known minimum and maximum Dialset uses no mark farther off: state a torque_tolerance"
    name, code = "distance_from_target", "mark_far_from_target"
    if duty.maximum is None:
        yield at_most(
            name=name,
            code=code,
            text=text,
            kind="torque",
            value=mark.torque,
            limit=(1 + FARTHEST) * duty.target,
        )
    if duty.minimum is None:
        yield at_least(
            name=name,
            code=code,
            text=text,
            kind="torque",
            value=mark.torque,
            limit=(1 - FARTHEST) * duty.target,
        )


def _maximum_checks(duty: Duty, torques: SettingTorques) -> Iterator[Check]:
    if duty.maximum is None:
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
        limit=duty.maximum,
    )
    yield at_most(
        name="joint_maximum_worst_case",
        text="worst-case torque at the setting {value} against the joint maximum {limit}",
        kind="torque",
        value=torques.upper_bound,
        limit=duty.maximum,
        bad="caution",
    )


def _minimum_check(duty: Duty, torques: SettingTorques) -> Check:
    if duty.minimum is None:
        return Check(
            name="joint_minimum", verdict="not_checked", text="no minimum torque is known for this joint"
        )
    text = "worst-case torque at the setting {value} against the joint minimum {limit}"
    return at_least(
        name="joint_minimum",
        text=text,
        kind="torque",
        value=torques.lower_bound,
        limit=duty.minimum,
        bad="caution",
    )
