"""What is to be done, on which machine."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.core.faults import InvalidInput, fault
from schemas.core.fields import Choice, Day, Number, Request, Text
from schemas.core.quantity_fields import EitherDial, Quantity
from schemas.machines.profile import contradictions, load_profile


class Machine(fields.Field[Any]):
    """A machine by its id, or its whole profile in the request."""

    accepted = "the id of a machine (see /v1/machines), or in JSON a profile as an object"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, str):
            return Text(60).deserialize(value)
        if not isinstance(value, Mapping):
            raise fault("not_a_machine", "neither an id nor a profile", self.accepted)
        try:
            return {"given": value, "loaded": load_profile(value)}
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


class Turn(Request):
    """What is to be done with the arm of a machine."""

    operation = Choice(
        ("make_up", "break_out"), required=True, metadata={"description": "What is done to the joint."}
    )
    thread_hand = Choice(
        ("right", "left"),
        required=True,
        metadata={"description": "Hand of the thread; with the operation it decides the cylinder side."},
    )
    arm_position = ArmPosition(
        metadata={
            "description": "How the arm stands when the joint shoulders. Required by a machine with an arm, "
            "unless rod_exposed is given; it means nothing to a wrench or a motor.",
            "example": "square",
        },
    )
    rod_exposed = Quantity(
        "length",
        limits=("0.1 mm", "20 m"),
        zero=True,
        metadata={
            "description": "Instead of arm_position: rod outside the gland of the cylinder, by tape. The "
            "pin-to-pin length is the closed length and this, less rod_showing_when_closed of the profile."
        },
    )
    gripped_outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        metadata={
            "description": "Outside diameter where the arm grips; that of the box if left out, where known. "
            "Required by a machine whose grip is not self-centring."
        },
    )
    as_of = Day(
        metadata={
            "description": "Day of the job, such as 2026-11-24; the profile must be in force and calibrated "
            "then. The service has no clock."
        },
    )

    @validates_schema(skip_on_field_errors=False)
    def _stands_once(self, data: dict[str, Any], **_: Any) -> None:
        both = "arm_position" in data and "rod_exposed" in data
        contradictions({"rod_exposed": "arm_position is given too; leave one out" if both else None})


class Spaced(Request):
    """How far apart a joint is held."""

    grip_spacing = Quantity(
        "length",
        limits=("1 in", "60 ft"),
        metadata={
            "description": "Distance along the pipe from the driven grip to the backup. With it the answer "
            "has the bending that the side load puts across the joint."
        },
    )


class BreakOut(Request):
    """What is known of the break-out of a joint."""

    break_out_ratio = Number(
        0.1,
        5,
        metadata={
            "description": "Break-out torque over make-up torque. Required for break_out; there is no "
            "published value."
        },
    )


class OneMachine(Request):
    """One machine."""

    machine = Machine(
        required=True,
        metadata={"description": "Id of a machine; in JSON also its profile.", "example": "north-bay-2"},
    )


class MachineJob(OneMachine, Turn, Spaced, BreakOut):
    """What is to be done with a joint, on which machine."""


class SiteJob(Turn, Spaced, BreakOut):
    """What is to be done with a joint, on any machine of a site."""

    site = Text(60, metadata={"description": "Only machines of this site; all if left out."})


class Reading(OneMachine, Turn, Spaced):
    """What was read on a gauge of a machine."""

    gauge_reading = EitherDial(
        ("pressure", "force"),
        required=True,
        metadata={"description": "Reading in the unit of the dial.", "example": "750 psi"},
    )
    gauge_read = Choice(
        ("make_up", "break_out"),
        metadata={"description": "Which gauge was read; that of the operation if left out."},
    )
