"""Which side of the cylinder turns a joint which way."""

from dataclasses import dataclass
from typing import Literal

from api.engineering.cylinder import Side, other_side

Operation = Literal["make_up", "break_out"]
Hand = Literal["right", "left"]


@dataclass(frozen=True)
class Turning:
    """What is done to a joint: making up or breaking out a right-hand or left-hand thread."""

    operation: Operation
    thread_hand: Hand


def cylinder_side(right_hand_make_up_side: Side, turning: Turning) -> Side:
    """The side of the cylinder to put under pressure (statics).

    The thread hand and the operation each reverse the sense of turning. Whether pin or box is turned
    does not matter: seen from behind the turned part, right-hand make-up is clockwise for both.

    Args:
        right_hand_make_up_side: the side that makes up a right-hand thread at this arm station.
        turning: operation and hand of thread.

    >>> cylinder_side("rod", Turning("make_up", "right"))
    'rod'
    >>> cylinder_side("rod", Turning("break_out", "right"))
    'cap'
    >>> cylinder_side("rod", Turning("break_out", "left"))
    'rod'
    """
    reversed_hand = turning.thread_hand == "left"
    reversed_operation = turning.operation == "break_out"
    if reversed_hand != reversed_operation:
        return other_side(right_hand_make_up_side)
    return right_hand_make_up_side
