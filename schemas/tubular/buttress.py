"""Made-up position of buttress casing, as asked and as answered."""

from collections.abc import Mapping
from typing import Any

from marshmallow import fields, validates_schema

from schemas.core.faults import contradictions
from schemas.core.fields import Number, Request, Text
from schemas.core.parts import Basis, Part, Words, knowable
from schemas.core.quantity_fields import Quantity

NOT_BOTH = "the face is either short of the base or past it; give one of the two"


class FaceMeasured(Request):
    """Where the coupling face stands, measured from the base of the triangle stamp."""

    face_short_of_base = Quantity(
        "length",
        limits=("0.001 in", "6 in"),
        zero=True,
        metadata={
            "description": "Distance from the coupling face to the base of the triangle where the face has "
            "not reached it yet: the base is still to be seen. 0 in where the face is at the base."
        },
    )
    face_past_base = Quantity(
        "length",
        limits=("0.001 in", "6 in"),
        zero=True,
        metadata={
            "description": "Distance from the base of the triangle to the coupling face where the face has "
            "covered the base and gone on towards the apex. 0 in where the face is at the base."
        },
    )

    @validates_schema(skip_on_field_errors=True)
    def _one_side(self, data: Mapping[str, Any], **_: Any) -> None:
        both = "face_short_of_base" in data and "face_past_base" in data
        contradictions({"face_past_base": NOT_BOTH if both else None})


class ButtressPositionRequest(FaceMeasured):
    """A size of API buttress casing and, if a joint is made up, where its coupling face stands."""

    size = Text(
        20,
        required=True,
        metadata={"description": "Nominal size of the casing, a name in inches.", "example": "9-5/8"},
    )


class FaceWindowPart(Part):
    """Where the coupling face may stand."""

    short_of_base = Quantity(
        "length", metadata={"description": "Farthest short of the base; 0 where the base must be reached."}
    )
    past_base = Quantity("length", metadata={"description": "Farthest past the base: to the apex."})
    pipe_end_to_face_minimum = knowable(Quantity("length"))
    pipe_end_to_face_maximum = knowable(Quantity("length"))


class ButtressPositionAnswer(Part):
    """Where the coupling face of buttress casing belongs, and whether it is there."""

    only_full = frozenset(
        {"triangle_base_printed", "triangle_side", "triangle_height", "coupling_length", "mill_end"}
    )

    size = Words()
    triangle_base = knowable(
        Quantity(
            "length", metadata={"description": "A1, from the pipe end to the base of the triangle stamp."}
        )
    )
    triangle_base_printed = Words(allow_none=True, metadata={"description": "As printed, in inches."})
    coupling_length = Quantity(
        "length", allow_none=True, metadata={"description": "Length of the API coupling of this size."}
    )
    triangle_side = Quantity("length", metadata={"description": "Side of the equilateral stamp."})
    triangle_height = Quantity(
        "length", metadata={"description": "Height of the stamp, from its base to its apex."}
    )
    window = fields.Nested(FaceWindowPart)
    position = knowable(
        Words(
            metadata={
                "description": "Position of the face measured: short (more than one turn short of the "
                "base), within_one_turn, base_to_apex or past_apex."
            }
        )
    )
    verdict = knowable(Words(metadata={"description": "accepted or not_accepted, by position alone."}))
    verdict_basis = Basis()
    turns_to_base = knowable(Number(metadata={"description": "Turns that still bring the face to the base."}))
    pipe_end_to_face = knowable(Quantity("length"))
    mill_end = Words(metadata={"description": "How far the mill end may turn meanwhile."})
    torque = knowable(Quantity("torque", metadata={"description": "None is published."}))
    preload = knowable(Quantity("force", metadata={"description": "Not defined."}))
