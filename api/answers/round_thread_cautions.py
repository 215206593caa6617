"""What whoever makes up or breaks out a round thread must know."""

from collections.abc import Iterator

from api.answers.round_thread_position import to_vanish_point
from api.answers.round_thread_request import Joint

TRIANGLE = ("H40", "J55", "K55")
"""Grades whose round thread carries a triangle stamp in those sizes (API RP 5C1 4.4)."""
TORQUE_AND_POSITION = (
    "The torque of a round thread is a guide: judge torque and made-up position together. Neither alone "
    "accepts the joint (API RP 5C1)."
)
NEW_THREADS = (
    "For mating new API threads, zinc- or phosphate-coated couplings and API modified thread compound. Where "
    "finish, compound or gauging differ, the torque may have to be established by trial (from memory)."
)
SPIN_IN = (
    "Start slowly, so that cross-threading is noticed; API RP 5C1 keeps power tongs under about 25 rpm (from "
    "memory)."
)
AT_BREAK_OUT = (
    "A torque at break-out is no measure of the make-up: accept or reject no joint on it. Grip the pipe near "
    "the coupling, not on it; if a coupling must be hammered, then lightly, with a flat face, never near its "
    "ends (from memory)."
)
ANY_GRADE = (
    "Which grades are made in which weight is not held here: make sure that this pipe is the one in hand. Of "
    "unlike mates take the lower grade and the thinner wall (common practice, no source)."
)
LARGE = (
    "16, 18-5/8 and 20 in casing is made up to the vanish point; the minimum torque is only a guide, and the "
    "optimum, here the target, no goal in itself (API RP 5C1, from memory)."
)
TRIANGLE_AID = (
    "In this size and grade a 3/8 in triangle stands 1/16 in beyond L1 from the pipe end: an aid, and no "
    "basis for accepting the joint (from memory)."
)
UNKNOWN_PIPE = (
    "The dimensions are as given: whether they are those of an API thread, and the made-up position, is not "
    "known here."
)


def cautions_for(joint: Joint, operation: str | None) -> Iterator[str]:
    """What whoever turns this joint must know; making up unless the operation is ``break_out``."""
    if operation == "break_out":
        yield AT_BREAK_OUT
    else:
        yield from (TORQUE_AND_POSITION, NEW_THREADS, SPIN_IN)
        yield from _large_casing(joint)
    yield UNKNOWN_PIPE if joint.tubular is None else ANY_GRADE
    if joint.grade and joint.grade.note:
        yield f"Grade {joint.grade.name}: {joint.grade.note}."


def _large_casing(joint: Joint) -> Iterator[str]:
    if to_vanish_point(joint):
        yield LARGE
        if joint.grade and joint.grade.name in TRIANGLE:
            yield TRIANGLE_AID
