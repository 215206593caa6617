"""Listings: their filters and entries."""

from typing import Any

from marshmallow import fields

from schemas.core.fields import Choice, Flag, Number, Request, Text, ten_digits
from schemas.core.parts import Entry, Part, Words
from schemas.core.quantity_fields import SYSTEMS, Quantity, UnitName
from schemas.core.units import SI_UNITS
from schemas.machines.profile import PROFILES


class NoFilters(Request):
    """A listing that is always given whole."""


class LengthUnits(Request):
    """Units of the lengths of an entry."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units."})
    length_unit = UnitName("length", metadata={"description": "Unit of every length."})


class ConnectionFilters(LengthUnits):
    """Which connections to list."""

    thread_form = Text(40, metadata={"description": "Only this thread form, such as V-0.038R."})
    status = Choice(
        ("read", "reprint", "fitted", "from memory"), metadata={"description": "Only this status."}
    )
    low_torque_face = Flag(metadata={"description": "Only those with, or without, a low torque face."})


class MachineFilters(Request):
    """Which machines to list."""

    site = Text(60, metadata={"description": "Only machines of this site."})
    kind = Choice(PROFILES, metadata={"description": "Only machines of this kind."})
    status = Choice(("draft", "approved"), metadata={"description": "Only profiles of this status."})


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

    designation = Words()
    aliases = fields.List(fields.String())
    thread_form = Words()
    threads_per_inch = Number()
    taper_in_per_ft = Taper(attribute="geometry.taper", metadata={"description": "Taper on diameter."})
    pitch_diameter = Geometry("pitch_diameter", metadata={"description": "C, 5/8 in from the shoulder."})
    pin_length = Geometry("pin_length")
    counterbore = Geometry("counterbore", metadata={"description": "Qc, an exact 1/64 in."})
    low_torque_face_counterbore = Quantity("length", allow_none=True)
    thread_height = Geometry("thread_height", metadata={"description": "H, not truncated."})
    root_truncation = Geometry("root_truncation", metadata={"description": "Srs."})
    pin_large_diameter = Quantity("length", allow_none=True)
    pin_cylinder_diameter = Quantity("length", allow_none=True)
    pin_small_diameter = Quantity("length", allow_none=True)
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")
    note = Words()


class MachinePart(Part):
    """A machine of the shop."""

    id = Words()
    kind = Words()
    site = Words(allow_none=True)
    revision = Words()
    status = Words(metadata={"description": "draft or approved."})
    hash = Words(metadata={"description": "Hash of the profile."})


class MachineEntryPart(Part):
    """The whole profile of a machine, as it stands in its file."""

    hash = Words()
    profile = fields.Dict()


class UnitPart(Part):
    """A unit: si = value * factor_to_si + offset_to_si."""

    code = Words()
    kinds = fields.List(fields.String())
    factor_to_si = Number()
    offset_to_si = Number()
    spellings = fields.List(fields.String())


class SourceEntryPart(Part):
    """A source of published figures."""

    source = Words()
    status = Words()
    uses = Number(metadata={"description": "How many rows rest on it."})
    first_use = Words()


class StandingNoticePart(Part):
    """What is true of every job of some questions."""

    id = Words(metadata={"description": "Stable, for programs."})
    text = Words()

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

    code = Words()
    meaning = Words()
