"""Bearing faces, nut factors and scatter of preload, as published."""

from typing import NamedTuple

from api.engineering.bolts.scatter import plus_minus_from_tightening_factor
from api.engineering.provenance import Source
from api.reference.table import Row, read_table


class Bearing(NamedTuple):
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


class PublishedNutFactor(NamedTuple):
    """Lowest and highest nut factor named for a condition."""

    low: float
    high: float
    source: Source


NUT_FACTORS = tuple(
    PublishedNutFactor(
        float(row.text["low"]),
        float(row.text["high"]),
        Source(row.text["condition"], row.text["status"], row.text["source"]),
    )
    for row in read_table("nut_factors.csv")
)


class PublishedScatter(NamedTuple):
    """The scatter of one way of tightening in one publication: shares either way of the mean.

    Attributes:
        what: the way of tightening.
        low: smallest share published.
        high: largest share published.
        by_torque: whether a torque is applied at all.
        source: of the row.
    """

    what: str
    low: float
    high: float
    by_torque: bool
    source: Source


def _scatter() -> dict[str, tuple[PublishedScatter, ...]]:
    found: dict[str, tuple[PublishedScatter, ...]] = {}
    for row in read_table("preload_scatter.csv"):
        name = row.text["tightening_method"]
        found[name] = (*found.get(name, ()), _published(row))
    return found


def _published(row: Row) -> PublishedScatter:
    text = row.text
    low, high = (
        plus_minus_from_tightening_factor(float(text[f"tightening_factor_{end}"]))
        if text[f"tightening_factor_{end}"]
        else float(text[f"plus_minus_{end}_percent"]) / 100
        for end in ("low", "high")
    )
    source = Source(f"scatter of preload, {text['what']}", text["status"], text["source"])
    return PublishedScatter(text["what"], low, high, text["applied_by"] == "torque", source)


SCATTER = _scatter()
"""By the word that a request uses; of some ways of tightening more than one publication has a figure."""
