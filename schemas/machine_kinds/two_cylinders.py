"""The profile of two cylinders on one arm or ring."""

from typing import Any

from marshmallow import fields, validates_schema

from schemas.core.faults import fault
from schemas.core.fields import Flag, Request
from schemas.machines.cylinder_parts import (
    ArmRadius,
    BaseDistance,
    CylinderParts,
    CylinderProfile,
    check_triangle,
)
from schemas.machines.profile import KindName, RightHandMakeUpSide
from schemas.machines.tolerances import CylinderTolerances


class CylinderAtArmParts(Request):
    """One of two cylinders, and the triangle that it makes with the pipe."""

    cylinder = fields.Nested(CylinderParts, required=True)
    arm_radius = ArmRadius()
    base_distance = BaseDistance()
    right_hand_make_up_side = RightHandMakeUpSide()

    @validates_schema(skip_on_field_errors=False)
    def _triangle(self, data: dict[str, Any], **_: Any) -> None:
        check_triangle(data)


class Pair(fields.List[Any]):
    """Exactly two."""

    accepted = "a list of exactly two"

    def __init__(self, inner: fields.Field[Any], **options: Any) -> None:
        super().__init__(inner, **options)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[Any]:
        if isinstance(value, list) and len(value) != 2:
            raise fault("not_a_pair", f"there are {len(value)}", self.accepted)
        loaded: list[Any] = super()._deserialize(value, attr, data, **kwargs)
        return loaded


class TwoCylindersProfile(CylinderProfile):
    """A machine with two cylinders at one pressure on one arm or ring, at one arm station."""

    kind = KindName("two_cylinders")
    cylinders = Pair(
        fields.Nested(CylinderAtArmParts), required=True, metadata={"description": "The two, in any order."}
    )
    on_opposite_sides = Flag(
        required=True,
        metadata={"description": "Whether the two stand across the pipe from each other."},
    )
    tolerances = fields.Nested(CylinderTolerances)
