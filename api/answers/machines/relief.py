"""The relief of a machine for a job: what to set it to, what it then protects, and what it does not.

Where grip and arm share one supply, relief must let through what the grip needs too. That pressure is counted
only with a friction and a margin that were given.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import floor
from typing import Any

from api.answers.grip.holding import grip_cylinder_of
from api.answers.machines.job import Job
from api.answers.shop import Policy
from api.engineering.checks import NOISE, Amount, Check, Finding, at_least, at_most
from api.engineering.gauges.gauge import Gauge, Reading
from api.engineering.grip.squeeze import pressure_for_squeeze, squeeze_for_torque
from api.engineering.machines.relief import (
    USUAL_MARGIN,
    Relief,
    ReliefSetting,
    ReliefWindow,
    let_through,
    relief_setting,
    relief_window,
    suitable_setting,
)
from api.engineering.machines.setup import Setup
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, known


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
class JobRelief:
    """The relief of a machine for a job, whatever its mark. What no mark changes is worked out once.

    Attributes:
        job: machine, gauge and task.
        relief: its valve.
        joint_limit: maximum of the joint, or its yield where it has none, N.m; None where not known.
        joint_limit_is: what that is, in a word: ``maximum`` or ``yield``.
        torsional_yield: of the joint, N.m; None where not known.
        values: the loaded request, of which ``grip_friction`` and ``grip_margin`` are read.
        policy: rules of the shop.
        withheld: whether the limit of the joint is not sure enough to be told; it limits all the same.
    """

    job: Job
    relief: Relief
    joint_limit: float | None
    joint_limit_is: str
    torsional_yield: float | None
    values: Mapping[str, Any]
    policy: Policy
    withheld: bool = False

    def can_protect(self, p_set: float, torque: float) -> bool:
        """Whether the valve can be set for a mark; the arguments are those of `at`."""
        grip = grip_pressure_of(self.job, torque, self.values).value
        return suitable_setting(self.relief, self._window(p_set, grip, None), self.dial) is not None

    def at(self, p_set: float, torque: float) -> ReliefAnswer:
        """The relief for a mark.

        Args:
            p_set: reading of the mark aimed at; at a break-out that of the high expectation, Pa.
            torque: torque there, which the grip must hold, N.m.

        Raises:
            NoAnswer: ``relief_cannot_protect`` with the window and what would make it possible.
        """
        grip = grip_pressure_of(self.job, torque, self.values)
        joint_limit = self._joint_limit_pressure
        window, without_grip = self._window(p_set, grip.value, joint_limit.value), None
        if grip.value is not None and grip.value > p_set:
            without_grip = self._window(p_set, None, joint_limit.value)
        found = relief_setting(self.relief, window, self.dial, without_grip)
        torque_at_full_flow = self.torque_at(found.full_flow)
        upper_joint: Knowable[float] = joint_limit
        if self.withheld:
            why = f"withheld: the {self.joint_limit_is} of this joint, which this service does not accept"
            upper_joint = NotKnown(why)
        elif joint_limit.value is not None:
            upper_joint = Known(joint_limit.value - self.relief.override, joint_limit.basis)
        uncounted = None
        if grip.reason in UNCOUNTED:
            uncounted = NotKnown(f"{grip.reason}; grip and arm share one supply")
        return ReliefAnswer(
            lower=window.lower,
            upper_joint=upper_joint,
            upper_machine=Known(window.upper_machine, window.ended_by),
            set_to=uncounted or known(found.mark, "the relief valve of this machine is fixed"),
            gauge=self.dial.serial,
            gauge_read="system" if "system" in self.job.profile.gauges else self.job.task.turning.operation,
            cracking=uncounted or Known(found.cracking),
            full_flow=uncounted or Known(found.full_flow),
            override=self.relief.override,
            protects=uncounted or Known(found.protects),
            lets_through=let_through(found.cracking, _margin(self.policy)),
            grip_pressure=grip,
            findings=tuple(_findings(self, p_set, grip, found, torque_at_full_flow)),
            assumptions=(_margin_assumed(self.policy),),
            checks=tuple(_checks(self, window, found, torque_at_full_flow)),
        )

    @property
    def dial(self) -> Gauge:
        """The gauge on which relief is set."""
        return self.job.setup.relief_dial

    def torque_at(self, reading: float) -> float | None:
        """Torque at the highest efficiency, N.m; None where it is not known."""
        low, high = self.job.setup.known_readings
        return (
            self.job.setup.torque_at(self.job.machine.efficiency.high, reading)
            if low <= reading <= high
            else None
        )

    def _window(self, p_set: float, grip: float | None, joint_limit: float | None) -> ReliefWindow:
        needed, ends = max(p_set, grip or 0.0), self.job.setup.lowest_end
        return relief_window(needed, _margin(self.policy), self.relief.override, joint_limit, ends)

    @cached_property
    def _joint_limit_pressure(self) -> Knowable[float]:
        """The pressure at the limit of the joint, Pa.

        Where that lies beyond the calibration of the machine its last pressure stands in: up to there the
        joint is not overloaded.
        """
        if self.joint_limit is None:
            return NotKnown("no maximum torque and no torsional yield of this joint are known or accepted")
        pressure = self.job.setup.reading_if_known(self.joint_limit, self.job.machine.efficiency.high)
        if pressure is not None:
            return Known(pressure, self.joint_limit_is)
        last = self.job.setup.known_readings[1]
        at_last = self.torque_at(last)
        if at_last is not None and at_last <= self.joint_limit:
            return Known(last, "end of the calibration")
        return NotKnown("the pressure at the limit of this joint is not known of this machine")


def relief_of(
    job: Job,
    joint_limit: float | None,
    values: Mapping[str, Any],
    policy: Policy,
    joint_limit_is: str = "maximum",
    torsional_yield: float | None = None,
    *,
    withheld: bool = False,
) -> JobRelief | None:
    """The relief of a machine for a job; None without a valve. The arguments are those of `JobRelief`."""
    relief = job.profile.limits.relief
    if relief is None or job.gauge.quantity != "pressure":
        return None
    return JobRelief(job, relief, joint_limit, joint_limit_is, torsional_yield, values, policy, withheld)


def highest_need(setup: Setup, relief: Relief, policy: Policy) -> float:
    """The highest pressure that relief lets through with its margin and overloads no part, Pa; may be < 0."""
    cracking, gauge = min(relief.highest, highest_relief(setup, relief)), setup.relief_dial
    if not relief.fixed:
        step = gauge.division * gauge.unit_in_si
        cracking = floor(cracking / step * (1 + NOISE)) * step
    return let_through(cracking, _margin(policy))


def highest_relief(setup: Setup, relief: Relief) -> float:
    """The highest cracking pressure at which full flow overloads no part of the machine, Pa; may be < 0."""
    return min(setup.lowest_end.values()) - relief.override


def _margin(policy: Policy) -> float:
    """The share by which relief cracks above the pressure needed."""
    return USUAL_MARGIN if policy.relief_margin is None else policy.relief_margin


def _margin_assumed(policy: Policy) -> Assumption:
    if policy.relief_margin is not None:
        return policy.assumed("relief_margin", f"{policy.relief_margin:g}")
    reason = "common practice, no source: the policy of the shop gives no relief_margin"
    return Assumption("relief_margin", f"{USUAL_MARGIN:g}", reason)


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


def _findings(
    asked: JobRelief, p_set: float, grip: Knowable[float], found: ReliefSetting, torque: float | None
) -> Iterator[Finding]:
    if grip.reason in UNCOUNTED:
        yield Finding(
            level="stop",
            code="grip_pressure_not_counted",
            text="Grip and arm share one supply. The grip can need more pressure than relief lets through.",
            step="relief",
            remedy=UNCOUNTED[grip.reason],
        )
    elif grip.value is not None and grip.value > p_set:
        yield Finding(
            level="note",
            code="grip_sets_relief",
            text="Relief is set for the grip: it needs {value}, more than the setting {limit}.",
            step="relief",
            value=asked.job.gauge.amount(grip.value),
            limit=asked.job.gauge.amount(p_set),
        )
    if torque is None:
        yield Finding(
            level="look",
            code="relief_beyond_calibration",
            text="Relief passes full flow at {value}. The torque is known up to {limit} only.",
            step="relief",
            remedy="Have the machine calibrated up to that pressure.",
            value=asked.dial.amount(found.full_flow),
            limit=asked.dial.amount(asked.job.setup.known_readings[1]),
        )
    told = asked.job.making_up or asked.joint_limit is not None
    if found.protects == "machine" and grip.reason not in UNCOUNTED and told:
        yield _limit_alone_holds(asked, found.full_flow, torque)


FAR_BEYOND = 1.5
"""Torque at full relief flow over the limit of a joint whose yield is not known, from which on it is more
than a note (own judgement)."""


def _is_usual(asked: JobRelief, torque: float | None) -> bool:
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


def _limit_alone_holds(asked: JobRelief, full_flow: float, torque: float | None) -> Finding:
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
    elif asked.withheld:
        gives += f", beyond this joint's {asked.joint_limit_is}, which is withheld"
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
        limit=None if limit is None or asked.withheld else Amount("torque", limit),
        amounts=amounts,
    )


def _checks(
    asked: JobRelief, window: ReliefWindow, found: ReliefSetting, torque: float | None
) -> Iterator[Check]:
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
            limit=asked.job.profile.limits.torque_rating,
            bad="caution",
        )
    if window.upper_joint is not None and not asked.withheld:
        yield at_most(
            name="relief_below_joint",
            text="relief cracks at {value}; it protects the joint too up to {limit}",
            shown=asked.dial.amount,
            value=found.cracking,
            limit=window.upper_joint,
            bad="caution",
        )
