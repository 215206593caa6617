"""What a machine and its gauge can bear, and whether they can make a joint at a mark, limit by limit.

A machine that fails a limit is not used. A setting lies below relief cracking, not at it: this one limit is
not accepted at its bound. An open window is not a licence: a mark that would reach the torsional yield is
refused as well.

`lowest_setting` is that of the make-up limit and does not bind a break-out.

A machine is judged by its dial: the span of the gauge counts as a rating, since relief must not drive the
pointer off it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import inf

from api.engineering.checks import NOISE, Amount, Check, at_least, at_most
from api.engineering.gauges.accuracy_class import working_range_advice
from api.engineering.gauges.gauge import NOUNS, Gauge, Mark, static_head_check, working_range
from api.engineering.machines.aim import Goal
from api.engineering.machines.relief import Relief


@dataclass(frozen=True)
class Limits:
    """The limits of the makers of machine, hoses and valve, SI.

    Attributes:
        rated: highest reading that each part allows, by the name of the part.
        torque_rating: highest torque of the machine.
        diameters: smallest and largest outside diameter it grips; None where nothing is gripped.
        lowest_setting: lowest reading that can be set.
        relief: the valve that limits the reading; None on a machine without one.
        grips_pipe: False for what turns nuts alone.
        largest_pull: the most that pulls, as a reading, on a machine without a relief valve.
    """

    rated: Mapping[str, float]
    torque_rating: float
    diameters: tuple[float, float] | None
    lowest_setting: float
    relief: Relief | None
    largest_pull: float | None = None
    grips_pipe: bool = True

    def ratings(self, gauge: Gauge) -> Mapping[str, float]:
        """The parts that a reading must not overload, the gauge among them."""
        return {**self.rated, "gauge": gauge.last_reading}

    def reachable(self, gauge: Gauge) -> Mapping[str, float]:
        """The limits that end the readings this machine can reach."""
        ends = {"relief cracking": self.relief.cracking} if self.relief else {}
        if self.largest_pull is not None:
            ends["largest line pull"] = self.largest_pull
        return {**ends, **self.ratings(gauge)}

    @property
    def highest_reading(self) -> float:
        """The highest reading that the machine reaches, its relief valve set as high as it goes."""
        if self.relief:
            return self.relief.full_flow
        return min(self.rated.values()) if self.largest_pull is None else self.largest_pull


def listed(names: Iterable[str]) -> str:
    """Names as a sentence lists them.

    >>> listed(["relief cracking", "hoses", "gauge"])
    'relief cracking, hoses and gauge'
    """
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def diameter_check(limits: Limits, diameter: float | None) -> Check:
    """Whether the machine grips an outside diameter; both ends of its range are gripped."""
    if limits.diameters is None:
        return Check(
            name="outside_diameter",
            verdict="not_checked",
            text="this kind of machine has no range of its grip",
        )
    if diameter is None:
        text = "no gripped diameter given: check that the machine grips it"
        return Check(name="outside_diameter", verdict="not_checked", text=text)
    low, high = limits.diameters
    fits = low * (1 - NOISE) <= diameter <= high * (1 + NOISE)
    return Check(
        name="outside_diameter",
        code="diameter_not_gripped",
        verdict="pass" if fits else "fail",
        text="gripped outside diameter {value} against the range of the grip, limit {limit}",
        value=Amount("length", diameter),
        limit=Amount("length", low if diameter < low else high),
    )


def gauge_checks(gauge: Gauge, reading: float) -> Iterator[Check]:
    """Whether a gauge is well used at a reading, and whether the oil between it and the cylinder matters."""
    yield working_range_check(gauge, reading)
    if gauge.quantity == "pressure":
        yield static_head_check(gauge.height, gauge.error_at(reading), gauge)


def working_range_check(gauge: Gauge, reading: float) -> Check:
    """Whether a reading lies in the middle half of the dial, where its error is the smallest share."""
    low, high = working_range(gauge)
    advice = working_range_advice(reading, gauge.last_reading)
    return Check(
        name="gauge_working_range",
        verdict="pass" if low * (1 - NOISE) <= reading <= high * (1 + NOISE) else "caution",
        text="{value} lies best between a quarter and three quarters of the gauge span {limit}"
        + (f"; {advice}" if advice else ""),
        value=gauge.amount(reading),
        limit=gauge.amount(gauge.last_reading),
    )


def capacity_check(
    limits: Limits, gauge: Gauge, reading: float, needed: str, name: str = "capacity"
) -> Check:
    """Whether a machine reaches a reading; ``needed`` says in words which one that is."""
    ends = limits.reachable(gauge)
    return at_most(
        name=name,
        code="capacity_exceeded",
        text=f"{needed} {{value}} against the lowest of {listed(ends)} {{limit}}",
        shown=gauge.amount,
        value=reading,
        limit=min(ends.values()),
    )


def relief_rating_check(limits: Limits, gauge: Gauge) -> Iterator[Check]:
    """Whether a fixed relief valve protects every part; one that is set for the job is judged there."""
    if limits.relief and limits.relief.fixed:
        ratings = limits.ratings(gauge)
        yield at_most(
            name="relief_full_flow",
            code="relief_above_rating",
            text=f"relief at full flow {{value}} against the lowest rating of {listed(ratings)} {{limit}}",
            shown=gauge.amount,
            value=limits.relief.full_flow,
            limit=min(ratings.values()),
        )


def relief_cracking_check(limits: Limits, gauge: Gauge, reading: float) -> Iterator[Check]:
    """Whether a setting stays below the relief valve, at whose cracking it is not accepted."""
    if limits.relief:
        below = reading < limits.relief.cracking * (1 - NOISE)
        yield Check(
            name="relief_cracking",
            code="setting_not_below_relief",
            verdict="pass" if below else "fail",
            text="setting {value} must lie below relief cracking {limit}",
            value=gauge.amount(reading),
            limit=gauge.amount(limits.relief.cracking),
        )


def lowest_setting_check(limits: Limits, gauge: Gauge, reading: float) -> Check:
    """Whether a setting is not too low to be set."""
    return at_least(
        name="lowest_setting",
        code="below_lowest_setting",
        text="setting {value} against the lowest that can be set {limit}",
        shown=gauge.amount,
        value=reading,
        limit=limits.lowest_setting,
    )


def reading_checks(
    limits: Limits, gauge: Gauge, reading: float, torque: float, gripped_diameter: float | None
) -> Iterator[Check]:
    """The checks of a reading already taken: an overload is told, not refused."""
    yield diameter_check(limits, gripped_diameter)
    yield from gauge_checks(gauge, reading)
    yield at_most(
        name="torque_rating",
        text="highest possible torque {value} against the torque rating of the machine {limit}",
        kind="torque",
        value=torque,
        limit=limits.torque_rating,
        bad="caution",
    )
    yield at_most(
        name="rated_pressure",
        text=f"reading {{value}} against the lowest rating of {listed(limits.rated)} {{limit}}",
        shown=gauge.amount,
        value=reading,
        limit=min(limits.rated.values()),
        bad="caution",
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


def duty_allowed(limits: Limits, gauge: Gauge, duty: Duty) -> bool:
    """Whether a machine fails nothing of what `duty_checks` tells one by one."""
    (smallest, largest), diameter = limits.diameters or (0.0, inf), duty.gripped_diameter
    gripped = diameter is None or smallest * (1 - NOISE) <= diameter <= largest * (1 + NOISE)
    needed, most = duty.reading_at_low_efficiency, min(limits.reachable(gauge).values())
    reached = needed is None or needed <= most * (1 + NOISE)
    return gripped and reached and duty.goal.target <= limits.torque_rating * (1 + NOISE)


def allowed_marks(limits: Limits, gauge: Gauge, duty: Duty) -> Callable[[float, float, float], bool]:
    """Whether a mark to make up a joint fails nothing: what `mark_checks` and `joint_checks` tell one by one.

    Of a mark it is asked with the reading, and the torques at nominal and at the highest efficiency.
    """
    of_joint = [each for each in (duty.torsional_yield, duty.goal.limit) if each is not None]
    most_at_high = min(of_joint, default=inf) * (1 + NOISE)
    most = limits.torque_rating * (1 + NOISE)
    lowest = limits.lowest_setting * (1 - NOISE)
    highest = inf if limits.relief else min(limits.reachable(gauge).values()) * (1 + NOISE)

    def allowed(at: float, torque: float, at_high: float) -> bool:
        return lowest <= at <= highest and torque <= most and at_high <= most_at_high

    return allowed


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
