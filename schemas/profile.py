"""The profile of a machine: its parts, its gauges, its limits and who answers for it."""

from collections.abc import Mapping
from itertools import pairwise
from math import inf
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.base import Request
from schemas.faults import FieldFault, fault
from schemas.fields import Choice, Day, Number, Slug, Text
from schemas.quantity_fields import DialQuantity, Quantity

TOO_SHORT = "closed, the cylinder must be longer than the difference of arm radius and base distance"
TOO_LONG = "open, the cylinder must be shorter than the sum of arm radius and base distance"


def contradictions(found: Mapping[str, str | None]) -> None:
    """Refuse every field of ``found`` that has a detail: its value contradicts another."""
    faults = {name: [FieldFault("contradiction", detail)] for name, detail in found.items() if detail}
    if faults:
        raise ValidationError(faults)


def rising(data: Mapping[str, Any], *names: str) -> bool:
    """Whether the values that are given stand in this order; one that is missing is another's fault."""
    values = [data[name] for name in names if data.get(name) is not None]
    return all(left <= right for left, right in pairwise(values))


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


class EfficiencyRange(Request):
    """Force at the arm pin over hydraulic force: lowest, nominal and highest to be expected."""

    low = Number(0.5, 1, required=True)
    nominal = Number(0.5, 1, required=True)
    high = Number(0.5, 1, required=True)

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not rising(data, "low", "nominal", "high"):
            contradictions({"nominal": "low, nominal and high must be in this order"})


class DialGauge(Request):
    """A dial gauge; span and division in the unit printed on the dial."""

    serial = Text(40, required=True)
    span = DialQuantity("pressure", required=True)
    division = DialQuantity("pressure", required=True)
    accuracy_percent_of_span = Number(0.01, 10, required=True)
    connected_at = Choice(("work_port", "pump"), required=True)

    @validates_schema(skip_on_field_errors=False)
    def _marks(self, data: dict[str, Any], **_: Any) -> None:
        span, division = data.get("span"), data.get("division")
        if span is None or division is None:
            return
        if span.unit is not division.unit:
            contradictions({"division": f"span is in {span.unit.code}, so division must be too"})
        marks = span.value / division.value
        if not (4 <= marks <= 1000 and abs(marks - round(marks)) < 1e-9 * marks):
            contradictions({"division": "the span must be 4 to 1000 whole divisions"})


class Gauges(Request):
    """The gauge read in each operation; may be the same one."""

    make_up = fields.Nested(DialGauge, required=True)
    break_out = fields.Nested(DialGauge, required=True)


class Relief(Request):
    """System relief valve."""

    cracking = Quantity("pressure", required=True, metadata={"description": "Where it begins to open."})
    full_flow = Quantity(
        "pressure", required=True, metadata={"description": "Where it passes the full flow of the pump."}
    )

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not rising(data, "cracking", "full_flow"):
            contradictions({"full_flow": "full flow cannot lie below cracking"})


class RatedPressure(Request):
    """Highest pressures that the makers allow."""

    cylinder = Quantity("pressure", required=True)
    hoses = Quantity("pressure", required=True)


class DiameterRange(Request):
    """Smallest and largest outside diameter that the machine grips."""

    minimum = Quantity("length", required=True)
    maximum = Quantity("length", required=True)

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not data.get("minimum", 0.0) < data.get("maximum", inf):
            contradictions({"maximum": "the maximum must be larger than the minimum"})


class Certificate(Request):
    """Calibration certificate of the machine."""

    certificate = Text(60, required=True)
    due = Day(required=True)


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


class CylinderOnArmProfile(Request):
    """A machine with one arm swung by one cylinder, at one arm station."""

    id = Slug(required=True)
    kind = Choice(("cylinder_on_arm",), required=True)
    site = Text(60)
    revision = Text(20, required=True)
    status = Choice(("draft", "approved"), required=True)
    approved_by = Text(100)
    approved_on = Day()
    effective_from = Day()
    effective_to = Day(allow_none=True)
    calibration = fields.Nested(Certificate)
    cylinder = fields.Nested(CylinderParts, required=True)
    arm_radius = DistanceField(
        required=True,
        metadata={
            "description": "Centre of the gripped pipe to the arm pin: one length if the grip is "
            "self-centring, else by outside diameter."
        },
    )
    base_distance = DistanceField(
        required=True,
        metadata={"description": "Centre of the gripped pipe to the base pin of the cylinder, likewise."},
    )
    right_hand_make_up_side = Choice(("cap", "rod"), required=True)
    efficiency = fields.Nested(EfficiencyRange, required=True)
    breakaway_pressure = Quantity("pressure", zero=True, required=True)
    return_pressure = Quantity("pressure", zero=True, required=True)
    gauges = fields.Nested(Gauges, required=True)
    relief = fields.Nested(Relief, required=True)
    rated_pressure = fields.Nested(RatedPressure, required=True)
    torque_rating = Quantity("torque", required=True)
    outside_diameter = fields.Nested(DiameterRange, required=True)
    lowest_setting = Quantity("pressure", zero=True, required=True)

    @validates_schema(skip_on_field_errors=False)
    def _dates(self, data: dict[str, Any], **_: Any) -> None:
        if not rising(data, "effective_from", "effective_to"):
            contradictions({"effective_to": "the profile ends before it begins"})

    @validates_schema(skip_on_field_errors=False)
    def _triangle(self, data: dict[str, Any], **_: Any) -> None:
        arm, base, cylinder = data.get("arm_radius"), data.get("base_distance"), data.get("cylinder", {})
        if not isinstance(arm, float) or not isinstance(base, float):
            return  # missing, or by diameter: then the check of the profile looks at each
        closed, opened = cylinder.get("closed_length", inf), cylinder.get("open_length", 0.0)
        faults = {}
        if not closed > abs(arm - base):
            faults["closed_length"] = [FieldFault("contradiction", TOO_SHORT)]
        if not opened < arm + base:
            faults["open_length"] = [FieldFault("contradiction", TOO_LONG)]
        if faults:
            raise ValidationError({"cylinder": faults})


PROFILE = CylinderOnArmProfile()
