"""The listing of round-thread casing and tubing: its filters and entries."""

from schemas.core.fields import Choice, Number, Text
from schemas.core.parts import OneOf, Part, Words
from schemas.core.quantity_fields import Quantity
from schemas.listings import NOTE, LengthUnits
from schemas.provenance import SourceText, Status
from schemas.tubular.round_thread import ROUND_THREAD_TYPES
from schemas.words import STATUSES

PRODUCTS = ("casing", "tubing")


class TubularFilters(LengthUnits):
    """Which casing and tubing to list."""

    size = Text(20, metadata={"description": "Only this nominal size, such as 5-1/2."})
    thread_type = Choice(ROUND_THREAD_TYPES, metadata={"description": "Only this thread type."})


class TubularPart(Part):
    """Casing or tubing of a size, weight and thread type."""

    product = OneOf(PRODUCTS, metadata={"description": "What the pipe is for."})
    size = Words(metadata={"description": "Nominal size, a name in inches."})
    weight = Quantity("linear_mass", metadata={"description": "Nominal weight, by which pipe is called."})
    thread_type = OneOf(ROUND_THREAD_TYPES, metadata={"description": "Type of the round thread."})
    outside_diameter = Quantity("length", metadata={"description": "Outside diameter of the pipe body."})
    wall_thickness = Quantity("length", metadata={"description": "Wall thickness of the pipe body."})
    inside_diameter = Quantity(
        "length", metadata={"description": "Below the thread: of the pin upset for integral-joint tubing."}
    )
    thread_outside_diameter = Quantity(
        "length",
        metadata={"description": "Outside diameter that the thread is cut on: that of the upset for EUE."},
    )
    threads_per_inch = Number(metadata={"description": "Threads on an inch of length."})
    thread_height = Quantity("length", metadata={"description": "Height of the thread."})
    thread_length = Quantity("length", metadata={"description": "L4, up to the vanish point."})
    hand_tight_length = Quantity("length", metadata={"description": "L1, hand tight."})
    engaged_length = Quantity("length", metadata={"description": "L4 - M, at nominal power make-up."})
    hand_tight_standoff_turns = Number(metadata={"description": "A, turns left hand tight."})
    coupling_outside_diameter = Quantity(
        "length",
        allow_none=True,
        metadata={"description": "Outside diameter of the coupling; null where none is held."},
    )
    status = Status(STATUSES, attribute="source.status")
    source = SourceText(attribute="source.source")
    note = Words(metadata={"description": NOTE})
