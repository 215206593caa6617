"""Optional parts of a machine profile that say how it grips; each stands for itself."""

from itertools import pairwise
from math import inf
from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from schemas.core.faults import FieldFault
from schemas.core.fields import Choice, Number, Request, WholeNumber
from schemas.core.quantity_fields import Quantity
from schemas.words import CYLINDER_SIDES


def _contradiction(field: str, detail: str) -> ValidationError:
    return ValidationError({field: [FieldFault("contradiction", detail)]})


class Jaws(Request):
    """Jaws that squeeze the pipe."""

    rated_squeeze = Quantity(
        "force",
        required=True,
        metadata={"description": "Highest sum of the radial forces of all jaws that their maker allows."},
    )
    wedge_angle = Quantity(
        "angle",
        limits=("0.1 deg", "60 deg"),
        metadata={
            "description": "Wedge angle of jaws on wedges or cams: between the face they slide on and "
            "the direction in which the pipe drags them."
        },
    )


class LinkTableRow(Request):
    """Outside diameters that take one number of links; both ends belong to it."""

    minimum = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        required=True,
        metadata={"description": "Smallest such diameter."},
    )
    maximum = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        required=True,
        metadata={"description": "Largest such diameter."},
    )
    links = WholeNumber(1, 1000, required=True, metadata={"description": "Number of links, tails included."})

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not data.get("minimum", 0.0) <= data.get("maximum", inf):
            raise _contradiction("maximum", "the maximum must not be smaller than the minimum")


class GripChain(Request):
    """A chain laid round the pipe."""

    pitch = Quantity(
        "length",
        limits=("0.2 in", "12 in"),
        required=True,
        metadata={"description": "Distance from pin to pin."},
    )
    pin_line_offset = Quantity(
        "length",
        limits=("0.01 in", "12 in"),
        zero=True,
        required=True,
        metadata={"description": "Distance from the surface of the pipe to the line of the pins."},
    )
    wrap = Quantity(
        "angle",
        limits=("30 deg", "3 rev"),
        required=True,
        metadata={"description": "Angle over which the chain lies on the pipe."},
    )
    tail_links = WholeNumber(
        0, 100, required=True, metadata={"description": "Links off the pipe, at both ends together."}
    )
    rated_load = Quantity(
        "force", required=True, metadata={"description": "Working load of the chain, not its breaking load."}
    )
    link_table = fields.List(
        fields.Nested(LinkTableRow),
        validate=validate.Length(1, 100),
        metadata={
            "description": "Number of links by outside diameter as the maker tells it, tails included. "
            "Where there is a table, nothing is computed beside it."
        },
    )

    @validates_schema(skip_on_field_errors=False)
    def _rising(self, data: dict[str, Any], **_: Any) -> None:
        rows = [row for row in data.get("link_table", []) if {"minimum", "maximum", "links"} <= row.keys()]
        for above, below in pairwise(rows):
            if not (above["maximum"] <= below["minimum"] and above["links"] <= below["links"]):
                raise _contradiction(
                    "link_table", "rows must rise in diameter and links and must not overlap"
                )


class GripCylinder(Request):
    """The cylinder that closes the jaws."""

    bore = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        required=True,
        metadata={"description": "Inside diameter of the cylinder."},
    )
    rod = Quantity(
        "length", limits=("0.1 in", "59 in"), required=True, metadata={"description": "Diameter of the rod."}
    )
    squeezing_side = Choice(
        CYLINDER_SIDES, required=True, metadata={"description": "The side under pressure while it squeezes."}
    )
    stroke = Quantity(
        "length",
        limits=("0.1 in", "200 in"),
        required=True,
        metadata={"description": "Travel of the piston from end to end."},
    )
    open_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        required=True,
        metadata={"description": "Outside diameter that the jaws touch at the beginning of the stroke."},
    )
    travel_per_diameter = Number(
        0.01,
        100,
        required=True,
        metadata={
            "description": "Travel of the cylinder over the change of diameter between the jaws, the same "
            "over the whole stroke."
        },
    )
    efficiency = Number(
        0.05,
        1,
        required=True,
        metadata={"description": "Squeeze over squeeze without losses, measured or from the maker."},
    )
    rated_pressure = Quantity(
        "pressure", required=True, metadata={"description": "Highest pressure that its maker allows."}
    )

    @validates_schema(skip_on_field_errors=False)
    def _rod(self, data: dict[str, float], **_: Any) -> None:
        if not data.get("rod", 0.0) < data.get("bore", inf):
            raise _contradiction("rod", "the rod must be thinner than the bore")
