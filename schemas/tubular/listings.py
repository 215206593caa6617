"""The listing of round-thread casing and tubing: its filters and entries."""

from schemas.core.fields import Choice, Number, Text
from schemas.core.parts import Part, Words
from schemas.core.quantity_fields import Quantity
from schemas.listings import LengthUnits


class TubularFilters(LengthUnits):
    """Which casing and tubing to list."""

    size = Text(20, metadata={"description": "Only this nominal size, such as 5-1/2."})
    thread_type = Choice(
        ("STC", "LTC", "NUE", "EUE", "IJ"), metadata={"description": "Only this thread type."}
    )


class TubularPart(Part):
    """Casing or tubing of a size, weight and thread type."""

    product = Words(metadata={"description": "casing or tubing."})
    size = Words()
    weight = Quantity("linear_mass")
    thread_type = Words()
    outside_diameter = Quantity("length")
    wall_thickness = Quantity("length")
    inside_diameter = Quantity(
        "length", metadata={"description": "Below the thread: of the pin upset for integral-joint tubing."}
    )
    thread_outside_diameter = Quantity(
        "length",
        metadata={"description": "Outside diameter that the thread is cut on: that of the upset for EUE."},
    )
    threads_per_inch = Number()
    thread_height = Quantity("length")
    thread_length = Quantity("length", metadata={"description": "L4, up to the vanish point."})
    hand_tight_length = Quantity("length", metadata={"description": "L1."})
    engaged_length = Quantity("length", metadata={"description": "L4 - M, at nominal power make-up."})
    hand_tight_standoff_turns = Number(metadata={"description": "A."})
    coupling_outside_diameter = Quantity("length", allow_none=True)
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")
    note = Words()
