"""The make-up torque of casing and tubing with round threads, with its strengths, findings and working.

16, 18-5/8 and 20 in casing keeps its optimum as target, which the tables print; that the minimum is the guide
is a finding.

Minimum and maximum of catalogue pipe are the narrower of 75 and 125 % of the exact optimum and the printed
limits, so that no setting falls below the printed minimum. Pipe given by its dimensions has no printed row.

A `compound_friction_factor` is refused with its reason, in a batch too, where it would otherwise be carried
along unread.
"""

# ruff: noqa: E501  # a table

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.shop import Shop
from api.answers.standing_notices import (
    COMPUTED,
    NEW_THREADS,
    PIPE_IN_HAND,
    ROUND_THREAD_BREAK_OUT,
    SPIN_IN,
    TORQUE_AND_POSITION,
)
from api.answers.tubular.position import made_up_position, to_vanish_point
from api.answers.tubular.request import Joint, joint_from
from api.engineering.checks import Finding
from api.engineering.provenance import Knowable, Known, NotKnown, Source, weakest_status
from api.engineering.torque_window import End, TorqueWindow, widened
from api.engineering.tubular.round_thread import (
    RoundThreadMakeUp,
    make_up,
    narrower_ends,
    printed_torque,
    yield_strength_of_section,
)
from api.engineering.working import Step

_5C3 = "API Bul 5C3 cl. 4.1"
_PIPE = "API 5B and 5CT, or as given"

ROUND_THREAD_STEPS = (
    Step("D", "outside diameter that the thread is cut on", "from the table, or as given", "thread.D", "length", _PIPE),
    Step("d", "inside diameter below the thread", "from the table, or as given", "thread.d", "length", _PIPE),
    Step("h", "thread height", "from the table, or as given", "thread.h", "length", _PIPE),
    Step("L", "engaged length", "L4 - M, or as given", "thread.L", "length", _PIPE),
    Step("Yp", "minimum yield strength", "from the table, or as given", "thread.Yp", "stress", _PIPE),
    Step("Up", "minimum tensile strength", "from the table, or as given", "thread.Up", "stress", _PIPE),
    Step("Ajp", "area under the last perfect thread", "0.7854 ((D - 2 h)^2 - d^2)", "made_up.Ajp", "area", _5C3),
    Step("Pu", "fracture strength", "0.95 Ajp Up", "made_up.fracture", "force", _5C3),
    Step("P", "pull-out strength (D and L in inches)", "0.95 Ajp L (0.74 D^-0.59 Up / (0.5 L + 0.14 D) + Yp / (L + 0.14 D))", "made_up.pull_out", "force", _5C3),
    Step("T0", "optimum torque of the table", "0.01 ft P", "made_up.optimum", "torque", "ISO 10405:2000 4.3.4"),
    Step("T", "optimum torque", "T0, times torque_adjustment where it is asked for", "window.target.torque.value", "torque", "API RP 5C1, notes"),
    Step("Tmin", "minimum torque", "0.75 T, or as printed where higher", "window.minimum.torque.value", "torque", "API RP 5C1"),
    Step("Tmax", "maximum torque", "1.25 T, or as printed where lower", "window.maximum.torque.value", "torque", "API RP 5C1"),
)  # fmt: skip


TUBING_STRENGTH = Source(
    "strength of a tubing joint, a yield strength", "reprint", "API Bul 5C3 cl. 4.4 (ISO/TR 10400)"
)


NO_PRODUCT = NotKnown(
    "for casing the lesser of fracture and pull-out, for tubing a yield strength: which is not said"
)
NO_BOX = NotKnown("tubing: yield of the weaker of pin and box, and the box is not held here")


@dataclass(frozen=True)
class Strength:
    """The joint strength as it is published, N, and what governs it."""

    force: Knowable[float]
    governing_mode: Knowable[str]
    source: Source | None = None


def joint_strength(joint: Joint, made_up: RoundThreadMakeUp) -> Strength:
    """The strength of the joint as published, which is not what its torque goes by."""
    thread, tubular = joint.thread, joint.tubular
    if tubular is None:
        return Strength(NO_PRODUCT, NO_PRODUCT)
    match tubular.thread_type:
        case "NUE":
            force = yield_strength_of_section(thread.D - 2 * thread.h, thread.d, thread.Yp)
            text = "tubing: yield under the last perfect thread"
            return Strength(Known(force, text), Known("yield"), TUBING_STRENGTH)
        case "EUE":
            force = yield_strength_of_section(tubular.outside_diameter, thread.d, thread.Yp)
            text = "tubing: yield of the pipe body, the upset being stronger"
            return Strength(Known(force, text), Known("yield"), TUBING_STRENGTH)
        case "IJ":
            return Strength(NO_BOX, NO_BOX)
    mode = "fracture" if made_up.fracture < made_up.pull_out else "pull_out"
    text = "casing: the lesser of fracture and pull-out"
    return Strength(Known(min(made_up.fracture, made_up.pull_out), text), Known(mode))


TRIANGLE = ("H40", "J55", "K55")
"""Grades whose round thread carries a triangle stamp in those sizes (API RP 5C1 4.4)."""
ROUND_THREAD_NOTICES = (
    COMPUTED,
    TORQUE_AND_POSITION,
    NEW_THREADS,
    SPIN_IN,
    PIPE_IN_HAND,
    ROUND_THREAD_BREAK_OUT,
)
"""What holds for every round-thread joint."""
LARGE = Finding(
    level="look",
    code="made_up_to_position",
    text="Make up 16, 18-5/8 and 20 in casing to the vanish point. The minimum torque is only a guide "
    "(API RP 5C1, from memory).",
    step="make_up",
    remedy="Do not make up to the optimum torque, here the target, alone.",
)
TRIANGLE_AID = Finding(
    level="note",
    code="triangle_stamp",
    text="In this size and grade a 3/8 in triangle stands 1/16 in beyond L1 from the pipe end. It is an aid "
    "and no basis to accept the joint (from memory).",
    step="make_up",
)
UNKNOWN_PIPE = Finding(
    level="look",
    code="pipe_as_given",
    text="The dimensions are as given. Dialset cannot confirm that this is an API thread. It does not know "
    "the made-up position.",
    step="identify",
    remedy="Make sure that thread and dimensions are those of this pipe.",
)


def findings_for(joint: Joint, operation: str | None) -> Iterator[Finding]:
    """What is to be looked at in this joint; making up unless the operation is ``break_out``."""
    if operation != "break_out" and to_vanish_point(joint):
        yield LARGE
        if joint.grade and joint.grade.name in TRIANGLE:
            yield TRIANGLE_AID
    if joint.tubular is None:
        yield UNKNOWN_PIPE
    if joint.grade and joint.grade.note:
        yield Finding(
            level="note",
            code="pipe_grade_note",
            text=f"Grade {joint.grade.name}: {joint.grade.note}.",
            step="identify",
        )


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

NO_PRELOAD = NotKnown(
    "not defined: a round thread has no torque shoulder; its make-up is radial interference, no axial preload"
)
NOT_OF_TUBING = NotKnown(
    "API gives the fracture equation for casing; the strength of tubing is a yield strength"
)
UNDER_LAST_THREAD = "of the pipe under the last perfect thread"


@dataclass(frozen=True)
class RoundThreadResult:
    """The results of one round-thread joint, SI; ``factor`` is the adjustment asked for, else 1."""

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
    narrowed = joint.tubular is not None
    lowest, highest = narrower_ends(made_up) if narrowed else (made_up.minimum, made_up.maximum)
    as_printed = ", or as printed where that is narrower" if narrowed else ""
    target = Known(factor * made_up.optimum, f"1 % of the pull-out strength, as ft-lb of lbf{adjusted}")
    goal = End(target, status)
    return TorqueWindow(
        minimum=End(Known(factor * lowest, f"75 % of the optimum{as_printed}{adjusted}"), ends),
        target=goal,
        maximum=End(Known(factor * highest, f"125 % of the optimum{as_printed}{adjusted}"), ends),
        sources=(*sources, ENDS),
        assumptions=joint.assumptions,
        findings=tuple(findings_for(joint, operation)),
    )


def round_thread_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/torque/round-thread``."""
    computed = round_thread_result(values)
    joint, made_up, window = computed.joint, computed.made_up, shop.confirmed(computed.window)
    strength, position = joint_strength(joint, made_up), made_up_position(joint)
    result = {
        "torque": window,
        "published_rounding": _printed(computed, window),
        "torque_adjustment": joint.adjustment,
        "torque_adjustment_factor": computed.factor,
        "area_under_last_perfect_thread": made_up.Ajp,
        "engaged_length": joint.thread.L,
        "pull_out_strength": made_up.pull_out,
        "fracture_strength": NOT_OF_TUBING
        if joint.product == "tubing"
        else Known(made_up.fracture, UNDER_LAST_THREAD),
        "joint_strength": strength.force,
        "governing_mode": strength.governing_mode,
        "preload": NO_PRELOAD,
        "made_up_position": position,
        "dimensions": joint.thread,
        "size": joint.tubular and joint.tubular.size,
        "weight": joint.tubular and joint.tubular.weight,
        "pipe_grade": joint.grade and joint.grade.name,
        "thread_type": joint.tubular and joint.tubular.thread_type,
    }
    beside = (*([strength.source] if strength.source else ()), *position.sources)
    return Answer(
        result=result,
        sources=(*window.sources, *beside),
        status=window.target.status,
        assumptions=window.assumptions,
        findings=window.findings,
        working={"thread": joint.thread, "made_up": made_up, "window": window},
        steps=ROUND_THREAD_STEPS,
    )


def _printed(computed: RoundThreadResult, window: TorqueWindow) -> Knowable[Mapping[str, Any]]:
    """The row as tables print it, without ends that the shop does not accept."""
    if computed.joint.adjustment:
        return NotKnown("the tables print the torque without torque_adjustment")
    printed = printed_torque(computed.made_up.optimum)
    row = {
        "optimum": printed.optimum,
        "minimum": _printed_end(window.minimum, printed.minimum),
        "maximum": _printed_end(window.maximum, printed.maximum),
    }
    return Known(row, "optimum to the nearest 10 ft-lb, minimum and maximum 75 and 125 % of that, halves up")


def _printed_end(end: End, printed: float) -> Knowable[float]:
    return end.torque if end.torque.value is None else Known(printed)
