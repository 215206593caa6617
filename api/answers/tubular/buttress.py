"""Made-up position of API buttress casing: where its coupling face belongs, and whether it is there."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.shop import Shop
from api.answers.standing_notices import (
    BUTTRESS_BOTH,
    BUTTRESS_ONLY,
    BUTTRESS_QUESTIONABLE,
    BUTTRESS_SPIN_IN,
    COMPUTED,
)
from api.engineering.checks import Amount, Finding, refuse
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, Source, weakest_status
from api.engineering.tubular.make_up_position import (
    LEAD,
    TRIANGLE_SIDE,
    FaceWindow,
    face_window,
    position_of_face,
    triangle_height,
    turns_to_base,
)
from api.engineering.working import Step
from api.reference.buttress import BUTTRESS, ButtressSize, near_buttress_sizes
from api.reference.nominal_size import size_key

TRIANGLE = Source("triangle stamp, 3/8 in, equilateral", "read", "API 5B, errata (public copy)")
WINDOW = Source(
    "coupling face accepted from one thread turn short of the base to the apex; mill end until the apex",
    "reprint",
    "make-up rule of API buttress casing (public reprint)",
)
NO_TORQUE = Source("no table torque for buttress", "from memory", "API TR 5C3 and API RP 5C1")
BOTH_JUDGED = Source("torque and position are both judged", "from memory", "API RP 5C1")
HEIGHT = Assumption(
    "triangle_height",
    "0.3248 in",
    "3/8 in is taken as the side of the equilateral stamp, so that its height is 3/8 in times sqrt(3)/2. "
    "Were 3/8 in the height, the apex would be at 0.375 in; the smaller is used",
)
BUTTRESS_STEPS = (
    Step("A1", "pipe end to base of the triangle", "from the table", "base", "length", "API 5B"),
    Step("s", "side of the triangle", "3/8 in", "side", "length", "API 5B"),
    Step("h", "base to apex", "s sqrt(3) / 2", "height", "length", "geometry"),
    Step("p", "one thread turn", "1 in / 5", "lead", "length", "API 5B"),
    Step("x1", "accepted short of base", "p; 0 from 16 in up", "window.short_of_base", "length", "RP 5C1"),
    Step("x2", "accepted past base", "h", "window.past_base", "length", "RP 5C1"),
)  # fmt: skip
BUTTRESS_NOTICES = (COMPUTED, BUTTRESS_BOTH, BUTTRESS_QUESTIONABLE, BUTTRESS_SPIN_IN, BUTTRESS_ONLY)
"""What holds for every position of a buttress joint."""
MILL_END = (
    "rotation of the mill end while the field end is made up is tolerated until its coupling face reaches "
    "the apex of the triangle"
)
NO_TABLE_TORQUE = NotKnown(
    "API publishes no torque for buttress: it is made up to a position. One per cent of the joint strength "
    "is a rule of round threads and no buttress torque. Find the torque by trial make-ups of the same size, "
    "weight and grade: /v1/trial-make-up/buttress"
)
NO_PRELOAD = NotKnown(
    "not defined: a buttress joint has no torque shoulder, its make-up is radial interference and no axial "
    "preload"
)
BASES = {
    "short": "more than one thread turn short of the base: not made up yet",
    "within_one_turn": "short of the base by one thread turn at most",
    "base_to_apex": "at the base of the triangle or past it, and not past the apex",
    "past_apex": "past the apex of the triangle: made up too far",
}
TO_BASE = (
    "short of the base: 16 in and larger are made up to the base of the triangle, and that one turn short is "
    "accepted is not said of them"
)
NOT_MEASURED = NotKnown("no face was measured: give face_short_of_base or face_past_base")


def buttress_size(written: str) -> ButtressSize:
    """The size of buttress casing that is written.

    Raises:
        NoAnswer: ``unclear_size``, ``unknown_size``.
    """
    key = size_key(written)
    if key in BUTTRESS:
        return BUTTRESS[key]
    near = ", ".join(near_buttress_sizes(key))
    text = f"no API buttress casing of {key} in is known"
    raise refuse("unknown_size", text, "size", f"a size of API buttress casing, such as {near}")


def face_of(values: Mapping[str, Any]) -> float | None:
    """How far the coupling face is past the base, m, negative for short of it; None if not measured."""
    if "face_short_of_base" in values:
        return -float(values["face_short_of_base"])
    past: float | None = values.get("face_past_base")
    return past


def buttress_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/make-up-position/buttress``.

    Raises:
        NoAnswer: ``unclear_size``, ``unknown_size``.
    """
    row, face = buttress_size(values["size"]), face_of(values)
    window, base = face_window(to_base=row.to_base), row.triangle_base
    height = triangle_height(TRIANGLE_SIDE)
    result = {
        "size": row.size,
        "triangle_base": base,
        "triangle_base_printed": row.triangle_base_printed,
        "coupling_length": row.coupling_length,
        "triangle_side": TRIANGLE_SIDE,
        "triangle_height": height,
        "window": _window(window, base),
        **_judged(face, window, base),
        "mill_end": MILL_END,
        "torque": NO_TABLE_TORQUE,
        "preload": NO_PRELOAD,
    }
    return Answer(
        result=result,
        sources=(row.source, TRIANGLE, WINDOW, NO_TORQUE, BOTH_JUDGED),
        status=weakest_status((row.source, TRIANGLE, WINDOW)),
        assumptions=(HEIGHT,),
        findings=tuple(_findings(row, face)),
        working={
            "base": base.value,
            "window": window,
            "side": TRIANGLE_SIDE,
            "height": height,
            "lead": LEAD,
        },
        steps=BUTTRESS_STEPS,
    )


def _window(window: FaceWindow, base: Knowable[float]) -> dict[str, Any]:
    return {
        "short_of_base": window.short_of_base,
        "past_base": window.past_base,
        "pipe_end_to_face_minimum": _past(base, -window.short_of_base),
        "pipe_end_to_face_maximum": _past(base, window.past_base),
    }


def _past(base: Knowable[float], length: float) -> Knowable[float]:
    """How far from the pipe end a place lies that is a length past the base."""
    return base if base.value is None else Known(base.value + length)


def _judged(face: float | None, window: FaceWindow, base: Knowable[float]) -> dict[str, Knowable[Any]]:
    if face is None:
        return dict.fromkeys(("position", "verdict", "turns_to_base", "pipe_end_to_face"), NOT_MEASURED)
    position, accepted = position_of_face(face), window.accepts(face)
    basis = TO_BASE if position == "within_one_turn" and not accepted else BASES[position]
    return {
        "position": Known(position),
        "verdict": Known("accepted" if accepted else "not_accepted", basis),
        "turns_to_base": Known(turns_to_base(face)),
        "pipe_end_to_face": _past(base, face),
    }


def _findings(row: ButtressSize, face: float | None) -> Iterator[Finding]:
    if doubt := row.triangle_base.reason:
        yield Finding(
            level="look",
            code="made_up_to_base",
            text=f"{row.size} in is made up to the base of the triangle (API RP 5C1 4.4). The minimum torque "
            f"that is its guide is not published for buttress. Note: {doubt}.",
            step="make_up",
            remedy="Find the torque by trial make-ups.",
        )
    if face is not None and position_of_face(face) == "past_apex":
        yield Finding(
            level="stop",
            code="past_apex",
            text="The face is {value} past the base. The apex is at {limit}.",
            step="verdict",
            remedy="Treat this joint as questionable. If you can still see the apex, the stamp is larger "
            "than assumed here. Measure it.",
            value=Amount("length", face),
            limit=Amount("length", triangle_height(TRIANGLE_SIDE)),
        )
