"""The profile of a hydraulic motor turning the pipe through gears."""

from marshmallow import fields

from schemas.core.fields import Choice, Number, Request
from schemas.core.quantity_fields import Quantity
from schemas.machines.profile import (
    DiameterRange,
    EfficiencyRange,
    HydraulicProfile,
    KindName,
    Rated,
    ReturnPressure,
)
from schemas.machines.tolerances import HalfWidth, HalfWidthPercent
from schemas.words import MOTOR_PORTS


class MotorRating(Request):
    """Highest pressures that the makers of motor and hoses allow."""

    motor = Rated("motor")
    hoses = Rated("hoses")


class MotorTolerances(Request):
    """Tolerances of a hydraulic motor through gears; a ratio of gears is one of teeth, and exact."""

    displacement_percent = HalfWidthPercent("The displacement")
    return_pressure = HalfWidth("pressure", "The return pressure")


class MotorThroughGearsProfile(HydraulicProfile):
    """A machine turned by a hydraulic motor through gears."""

    kind = KindName("motor_through_gears")
    displacement = Quantity(
        "displacement",
        required=True,
        metadata={"description": "Displacement of the motor, such as 24 in3/rev."},
    )
    gear_ratio = Number(
        0.1, 10_000, required=True, metadata={"description": "Revolutions of the motor for one of the pipe."}
    )
    starting_efficiency = fields.Nested(
        EfficiencyRange,
        required=True,
        metadata={
            "description": "Efficiency of the motor at standstill, where a make-up ends, not while it runs."
        },
    )
    gear_efficiency = fields.Nested(
        EfficiencyRange, required=True, metadata={"description": "Efficiency of all meshes together."}
    )
    return_pressure = ReturnPressure()
    right_hand_make_up_port = Choice(
        MOTOR_PORTS,
        required=True,
        metadata={"description": "Port of the motor under pressure to make up a right-hand thread."},
    )
    rated_pressure = fields.Nested(MotorRating, required=True)
    outside_diameter = fields.Nested(DiameterRange, required=True)
    tolerances = fields.Nested(MotorTolerances)
