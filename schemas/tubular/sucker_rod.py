"""Sucker rods: listed, request and answer."""

from marshmallow import fields

from schemas.core.fields import Choice, Number, Request, Text
from schemas.core.parts import Basis, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.listings import LengthUnits


class SuckerRodFilters(LengthUnits):
    """Which displacements to list."""

    run = Choice(("first", "rerun"), metadata={"description": "Only displacements for this run."})
    rod_grade = Choice(("C", "D", "K"), metadata={"description": "Only displacements for this grade."})


class RodDisplacementPart(Part):
    """Circumferential displacement past hand tight for one run."""

    run = Words(metadata={"description": "first or rerun."})
    grades = fields.List(fields.String())
    minimum = Quantity("length")
    maximum = Quantity("length")
    minimum_printed = Words(metadata={"description": "As printed, in inches."})
    maximum_printed = Words(metadata={"description": "As printed, in inches."})
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")


class SuckerRodPart(Part):
    """A size of sucker rod with its full-size coupling; status and source are of its diameters."""

    size = Words()
    pin_size = Words(metadata={"description": "A name in inches."})
    pin_diameter = Quantity("length")
    threads_per_inch = Number()
    shoulder_outside_diameter = Quantity("length")
    coupling_outside_diameter = Quantity(
        "length", metadata={"description": "Outside diameter of the full-size coupling."}
    )
    displacements = fields.List(fields.Nested(RodDisplacementPart))
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")


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

    only_full = frozenset({"displacement_printed", "coupling_outside_diameter"})

    size = Words()
    rod_grade = Words()
    run = Words()
    coupling = Words()
    displacement_minimum = Quantity("length")
    displacement_maximum = Quantity("length")
    displacement_printed = Words(metadata={"description": "As printed, in inches."})
    displacement = knowable(Quantity("length", metadata={"description": "Displacement as measured."}))
    verdict = knowable(
        Words(metadata={"description": "Verdict on the displacement measured: short, accepted or over."})
    )
    verdict_basis = Basis()
    coupling_outside_diameter = Quantity(
        "length", metadata={"description": "Outside diameter of the full-size coupling."}
    )
    turn_minimum = Quantity("angle", metadata={"description": "Past hand tight, on that coupling."})
    turn_maximum = Quantity("angle")
    axial_travel_minimum = Quantity("length", metadata={"description": "Turn times the lead of the thread."})
    axial_travel_maximum = Quantity("length")
    torque = knowable(Quantity("torque", metadata={"description": "None is published."}))
    preload = knowable(Quantity("force", metadata={"description": "None is published."}))
