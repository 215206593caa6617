"""API casing and tubing with round threads: the sizes, weights and thread types whose dimensions are held."""

from collections.abc import Iterable
from typing import NamedTuple

from api.engineering.provenance import Source
from api.engineering.rotary.sizes import INCH
from api.reference.nominal_size import size_key
from api.reference.table import Row, read_table
from schemas.core.quantity import split_number

SAME_WEIGHT = 0.005 * (1 + 1e-9)
"""Weights closer than this (kg/m) are one: metric print has two decimals, 25.30 kg/m for 17 lb/ft."""


class Tubular(NamedTuple):
    """A row: casing or tubing of a size, weight and thread type; SI.

    ``thread_outside_diameter`` is what the thread is cut on, the upset of external-upset tubing;
    ``inside_diameter`` that below the thread, of the pin upset of integral-joint tubing. ``thread_length`` is
    L4 of API 5B, up to the vanish point, and ``hand_tight_length`` L1.
    """

    product: str
    size: str
    weight: float
    printed_weight: str
    thread_type: str
    outside_diameter: float
    wall_thickness: float
    inside_diameter: float
    thread_outside_diameter: float
    threads_per_inch: float
    thread_height: float
    thread_length: float
    hand_tight_length: float
    engaged_length: float
    hand_tight_standoff_turns: float
    coupling_outside_diameter: float | None
    note: str
    source: Source

    @property
    def name(self) -> str:
        """The name by which it is called: ``5-1/2 in 17 lb/ft STC``."""
        return f"{self.size} in {self.printed_weight} lb/ft {self.thread_type}"

    @property
    def size_key(self) -> str:
        """Its size, however that is written."""
        return size_key(self.size)


def _tubular(row: Row) -> Tubular:
    text = row.text
    printed_weight = f"{float(text['weight']):g}"
    name = f"{text['size']} in {printed_weight} lb/ft {text['thread_type']}"
    return Tubular(
        product=text["product"],
        size=text["size"],
        weight=row.number("weight"),
        printed_weight=printed_weight,
        thread_type=text["thread_type"],
        outside_diameter=row.number("outside_diameter"),
        wall_thickness=row.number("wall_thickness"),
        inside_diameter=row.number("inside_diameter"),
        thread_outside_diameter=row.number("thread_outside_diameter"),
        threads_per_inch=float(text["threads_per_inch"]),
        thread_height=row.number("thread_height"),
        thread_length=row.number("thread_length"),
        hand_tight_length=row.number("hand_tight_length"),
        engaged_length=row.number("engaged_length"),
        hand_tight_standoff_turns=float(text["hand_tight_standoff_turns"]),
        coupling_outside_diameter=row.si["coupling_outside_diameter"],
        note=text["note"],
        source=Source(f"dimensions of {name}", text["status"], text["source"]),
    )


TUBULARS = tuple(_tubular(row) for row in read_table("tubulars.csv"))


def _by_size() -> dict[str, tuple[Tubular, ...]]:
    found: dict[str, tuple[Tubular, ...]] = {}
    for each in TUBULARS:
        found[each.size_key] = (*found.get(each.size_key, ()), each)
    return found


_BY_SIZE = _by_size()


def tubulars_of(key: str | None = None, thread_type: str | None = None) -> list[Tubular]:
    """The rows of a size (its key, from `size_key`) and a thread type; of all where either is None."""
    rows: Iterable[Tubular] = TUBULARS if key is None else _BY_SIZE.get(key, ())
    return [each for each in rows if thread_type in (None, each.thread_type)]


def of_weight(rows: Iterable[Tubular], weight: float) -> Tubular | None:
    """The row of a nominal weight (kg/m), as it is printed in lb/ft or in kg/m."""
    return next((each for each in rows if abs(each.weight - weight) <= SAME_WEIGHT), None)


def near_sizes(key: str, thread_type: str | None = None, most: int = 4) -> list[str]:
    """The sizes nearest to one, from small to large; with a thread type those that have it."""
    inches = split_number(key)[0]
    sizes = {each.size: each.outside_diameter / INCH for each in tubulars_of(thread_type=thread_type)}
    near = sorted(sizes, key=lambda size: abs(sizes[size] - inches))[:most]
    return sorted(near, key=lambda size: sizes[size])
