"""What is to be done, on which machine."""

import re
from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.core.faults import FieldFault, InvalidInput, contradictions, fault
from schemas.core.fields import LEFT_OUT, Choice, Day, Number, Request, Text, WholeNumber
from schemas.core.quantity import bare
from schemas.core.quantity_fields import EitherDial, Quantity
from schemas.machines.profile import load_profile


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
        given = bare(value)
        if given in self.words:
            return given
        if isinstance(given, str) and not any(character.isdigit() for character in given):
            raise fault("not_a_choice", "not a position known here", self.accepted)
        return self.length.deserialize(given)


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
            "Required by a machine whose grip is not self-centring, and for a nut on one that grips pipe.",
            LEFT_OUT: lambda values: values.get("box_outside_diameter"),
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


class Ratios(Number):
    """A ratio, or a lowest, a likely and a highest one as ``1.0/1.3/1.6``; loads to three numbers.

    A comma in one of three is read as that in a number is, by the rule of the shop.
    """

    pattern = r"^[0-9]{1,2}(\.[0-9]{1,6})?(/[0-9]{1,2}(\.[0-9]{1,6})?){2}$"
    with_commas = pattern.replace(r"\.", "[.,]")

    def __init__(self, low: float, high: float, **options: Any) -> None:
        super().__init__(low, high, **options)
        self.accepted += "; or three, rising, as lowest/likely/highest, such as 1.0/1.3/1.6"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        three = bare(value)
        if not isinstance(three, str) or not re.fullmatch(self.with_commas, three):
            one = super()._deserialize(value, attr, data, **kwargs)
            return one, one, one
        one_of_three = super()._deserialize
        ratios = [one_of_three(part, attr, data, **kwargs) for part in three.split("/")]
        if ratios != sorted(ratios):
            raise fault("out_of_range", "the three ratios do not rise", self.accepted)
        return tuple(ratios)


class BreakOut(Request):
    """What is known of the break-out of a joint."""

    break_out_ratio = Ratios(
        0.1,
        5,
        metadata={
            "description": "Break-out torque over make-up torque: a number, or lowest/likely/highest such "
            "as 1.0/1.3/1.6. A break_out needs it here or in the policy of the shop. There is no published "
            "value."
        },
    )
    made_up_torque = Quantity(
        "torque",
        metadata={
            "description": "Torque that the joint was made up to, as recorded; for a break_out alone. Left "
            "out, it is that of the mark that this machine would set, else of the middle of the window."
        },
    )
    aim = Choice(
        ("target",),
        metadata={
            "description": "target: set the mark nearest the target, where a safer one would be set. "
            "Left out, the safest is set."
        },
    )


class GripOfJob(Request):
    """What is known of the grip of a joint; both or neither."""

    grip_friction = Number(
        0.01,
        1,
        metadata={
            "description": "Coefficient of friction between grip and pipe, never assumed. With a common "
            "supply it decides with grip_margin how much pressure relief must let through."
        },
    )
    grip_margin = Number(
        1,
        10,
        metadata={
            "description": "Torque at which the grip would slip over the torque it must hold. Never assumed."
        },
    )

    @validates_schema(skip_on_field_errors=False, pass_original=True)
    def _both(self, data: dict[str, float], given: Any, **_: Any) -> None:
        names = ("grip_friction", "grip_margin")
        if isinstance(given, Mapping) and len(missing := [each for each in names if each not in given]) == 1:
            detail = "give grip_friction and grip_margin together, or neither"
            raise ValidationError({missing[0]: [FieldFault("missing_field", detail)]})


class OneMachine(Request):
    """One machine."""

    machine = Machine(
        required=True,
        metadata={"description": "Id of a machine; in JSON also its profile.", "example": "south-bay-9"},
    )


class MachineJob(OneMachine, Turn, Spaced, BreakOut, GripOfJob):
    """What is to be done with a joint, on which machine."""


class SiteJob(Turn, Spaced, BreakOut, GripOfJob):
    """What is to be done with a joint, on any machine of a site."""

    limit = WholeNumber(
        1, 100, metadata={"description": "Machines listed of either kind; 20 if left out.", LEFT_OUT: 20}
    )
    offset = WholeNumber(
        0, 10_000, metadata={"description": "Machines of either kind passed over first.", LEFT_OUT: 0}
    )

    site = Text(60, metadata={"description": "Only machines of this site; all if left out."})


class Reading(OneMachine, Turn, Spaced):
    """What was read on a gauge of a machine."""

    gauge_reading = EitherDial(
        ("pressure", "force"),
        required=True,
        metadata={"description": "Reading in the unit of the dial.", "example": "860 psi"},
    )
    gauge_read = Choice(
        ("make_up", "break_out"),
        metadata={
            "description": "Which gauge was read; that of the operation if left out.",
            LEFT_OUT: lambda values: values["operation"],
        },
    )
