"""The relief of a machine for a job: what to set it to, what it then protects, and what it does not.

Where grip and arm share one supply, relief must let through what the grip needs too. That pressure is counted
only with a friction and a margin that were given.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import floor
from typing import Any

from api.answers.grip.holding import grip_cylinder_of
from api.answers.machines.job import Job
from api.answers.shop import Policy
from api.engineering.checks import NOISE, Amount, Check, Finding, NoAnswer, at_least, at_most
from api.engineering.gauges.gauge import Gauge, Reading
from api.engineering.grip.squeeze import pressure_for_squeeze, squeeze_for_torque
from api.engineering.machines.relief import (
    USUAL_MARGIN,
    Relief,
    ReliefSetting,
    ReliefWindow,
    relief_setting,
    relief_window,
)
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, known

TORQUE_RATING = "torque rating"
"""The end of a machine that is a torque, among those that are pressures."""


@dataclass(frozen=True, kw_only=True)
class ReliefAnswer:
    """The relief of a machine for a job, Pa, as `schemas.machines.relief.ReliefPart` writes it.

    Attributes:
        lower, upper_joint, upper_machine: ends of the window of its cracking pressure; of the upper ones the
            basis says what sets them.
        set_to: the mark; not known for a fixed valve.
        gauge, gauge_read: serial of the dial, and which one of the profile it is.
        cracking, full_flow, override: as the valve then stands.
        protects: the joint too, or the machine alone. It, cracking and full flow are not known where the
            pressure of a grip on the same supply is not counted.
        lets_through: highest pressure that it lets through with its margin.
        grip_pressure: of the grip for the torque with its margin, where it counts.
        findings, assumptions, checks: what to know of it, what it rests on, what was compared.
    """

    lower: float
    upper_joint: Knowable[float]
    upper_machine: Known[float]
    set_to: Knowable[Reading]
    gauge: str
    gauge_read: str
    cracking: Knowable[float]
    full_flow: Knowable[float]
    override: float
    protects: Knowable[str]
    lets_through: float
    grip_pressure: Knowable[float]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True)
class _Question:
    """A job with what relief is judged by, SI."""

    job: Job
    relief: Relief
    setting: float
    joint_limit: float | None
    joint_limit_is: str
    torsional_yield: float | None
    grip_pressure: Knowable[float]

    @property
    def dial(self) -> Gauge:
        """The gauge on which relief is set."""
        return relief_gauge(self.job)[1]

    @property
    def high(self) -> float:
        """The highest efficiency of the machine."""
        return self.job.machine.efficiency.high

    def torque_at(self, reading: float) -> float | None:
        """Torque at the highest efficiency, N.m; None where it is not known."""
        return self.job.torque_at(self.high)(reading) if self._known(reading) else None

    def _known(self, reading: float) -> bool:
        low, high = self.job.known_readings
        return low <= reading <= high


def relief_for(
    job: Job,
    p_set: float,
    torque_at_set: float,
    joint_limit_torque: float | None,
    values: Mapping[str, Any],
    policy: Policy,
    joint_limit_is: str = "maximum",
    torsional_yield: float | None = None,
) -> ReliefAnswer | None:
    """The relief of a machine for a job; None for a machine without a relief valve.

    Args:
        job: machine, gauge and task.
        p_set: reading of the mark aimed at; at a break-out that of the high expectation, Pa.
        torque_at_set: torque there, which the grip must hold, N.m.
        joint_limit_torque: maximum of the joint, or its yield where it has none, N.m; None where not known.
        values: the loaded request, of which ``grip_friction`` and ``grip_margin`` are read.
        policy: rules of the shop.
        joint_limit_is: what the limit of the joint is, in a word: ``maximum`` or ``yield``.
        torsional_yield: of the joint, N.m; None where not known.

    Raises:
        NoAnswer: ``relief_cannot_protect`` with the window and what would make it possible.
    """
    relief = job.profile.limits.relief
    if relief is None or job.gauge.quantity != "pressure":
        return None
    grip = grip_pressure_of(job, torque_at_set, values)
    asked = _Question(job, relief, p_set, joint_limit_torque, joint_limit_is, torsional_yield, grip)
    margin, assumption = _margin(policy)
    name, gauge = relief_gauge(job)
    joint_pressure = _joint_limit_pressure(asked)
    ends = machine_ends(job)
    window = relief_window(max(p_set, grip.value or 0.0), margin, relief.override, joint_pressure.value, ends)
    without_grip = None
    if grip.value is not None and grip.value > p_set:
        without_grip = relief_window(p_set, margin, relief.override, joint_pressure.value, ends)
    found = relief_setting(relief, window, gauge, without_grip)
    upper_joint: Knowable[float] = joint_pressure
    if joint_pressure.value is not None:
        upper_joint = Known(joint_pressure.value - relief.override, joint_pressure.basis)
    uncounted = None
    if grip.reason in UNCOUNTED:
        uncounted = NotKnown(f"{grip.reason}; grip and arm share one supply")
    return ReliefAnswer(
        lower=window.lower,
        upper_joint=upper_joint,
        upper_machine=Known(window.upper_machine, window.ended_by),
        set_to=uncounted or known(found.mark, "the relief valve of this machine is fixed"),
        gauge=gauge.serial,
        gauge_read=name,
        cracking=uncounted or Known(found.cracking),
        full_flow=uncounted or Known(found.full_flow),
        override=relief.override,
        protects=uncounted or Known(found.protects),
        lets_through=found.cracking / (1 + margin),
        grip_pressure=grip,
        findings=tuple(_findings(asked, found)),
        assumptions=(assumption,),
        checks=tuple(_checks(asked, window, found)),
    )


def relief_gauge(job: Job) -> tuple[str, Gauge]:
    """The gauge on which relief is set, with its name: that of the system, else that of the operation."""
    system = job.profile.gauges.get("system")
    return ("system", system) if system else (job.task.turning.operation, job.gauge)


def machine_ends(job: Job) -> dict[str, float]:
    """The pressure that each part of a machine bears as it stands, Pa, by its name.

    The torque rating is among them as the pressure at which the highest efficiency reaches it, unless that
    lies beyond what is known of the machine.
    """
    profile, (_, shown_on) = job.profile, relief_gauge(job)
    ends = {f"rating of the {part}": rated for part, rated in profile.limits.rated.items()}
    for gauge in (job.gauge, shown_on):
        ends[f"span of gauge {gauge.serial}"] = gauge.last_reading
    rating = _pressure_at(job, profile.limits.torque_rating)
    if rating is not None:
        ends[TORQUE_RATING] = rating
    part = profile.loaded.get("grip_cylinder")
    if part and profile.loaded.get("grip_supply") == "common":
        ends["rating of the grip cylinder"] = part["rated_pressure"]
        if jaws := profile.loaded.get("jaws"):
            squeeze = jaws["rated_squeeze"]
            ends["rated squeeze of the jaws"] = pressure_for_squeeze(grip_cylinder_of(part), squeeze)
    return ends


def highest_need(job: Job, relief: Relief, policy: Policy) -> float:
    """The highest pressure that relief lets through with its margin and overloads no part, Pa; may be < 0."""
    margin, _ = _margin(policy)
    cracking, (_, gauge) = min(relief.highest, highest_relief(job, relief)), relief_gauge(job)
    if not relief.fixed:
        step = gauge.division * gauge.unit_in_si
        cracking = floor(cracking / step * (1 + NOISE)) * step
    return cracking / (1 + margin)


def highest_relief(job: Job, relief: Relief) -> float:
    """The highest cracking pressure at which full flow overloads no part of the machine, Pa; may be < 0."""
    return min(machine_ends(job).values()) - relief.override


def _pressure_at(job: Job, torque: float) -> float | None:
    """The reading at which the highest efficiency gives a torque, Pa; None where that is not known."""
    try:
        return job.reading(torque, job.machine.efficiency.high)
    except NoAnswer as no_answer:
        if any(fault.code != "outside_calibration" for fault in no_answer.faults):
            raise
        return None


def _joint_limit_pressure(asked: _Question) -> Knowable[float]:
    """The pressure at the limit of the joint, Pa.

    Where that lies beyond the calibration of the machine its last pressure stands in: up to there the joint
    is not overloaded.
    """
    if asked.joint_limit is None:
        return NotKnown("no maximum torque and no torsional yield of this joint are known or accepted")
    if (pressure := _pressure_at(asked.job, asked.joint_limit)) is not None:
        return Known(pressure, asked.joint_limit_is)
    last = asked.job.known_readings[1]
    at_last = asked.torque_at(last)
    if at_last is not None and at_last <= asked.joint_limit:
        return Known(last, "end of the calibration")
    return NotKnown("the pressure at the limit of this joint is not known of this machine")


def _margin(policy: Policy) -> tuple[float, Assumption]:
    if policy.relief_margin is not None:
        return policy.relief_margin, policy.assumed("relief_margin", f"{policy.relief_margin:g}")
    reason = "common practice, no source: the policy of the shop gives no relief_margin"
    return USUAL_MARGIN, Assumption("relief_margin", f"{USUAL_MARGIN:g}", reason)


SUPPLIES = {
    "separate": "the grip has a supply of its own",
    "locked": "the pressure of the grip is locked in before the arm moves",
}
NO_FRICTION = "no grip_friction and grip_margin are given"
NO_DIAMETER = "no gripped_outside_diameter is known"
NO_CYLINDER = "the profile of this machine gives no grip_cylinder"
UNCOUNTED = {
    NO_FRICTION: "Give the friction and the margin of the grip.",
    NO_DIAMETER: "Give the outside diameter in the grip.",
    NO_CYLINDER: "Find the pressure that the grip needs. Set relief above it.",
}
"""Why the pressure of a grip on a common supply is not counted, and what to do."""


def grip_pressure_of(job: Job, torque: float, values: Mapping[str, Any]) -> Knowable[float]:
    """The pressure of a grip on a common supply for a torque (N.m) with its margin, Pa.

    Friction and margin are those of the request, never assumed.
    """
    loaded = job.profile.loaded
    supply = loaded.get("grip_supply")
    if supply != "common":
        return NotKnown(SUPPLIES.get(supply or "", "the profile of this machine names no supply of a grip"))
    friction, margin = values.get("grip_friction"), values.get("grip_margin")
    if "grip_cylinder" not in loaded:
        return NotKnown(NO_CYLINDER)
    if friction is None or margin is None:
        return NotKnown(NO_FRICTION)
    if job.task.gripped_diameter is None:
        return NotKnown(NO_DIAMETER)
    squeeze = squeeze_for_torque(torque, job.task.gripped_diameter / 2, friction, margin)
    return Known(pressure_for_squeeze(grip_cylinder_of(loaded["grip_cylinder"]), squeeze))


def _findings(asked: _Question, found: ReliefSetting) -> Iterator[Finding]:
    grip = asked.grip_pressure
    if grip.reason in UNCOUNTED:
        yield Finding(
            level="stop",
            code="grip_pressure_not_counted",
            text="Grip and arm share one supply. The grip can need more pressure than relief lets through.",
            step="relief",
            remedy=UNCOUNTED[grip.reason],
        )
    elif grip.value is not None and grip.value > asked.setting:
        yield Finding(
            level="note",
            code="grip_sets_relief",
            text="Relief is set for the grip: it needs {value}, more than the setting {limit}.",
            step="relief",
            value=asked.job.gauge.amount(grip.value),
            limit=asked.job.gauge.amount(asked.setting),
        )
    torque = asked.torque_at(found.full_flow)
    if torque is None:
        yield Finding(
            level="look",
            code="relief_beyond_calibration",
            text="Relief passes full flow at {value}. The torque is known up to {limit} only.",
            step="relief",
            remedy="Have the machine calibrated up to that pressure.",
            value=asked.dial.amount(found.full_flow),
            limit=asked.dial.amount(asked.job.known_readings[1]),
        )
    told = asked.job.making_up or asked.joint_limit is not None
    if found.protects == "machine" and grip.reason not in UNCOUNTED and told:
        yield _limit_alone_holds(asked, found.full_flow, torque)


FAR_BEYOND = 1.5
"""Torque at full relief flow over the limit of a joint whose yield is not known, from which on it is more
than a note (own judgement)."""


def _is_usual(asked: _Question, torque: float | None) -> bool:
    """Whether full flow goes beyond the limit of the joint by no more than margin and override must.

    With a window of 10 % above a minimum, as a collar has, relief can never protect the joint: a margin of
    10 % alone is more than the window leaves. That is so of most make-ups, and tells nothing of this one.
    Where it reaches the yield of the joint, it does.
    """
    if torque is None or asked.joint_limit is None:
        return False
    if asked.torsional_yield is not None:
        return torque < asked.torsional_yield
    return torque < FAR_BEYOND * asked.joint_limit


def _limit_alone_holds(asked: _Question, full_flow: float, torque: float | None) -> Finding:
    """The finding that relief does not protect the joint, with the torque it lets through."""
    holds, remedy = "Only the make-up limit holds it.", "Prove the limit with open grips first."
    if not asked.job.making_up:
        holds, remedy = "Relief does not hold it.", "Raise the pressure slowly up to do_not_exceed."
    amounts = {"pressure": asked.dial.amount(full_flow)}
    gives = "At system pressure {pressure} this machine gives {value}"
    limit, yields = asked.joint_limit, asked.torsional_yield
    if torque is None:
        gives = "At system pressure {pressure} the torque of this machine is not known"
    elif yields is not None and torque >= yields:
        gives += "; the joint yields at {yield}"
        amounts["yield"] = Amount("torque", yields)
    elif limit is not None:
        gives += f", {torque / limit:.3g} times this joint's {asked.joint_limit_is}"
    else:
        gives += "; no maximum of this joint is known"
    return Finding(
        level="note" if _is_usual(asked, torque) else "look",
        code="limit_alone_holds",
        text=f"{gives}. {holds}",
        step="limit" if asked.job.making_up else "break_out",
        remedy=remedy,
        value=None if torque is None else Amount("torque", torque),
        limit=None if limit is None else Amount("torque", limit),
        amounts=amounts,
    )


def _checks(asked: _Question, window: ReliefWindow, found: ReliefSetting) -> Iterator[Check]:
    yield at_least(
        name="relief_above_need",
        text="relief cracks at {value}, at least {limit}: the pressure needed with its margin",
        shown=asked.dial.amount,
        value=found.cracking,
        limit=window.lower,
    )
    yield at_most(
        name="relief_below_machine",
        text=f"relief cracks at {{value}}, at most {{limit}}: the {window.ended_by} less the override",
        shown=asked.dial.amount,
        value=found.cracking,
        limit=window.upper_machine,
    )
    torque, rating = asked.torque_at(found.full_flow), asked.job.profile.limits.torque_rating
    if torque is None:
        text = "the torque at full relief flow is not known"
        yield Check(name="relief_torque", verdict="not_checked", text=text)
    else:
        yield at_most(
            name="relief_torque",
            text="torque at full relief flow and the highest efficiency {value} against the torque rating of "
            "the machine {limit}",
            kind="torque",
            value=torque,
            limit=rating,
            bad="caution",
        )
    if window.upper_joint is not None:
        yield at_most(
            name="relief_below_joint",
            text="relief cracks at {value}; it protects the joint too up to {limit}",
            shown=asked.dial.amount,
            value=found.cracking,
            limit=window.upper_joint,
            bad="caution",
        )
