"""What makes a machine in its task differ from the last job, whether its grip holds, and a gauge read low."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from api.answers.grip.holding import grip_cylinder_of
from api.answers.machines.job import Job
from api.answers.machines.relief import ReliefAnswer
from api.answers.shop import Policy
from api.engineering.checks import NOISE, Amount, Finding, Stage
from api.engineering.gauges.accuracy_class import GAUGE_CLASSES
from api.engineering.gauges.gauge import Gauge, working_range
from api.engineering.gauges.spans import smaller_spans
from api.engineering.grip.chain import chain_slip_torque
from api.engineering.grip.squeeze import pressure_for_squeeze, slip_torque
from api.engineering.machine_kinds.calibrated import PORTS, Calibrated
from api.engineering.machine_kinds.machine import Driven, Machine
from api.engineering.machines.aim import PASSES_FROM
from api.engineering.machines.cylinder import Turning
from api.engineering.machines.relief import USUAL_MARGIN
from api.engineering.provenance import Knowable
from api.engineering.uncertainty.budget import ANY


def job_findings(job: Job) -> Iterator[Finding]:
    """What makes a job differ from the last one on its machine."""
    turning = job.task.turning
    if not job.position_known:
        yield unknown_position(job.machine, turning)
    if isinstance(job.position, float):
        yield from _arm_not_square(job.machine, turning, job.position)
    yield from _left_hand(turning, job.machine.sides(turning), job.gauge, job.profile.kind.other_way)
    if job.gauge is not job.profile.gauges[turning.operation]:
        yield _other_gauge(job.gauge, turning)
    if job.setup.calibration_gauge and job.setup.calibration_gauge_unknown:
        yield _calibration_gauge_unknown(job.setup.calibration_gauge, job.gauge)
    yield from _reversibility(job.machine, turning)


def bending_findings(job: Job, reading: float) -> Iterator[Finding]:
    """What the side load at a reading (SI) does to the joint, where it opens its shoulder."""
    bending, allowed = job.bending(reading).value, job.bending_allowed.value
    if bending is not None and allowed is not None and bending > allowed:
        side_load = job.side_load(reading)
        assert side_load  # it bends the joint
        yield _bending_opens_shoulder(bending, allowed, side_load)


def stage_of(turning: Turning) -> Stage:
    """The stage at which the lever is pulled."""
    return "make_up" if turning.operation == "make_up" else "break_out"


def unknown_position(machine: Machine, turning: Turning) -> Finding:
    """An arm whose position nobody knows: the maximum holds, the minimum is not assured."""
    least, most = machine.torque_range(ANY, ANY, turning, "unknown")
    efficiency = machine.efficiency
    share = least / efficiency.low / (most / efficiency.high)
    return Finding(
        level="look",
        code="arm_position_unknown",
        text="Arm position unknown: the torque is for the largest moment arm of the stroke. "
        f"At the worst position it is {100 * (1 - share):.2g} % less. "
        "The maximum of the joint holds, its minimum is not assured.",
        step=stage_of(turning),
        remedy="Stand the arm square, or measure the rod that shows.",
        value=Amount("number", share),
    )


OFF_SQUARE = 0.01
"""Share of the largest moment arm that may be lost before an arm is told to stand off it (own judgement)."""


def _arm_not_square(machine: Machine, turning: Turning, length: float) -> Iterator[Finding]:
    """An arm that stands off square: what is set holds at that length of the cylinder (m) alone."""
    if machine.swing is None:
        return
    here, largest = (machine.swing.moment_arm(position) for position in (length, "unknown"))
    if here < largest * (1 - OFF_SQUARE):
        yield Finding(
            level="look",
            code="arm_not_square",
            text="The arm is not square. The moment arm {value} is "
            f"{100 * (1 - here / largest):.2g} % below the largest of the stroke, {{limit}}. "
            "What is set holds with the cylinder at {length} alone.",
            step=stage_of(turning),
            remedy="Measure the rod again before you pull the lever, or stand the arm square.",
            value=Amount("length", here),
            limit=Amount("length", largest),
            amounts={"length": Amount("length", length)},
        )


def _left_hand(turning: Turning, sides: Sequence[Driven], gauge: Gauge, other_way: str) -> Iterator[Finding]:
    """A left-hand thread: what is put under pressure, or how a machine without a side turns the other way."""
    if turning.thread_hand == "right":
        return
    text = "Left-hand: this machine must turn the other way than for a right-hand thread."
    if sides:
        text = f"Left-hand: pressure on {_driven(sides)}, read gauge {gauge.serial}."
    yield Finding(
        level="look",
        code="left_hand",
        text=text,
        step=stage_of(turning),
        remedy="Check both before you pull the lever." if sides else other_way,
    )


def _driven(sides: Sequence[Driven]) -> str:
    names = [f"port {side}" if side in PORTS else f"the {side} side" for side in sides]
    if len(names) == 1:
        return names[0]
    return f"{names[0]} of the first cylinder and {names[1]} of the second"


def _other_gauge(gauge: Gauge, turning: Turning) -> Finding:
    """A reading on the gauge of the other operation."""
    other = "break-out" if turning.operation == "make_up" else "make-up"
    return Finding(
        level="look",
        code="other_gauge",
        text=f"Gauge {gauge.serial} is that of {other}.",
        step="read",
        remedy="Make sure that it reads the driven side.",
    )


def _calibration_gauge_unknown(calibrated_on: str, gauge: Gauge) -> Finding:
    """A machine calibrated on a gauge that its profile does not describe."""
    return Finding(
        level="look",
        code="calibration_gauge_unknown",
        text=f"This side was calibrated on gauge {calibrated_on}, which the profile does not describe. "
        "Its error is missing from the bounds and from the uncertainty.",
        step="read",
        remedy=f"Read gauge {calibrated_on}, or have the machine calibrated on gauge {gauge.serial}.",
    )


def _reversibility(machine: Machine, turning: Turning) -> Iterator[Finding]:
    """A calibrated side that gives another torque coming down, by more than its certificate is sure of."""
    if not isinstance(machine, Calibrated):
        return
    measured = machine.measured.get(machine.side(turning))
    if measured and measured.reversibility is not None:
        sure = machine.expanded_uncertainty
        if abs(measured.reversibility) > sure:
            yield approach_from_below(measured.reversibility, sure, turning)


def approach_from_below(share: float, sure: float | None, turning: Turning) -> Finding:
    """What reversibility asks for; both as shares of the torque, ``sure`` where it is known."""
    more = "more" if share > 0 else "less"
    text = f"Coming down, this side gives {100 * abs(share):.3g} % {more} torque than going up."
    if sure is not None:
        text += f" The calibration is sure within {100 * sure:.3g} %."
    return Finding(
        level="note",
        code="approach_from_below",
        text=text,
        step=stage_of(turning),
        remedy="Approach the mark from below. After letting pressure back, start again.",
        value=Amount("number", share),
        limit=None if sure is None else Amount("number", sure),
    )


def _bending_opens_shoulder(bending: float, allowed: float, side_load: float) -> Finding:
    """Bending across the joint that opens its shoulder, N.m; with the spacing that would not."""
    return Finding(
        level="look",
        code="bending_opens_shoulder",
        text="The side load bends the joint with {value}. Its shoulder opens at {limit}.",
        step="prepare_pipe",
        remedy="Set the grips at most {spacing} apart, or support the pipe against the side load.",
        value=Amount("torque", bending),
        limit=Amount("torque", allowed),
        amounts={"spacing": Amount("length", allowed / side_load)},
    )


def held_torque(job: Job, values: Mapping[str, Any]) -> float | None:
    """The most torque that the grip holds with its margin, N.m; None where that is not known.

    Jaws hold up to their rated squeeze, and up to that of their cylinder at its rated pressure; a chain up to
    its rated load.

    Args:
        job: the machine and what it grips.
        values: of the request: ``grip_friction``, ``grip_margin``, never assumed.
    """
    friction, margin = values.get("grip_friction"), values.get("grip_margin")
    diameter = job.task.gripped_diameter
    if friction is None or margin is None or diameter is None:
        return None
    ends = [*_squeezes(job.profile.loaded)]
    torques = [slip_torque(squeeze, diameter / 2, friction) for squeeze in ends]
    if chain := job.profile.loaded.get("chain"):
        torques.append(chain_slip_torque(chain["rated_load"], diameter / 2, friction, chain["wrap"]))
    return min(torques) / margin if torques else None


def _squeezes(loaded: Mapping[str, Any]) -> Iterator[float]:
    """The squeezes at which a part of the grip ends, N."""
    if jaws := loaded.get("jaws"):
        yield jaws["rated_squeeze"]
    if part := loaded.get("grip_cylinder"):
        yield part["rated_pressure"] / pressure_for_squeeze(grip_cylinder_of(part), 1.0)


def grip_findings(job: Job, values: Mapping[str, Any], torque: float) -> Iterator[Finding]:
    """Tells a torque (N.m) that the grip does not hold."""
    held = held_torque(job, values)
    if held is not None and torque > held:
        yield Finding(
            level="stop",
            code="grip_cannot_hold",
            text="The torque can be {value}. The grip holds {limit} with its margin.",
            step="grip",
            remedy="Use a machine with a stronger grip, or jaws with more friction.",
            value=Amount("torque", torque),
            limit=Amount("torque", held),
        )


LARGE_ERROR = 0.05
"""Share of a reading above which the error of a gauge low on its dial is told (own judgement)."""


def gauge_low(job: Job, reading: float, least: float | None) -> Iterator[Finding]:
    """Tells a reading below a quarter of the span whose gauge may be off by much of it.

    Args:
        job: the machine and its gauge.
        reading: SI, > 0.
        least: the most that a smaller dial must bear, SI; None where nothing keeps the pointer on one.
    """
    gauge, error = job.gauge, job.setup.gauge_error(reading)
    quarter, _ = working_range(gauge)
    if reading >= quarter * (1 - NOISE) or error <= LARGE_ERROR * reading * (1 + NOISE):
        return
    share = 100 * reading / gauge.last_reading
    off = f"{100 * error / reading:.2g} % of it" if error < reading else "more than the reading itself"
    yield Finding(
        level="look",
        code="gauge_low",
        text=f"{{value}} is {share:.2g} % of the dial: the gauge may be off by {off}.",
        step="read",
        remedy=_remedy(job, reading, gauge.last_reading if least is None else least),
        value=gauge.amount(reading),
        limit=gauge.amount(quarter),
    )


def _remedy(job: Job, reading: float, least: float) -> str:
    gauge = job.gauge

    def does(other: Gauge) -> bool:
        error = job.setup.error_of(other, reading)
        return error <= LARGE_ERROR * reading * (1 + NOISE)

    for span in smaller_spans(gauge, max(least, reading)):
        if does(replace(gauge, span=span)):
            return f"A 0 to {span:.6g} {gauge.unit} gauge of {gauge.accuracy.name} would do."
    for accuracy in sorted(GAUGE_CLASSES.values(), key=lambda each: -each.at(reading, gauge.last_reading)):
        if does(replace(gauge, accuracy=accuracy)):
            return f"A gauge of {accuracy.name} would do."
    return "Use a smaller machine where there is one."


def capability_low(capability: Knowable[float], policy: Policy) -> Iterator[Finding]:
    """Tells a machine and gauge that can hardly prove the window, where the rule of the shop is guarded."""
    here = capability.value
    if here is None or here >= 1 or policy.decision_rule != "guarded":
        return
    never = here < PASSES_FROM
    proves = "can never pass here" if never else "passes only torques near the middle of the window"
    yield Finding(
        level="look",
        code="capability_low",
        text=f"Machine and gauge have a capability of {{value}} for this window. The guarded rule {proves}.",
        step="choose",
        remedy="Use a surer machine or a finer gauge: ask /v1/machine-choice for capability.",
        value=Amount("number", here),
        limit=Amount("number", 1.0),
    )


def relief_pressure(relief: ReliefAnswer | None) -> float | None:
    """The most that a gauge must bear, Pa: full flow of relief set as low as it may be.

    A mark of a finer dial may be lower than the one that is set. None without a valve, and where the pressure
    that the grip needs is not counted.
    """
    if relief is None or relief.cracking.value is None:
        return None
    lowest = relief.cracking.value if relief.set_to.value is None else relief.lower
    return lowest + relief.override


def most_pressure(job: Job, reading: float) -> float | None:
    """What a dial must bear if relief is set for a reading, SI; None for a machine without a valve."""
    relief = job.profile.limits.relief
    if relief is None:
        return None
    return max(relief.lowest, min(relief.highest, reading * (1 + USUAL_MARGIN))) + relief.override
