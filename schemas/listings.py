"""Listings: their filters and entries."""

from typing import Any

from marshmallow import fields

from schemas.core.fields import Choice, Flag, Number, Request, Text, ten_digits
from schemas.core.parts import AsGiven, Count, Entry, OneOf, Part, Words
from schemas.core.quantity_fields import SYSTEMS, Quantity, UnitName
from schemas.core.units import SI_UNITS, UNITS
from schemas.finding import ProblemCode
from schemas.machines.profile import PROFILES
from schemas.provenance import SourceText, Status
from schemas.words import APPROVALS, STATUSES

NOTE = "Remark on this row; empty where there is none."


class NoFilters(Request):
    """A listing that is always given whole."""


class LengthUnits(Request):
    """Units of the lengths of an entry."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units."})
    length_unit = UnitName("length", metadata={"description": "Unit of every length."})


class ConnectionFilters(LengthUnits):
    """Which connections to list."""

    thread_form = Text(40, metadata={"description": "Only this thread form, such as V-0.038R."})
    status = Choice(STATUSES, metadata={"description": "Only this status."})
    low_torque_face = Flag(metadata={"description": "Only those with, or without, a low torque face."})


class MachineFilters(Request):
    """Which machines to list."""

    site = Text(60, metadata={"description": "Only machines of this site."})
    kind = Choice(PROFILES, metadata={"description": "Only machines of this kind."})
    status = Choice(APPROVALS, metadata={"description": "Only profiles of this status."})


class UnitFilters(Request):
    """Which units to list."""

    kind = Choice(tuple(SI_UNITS), metadata={"description": "Only units of this kind."})


class Geometry(Quantity):
    """A length of the thread geometry."""

    def __init__(self, name: str, **options: Any) -> None:
        super().__init__("length", attribute=f"geometry.{name}", **options)


class Taper(fields.Field[float]):
    """Taper on diameter, in/ft as printed."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> float:
        return ten_digits(value * 12)


class ConnectionPart(Part):
    """A connection."""

    designation = Words(metadata={"description": "Name of the connection, as answers have it."})
    aliases = fields.List(
        fields.String(), metadata={"description": "Former names of the same thread, which a request may use."}
    )
    thread_form = Words(metadata={"description": "Form of the thread, such as V-0.038R."})
    threads_per_inch = Number(metadata={"description": "Threads on an inch of length."})
    taper_in_per_ft = Taper(attribute="geometry.taper", metadata={"description": "Taper on diameter."})
    pitch_diameter = Geometry("pitch_diameter", metadata={"description": "C, 5/8 in from the shoulder."})
    pin_length = Geometry("pin_length", metadata={"description": "Lpc, length of the pin."})
    counterbore = Geometry("counterbore", metadata={"description": "Qc, an exact 1/64 in."})
    low_torque_face_counterbore = Quantity(
        "length",
        allow_none=True,
        metadata={"description": "Counterbore of the low torque face; null where it has none."},
    )
    thread_height = Geometry("thread_height", metadata={"description": "H, not truncated."})
    root_truncation = Geometry("root_truncation", metadata={"description": "Srs."})
    pin_large_diameter = Quantity(
        "length",
        allow_none=True,
        metadata={"description": "DL, large diameter of the pin; null where it is not held."},
    )
    pin_cylinder_diameter = Quantity(
        "length",
        allow_none=True,
        metadata={"description": "DLF, of the cylindrical part of the pin; null where it is not held."},
    )
    pin_small_diameter = Quantity(
        "length",
        allow_none=True,
        metadata={"description": "DS, small diameter of the pin; null where it is not held."},
    )
    status = Status(STATUSES, attribute="source.status")
    source = SourceText(attribute="source.source")
    note = Words(metadata={"description": NOTE})


class MachinePart(Part):
    """A machine of the shop."""

    id = Words(metadata={"description": "Id by which requests name the machine."})
    kind = OneOf(PROFILES, metadata={"description": "Kind of machine."})
    site = Words(allow_none=True, metadata={"description": "Where it stands; null where that is not said."})
    revision = Words(metadata={"description": "Revision of its profile."})
    status = OneOf(APPROVALS, metadata={"description": "Whether the profile is approved."})
    hash = Words(metadata={"description": "Hash of the profile."})


class MachineEntryPart(Part):
    """The whole profile of a machine, as it stands in its file."""

    hash = Words(metadata={"description": "Hash of the profile."})
    profile = AsGiven("MachineProfile", metadata={"description": "The profile, member for member."})


class UnitPart(Part):
    """A unit: si = value * factor_to_si + offset_to_si."""

    code = OneOf(UNITS, metadata={"description": "The code by which answers write the unit."})
    kinds = fields.List(
        OneOf(SI_UNITS), metadata={"description": "Kinds of quantity that are measured in it."}
    )
    factor_to_si = Number(metadata={"description": "One such unit in the SI unit of its kind."})
    offset_to_si = Number(metadata={"description": "What is added besides: 0 but for temperatures."})
    spellings = fields.List(fields.String(), metadata={"description": "Other ways to write it in a request."})


class SourceEntryPart(Part):
    """A source of published figures."""

    source = SourceText()
    status = Status(STATUSES)
    uses = Count(metadata={"description": "How many rows rest on it."})
    first_use = Words(metadata={"description": "One of these rows: its table and its name."})


class StandingNoticePart(Part):
    """What is true of every job of some questions."""

    id = Words(metadata={"description": "Stable, for programs."})
    text = Words(metadata={"description": "The notice itself."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it: its id alone, since its text stands at /v1/standing-notices."""
        return str(entry["id"])


class ListedNoticePart(StandingNoticePart):
    """A standing notice, with what it is of."""

    of = fields.List(
        fields.String(),
        metadata={"description": "Questions by their names, and kinds of machines, that it holds for."},
    )


class ProblemPart(Part):
    """A code of refusals."""

    code = ProblemCode(metadata={"description": "Stable code, as a refusal has it."})
    meaning = Words(metadata={"description": "What it means, and what to do."})
