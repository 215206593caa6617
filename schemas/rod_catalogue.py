"""The listing of sucker rods: its filters and entries."""

from marshmallow import fields

from schemas.base import Part
from schemas.catalogue import LengthUnits
from schemas.fields import Choice, Number, Words
from schemas.quantity_fields import Quantity


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
    coupling_outside_diameter = Quantity("length", metadata={"description": "Of the full-size coupling."})
    displacements = fields.List(fields.Nested(RodDisplacementPart))
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")
