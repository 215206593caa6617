"""What a calibration says of a machine, as its profile holds it."""

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from marshmallow import fields, validates_schema

from schemas.core.faults import contradictions, fault
from schemas.core.fields import Day, Number, Request, Text
from schemas.core.quantity import bare
from schemas.core.quantity_fields import Quantity

PORTS = ("A", "B")
SIDES = ("cap", "rod", *PORTS)
"""What can be under pressure: a side of a cylinder, or a port of a motor."""
MOST_POINTS = 200


class CalibratedPosition(fields.Field[Any]):
    """``square``, or a pin-to-pin length of the cylinder; a calibration at an unknown position is none."""

    words = ("square",)
    accepted = "square, or the pin-to-pin length of the cylinder, such as 48 in"
    length = Quantity("length")

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        given = bare(value)
        if given in self.words:
            return given
        if isinstance(given, str) and not any(character.isdigit() for character in given):
            raise fault("not_a_choice", "not a position that a calibration can have", self.accepted)
        return self.length.deserialize(given)


class CalibratedPoint(Request):
    """The torque measured at a pressure."""

    pressure = Quantity("pressure", required=True)
    torque = Quantity("torque", required=True)


class CalibratedSidePoints(Request):
    """One side as it was calibrated: the gauge read, and points rising in pressure and torque."""

    gauge_serial = Text(40, required=True)
    points = fields.List(fields.Nested(CalibratedPoint), required=True)
    reversibility_percent = Number(
        -100,
        100,
        metadata={
            "description": "Torque coming down less torque going up, where it is farthest from zero, in "
            "percent."
        },
    )

    @validates_schema(skip_on_field_errors=True)
    def _rising(self, data: Mapping[str, Any], **_: Any) -> None:
        points = data["points"]
        falling = any(
            not (left["pressure"] < right["pressure"] and left["torque"] < right["torque"])
            for left, right in pairwise(points)
        )
        few = not 2 <= len(points) <= MOST_POINTS
        wrong = "pressure and torque must both rise from point to point" if falling else None
        contradictions({"points": f"2 to {MOST_POINTS} points are taken" if few else wrong})


class CalibratedSides(Request):
    """Each side that was calibrated; no side is inferred from another."""

    cap = fields.Nested(CalibratedSidePoints)
    rod = fields.Nested(CalibratedSidePoints)
    A = fields.Nested(CalibratedSidePoints)
    B = fields.Nested(CalibratedSidePoints)

    @validates_schema(skip_on_field_errors=True)
    def _one_at_least(self, data: Mapping[str, Any], **_: Any) -> None:
        if not data:
            raise fault("missing_field", "no side is calibrated", f"one or two of: {', '.join(SIDES)}")


class CalibratedPart(Request):
    """What was measured, at which position of the arm, and how sure it is."""

    position = CalibratedPosition(required=True, metadata={"description": "How the arm stood."})
    calibrated_on = Day()
    reference = Text(100, metadata={"description": "What measured the torque."})
    expanded_uncertainty_percent = Number(
        0.01,
        20,
        required=True,
        metadata={
            "description": (
                "Expanded uncertainty of the torque at a calibrated pressure, k = 2, in percent of it."
            )
        },
    )
    sides = fields.Nested(CalibratedSides, required=True)
