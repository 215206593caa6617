"""Parts of machine profiles with a cylinder."""

from itertools import pairwise
from math import inf
from typing import Any

from marshmallow import fields, validates_schema

from schemas.base import Request
from schemas.faults import fault
from schemas.profile_parts import DiameterRange, EfficiencyRange, HydraulicProfile, contradictions
from schemas.quantity_fields import Quantity


class CylinderParts(Request):
    """A double-acting cylinder."""

    bore = Quantity("length", limits=("0.5 in", "60 in"), required=True)
    rod = Quantity("length", limits=("0.1 in", "59 in"), required=True)
    closed_length = Quantity("length", required=True, metadata={"description": "Pin to pin, rod in."})
    open_length = Quantity("length", required=True, metadata={"description": "Pin to pin, rod out."})

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        thick = not data.get("rod", 0.0) < data.get("bore", inf)
        short = not data.get("closed_length", 0.0) < data.get("open_length", inf)
        contradictions(
            {
                "rod": "the rod must be thinner than the bore" if thick else None,
                "open_length": "the open length must be larger than the closed length" if short else None,
            }
        )


class RatedPressure(Request):
    """Highest pressures that the makers of cylinder and hoses allow."""

    cylinder = Quantity("pressure", required=True)
    hoses = Quantity("pressure", required=True)


class MeasuredDistance(Request):
    """A distance of the arm or the base, measured with one outside diameter in the grip."""

    outside_diameter = Quantity("length", limits=("0.5 in", "60 in"), required=True)
    distance = Quantity("length", required=True)


class DistanceField(fields.Field[Any]):
    """One length for a self-centring grip, else a list of lengths measured at rising outside diameters."""

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
        return rows


class CylinderProfile(HydraulicProfile):
    """A machine whose arm is swung by cylinders."""

    efficiency = fields.Nested(EfficiencyRange, required=True)
    breakaway_pressure = Quantity("pressure", zero=True, required=True)
    return_pressure = Quantity("pressure", zero=True, required=True)
    rated_pressure = fields.Nested(RatedPressure, required=True)
    outside_diameter = fields.Nested(DiameterRange, required=True)
