"""Listings of bolt threads, of grades of bolts and pipe, and of nut factors: filters and entries."""

from marshmallow import fields

from schemas.bolts.answer import AREA_STANDARDS, AREAS
from schemas.core.fields import Choice, Number, Request, Text
from schemas.core.parts import OneOf, Part, Words
from schemas.core.quantity_fields import SYSTEMS, Quantity
from schemas.listings import NOTE, LengthUnits
from schemas.provenance import SourceText, Status
from schemas.words import STATUSES

THREAD_SYSTEMS = ("metric", "unified")
SERIES = ("coarse", "fine", "UNC", "UNF", "8UN")
PRODUCTS = ("bolt", "pipe")
USES = ("metric threads", "inch threads", "casing", "tubing")


class ThreadFilters(LengthUnits):
    """Which bolt threads to list."""

    system = Choice(THREAD_SYSTEMS, metadata={"description": "Only threads of this system."})
    series = Choice(SERIES, metadata={"description": "Only threads of this series."})
    status = Choice(STATUSES, metadata={"description": "Only this status."})


class ThreadPart(Part):
    """A bolt thread: diameter and pitch as listed, the rest by the formulas of its standard."""

    designation = Words(metadata={"description": "Name of the thread, as a request gives it."})
    system = OneOf(THREAD_SYSTEMS, metadata={"description": "Of which system of threads it is."})
    series = OneOf(SERIES, metadata={"description": "Of which series of that system it is."})
    diameter = Quantity("length", metadata={"description": "Nominal diameter."})
    pitch = Quantity("length", metadata={"description": "Distance from thread to thread."})
    threads_per_inch = Number(
        allow_none=True, metadata={"description": "Threads per inch of a unified thread."}
    )
    pitch_diameter = Quantity("length", metadata={"description": "Basic pitch diameter."})
    root_diameter = Quantity(
        "length", metadata={"description": "Root diameter of the areas, external thread."}
    )
    internal_minor_diameter = Quantity(
        "length", metadata={"description": "Basic minor diameter of the thread of the nut."}
    )
    stress_area = Quantity("area", metadata={"description": "Stress area by formula. Dialset uses this one."})
    root_area = Quantity("area", metadata={"description": "Area at the root diameter."})
    area_standard = OneOf(AREA_STANDARDS, metadata={"description": AREAS})
    published_stress_area = Quantity(
        "area",
        allow_none=True,
        metadata={"description": "Stress area as printed, to compare; null where none is held."},
    )
    published_stress_area_status = Status(STATUSES, allow_none=True)
    lead_angle = Quantity("angle", metadata={"description": "Angle of the helix at the pitch diameter."})
    status = Status(STATUSES)
    source = SourceText()
    note = Words(metadata={"description": NOTE})


class GradeFilters(Request):
    """Which grades to list."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units."})
    product = Choice(PRODUCTS, metadata={"description": "Only grades of bolts, or of pipe."})
    standard = Text(20, metadata={"description": "Only grades of this standard, such as ASTM A193."})
    status = Choice(STATUSES, metadata={"description": "Only this status."})


class GradePart(Part):
    """A grade; of a bolt in one range of sizes."""

    product = OneOf(PRODUCTS, metadata={"description": "What it is a grade of."})
    name = Words(metadata={"description": "Name of the grade, as a request gives it."})
    standard = Words(
        allow_none=True, metadata={"description": "Standard of a grade of bolts; null for pipe."}
    )
    used_for = fields.List(
        OneOf(USES), metadata={"description": "Threads of a bolt, or products of a pipe, that have it."}
    )
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
    proof_stress = Quantity(
        "stress", allow_none=True, metadata={"description": "Proof stress; null where its standard has none."}
    )
    yield_strength = Quantity("stress", metadata={"description": "Minimum yield strength."})
    tensile_strength = Quantity("stress", metadata={"description": "Minimum tensile strength."})
    editions = Words(metadata={"description": "What differs between editions, or empty."})
    status = Status(STATUSES)
    source = SourceText()
    note = Words(metadata={"description": NOTE})


class NutFactorPart(Part):
    """A published nut factor: to compare with; none is ever assumed."""

    condition = Words(
        attribute="source.what", metadata={"description": "State of the surfaces, or how it was found."}
    )
    low = Number(metadata={"description": "Lowest published nut factor K in this condition."})
    high = Number(metadata={"description": "Highest published; low again where one figure is printed."})
    status = Status(STATUSES, attribute="source.status")
    source = SourceText(attribute="source.source")
