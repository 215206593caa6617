"""The passes that tighten a flange to a torque, as asked and as answered."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.base import Part, Request
from schemas.bolt_order import BoltCount
from schemas.faults import FieldFault
from schemas.fields import Choice, Day, Number, Words
from schemas.machine import ArmPosition, Machine
from schemas.machine_answer import SettingPart
from schemas.pass_steps import PassShares
from schemas.quantity_fields import DialReading, Quantity
from schemas.record import SourcePart
from schemas.torque_answer import TorqueWindowPart

NEEDED = ("operation", "thread_hand", "arm_position")
OF_A_MACHINE = (*NEEDED, "gripped_outside_diameter")


class FlangeTask(Request):
    """The bolts of a flange and the steps in which they are tightened; if wanted, with which machine."""

    bolt_count = BoltCount(
        required=True,
        metadata={
            "description": "Number of bolts. Orders are held for 4, 8, 12, 16, 20 and 24; none is made up.",
            "example": 8,
        },
    )
    pass_shares = PassShares(
        required=True,
        metadata={
            "description": "Shares of the target torque for the cross passes, in per cent, the last 100. A "
            "choice of practice, never assumed.",
            "example": "30/60/100",
        },
    )
    machine = Machine(
        metadata={"description": "Id of the wrench; in JSON also its profile. Without one: torques only."}
    )
    operation = Choice(
        ("make_up", "break_out"),
        metadata={"description": "Required with a machine: make_up. No order for loosening is held."},
    )
    thread_hand = Choice(
        ("right", "left"), metadata={"description": "Required with a machine: hand of the thread."}
    )
    arm_position = ArmPosition(
        metadata={"description": "Required with a machine: how its arm stands at the end of a pass."}
    )
    gripped_outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        metadata={"description": "Required by a machine whose grip is not self-centring."},
    )
    as_of = Day(
        metadata={
            "description": "Day of the job; profile and rows of a table must be in force then. Required "
            "where the rows of a table are dated."
        }
    )

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def _all_of_a_machine(self, _: Any, original: Any, **__: Any) -> None:
        given = set(original) if isinstance(original, Mapping) else set()
        if "machine" in given:
            missing = {name: "required with a machine" for name in NEEDED if name not in given}
        else:
            stray = ", ".join(name for name in OF_A_MACHINE if name in given)
            missing = {"machine": f"without a machine there is no meaning in {stray}"} if stray else {}
        if missing:
            raise ValidationError(
                {
                    name: [FieldFault("missing_field", detail, getattr(self.fields[name], "accepted", None))]
                    for name, detail in missing.items()
                }
            )


class TorquePassPart(Part):
    """One pass over all bolts."""

    number = fields.Integer(metadata={"description": "In its turn, from 1."})
    name = Words(metadata={"description": "snug, cross, circular, or check: circular again, hours later."})
    order = Words(metadata={"description": "The bolts in their turn, numbered clockwise from 1."})
    instruction = Words()
    share = Number(allow_none=True, metadata={"description": "Torque over the target; null for snug."})
    torque = Quantity("torque", allow_none=True, metadata={"description": "Null for snug."})
    torque_minimum = Quantity(
        "torque",
        allow_none=True,
        metadata={"description": "Of a snug nut; null where the maximum lies below what is usual."},
    )
    torque_maximum = Quantity("torque", allow_none=True, metadata={"description": "Of a snug nut."})
    gauge_setting = DialReading(
        allow_none=True, metadata={"description": "The mark to set; null for snug and without a machine."}
    )
    torque_at_gauge_setting = Quantity(
        "torque", allow_none=True, metadata={"description": "At nominal efficiency."}
    )
    share_at_gauge_setting = Number(allow_none=True, metadata={"description": "Of the target."})


class FlangeSequenceAnswer(Part):
    """How the bolts of a flange are tightened to a torque."""

    torque = fields.Nested(TorqueWindowPart, metadata={"description": "Torque window of one bolt."})
    cross_order = Words(metadata={"description": "The cross pattern, bolts numbered clockwise from 1."})
    passes = fields.List(fields.Nested(TorquePassPart))
    agrees_with = fields.List(
        fields.Nested(SourcePart), metadata={"description": "Published practices with these steps."}
    )
    setting = fields.Nested(
        SettingPart,
        allow_none=True,
        metadata={"description": "What is set at 100 %, as /v1/pressure answers it; null without a machine."},
    )
