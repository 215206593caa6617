"""Make-up torque of an API round thread: the window, the strengths, the printed row, the position."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.round_thread_cautions import cautions_for
from api.answers.round_thread_position import made_up_position
from api.answers.round_thread_request import Joint, joint_from
from api.answers.round_thread_strength import Strength, joint_strength
from api.answers.shop import Shop
from api.answers.window import widened
from api.engineering.provenance import Source, weakest_status
from api.engineering.round_thread import RoundThreadMakeUp, make_up, printed_torque
from api.engineering.torque_window import End, TorqueWindow

OPTIMUM = Source(
    "optimum torque, 1 % of the pull-out strength", "read", "ISO 10405:2000 (API RP 5C1) 4.3.4 (public copy)"
)
PULL_OUT = Source(
    "pull-out and fracture strength of round threads",
    "reprint",
    "API Bul 5C3 cl. 4.1 (ISO/TR 10400 cl. 9), equations as reprinted",
)
ENDS = Source("minimum and maximum, 75 and 125 % of the optimum", "from memory", "API RP 5C1")
ADJUSTMENTS = {
    "tin_plated_coupling": (
        0.80,
        Source("80 % of the torque for a tin-plated coupling", "from memory", "API RP 5C1, notes"),
    ),
    "ptfe_ring": (0.70, Source("70 % of the torque for a PTFE ring", "from memory", "API RP 5C1, notes")),
}
"""What the torque is multiplied by, where that is asked for."""

NO_PRELOAD = (
    "not defined: a round thread has no torque shoulder; its make-up is radial interference, no axial preload"
)
NOT_OF_TUBING = "API gives the fracture equation for casing; the strength of tubing is a yield strength"


@dataclass(frozen=True)
class RoundThreadResult:
    """Everything computed for one joint, SI; ``factor`` is the adjustment asked for, else 1."""

    joint: Joint
    made_up: RoundThreadMakeUp
    factor: float
    window: TorqueWindow


def round_thread_window(values: Mapping[str, Any], _: Shop) -> TorqueWindow:
    """The torque window of a round thread from its loaded request."""
    return round_thread_result(values).window


def round_thread_result(values: Mapping[str, Any]) -> RoundThreadResult:
    """Compute one joint.

    Raises:
        NoAnswer: as `joint_from`, and ``tolerance_not_needed``.
    """
    joint = joint_from(values)
    made_up = make_up(joint.thread)
    factor, adjustment = ADJUSTMENTS[joint.adjustment] if joint.adjustment else (1.0, None)
    window = _window(joint, made_up, factor, adjustment, values.get("operation"))
    return RoundThreadResult(joint, made_up, factor, widened(window, values.get("torque_tolerance")))


def _window(
    joint: Joint, made_up: RoundThreadMakeUp, factor: float, adjustment: Source | None, operation: str | None
) -> TorqueWindow:
    adjusted = f"; {adjustment.what}, as asked for" if adjustment else ""
    sources = (OPTIMUM, PULL_OUT, *joint.sources, *([adjustment] if adjustment else ()))
    status = weakest_status(sources)
    ends = weakest_status((*sources, ENDS))
    return TorqueWindow(
        minimum=End(factor * made_up.minimum, f"75 % of the optimum{adjusted}", ends),
        target=End(
            factor * made_up.optimum, f"1 % of the pull-out strength, as ft-lb of lbf{adjusted}", status
        ),
        maximum=End(factor * made_up.maximum, f"125 % of the optimum{adjusted}", ends),
        sources=(*sources, ENDS),
        cautions=tuple(cautions_for(joint, operation)),
    )


def round_thread_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/torque/round-thread``."""
    computed = round_thread_result(values)
    joint, made_up, window = computed.joint, computed.made_up, shop.confirmed(computed.window)
    strength, position = joint_strength(joint, made_up), made_up_position(joint)
    result = {
        "torque": window,
        **_printed(computed, window),
        "torque_adjustment": joint.adjustment,
        "torque_adjustment_factor": computed.factor,
        "area_under_last_perfect_thread": made_up.Ajp,
        "engaged_length": joint.thread.L,
        **_strengths(joint, made_up, strength),
        "preload": None,
        "preload_reason": NO_PRELOAD,
        "made_up_position": position,
        "dimensions": joint.thread,
        "size": joint.tubular and joint.tubular.size,
        "weight": joint.tubular and joint.tubular.weight,
        "pipe_grade": joint.grade and joint.grade.name,
        "thread_type": joint.tubular and joint.tubular.thread_type,
    }
    beside = (*([strength.source] if strength.source else ()), *position.sources)
    return Answer(
        result,
        (*window.sources, *beside),
        window.target.status,
        window.assumptions,
        window.cautions,
        {"thread": joint.thread, "made_up": made_up, "window": window},
    )


def _printed(computed: RoundThreadResult, window: TorqueWindow) -> dict[str, Any]:
    """The row as tables print it, without ends that the shop does not accept."""
    if computed.joint.adjustment:
        reason = "the tables print the torque without torque_adjustment"
        return {"published_rounding": None, "published_rounding_reason": reason}
    reason = "optimum to the nearest 10 ft-lb, minimum and maximum 75 and 125 % of that, halves up"
    printed = printed_torque(computed.made_up.optimum)
    return {
        "published_rounding": {
            "optimum": printed.optimum,
            "minimum": None if window.minimum.torque is None else printed.minimum,
            "maximum": None if window.maximum.torque is None else printed.maximum,
        },
        "published_rounding_reason": reason,
    }


def _strengths(joint: Joint, made_up: RoundThreadMakeUp, strength: Strength) -> dict[str, Any]:
    tubing = joint.product == "tubing"
    return {
        "pull_out_strength": made_up.pull_out,
        "fracture_strength": None if tubing else made_up.fracture,
        "fracture_strength_reason": NOT_OF_TUBING if tubing else "of the pipe under the last perfect thread",
        "joint_strength": strength.force,
        "joint_strength_reason": strength.reason,
        "governing_mode": strength.governing_mode,
    }
