"""The circumferential displacement of sucker rods: listed, and for one joint."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.shop import Shop
from api.answers.standing_notices import (
    COMPUTED,
    RODS_FROM_MEMORY,
    RODS_FULL_SIZE,
    RODS_SCRIBED,
    RODS_TONGS,
)
from api.engineering.checks import Fault, Finding, NoAnswer, collecting, refuse
from api.engineering.provenance import Known, NotKnown, Source, known, weakest_status
from api.engineering.tubular.rod_displacement import DisplacementWindow
from api.engineering.working import Step
from api.reference.nominal_size import size_key
from api.reference.sucker_rods import SUCKER_RODS, Displacement, SuckerRod, rod_grade


def rods_listed(filters: Mapping[str, Any]) -> list[SuckerRod]:
    """Every size of rod, with the displacements for a run or a grade; sizes without any are left out."""
    return [each for each in (_narrowed(rod, filters) for rod in SUCKER_RODS.values()) if each.displacements]


def _narrowed(rod: SuckerRod, filters: Mapping[str, Any]) -> SuckerRod:
    found = tuple(
        each
        for each in rod.displacements
        if filters.get("run", each.run) == each.run
        and filters.get("rod_grade", each.grades[0]) in each.grades
    )
    return rod._replace(displacements=found)


GRADES = ("C", "D", "K")
GEOMETRY = Source("turn CD / (pi Dc) and axial travel", "read", "geometry; lead of the thread, 10 per inch")
CLAUSES = Source(
    "the joint is controlled by displacement past hand tight, not by torque", "read", "API RP 11BR 6.1 to 6.5"
)
PRACTICE = Source(
    "scribed line, first make and break of new grade D, checks of the setting", "from memory", "API RP 11BR"
)
_RP = "API RP 11BR table 4, from memory"
ROD_STEPS = (
    Step("CD1", "least displacement", "from the table", "window.minimum", "length", _RP),
    Step("CD2", "greatest displacement", "from the table", "window.maximum", "length", _RP),
    Step("Dc", "coupling diameter", "from the table", "window.coupling_diameter", "length", "API 11B"),
    Step("t1", "least turn", "CD1 / (pi Dc) rev", "window.turn_minimum", "angle", "geometry"),
    Step("t2", "greatest turn", "CD2 / (pi Dc) rev", "window.turn_maximum", "angle", "geometry"),
    Step("a1", "least travel", "t1 x 1 in / 10", "window.axial_travel_minimum", "length", "geometry"),
    Step("a2", "greatest travel", "t2 x 1 in / 10", "window.axial_travel_maximum", "length", "geometry"),
)  # fmt: skip
ROD_NOTICES = (COMPUTED, RODS_FROM_MEMORY, RODS_SCRIBED, RODS_TONGS, RODS_FULL_SIZE)
"""What holds for every displacement."""
MAKE_AND_BREAK = Finding(
    level="look",
    code="first_make_and_break",
    text="A new grade D joint is made up and broken once before its final make-up (from memory).",
    step="make_up",
    remedy="Make it up, break it, clean it, and make it up again.",
)
NO_TORQUE = NotKnown(
    "no torque is published: friction varies too much, so API controls the displacement past hand tight. The "
    "setting of the tongs is whatever gives it"
)
NO_PRELOAD = NotKnown(
    "no preload is published, and one computed from the axial travel of pin and coupling alone would leave "
    "out thread and faces and come out too high"
)
NOT_MEASURED = NotKnown("no displacement was measured: give displacement")
VERDICTS = {
    "short": "below the minimum: not made up yet",
    "accepted": "from minimum to maximum, both included",
    "over": "above the maximum: made up too far; break it out and inspect it (common practice, no source)",
}


def sucker_rod_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/make-up-position/sucker-rod``.

    Raises:
        NoAnswer: with all of ``unclear_size``, ``unknown_size`` and ``no_published_displacement`` that apply.
    """
    rod, row = _found(values)
    diameter, measured = rod.coupling_outside_diameter, values.get("displacement")
    window = DisplacementWindow(row.minimum, row.maximum, diameter, rod.threads_per_inch)
    verdict = None if measured is None else window.verdict(measured)
    result = {
        "size": rod.size,
        "rod_grade": rod_grade(values["rod_grade"]),
        "run": row.run,
        "coupling": values["coupling"],
        "displacement_minimum": row.minimum,
        "displacement_maximum": row.maximum,
        "displacement_printed": f"{row.minimum_printed} to {row.maximum_printed}",
        "displacement": known(measured, "none was measured"),
        "verdict": Known(verdict, VERDICTS[verdict]) if verdict else NOT_MEASURED,
        "coupling_outside_diameter": diameter,
        "turn_minimum": window.turn_minimum,
        "turn_maximum": window.turn_maximum,
        "axial_travel_minimum": window.axial_travel_minimum,
        "axial_travel_maximum": window.axial_travel_maximum,
        "torque": NO_TORQUE,
        "preload": NO_PRELOAD,
    }
    return Answer(
        result=result,
        sources=(row.source, rod.source, GEOMETRY, CLAUSES, PRACTICE),
        status=weakest_status((row.source, rod.source)),
        findings=(MAKE_AND_BREAK,) if row.run == "first" else (),
        working={"window": window},
        steps=ROD_STEPS,
    )


def _found(values: Mapping[str, Any]) -> tuple[SuckerRod, Displacement]:
    faults: list[Fault] = []
    rod = None
    with collecting(faults):
        rod = _rod(values["size"])
    faults += _not_in_the_table(values)
    if rod is None or faults:
        raise NoAnswer(faults)
    row = rod.displacement(values["run"], rod_grade(values["rod_grade"]))
    if row is None:
        raise ValueError(f"no displacement of {rod.size} in rods for {values}")
    return rod, row


def _rod(written: str) -> SuckerRod:
    key = size_key(written)
    if key in SUCKER_RODS:
        return SUCKER_RODS[key]
    sizes = ", ".join(SUCKER_RODS)
    raise refuse(
        "unknown_size", f"no displacement is published for {key} in rods", "size", f"one of: {sizes}"
    )


def _not_in_the_table(values: Mapping[str, Any]) -> Iterator[Fault]:
    code, grade = "no_published_displacement", rod_grade(values["rod_grade"])
    if grade not in GRADES:
        text = (
            "the table is for API grades C, D and K; for high-strength and special rods use their "
            "maker's displacement"
        )
        yield Fault(code, text, "rod_grade", accepted="C, D or K")
    elif values["run"] == "first" and grade != "D":
        text = f"the table has a first run for new grade D only, none for grade {grade}"
        yield Fault(code, text, "run", accepted="rerun for grades C, D and K; first for grade D")
    if values["coupling"] != "full_size":
        text = "the table is for full-size couplings; on a slimhole coupling the same arc is another angle"
        yield Fault(code, text, "coupling", accepted="full_size")
