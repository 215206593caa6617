"""The profile of an arm swung by one cylinder."""

from typing import Any

from marshmallow import fields, validates_schema

from schemas.machines.cylinder_parts import (
    ArmRadius,
    BaseDistance,
    CylinderParts,
    CylinderProfile,
    check_triangle,
)
from schemas.machines.profile import KindName, RightHandMakeUpSide
from schemas.machines.tolerances import CylinderTolerances


class CylinderOnArmProfile(CylinderProfile):
    """A machine with one arm swung by one cylinder, at one arm station."""

    kind = KindName("cylinder_on_arm")
    cylinder = fields.Nested(CylinderParts, required=True)
    arm_radius = ArmRadius()
    base_distance = BaseDistance()
    right_hand_make_up_side = RightHandMakeUpSide()
    tolerances = fields.Nested(CylinderTolerances)

    @validates_schema(skip_on_field_errors=False)
    def _triangle(self, data: dict[str, Any], **_: Any) -> None:
        check_triangle(data)
