"""What a foreman would say of a make-up that was read, beside the two judgements of it."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.engineering.checks import Amount, Finding
from api.engineering.gauges.gauge import inside
from api.engineering.machines.aim import Goal
from api.engineering.machines.verdict import Judged, Told


def verdict_findings(
    told: Told,
    judged: Judged,
    values: Mapping[str, Any],
    torsional_yield: float | None,
    ordered_torque: float | None,
) -> Iterator[Finding]:
    """What is to be settled before the joint is used, or looked at.

    Args:
        told: what was read and seen.
        judged: the torque.
        values: of the request: ``slips``, ``limit_proved``.
        torsional_yield: torque at which the joint yields, N.m; None where not known.
        ordered_torque: nominal torque at the mark that the request says was ordered, N.m; None without one.
    """
    if torsional_yield is not None and judged.estimate >= torsional_yield:
        yield _yield_reached(judged.estimate, torsional_yield)
    if told.zero is not None and told.zero_off:
        yield _gauge_zero_off(told, told.zero)
    if ordered_torque is not None and not inside(ordered_torque, judged.minimum, judged.maximum):
        yield _ordered_outside(ordered_torque, judged)
    if slips := values.get("slips"):
        yield _grip_slipped(slips)
    if values.get("limit_proved") is False:
        yield Finding(
            level="look",
            code="limit_not_proved",
            text="The make-up limit was not proved with open grips before this joint.",
            step="limit",
            remedy="Prove it before the next joint.",
        )


def far_from_target(judged: Judged, goal: Goal) -> Iterator[Finding]:
    """Tells a torque that no end of a window refuses, but that lies far from the target."""
    missing = " and ".join(
        name for name, end in (("minimum", goal.minimum), ("maximum", goal.maximum)) if end is None
    )
    yield Finding(
        level="look",
        code="far_from_target",
        text=f"The torque {{value}} is more than {100 * goal.farthest:.3g} % from the target {{limit}}. "
        f"No {missing} is known that would judge it.",
        step="verdict",
        remedy="Accept it only if whoever planned the joint does.",
        value=Amount("torque", judged.estimate),
        limit=Amount("torque", goal.target),
    )


def _yield_reached(torque: float, limit: float) -> Finding:
    return Finding(
        level="stop",
        code="yield_reached",
        text="The torque {value} reached the torsional yield of the joint, {limit}.",
        step="verdict",
        remedy="Quarantine both members.",
        value=Amount("torque", torque),
        limit=Amount("torque", limit),
    )


def _gauge_zero_off(told: Told, zero: float) -> Finding:
    return Finding(
        level="stop",
        code="gauge_zero_off",
        text="At rest the gauge reads {value}, where at most {limit} is taken.",
        step="read",
        remedy="Use no reading of this gauge until it is checked.",
        value=told.gauge.amount(zero),
        limit=told.gauge.amount(told.allowed_at(0.0)),
    )


def _ordered_outside(torque: float, judged: Judged) -> Finding:
    low = judged.minimum is not None and torque < judged.minimum
    end, limit = ("minimum", judged.minimum) if low else ("maximum", judged.maximum)
    assert limit is not None  # the torque lies beyond it
    return Finding(
        level="look",
        code="ordered_mark_outside_window",
        text=f"The ordered mark gives {{value}}. The {end} of the joint is {{limit}}.",
        step="verdict",
        remedy="Ask /v1/pressure for the mark of this joint.",
        value=Amount("torque", torque),
        limit=Amount("torque", limit),
    )


def _grip_slipped(slips: int) -> Finding:
    times = "once" if slips == 1 else f"{slips} times"
    return Finding(
        level="look",
        code="grip_slipped",
        text=f"The grip slipped {times}.",
        step="grip",
        remedy="Look at dies and pipe for damage before the next joint.",
        value=Amount("number", float(slips)),
    )
