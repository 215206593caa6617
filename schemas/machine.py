"""What is to be done, on which machine."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields

from schemas.base import Request
from schemas.faults import InvalidInput, fault, load
from schemas.fields import Choice, Number, Quantity, Text
from schemas.profile import PROFILE


class Machine(fields.Field[Any]):
    """A machine by its id, or its whole profile in the request."""

    accepted = "the id of a machine (see /v1/machines), or in JSON a profile as an object"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, str):
            return Text(60).deserialize(value)
        if not isinstance(value, Mapping):
            raise fault("not_a_machine", "neither an id nor a profile", self.accepted)
        try:
            return {"given": value, "loaded": load(PROFILE, value)}
        except InvalidInput as error:
            raise ValidationError(list(error.faults)) from None


class ArmPosition(fields.Field[Any]):
    """``square``, ``unknown``, or a pin-to-pin length of the cylinder."""

    words = ("square", "unknown")
    accepted = "square, unknown, or the pin-to-pin length of the cylinder, such as 48 in"
    length = Quantity("length")

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if value in self.words:
            return value
        if isinstance(value, str) and not any(character.isdigit() for character in value):
            raise fault("not_a_choice", "not a position known here", self.accepted)
        return self.length.deserialize(value)


class MachineJob(Request):
    """What is to be done, on which machine."""

    machine = Machine(required=True, metadata={"example": "north-bay-2"})
    operation = Choice(
        ("make_up", "break_out"), required=True, metadata={"description": "What is done to the joint."}
    )
    thread_hand = Choice(
        ("right", "left"),
        required=True,
        metadata={"description": "Hand of the thread; with the operation it decides the cylinder side."},
    )
    arm_position = ArmPosition(
        required=True,
        metadata={"description": "How the arm stands when the joint shoulders.", "example": "square"},
    )
    break_out_ratio = Number(
        0.1,
        5,
        metadata={
            "description": "Break-out torque over make-up torque. Required for break_out; there is no "
            "published value."
        },
    )
