"""The passes that tension the studs of a flange to a preload, as asked and as answered."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.base import Part
from schemas.bolt_order import BoltCount
from schemas.faults import FieldFault
from schemas.fields import Choice, Number, Words
from schemas.preload import PreloadPressureAnswer, PreloadRequest
from schemas.quantity_fields import DialReading, Quantity


class TensionerSequenceRequest(PreloadRequest):
    """A preload wanted in every stud of a flange, and the tensioners that are to give it."""

    bolt_count = BoltCount(
        required=True, metadata={"description": "Number of studs in the flange.", "example": 16}
    )
    coverage = Choice(
        ("full", "half"),
        required=True,
        metadata={
            "description": "Studs tensioned at once: all (100 %), or every second one (50 %), then the "
            "others. No practice is held for fewer.",
            "example": "half",
        },
    )
    first_pass_factor = Number(
        1,
        1.5,
        metadata={
            "description": "Pressure of the first group over that of the second, since the first loses load "
            "when the second is tensioned. From the maker of the tensioner or measured; no value is "
            "published. Required with half coverage.",
            "example": 1.1,
        },
    )

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def _fits_coverage(self, data: Mapping[str, Any], original: Any, **_: Any) -> None:
        given = isinstance(original, Mapping) and "first_pass_factor" in original
        coverage, found = data.get("coverage"), {}
        if coverage == "half" and not given:
            text = "with half coverage the first group loses load to the second: how much is not published"
            accepted = "1 to 1.5, from the maker of the tensioner or measured"
            found["first_pass_factor"] = [FieldFault("coefficient_required", text, accepted)]
        if coverage == "full" and given:
            text = "with full coverage all studs are tensioned at once and none relaxes another"
            found["first_pass_factor"] = [FieldFault("coefficient_not_taken", text, "leave it out")]
        if coverage == "half" and data.get("bolt_count", 2) % 2:
            text = "with half coverage the number of studs is even"
            found["bolt_count"] = [FieldFault("contradiction", text, "an even number, or coverage full")]
        if found:
            raise ValidationError(found)


class PreloadPassPart(Part):
    """One pass over some of the studs."""

    number = fields.Integer(metadata={"description": "In its turn, from 1."})
    name = Words(metadata={"description": "first, second, or check."})
    order = Words(metadata={"description": "The studs tensioned at once, numbered clockwise from 1."})
    instruction = Words()
    preload = Quantity("force", metadata={"description": "Aimed at when the tool is let off."})
    pressure = Quantity("pressure", metadata={"description": "Exact pressure of that preload."})
    gauge_setting = DialReading(metadata={"description": "The mark to set."})
    preload_at_gauge_setting = Quantity("force")
    tool_load = Quantity("force", metadata={"description": "On each stud under its tool."})
    stud_stress_share_of_yield = Number(metadata={"description": "0.95 is the most that is accepted."})


class PreloadSettingPart(PreloadPressureAnswer):
    """A setting of a stud tensioner, as ``/v1/preload-pressure`` answers it."""


class TensionerSequenceAnswer(Part):
    """How the studs of a flange are tensioned to a preload."""

    tools_needed = fields.Integer(metadata={"description": "Tensioners that work at once."})
    passes = fields.List(fields.Nested(PreloadPassPart))
    setting = fields.Nested(
        PreloadSettingPart,
        metadata={"description": "What is set for the preload itself, as /v1/preload-pressure answers it."},
    )
    first_setting = fields.Nested(
        PreloadSettingPart,
        allow_none=True,
        metadata={
            "description": "What is set for the first group; its preload is let down by the second, so that "
            "the window of the preload does not bind it. Null with full coverage."
        },
    )
