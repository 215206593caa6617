"""The profile of a machine known by its calibration."""

from collections.abc import Mapping
from typing import Any

from marshmallow import fields, validates_schema

from schemas.calibration.parts import CalibratedPart
from schemas.core.faults import contradictions
from schemas.core.fields import Choice, Request
from schemas.machines.profile import Certificate, DiameterRange, HydraulicProfile, KindName, Rated
from schemas.words import MOTOR_PORTS, SIDES


class CalibratedRating(Request):
    """Highest pressures that the makers of cylinder or motor, and of hoses, allow."""

    cylinder = Rated("cylinder", required=False)
    motor = Rated("motor", required=False)
    hoses = Rated("hoses")

    @validates_schema(skip_on_field_errors=True)
    def _driven(self, data: Mapping[str, Any], **_: Any) -> None:
        if ("cylinder" in data) == ("motor" in data):
            contradictions({"cylinder": "give the rating of the cylinder or that of the motor"})


class CalibratedProfile(HydraulicProfile):
    """A machine known by measured torques, one list a side, which are never extrapolated."""

    kind = KindName("calibrated")
    calibration = fields.Nested(Certificate, required=True)
    calibrated = fields.Nested(CalibratedPart, required=True)
    right_hand_make_up_side = Choice(
        SIDES,
        required=True,
        metadata={
            "description": "Side of the cylinder, or port of the motor, under pressure to make up a "
            "right-hand thread."
        },
    )
    rated_pressure = fields.Nested(CalibratedRating, required=True)
    outside_diameter = fields.Nested(DiameterRange)

    @validates_schema(skip_on_field_errors=True)
    def _one_drive(self, data: Mapping[str, Any], **_: Any) -> None:
        ports = {
            side in MOTOR_PORTS for side in (data["right_hand_make_up_side"], *data["calibrated"]["sides"])
        }
        if len(ports) == 2:
            contradictions(
                {"right_hand_make_up_side": "a machine has sides of a cylinder, or ports of a motor"}
            )
