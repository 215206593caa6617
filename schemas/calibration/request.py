"""What was read in a calibration."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from schemas.calibration.parts import CalibratedPosition
from schemas.core.faults import FieldFault, contradictions
from schemas.core.fields import Choice, Day, Number, Request, Text, WholeNumber
from schemas.core.quantity_fields import DialQuantity, Quantity
from schemas.machines.profile import rising
from schemas.machines.request import Machine
from schemas.words import SIDES

DIRECTIONS = ("rising", "falling")
MOST_READINGS = 2000
NOT_POSITIVE = "this pressure has no torque: leave out readings below breakaway"
TWICE = "the run has this pressure twice in one direction"


class CalibrationReadingFields(Request):
    """A pressure set on the gauge, and the torque of the reference there."""

    pressure = DialQuantity(
        "pressure",
        zero=True,
        required=True,
        metadata={
            "description": (
                "Pressure as set on the gauge, in the unit of its dial; 0 for a check of the zero."
            )
        },
    )
    torque = DialQuantity(
        "torque",
        limits=("-100 kN.m", "100000 kN.m"),
        required=True,
        metadata={"description": "Torque of the reference. It may be negative at zero pressure only."},
    )
    run = WholeNumber(1, 1000, required=True, metadata={"description": "Number of the run, from 1."})
    direction = Choice(
        DIRECTIONS,
        required=True,
        metadata={"description": "Whether the pressure was approached from below or from above."},
    )
    side = Choice(SIDES, required=True, metadata={"description": "What was under pressure."})
    gauge = Text(40, required=True, metadata={"description": "Serial of the gauge read."})

    @validates_schema(skip_on_field_errors=True)
    def _positive(self, data: Mapping[str, Any], **_: Any) -> None:
        below = data["pressure"].si > 0 and not data["torque"].si > 0
        contradictions({"torque": NOT_POSITIVE if below else None})


class CalibrationRequest(Request):
    """What was read in a calibration of a machine at one position of its arm."""

    readings = fields.List(
        fields.Nested(CalibrationReadingFields),
        required=True,
        validate=validate.Length(1, MOST_READINGS),
        metadata={"description": "Everything read; each side and gauge is a calibration of its own."},
    )
    arm_position = CalibratedPosition(
        required=True, metadata={"description": "How the arm stood.", "example": "square"}
    )
    machine = Machine(
        metadata={
            "description": "Id of the machine, or its profile. With it the answer compares the torque "
            "with geometry and completes the new profile."
        }
    )
    gripped_outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        metadata={"description": "Outside diameter in the grip. Required where the arm depends on it."},
    )
    certificate = Text(60, metadata={"description": "Number of the certificate."})
    calibrated_on = Day(metadata={"description": "Day of the calibration."})
    due = Day(metadata={"description": "Day by which the next calibration is due."})
    reference = Text(100, metadata={"description": "What measured the torque: transducer, cell and arm."})
    reference_uncertainty_percent = Number(
        0.01,
        10,
        metadata={"description": "Expanded uncertainty of the reference, k = 2, in percent of its torque."},
    )

    @validates_schema(skip_on_field_errors=True)
    def _each_once(self, data: Mapping[str, Any], **_: Any) -> None:
        keys = [
            (each["side"], each["gauge"], each["run"], each["direction"], each["pressure"].si)
            for each in data["readings"]
        ]
        counts = Counter(keys)
        twice = {
            index: {"pressure": [FieldFault("contradiction", TWICE)]}
            for index, key in enumerate(keys)
            if counts[key] > 1
        }
        if twice:
            raise ValidationError({"readings": twice})

    @validates_schema(skip_on_field_errors=True)
    def _dates(self, data: Mapping[str, Any], **_: Any) -> None:
        if not rising(data, "calibrated_on", "due"):
            contradictions({"due": "due before the calibration was made"})
