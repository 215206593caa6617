"""The profile of an arm swung by one cylinder, of which only the arm is measured."""

from marshmallow import fields

from schemas.machines.cylinder_parts import ArmRadius, CylinderProfile, PistonParts
from schemas.machines.profile import AngleOffSquare, KindName, RightHandMakeUpSide
from schemas.machines.tolerances import PistonTolerances


class CylinderOnSquareArmProfile(CylinderProfile):
    """A machine with one arm swung by one cylinder, used square to it: where the base stands is not known."""

    kind = KindName("cylinder_on_square_arm")
    cylinder = fields.Nested(PistonParts, required=True)
    arm_radius = ArmRadius()
    largest_angle_off_square = AngleOffSquare()
    right_hand_make_up_side = RightHandMakeUpSide()
    tolerances = fields.Nested(PistonTolerances)
