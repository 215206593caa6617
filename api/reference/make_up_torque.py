"""The published make-up torques of API RP 7G, row by row, and the row for exactly one joint."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from api.engineering.provenance import Source
from api.reference.connections import SAME_LENGTH, find_connection
from api.reference.members import usual_stress_level
from api.reference.table import Row, read_table

FULL_PRECISION = 2 * 1.3558179483314004
"""Rows printed to a finer step than this (N.m) are current; older editions are rounded to 100 ft-lb."""
SAME_STRESS = 1.0
"""Stress levels closer than this (Pa) are the same; the table levels are whole hundreds of psi."""


class TableKey(NamedTuple):
    """What distinguishes the rows of the tables, apart from the two diameters; SI."""

    connection: str
    component: str
    low_torque_face: bool
    capped: bool
    stress_level: float


class PublishedTorque(NamedTuple):
    """A row; SI. ``doubt`` says why it must not be used, where it must not."""

    row: str
    key: TableKey
    box_outside_diameter: float
    pin_bore: float
    torque: float
    torsional_yield: float | None
    resolution: float
    doubt: str
    source: Source

    @property
    def exact(self) -> bool:
        """Whether the row may be answered from: printed to 1 ft-lb, and not in doubt."""
        return self.resolution < FULL_PRECISION and not self.doubt


def _published(row: Row) -> PublishedTorque:
    text = row.text
    return PublishedTorque(
        row=text["row"],
        key=TableKey(
            text["connection"],
            text["component"],
            text["low_torque_face"] == "yes",
            text["shoulder_radius"] == "capped",
            row.number("stress_level"),
        ),
        box_outside_diameter=row.number("box_outside_diameter"),
        pin_bore=row.number("pin_bore"),
        torque=row.number("torque"),
        torsional_yield=row.si["torsional_yield"],
        resolution=row.number("resolution"),
        doubt=text["doubt"],
        source=Source(f"make-up torque, row {text['row']}", text["status"], text["source"]),
    )


PUBLISHED = tuple(_published(row) for row in read_table("make_up_torque.csv"))


class PrintedRange(NamedTuple):
    """Lowest and highest outside diameter and bore of the printed rows of a connection, m."""

    box_outside_diameter: tuple[float, float]
    pin_bore: tuple[float, float]


def _ranges() -> dict[tuple[str, str], PrintedRange]:
    rows: dict[tuple[str, str], list[PublishedTorque]] = {}
    for row in PUBLISHED:
        rows.setdefault((row.key.connection, row.key.component), []).append(row)
    return {
        key: PrintedRange(
            _ends(row.box_outside_diameter for row in found), _ends(row.pin_bore for row in found)
        )
        for key, found in rows.items()
    }


def _ends(values: Iterable[float]) -> tuple[float, float]:
    found = tuple(values)
    return min(found), max(found)


PRINTED_RANGES: Mapping[tuple[str, str], PrintedRange] = _ranges()
"""The sizes that print has for a connection and a component, in any edition."""


def _by_place() -> dict[tuple[str, str, bool, bool], list[PublishedTorque]]:
    places: dict[tuple[str, str, bool, bool], list[PublishedTorque]] = {}
    for row in PUBLISHED:
        places.setdefault(_place(row.key), []).append(row)
    return places


def _place(key: TableKey) -> tuple[str, str, bool, bool]:
    return key.connection, key.component, key.low_torque_face, key.capped


_PLACES = _by_place()


def _rows(key: TableKey) -> list[PublishedTorque]:
    found = _PLACES.get(_place(key), [])
    return [row for row in found if abs(row.key.stress_level - key.stress_level) < SAME_STRESS]


def published_row(key: TableKey, outside_diameter: float, bore: float) -> PublishedTorque | None:
    """The row for exactly this joint; of two, the one printed to more digits."""
    found = [
        row
        for row in _rows(key)
        if abs(row.box_outside_diameter - outside_diameter) < SAME_LENGTH
        and abs(row.pin_bore - bore) < SAME_LENGTH
    ]
    return min(found, key=lambda row: row.resolution, default=None)


def rows_around(key: TableKey, outside_diameter: float, bore: float) -> list[PublishedTorque]:
    """The exact rows of the same connection on either side in diameter, and there on either side in bore."""
    rows = [row for row in _rows(key) if row.exact]
    around = []
    for diameter in _neighbours({row.box_outside_diameter for row in rows}, outside_diameter):
        same = [row for row in rows if row.box_outside_diameter == diameter]
        for at in _neighbours({row.pin_bore for row in same}, bore):
            around += [row for row in same if row.pin_bore == at]
    return around


def _neighbours(values: set[float], value: float) -> list[float]:
    below = [each for each in values if each <= value + SAME_LENGTH]
    above = [each for each in values if each >= value - SAME_LENGTH]
    return sorted({*([max(below)] if below else []), *([min(above)] if above else [])})


def check_stress_levels() -> None:
    """Refuse to start where a printed row is at another stress than a joint of it would be answered at.

    Without its row in ``member_strengths.csv`` a thread form would have the level of the others.

    Raises:
        LookupError: naming the row.
    """
    for row in {(row.key.connection, row.key.component): row for row in PUBLISHED}.values():
        connection = find_connection(row.key.connection)
        if connection is None:
            raise LookupError(f"make_up_torque.csv, row {row.row}: {row.key.connection} is no connection")
        usual = usual_stress_level(row.key.component, connection)
        if not abs(usual.stress - row.key.stress_level) < SAME_STRESS:
            raise LookupError(
                f"make_up_torque.csv, row {row.row}: member_strengths.csv has another stress level"
            )


check_stress_levels()
