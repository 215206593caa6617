"""Under the head of a metric hexagon bolt: what the tables of VDI 2230 take for the bearing."""

from dataclasses import dataclass

from api.engineering.provenance import Source
from api.reference.table import read_table


@dataclass(frozen=True)
class Bearing:
    """Outside and hole diameter of a bearing face, m."""

    outside: float
    hole: float
    source: Source


def _bearings() -> dict[float, Bearing]:
    found = {}
    for row in read_table("bolt_bearing.csv"):
        source = Source("bearing face under the head", row.text["status"], row.text["source"])
        found[row.number("diameter")] = Bearing(
            row.number("bearing_outside_diameter"), row.number("bearing_hole_diameter"), source
        )
    return found


HEXAGON_HEADS = _bearings()
"""By the nominal diameter of a metric bolt, m."""
