"""The profile of a hydraulic torque wrench."""

from marshmallow import fields

from schemas.core.fields import Number, Request
from schemas.core.quantity_fields import Quantity
from schemas.machines.profile import HydraulicProfile, KindName, Rated
from schemas.machines.tolerances import HalfWidthPercent


class TorqueAtPressure(Request):
    """The torque factor of a wrench as a torque and the pressure that gives it, from the maker's table."""

    torque = Quantity("torque", required=True, metadata={"description": "A torque of the maker's table."})
    pressure = Quantity("pressure", required=True, metadata={"description": "The pressure that gives it."})


class FactorRange(Request):
    """Torque over that of the torque factor: lowest and highest to be expected."""

    low = Number(0.5, 1, required=True, metadata={"description": "Lowest to be expected."})
    high = Number(1, 1.5, required=True, metadata={"description": "Highest to be expected."})


class WrenchRating(Request):
    """Highest pressures that the makers of wrench and hoses allow."""

    wrench = Rated("wrench")
    hoses = Rated("hoses")


class WrenchTolerances(Request):
    """Tolerances of a hydraulic torque wrench."""

    torque_factor_percent = HalfWidthPercent("The torque factor")


class TorqueWrenchProfile(HydraulicProfile):
    """A hydraulic torque wrench on one drive."""

    kind = KindName("torque_wrench")
    torque_factor = fields.Nested(TorqueAtPressure, required=True)
    torque_factor_range = fields.Nested(FactorRange, required=True)
    reaction_arm = Quantity(
        "length",
        metadata={"description": "Distance from the centre of the nut to where the reaction member bears."},
    )
    rated_pressure = fields.Nested(WrenchRating, required=True)
    tolerances = fields.Nested(WrenchTolerances)
