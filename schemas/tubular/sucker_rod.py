"""Sucker rods: listed, request and answer."""

from marshmallow import fields

from schemas.core.fields import Choice, Number, Request, Text
from schemas.core.parts import Basis, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.listings import LengthUnits
from schemas.provenance import SourceText, Status
from schemas.words import STATUSES

RUNS = ("first", "rerun")
ROD_GRADES = ("C", "D", "K")
COUPLINGS = ("full_size", "slimhole")
ROD_VERDICTS = ("short", "accepted", "over")


class SuckerRodFilters(LengthUnits):
    """Which displacements to list."""

    run = Choice(RUNS, metadata={"description": "Only displacements for this run."})
    rod_grade = Choice(ROD_GRADES, metadata={"description": "Only displacements for this grade."})


class RodDisplacementPart(Part):
    """Circumferential displacement past hand tight for one run."""

    run = OneOf(RUNS, metadata={"description": "For new rods, or for rods that have run before."})
    grades = fields.List(OneOf(ROD_GRADES), metadata={"description": "Grades that it holds for."})
    minimum = Quantity("length", metadata={"description": "Smallest displacement."})
    maximum = Quantity("length", metadata={"description": "Largest displacement."})
    minimum_printed = Words(metadata={"description": "As printed, in inches."})
    maximum_printed = Words(metadata={"description": "As printed, in inches."})
    status = Status(STATUSES, attribute="source.status")
    source = SourceText(attribute="source.source")


class SuckerRodPart(Part):
    """A size of sucker rod with its full-size coupling; status and source are of its diameters."""

    size = Words(metadata={"description": "Nominal size of the rod, a name in inches."})
    pin_size = Words(metadata={"description": "Nominal size of the pin, a name in inches."})
    pin_diameter = Quantity("length", metadata={"description": "Diameter of the pin."})
    threads_per_inch = Number(metadata={"description": "Threads on an inch of length."})
    shoulder_outside_diameter = Quantity(
        "length", metadata={"description": "Outside diameter of the shoulder of the rod."}
    )
    coupling_outside_diameter = Quantity(
        "length", metadata={"description": "Outside diameter of the full-size coupling."}
    )
    displacements = fields.List(
        fields.Nested(RodDisplacementPart), metadata={"description": "What is published, by run and grade."}
    )
    status = Status(STATUSES, attribute="source.status")
    source = SourceText(attribute="source.source")


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
        RUNS,
        required=True,
        metadata={
            "description": "first: new rods that run for the first time. rerun: rods that have run before.",
            "example": "first",
        },
    )
    coupling = Choice(
        COUPLINGS,
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

    size = Words(metadata={"description": "Nominal size of the rod, a name in inches."})
    rod_grade = OneOf(ROD_GRADES, metadata={"description": "Grade of the rod."})
    run = OneOf(RUNS, metadata={"description": "The run that it is for."})
    coupling = OneOf(COUPLINGS, metadata={"description": "Coupling on the joint."})
    displacement_minimum = Quantity(
        "length", metadata={"description": "Smallest circumferential displacement past hand tight."}
    )
    displacement_maximum = Quantity(
        "length", metadata={"description": "Largest circumferential displacement past hand tight."}
    )
    displacement_printed = Words(metadata={"description": "As printed, in inches."})
    displacement = knowable(Quantity("length", metadata={"description": "Displacement as measured."}))
    verdict = knowable(OneOf(ROD_VERDICTS, metadata={"description": "Verdict on the displacement measured."}))
    verdict_basis = Basis()
    coupling_outside_diameter = Quantity(
        "length", metadata={"description": "Outside diameter of the full-size coupling."}
    )
    turn_minimum = Quantity("angle", metadata={"description": "Smallest turn past hand tight, there."})
    turn_maximum = Quantity("angle", metadata={"description": "Largest turn past hand tight, there."})
    axial_travel_minimum = Quantity("length", metadata={"description": "Turn times the lead of the thread."})
    axial_travel_maximum = Quantity("length", metadata={"description": "The largest turn times that lead."})
    torque = knowable(Quantity("torque", metadata={"description": "None is published."}))
    preload = knowable(Quantity("force", metadata={"description": "None is published."}))
