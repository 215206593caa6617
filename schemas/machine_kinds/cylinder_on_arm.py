"""The profile of an arm swung by one cylinder."""

from math import inf
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.cylinder_parts import CylinderParts, CylinderProfile, DistanceField
from schemas.faults import FieldFault
from schemas.fields import Choice

TOO_SHORT = "closed, the cylinder must be longer than the difference of arm radius and base distance"
TOO_LONG = "open, the cylinder must be shorter than the sum of arm radius and base distance"


class CylinderOnArmProfile(CylinderProfile):
    """A machine with one arm swung by one cylinder, at one arm station."""

    kind = Choice(("cylinder_on_arm",), required=True)
    cylinder = fields.Nested(CylinderParts, required=True)
    arm_radius = DistanceField(
        required=True,
        metadata={
            "description": "Centre of the gripped pipe to the arm pin: one length if the grip is "
            "self-centring, else by outside diameter."
        },
    )
    base_distance = DistanceField(
        required=True,
        metadata={"description": "Centre of the gripped pipe to the base pin of the cylinder, likewise."},
    )
    right_hand_make_up_side = Choice(("cap", "rod"), required=True)

    @validates_schema(skip_on_field_errors=False)
    def _triangle(self, data: dict[str, Any], **_: Any) -> None:
        arm, base, cylinder = data.get("arm_radius"), data.get("base_distance"), data.get("cylinder", {})
        if not isinstance(arm, float) or not isinstance(base, float):
            return  # missing, or by diameter: then the check of the profile looks at each
        closed, opened = cylinder.get("closed_length", inf), cylinder.get("open_length", 0.0)
        faults = {}
        if not closed > abs(arm - base):
            faults["closed_length"] = [FieldFault("contradiction", TOO_SHORT)]
        if not opened < arm + base:
            faults["open_length"] = [FieldFault("contradiction", TOO_LONG)]
        if faults:
            raise ValidationError({"cylinder": faults})
