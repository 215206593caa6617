"""Parts of machine profiles with a cylinder."""

from collections.abc import Mapping
from itertools import pairwise
from math import inf
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.core.faults import FieldFault, contradictions, fault
from schemas.core.fields import Flag, Request
from schemas.core.quantity_fields import Quantity
from schemas.machines.profile import DiameterRange, EfficiencyRange, HydraulicProfile

TOO_SHORT = "closed, the cylinder must be longer than the difference of arm radius and base distance"
WEIGHED_WHOLLY = "arm_weight and arm_centre_of_mass are needed together"
TOO_LONG = "open, the cylinder must be shorter than the sum of arm radius and base distance"


class PistonParts(Request):
    """A double-acting cylinder, as far as its force goes."""

    bore = Quantity("length", limits=("0.5 in", "60 in"), required=True)
    rod = Quantity("length", limits=("0.1 in", "59 in"), required=True)

    @validates_schema(skip_on_field_errors=False)
    def _thin(self, data: dict[str, float], **_: Any) -> None:
        if not data.get("rod", 0.0) < data.get("bore", inf):
            contradictions({"rod": "the rod must be thinner than the bore"})


class CylinderParts(PistonParts):
    """A double-acting cylinder."""

    closed_length = Quantity("length", required=True, metadata={"description": "Pin to pin, rod in."})
    open_length = Quantity("length", required=True, metadata={"description": "Pin to pin, rod out."})
    rod_showing_when_closed = Quantity(
        "length",
        limits=("0.1 mm", "60 in"),
        zero=True,
        metadata={
            "description": "Rod outside the gland with the rod in, by tape; none if left out, which the "
            "answer then lists."
        },
    )

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        closed = data.get("closed_length", inf)
        if not data.get("closed_length", 0.0) < data.get("open_length", inf):
            contradictions({"open_length": "the open length must be larger than the closed length"})
        if not data.get("rod_showing_when_closed", 0.0) < closed:
            detail = "no more rod shows than the cylinder is long, closed"
            contradictions({"rod_showing_when_closed": detail})


class RatedPressure(Request):
    """Highest pressures that the makers of cylinder and hoses allow."""

    cylinder = Quantity("pressure", required=True)
    hoses = Quantity("pressure", required=True)


class MeasuredDistance(Request):
    """A distance of the arm or the base, measured with one outside diameter in the grip."""

    outside_diameter = Quantity("length", limits=("0.5 in", "60 in"), required=True)
    distance = Quantity("length", required=True)


class DistanceField(fields.Field[Any]):
    """One length for a self-centring grip, else a list of lengths measured at rising outside diameters.

    The list is loaded as pairs of outside diameter and length.
    """

    accepted = (
        "a length such as 36 in, or 2 to 50 objects with outside_diameter and distance, diameters rising"
    )
    single = Quantity("length")
    table = fields.List(fields.Nested(MeasuredDistance))

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, list):
            return self.single.deserialize(value)
        if not 2 <= len(value) <= 50:
            raise fault("not_a_table", f"a table has 2 to 50 rows, not {len(value)}", self.accepted)
        rows: Any = self.table.deserialize(value)
        for above, below in pairwise(rows):
            if not above["outside_diameter"] < below["outside_diameter"]:
                raise fault("not_a_table", "outside diameters must rise from row to row", self.accepted)
        return [(row["outside_diameter"], row["distance"]) for row in rows]


class ArmRadius(DistanceField):
    """The distance from the centre of the gripped pipe to the arm pin."""

    def __init__(self) -> None:
        text = "Centre of the gripped pipe to the arm pin: one length if the grip is self-centring, "
        super().__init__(required=True, metadata={"description": text + "else by outside diameter."})


class BaseDistance(DistanceField):
    """The distance from the centre of the gripped pipe to the base pin of the cylinder."""

    def __init__(self) -> None:
        text = "Centre of the gripped pipe to the base pin of the cylinder, likewise."
        super().__init__(required=True, metadata={"description": text})


def check_triangle(data: Mapping[str, Any]) -> None:
    """Refuse lengths of a cylinder that no triangle of pipe centre, arm pin and base pin has."""
    arm, base, cylinder = data.get("arm_radius"), data.get("base_distance"), data.get("cylinder", {})
    if not isinstance(arm, float) or not isinstance(base, float):
        return  # missing, or by diameter: then the check of the profile looks at each
    faults = {}
    if not cylinder.get("closed_length", inf) > abs(arm - base):
        faults["closed_length"] = [FieldFault("contradiction", TOO_SHORT)]
    if not cylinder.get("open_length", 0.0) < arm + base:
        faults["open_length"] = [FieldFault("contradiction", TOO_LONG)]
    if faults:
        raise ValidationError({"cylinder": faults})


class WeighedArm(Request):
    """What is known of the weight of an arm, which turns the joint too."""

    arm_weight = Quantity(
        "force",
        limits=("1 N", "100 kN"),
        zero=True,
        metadata={"description": "Weight of all that swings with the arm, as a force; with the next."},
    )
    arm_centre_of_mass = Quantity(
        "length",
        limits=("1 mm", "20 m"),
        zero=True,
        metadata={"description": "Distance of its centre of mass from the centre of the pipe."},
    )
    arm_supported = Flag(
        metadata={"description": "true where a hanger or a rail carries the arm; false if left out."}
    )

    @validates_schema(skip_on_field_errors=False)
    def _weighed_wholly(self, data: dict[str, Any], **_: Any) -> None:
        weight, centre = "arm_weight" in data, "arm_centre_of_mass" in data
        contradictions(
            {
                "arm_weight": WEIGHED_WHOLLY if weight and not centre else None,
                "arm_centre_of_mass": WEIGHED_WHOLLY if centre and not weight else None,
            }
        )


class CylinderProfile(HydraulicProfile, WeighedArm):
    """A machine whose arm is swung by cylinders."""

    efficiency = fields.Nested(EfficiencyRange, required=True)
    breakaway_pressure = Quantity("pressure", zero=True, required=True)
    return_pressure = Quantity("pressure", zero=True, required=True)
    rated_pressure = fields.Nested(RatedPressure, required=True)
    outside_diameter = fields.Nested(DiameterRange, required=True)
