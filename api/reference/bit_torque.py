"""The range of make-up torque of roller-cone bits, by the connection of their pin; all of it from memory.

The range holds for a new roller-cone bit with a regular pin, whatever its bore and the diameter of the bit
sub. Fixed-cutter bits have another table, which Dialset does not have.
"""

from collections.abc import Mapping
from typing import NamedTuple

from api.engineering.provenance import Source
from api.reference.table import read_table


class BitTorque(NamedTuple):
    """Lowest and highest make-up torque of a roller-cone bit, N.m."""

    minimum: float
    maximum: float
    source: Source


BIT_TORQUES: Mapping[str, BitTorque] = {
    row.text["connection"]: BitTorque(
        row.number("minimum"),
        row.number("maximum"),
        Source(
            f"torque range of a roller-cone bit, {row.text['connection']}",
            row.text["status"],
            row.text["source"],
        ),
    )
    for row in read_table("bit_torque.csv")
}
"""By the designation of the connection."""
