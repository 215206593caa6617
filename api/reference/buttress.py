"""Where the triangle stands that API buttress casing is made up to."""

from typing import NamedTuple

from api.engineering.provenance import Knowable, Source, known
from api.reference.nominal_size import size_key
from api.reference.table import Row, read_table
from schemas.core.quantity import split_number


class ButtressSize(NamedTuple):
    """A size of buttress casing, SI.

    Attributes:
        size: as printed.
        triangle_base: A1, from the pipe end to the base of the triangle stamp, unless it is in doubt.
        triangle_base_printed: the same as printed, in.
        coupling_length: of the API coupling; None where it is not held.
        to_base: whether the face must reach the base.
        source: where the row stands.
    """

    size: str
    triangle_base: Knowable[float]
    triangle_base_printed: str | None
    coupling_length: float | None
    to_base: bool
    source: Source


def _size(row: Row) -> ButtressSize:
    text = row.text
    return ButtressSize(
        size=text["size"],
        triangle_base=known(row.si["triangle_base"], text["doubt"]),
        triangle_base_printed=text["triangle_base_printed"] or None,
        coupling_length=row.si["coupling_length"],
        to_base=text["made_up_to_base"] == "yes",
        source=Source(
            f"make-up position of {text['size']} in buttress casing", text["status"], text["source"]
        ),
    )


BUTTRESS = {size_key(each.size): each for each in map(_size, read_table("buttress.csv"))}
"""Every size of buttress casing by its key."""


def near_buttress_sizes(key: str) -> list[str]:
    """The three sizes nearest to one, from small to large."""
    near = sorted(BUTTRESS, key=lambda size: abs(_inches(size) - _inches(key)))[:3]
    return sorted(near, key=_inches)


def _inches(size: str) -> float:
    return split_number(size)[0]
