"""The profile of a hydraulic stud tensioner."""

from marshmallow import fields

from schemas.core.fields import Request
from schemas.core.quantity_fields import Quantity
from schemas.machines.profile import FixedRelief, GovernedProfile, KindName, PressureDriven, Rated


class TensionerRating(Request):
    """Highest pressures that the makers of tensioner and hoses allow."""

    tensioner = Rated("tensioner")
    hoses = Rated("hoses")


class StudTensionerProfile(GovernedProfile, PressureDriven):
    """A hydraulic stud tensioner, which gives preload, not torque; the gauge for it is that of make_up."""

    kind = KindName("stud_tensioner")
    effective_area = Quantity(
        "area",
        required=True,
        metadata={"description": "Effective area of all its pistons, from the maker."},
    )
    relief = fields.Nested(FixedRelief, required=True)
    rated_pressure = fields.Nested(TensionerRating, required=True)
    load_rating = Quantity(
        "force", required=True, metadata={"description": "The most that the maker allows it to pull."}
    )
