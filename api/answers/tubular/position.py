"""The made-up position of a round thread, which is judged beside its torque."""

from collections.abc import Mapping
from dataclasses import dataclass

from api.answers.tubular.request import Joint
from api.engineering.provenance import Knowable, Known, NotKnown, Source, known
from api.engineering.rotary.sizes import INCH

TO_VANISH_POINT = ("16", "18-5/8", "20")
"""Sizes made up to the vanish point, with the minimum torque as a guide (API RP 5C1 4.4)."""
HALF_A_TURN_MORE = 7.625 * INCH * (1 - 1e-9)
"""Outside diameter of casing from which 3 1/2 turns past hand tight are usual, not 3 (API RP 5C1 4.4)."""

POSITION = Source("made-up positions of round-thread casing", "from memory", "API RP 5C1 cl. 4.4")
TURNS = Source(
    "turns past hand tight of casing, conventional tongs", "reprint", "API RP 5C1 cl. 4.4 (handbook copy)"
)
STANDOFF = Source("hand-tight standoff A", "from memory", "API 5B")

LAY_DOWN = (
    "back out, lay down, inspect and repair or replace; parted joints are not reused without reshopping or "
    "regauging"
)
NO_PIPE = NotKnown("not known of dimensions alone")
Criterion = Mapping[str, str]


def _criterion(made_up_position: str, verdict: str, action: str) -> Criterion:
    return {"made_up_position": made_up_position, "verdict": verdict, "action": action}


POWER_TONGS = (
    _criterion(
        "coupling face flush with the vanish point or within 2 turns either side, minimum torque reached",
        "satisfactory",
        "none",
    ),
    _criterion(
        "vanish point buried by 2 turns, and the minimum torque not reached", "questionable", LAY_DOWN
    ),
    _criterion(
        "several threads exposed at the target torque",
        "more_torque",
        "apply more torque, up to the maximum",
    ),
    _criterion(
        "coupling face more than 3 turns short of the vanish point at the maximum torque",
        "questionable",
        LAY_DOWN,
    ),
)
LARGE_CASING = (
    _criterion("coupling face at the vanish point, minimum torque as a guide", "satisfactory", "none"),
)


@dataclass(frozen=True)
class Position:
    """How the made-up position is judged, and how far a joint turns past hand tight."""

    criteria: Knowable[tuple[Criterion, ...]]
    turns_past_hand_tight: Knowable[float]
    axial_travel_per_turn: Knowable[float]
    hand_tight_standoff_turns: Knowable[float]
    hand_tight_standoff: Knowable[float]
    sources: tuple[Source, ...]


def to_vanish_point(joint: Joint) -> bool:
    """Whether it is made up to the vanish point, with the minimum torque as a guide."""
    return joint.tubular is not None and joint.tubular.size in TO_VANISH_POINT


def made_up_position(joint: Joint) -> Position:
    """The position to judge beside the torque (API RP 5C1 4.4, API 5B)."""
    pitch = INCH / joint.threads_per_inch if joint.threads_per_inch else None
    travel = known(pitch, "needs threads_per_inch: a thread_height alone does not tell the pitch")
    tubular = joint.tubular
    if tubular is None:
        return Position(NO_PIPE, NO_PIPE, travel, NO_PIPE, NO_PIPE, ())
    standoff = tubular.hand_tight_standoff_turns
    turns, source = (standoff, STANDOFF) if tubular.product == "tubing" else (_turns(joint), TURNS)
    return Position(
        _criteria(joint),
        Known(turns, f"{source.what} ({source.status}): {source.source}"),
        travel,
        Known(standoff),
        travel if travel.value is None else Known(standoff * travel.value),
        (STANDOFF,) if tubular.product == "tubing" else (POSITION, TURNS, STANDOFF),
    )


def _criteria(joint: Joint) -> Knowable[tuple[Criterion, ...]]:
    if joint.product == "tubing":
        return NotKnown("API RP 5C1 4.4 gives them for casing; tubing is judged by its turns past hand tight")
    if to_vanish_point(joint):
        return Known(LARGE_CASING, "API RP 5C1 4.4, 16, 18-5/8 and 20 in")
    return Known(POWER_TONGS, "API RP 5C1 4.4, power tongs, 4-1/2 to 13-3/8 in")


def _turns(joint: Joint) -> float:
    """Turns past hand tight of casing with conventional tongs (API RP 5C1 4.4)."""
    assert joint.tubular is not None
    assert joint.grade is not None
    size, grade = joint.tubular.size, joint.grade.name
    if (size in ("9-5/8", "10-3/4") and grade == "P110") or (size == "20" and grade in ("J55", "K55")):
        return 4.0
    return 3.5 if joint.tubular.outside_diameter >= HALF_A_TURN_MORE else 3.0
