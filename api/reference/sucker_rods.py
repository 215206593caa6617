"""Sucker rods: diameters, and the circumferential displacement that their joints are made up to."""

import re
from typing import NamedTuple

from api.engineering.provenance import Source
from api.reference.nominal_size import size_key
from api.reference.table import Row, read_table

IN_THE_TABLE = (("first", "D"), ("rerun", "C"), ("rerun", "D"), ("rerun", "K"))
"""Runs and grades that the table has for every size."""
RUNS = {"first": "new, first run", "rerun": "rerun"}
"""The runs of the table, in words."""


class Displacement(NamedTuple):
    """Circumferential displacement past hand tight for one run and the grades it is for; m."""

    run: str
    grades: tuple[str, ...]
    minimum: float
    maximum: float
    minimum_printed: str
    maximum_printed: str
    source: Source


class SuckerRod(NamedTuple):
    """A size of sucker rod with its full-size coupling, SI."""

    size: str
    pin_size: str
    pin_diameter: float
    threads_per_inch: float
    shoulder_outside_diameter: float
    coupling_outside_diameter: float
    displacements: tuple[Displacement, ...]
    source: Source

    def displacement(self, run: str, grade: str) -> Displacement | None:
        """The row for a run and a grade, if there is one."""
        return next((each for each in self.displacements if each.run == run and grade in each.grades), None)


def _displacement(row: Row) -> Displacement:
    text = row.text
    what = f"circumferential displacement of {text['size']} in rods, {RUNS[text['run']]}"
    return Displacement(
        run=text["run"],
        grades=tuple(text["grades"].split(";")),
        minimum=row.number("minimum"),
        maximum=row.number("maximum"),
        minimum_printed=text["minimum_printed"],
        maximum_printed=text["maximum_printed"],
        source=Source(what, text["status"], text["source"]),
    )


def _rods() -> tuple[SuckerRod, ...]:
    rows = read_table("sucker_rod_displacements.csv")
    return tuple(
        SuckerRod(
            size=row.text["size"],
            pin_size=row.text["pin_size"],
            pin_diameter=row.number("pin_diameter"),
            threads_per_inch=float(row.text["threads_per_inch"]),
            shoulder_outside_diameter=row.number("shoulder_outside_diameter"),
            coupling_outside_diameter=row.number("coupling_outside_diameter"),
            displacements=tuple(
                _displacement(each) for each in rows if each.text["size"] == row.text["size"]
            ),
            source=Source(
                f"diameters of {row.text['size']} in sucker rods", row.text["status"], row.text["source"]
            ),
        )
        for row in read_table("sucker_rods.csv")
    )


SUCKER_RODS = {size_key(each.size): each for each in _rods()}
"""Every size of sucker rod by its key."""


def rod_grade(written: str) -> str:
    """The letter of a grade, however it is written.

    >>> rod_grade("API grade k")
    'K'
    """
    return re.sub(r"^(API )?(GRADE )?", "", written.strip().upper())


def check_displacements() -> None:
    """Refuse to start where a size of rod lacks a displacement that can be asked.

    Raises:
        LookupError: naming size, run and grade.
    """
    for rod in SUCKER_RODS.values():
        for run, grade in IN_THE_TABLE:
            if rod.displacement(run, grade) is None:
                raise LookupError(f"sucker_rod_displacements.csv has no {run} {grade} of {rod.size} in rods")


check_displacements()
