"""Listings of bolt threads, of grades of bolts and pipe, and of nut factors: filters and entries."""

from marshmallow import fields

from schemas.core.fields import Choice, Number, Request, Text
from schemas.core.parts import Part, Words
from schemas.core.quantity_fields import SYSTEMS, Quantity
from schemas.listings import LengthUnits

STATUS = ("read", "reprint", "fitted", "from memory")


class ThreadFilters(LengthUnits):
    """Which bolt threads to list."""

    system = Choice(("metric", "unified"), metadata={"description": "Only threads of this system."})
    series = Choice(
        ("coarse", "fine", "UNC", "UNF", "8UN"), metadata={"description": "Only threads of this series."}
    )
    status = Choice(STATUS, metadata={"description": "Only this status."})


class ThreadPart(Part):
    """A bolt thread: diameter and pitch as listed, the rest by the formulas of its standard."""

    designation = Words()
    system = Words(metadata={"description": "metric or unified."})
    series = Words()
    diameter = Quantity("length")
    pitch = Quantity("length")
    threads_per_inch = Number(
        allow_none=True, metadata={"description": "Threads per inch of a unified thread."}
    )
    pitch_diameter = Quantity("length")
    root_diameter = Quantity(
        "length", metadata={"description": "Root diameter of the areas, external thread."}
    )
    internal_minor_diameter = Quantity("length")
    stress_area = Quantity("area", metadata={"description": "Stress area by formula. Dialset uses this one."})
    root_area = Quantity("area")
    area_standard = Words()
    published_stress_area = Quantity("area", allow_none=True)
    published_stress_area_status = Words(allow_none=True)
    lead_angle = Quantity("angle")
    status = Words(metadata={"description": "How sure diameter and pitch are."})
    source = Words()
    note = Words()


class GradeFilters(Request):
    """Which grades to list."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units."})
    product = Choice(("bolt", "pipe"), metadata={"description": "Only grades of bolts, or of pipe."})
    standard = Text(20, metadata={"description": "Only grades of this standard, such as ASTM A193."})
    status = Choice(STATUS, metadata={"description": "Only this status."})


class GradePart(Part):
    """A grade; of a bolt in one range of sizes."""

    product = Words(metadata={"description": "bolt or pipe."})
    name = Words()
    standard = Words(allow_none=True)
    used_for = fields.List(fields.String())
    sizes = Words(allow_none=True, metadata={"description": "The range in words; null for pipe."})
    size_over = Quantity(
        "length", allow_none=True, metadata={"description": "Lower end of the range, not in it."}
    )
    size_from = Quantity(
        "length", allow_none=True, metadata={"description": "Lower end of the range, in it."}
    )
    size_through = Quantity(
        "length", allow_none=True, metadata={"description": "Upper end of the range, in it."}
    )
    proof_stress = Quantity("stress", allow_none=True)
    yield_strength = Quantity("stress")
    tensile_strength = Quantity("stress")
    editions = Words(metadata={"description": "What differs between editions, or empty."})
    status = Words()
    source = Words()
    note = Words()


class NutFactorPart(Part):
    """A published nut factor: to compare with; none is ever assumed."""

    condition = Words(attribute="source.what")
    low = Number()
    high = Number()
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")
