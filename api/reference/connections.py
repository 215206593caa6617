"""Rotary shouldered connections: their names and threads."""

import re
from dataclasses import replace
from difflib import get_close_matches
from functools import lru_cache
from math import radians
from typing import NamedTuple

from api.engineering.provenance import Source
from api.engineering.rotary.sizes import INCH, ThreadGeometry
from api.reference.table import Row, read_table


class Connection(NamedTuple):
    """A connection: names, geometry in SI, and how sure its dimensions are."""

    designation: str
    aliases: tuple[str, ...]
    thread_form: str
    threads_per_inch: float
    geometry: ThreadGeometry
    low_torque_face_counterbore: float | None
    pin_large_diameter: float | None
    pin_cylinder_diameter: float | None
    pin_small_diameter: float | None
    note: str
    source: Source

    def with_low_torque_face(self) -> ThreadGeometry:
        """The geometry with the counterbore of the low torque face in place of Qc (API Spec 7-2)."""
        if self.low_torque_face_counterbore is None:
            raise ValueError(f"{self.designation} has no low torque face")
        return replace(self.geometry, counterbore=self.low_torque_face_counterbore)


def _connection(row: Row) -> Connection:
    text = row.text
    threads_per_inch = float(text["threads_per_inch"])
    geometry = ThreadGeometry(
        lead=INCH / threads_per_inch,
        taper=float(text["taper_in_per_ft"]) / 12,
        pitch_diameter=row.number("pitch_diameter"),
        pin_length=row.number("pin_length"),
        counterbore=row.number("counterbore"),
        thread_height=row.number("thread_height"),
        root_truncation=row.number("root_truncation"),
        half_angle=radians(float(text["half_angle_degrees"])),
        nose_diameter=row.si["pin_small_diameter"],
    )
    return Connection(
        designation=text["designation"],
        aliases=tuple(alias for alias in text["aliases"].split(";") if alias),
        thread_form=text["thread_form"],
        threads_per_inch=threads_per_inch,
        geometry=geometry,
        low_torque_face_counterbore=row.si["low_torque_face_counterbore"],
        pin_large_diameter=row.si["pin_large_diameter"],
        pin_cylinder_diameter=row.si["pin_cylinder_diameter"],
        pin_small_diameter=row.si["pin_small_diameter"],
        note=text["note"],
        source=Source(f"thread dimensions of {text['designation']}", text["status"], text["source"]),
    )


SAME_LENGTH = 1e-7
"""Diameters closer than this (m) are the same; the tables step by 1/32 in and more."""

CONNECTIONS = tuple(_connection(row) for row in read_table("connections.csv"))

_VULGAR = str.maketrans({"½": " 1/2", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"})
_WORDS = {
    "REGULAR": "REG",
    "INTERNAL FLUSH": "IF",
    "FULL HOLE": "FH",
    "EXTRA HOLE": "XH",
    "SLIM HOLE": "SH",
}


def _key(name: str) -> str:
    """A designation without case, spaces, hyphens and inch marks: ``4½" if`` and ``4-1/2 IF`` are one."""
    key = name.translate(_VULGAR).upper().removeprefix("API ")
    for word, short in _WORDS.items():
        key = key.replace(word, short)
    # The gap in 4-1/2 carries meaning: 41/2 is no size.
    key = re.sub(r"([0-9])[\s\-‐‑–]+([0-9]+/[0-9])", r"\1+\2", key)
    return re.sub(r"[\s\"”″'.\-‐‑–]", "", key)


_BY_KEY = {_key(name): each for each in CONNECTIONS for name in (each.designation, *each.aliases)}


@lru_cache(maxsize=1024)
def find_connection(name: str) -> Connection | None:
    """The connection of this designation or former name, in any usual way of writing it.

    >>> found = find_connection("4-1/2 IF")
    >>> found.designation if found else None
    'NC50'
    """
    return _BY_KEY.get(_key(name))


def near_designations(name: str) -> list[str]:
    """Designations spelt nearly like this one, five at most."""
    matches = get_close_matches(_key(name), _BY_KEY, 5, 0.5)
    return list(dict.fromkeys(_BY_KEY[match].designation for match in matches))
