"""What a stroke of a machine does, as asked and as answered."""

from typing import Any

from marshmallow import fields, validates_schema

from schemas.core.faults import contradictions
from schemas.core.fields import Day, Number
from schemas.core.parts import Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.machines.answer import CheckPart
from schemas.machines.request import OneMachine

NOT_BOTH = "the rotation follows from axial_travel and lead; leave it out, or leave out those two"
WITHOUT = "axial_travel and lead are needed together"


class StrokeRequest(OneMachine):
    """A stroke of a machine, or the part of it that is used, and the rotation wanted of the joint."""

    gripped_outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        metadata={
            "description": "Outside diameter where the arm grips. Required by a machine whose grip is not "
            "self-centring."
        },
    )
    used_from = Quantity(
        "length",
        metadata={
            "description": "Shortest pin-to-pin length of the cylinder in use; that of the whole stroke if "
            "left out."
        },
    )
    used_to = Quantity(
        "length",
        metadata={"description": "Longest pin-to-pin length in use; that of the whole stroke if left out."},
    )
    lost_motion = Quantity(
        "angle",
        limits=("0.001 deg", "180 deg"),
        zero=True,
        required=True,
        metadata={
            "description": "Rotation lost in every stroke before the joint turns: lash of a ratchet, slack "
            "of a chain. It cannot be known from here; 0 deg if there is none.",
            "example": "2 deg",
        },
    )
    rotation = Quantity("angle", metadata={"description": "Rotation wanted of the joint."})
    axial_travel = Quantity(
        "length", metadata={"description": "Instead of a rotation: travel of the thread along its axis."}
    )
    lead = Quantity("length", metadata={"description": "With axial_travel: lead of the thread."})
    as_of = Day(
        metadata={"description": "Day of the job; the profile must be in force and calibrated then."},
    )

    @validates_schema(skip_on_field_errors=False)
    def _consistent(self, data: dict[str, Any], **_: Any) -> None:
        start, end = data.get("used_from"), data.get("used_to")
        falling = start is not None and end is not None and not start < end
        travel, lead = "axial_travel" in data, "lead" in data
        contradictions(
            {
                "used_to": "used_to must be longer than used_from" if falling else None,
                "rotation": NOT_BOTH if "rotation" in data and (travel or lead) else None,
                "lead": WITHOUT if lead and not travel else None,
                "axial_travel": WITHOUT if travel and not lead else None,
            }
        )


class ArmAtPart(Part):
    """The arm at one length of the cylinder."""

    length = Quantity("length", metadata={"description": "Pin to pin."})
    rod_exposed = Quantity(
        "length", metadata={"description": "Rod outside the gland of the cylinder, as a tape finds it."}
    )
    arm_angle = Quantity(
        "angle", metadata={"description": "Angle at the pipe centre, between arm pin and base pin."}
    )
    moment_arm = Quantity("length")
    torque_factor = Number(
        metadata={"description": "Moment arm over arm radius; the torque of a square cylinder times this."}
    )
    off_square = Quantity("angle", metadata={"description": "Angle by which the cylinder misses square."})
    loss_off_square = Number(metadata={"description": "Share of the torque lost by it: 1 - cos(off_square)."})


class WantedPart(Part):
    """The strokes that a rotation of the joint takes."""

    rotation = Quantity("angle")
    strokes = Number(metadata={"description": "Whole number; the last one may be used in part."})
    rotation_in_last_stroke = Quantity(
        "angle",
        metadata={"description": "Rotation of the joint in the last stroke. The arm stalls where it ends."},
    )


class StrokeAnswer(Part):
    """What a stroke does to the joint: its rotation, its torque from end to end, strokes for a rotation."""

    only_full = frozenset(
        {"smallest", "largest", "mean_moment_arm", "mean_torque_factor", "torque_spread", "checks"}
    )

    rotation_per_stroke = Quantity("angle", metadata={"description": "Rotation of the arm in one stroke."})
    useful_rotation_per_stroke = Quantity(
        "angle",
        metadata={
            "description": "Rotation of the joint in one stroke: that of the arm less the lost motion."
        },
    )
    start = fields.Nested(ArmAtPart, metadata={"description": "The arm at used_from."})
    end = fields.Nested(ArmAtPart, metadata={"description": "The arm at used_to."})
    smallest = fields.Nested(ArmAtPart, metadata={"description": "The arm where the torque is smallest."})
    largest = fields.Nested(ArmAtPart, metadata={"description": "The arm where the torque is largest."})
    mean_moment_arm = Quantity(
        "length",
        metadata={"description": "Mean moment arm over the angle: travel of the cylinder over rotation."},
    )
    mean_torque_factor = Number(metadata={"description": "Mean moment arm over arm radius."})
    torque_spread = Number(
        metadata={
            "description": "Largest torque of the stroke over the smallest, less 1: by how much a pressure "
            "set for the weakest position overtightens in the strongest."
        }
    )
    square_length = knowable(
        Quantity("length", metadata={"description": "Length at which the cylinder stands square to the arm."})
    )
    square_position = Words(
        metadata={"description": "none, outside_stroke, outside_used_part or within_used_part."}
    )
    wanted = knowable(fields.Nested(WantedPart, metadata={"description": "What a rotation given takes."}))
    checks = fields.List(fields.Nested(CheckPart))
