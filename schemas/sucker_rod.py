"""Circumferential displacement of sucker-rod joints, as asked and as answered."""

from schemas.base import Part, Request
from schemas.fields import Choice, Text, Words
from schemas.quantity_fields import Quantity


class SuckerRodRequest(Request):
    """A sucker-rod joint and, if it is made up, the displacement measured on it."""

    size = Text(
        20,
        required=True,
        metadata={"description": "Nominal size of the rod, a name in inches.", "example": "3/4"},
    )
    rod_grade = Text(
        30,
        required=True,
        metadata={"description": "Grade of the rod: C, D or K (API 11B).", "example": "D"},
    )
    run = Choice(
        ("first", "rerun"),
        required=True,
        metadata={
            "description": "first: new rods that run for the first time. rerun: rods that have run before.",
            "example": "first",
        },
    )
    coupling = Choice(
        ("full_size", "slimhole"),
        required=True,
        metadata={"description": "Coupling on the joint.", "example": "full_size"},
    )
    displacement = Quantity(
        "length",
        limits=("0.001 in", "3 in"),
        zero=True,
        metadata={
            "description": "Measured circumferential displacement past hand tight, along the outside of the "
            "coupling."
        },
    )


class SuckerRodAnswer(Part):
    """The circumferential displacement that a sucker-rod joint is made up to."""

    size = Words()
    rod_grade = Words()
    run = Words()
    coupling = Words()
    displacement_minimum = Quantity("length")
    displacement_maximum = Quantity("length")
    displacement_printed = Words(metadata={"description": "As printed, in inches."})
    displacement = Quantity("length", allow_none=True, metadata={"description": "As measured."})
    displacement_reason = Words(allow_none=True)
    verdict = Words(
        allow_none=True, metadata={"description": "Of the displacement measured: short, accepted or over."}
    )
    verdict_reason = Words()
    coupling_outside_diameter = Quantity("length", metadata={"description": "Of the full-size coupling."})
    turn_minimum = Quantity("angle", metadata={"description": "Past hand tight, on that coupling."})
    turn_maximum = Quantity("angle")
    axial_travel_minimum = Quantity("length", metadata={"description": "Turn times the lead of the thread."})
    axial_travel_maximum = Quantity("length")
    torque = Quantity("torque", allow_none=True, metadata={"description": "Always null: none is published."})
    torque_reason = Words()
    preload = Quantity("force", allow_none=True, metadata={"description": "Always null: none is published."})
    preload_reason = Words()
