"""Bolt grades: strengths by size, and the names that a caller may use.

A grade of ISO 898-1 goes with metric threads only, one of SAE or ASTM with inch threads only. A metric stud
of B7 states its yield strength. A bare `5` may be a property class cut short, and is refused.
"""

import re
from difflib import get_close_matches
from functools import lru_cache
from typing import NamedTuple

from api.engineering.checks import refuse
from api.engineering.provenance import Source
from api.reference.bolt_threads import METRIC, UNIFIED, CatalogueThread, as_mixed_number
from api.reference.table import Row, read_table
from schemas.core.units import unit_named


class GradeRange(NamedTuple):
    """A grade in one range of sizes; SI.

    Attributes:
        standard: which names the grade.
        grade: as in the standard.
        system: ``metric`` or ``unified``, the threads it is for.
        over: diameter that is no longer in the range; None where there is none.
        start: smallest diameter of the range, itself in it; None where there is none.
        through: largest diameter of the range, itself in it; None where there is none.
        proof: proof stress; None where the standard has none.
        yield_strength: minimum yield strength or 0.2 % proof strength.
        tensile: minimum tensile strength.
        editions: what differs between editions, or empty.
        note: remarks and how sure the row is.
        source: of the row.
    """

    standard: str
    grade: str
    system: str
    over: float | None
    start: float | None
    through: float | None
    proof: float | None
    yield_strength: float
    tensile: float
    editions: str
    note: str
    source: Source

    @property
    def name(self) -> str:
        """Standard and grade."""
        return self.standard if self.standard.endswith(self.grade) else f"{self.standard} {self.grade}"

    @property
    def sizes(self) -> str:
        """The range in words, in the unit of the standard."""
        parts = [("over", self.over), ("from", self.start), ("through", self.through)]
        return (
            " ".join(f"{word} {self._size(size)}" for word, size in parts if size is not None) or "all sizes"
        )

    def _size(self, size: float) -> str:
        if self.system == METRIC:
            return f"M{round(unit_named('mm').from_si(size), 6):g}"
        return f"{as_mixed_number(round(unit_named('in').from_si(size), 6))} in"

    def covers(self, d: float) -> bool:
        """Whether a nominal diameter m lies in the range."""
        above = (self.over is None or d > self.over) and (self.start is None or d >= self.start)
        return above and (self.through is None or d <= self.through)


def _range(row: Row, system: str) -> GradeRange:
    text = row.text
    name = f"{text['standard']} {text['grade']}"
    return GradeRange(
        standard=text["standard"],
        grade=text["grade"],
        system=system,
        over=row.si["over"],
        start=row.si["from"],
        through=row.si["through"],
        proof=row.si["proof_stress"],
        yield_strength=row.number("yield_strength"),
        tensile=row.number("tensile_strength"),
        editions=text["editions"],
        note=text["note"],
        source=Source(f"strength of bolt grade {name}", text["status"], text["source"]),
    )


GRADES = (
    *(_range(row, METRIC) for row in read_table("bolt_grades_metric.csv")),
    *(_range(row, UNIFIED) for row in read_table("bolt_grades_inch.csv")),
)


HOW_TO_WRITE = "a grade listed at /v1/grades, such as 8.8, SAE 5, B7, L7M or B8 class 2"

_PREFIXES = {
    "ISO 898-1": ("", "ISO", "ISO898", "ISO8981"),
    "SAE J429": ("SAE", "J429", "SAEJ429"),
    **{
        f"ASTM {number}": ("", number, f"ASTM{number}", f"S{number}", f"ASMES{number}")
        for number in ("A193", "A320", "A354", "A574")
    },
}
_MANY = "more than one grade has this name"
_WORDS = ("", "GRADE", "GR")
_CLASS_WORDS = ("CLASS", "PROPERTYCLASS")


def _folded(text: str) -> str:
    """Capitals without spaces, hyphens and full stops that are no decimal points."""
    return re.sub(r"[\s_‐‑–-]|\.(?![0-9])|(?<![0-9])\.", "", text.upper())


def _spellings(each: GradeRange) -> set[str]:
    """Every way of writing a grade, folded; B8 alone is each of its classes."""
    grade = _folded(each.grade)
    without_class = re.sub("CLASS[12]$", "", grade)
    names = {grade, grade.replace("CLASS", "CL"), without_class}
    prefixes = _PREFIXES[each.standard]
    words = (*_WORDS, *_CLASS_WORDS) if each.system == METRIC else _WORDS
    spelt = {prefix + word + name for prefix in prefixes for word in words for name in names}
    if each.standard == "SAE J429":
        return spelt | {"GRADE" + grade, "GR" + grade}
    return spelt | (set(prefixes) - {""} if grade in prefixes else set())


def _by_spelling() -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for each in GRADES:
        for spelling in _spellings(each):
            found.setdefault(spelling, {})[each.name] = None
    return {spelling: tuple(names) for spelling, names in found.items()}


_NAMES = _by_spelling()


@lru_cache(maxsize=1024)
def grades_named(written: str) -> tuple[str, ...]:
    """Names of every grade that a spelling may mean, standard and grade: none, one or more.

    >>> grades_named("8.8"), grades_named("sae grade 5"), grades_named("SA-193 B7")
    (('ISO 898-1 8.8',), ('SAE J429 5',), ('ASTM A193 B7',))
    >>> grades_named("B8"), grades_named("4")
    (('ASTM A193 B8 class 1', 'ASTM A193 B8 class 2'), ('ISO 898-1 4.6', 'ISO 898-1 4.8', 'SAE J429 4'))
    """
    key = _folded(written)
    if _is_bare(key):
        found = [each.name for each in GRADES if each.grade == key or each.grade.startswith(f"{key}.")]
        return tuple(dict.fromkeys(found))
    return _NAMES.get(key, ())


def _is_bare(key: str) -> bool:
    """Whether it is a number alone, which may be a grade of SAE or a property class cut short."""
    return key not in _NAMES and re.fullmatch(r"[0-9]{1,2}(?:\.[0-9])?", key) is not None


def find_grade(written: str) -> tuple[GradeRange, ...]:
    """The ranges of the one grade that a spelling means.

    Raises:
        NoAnswer: ``unknown_bolt_grade`` with those near it, ``ambiguous_bolt_grade`` with the choices.
    """
    names = grades_named(written)
    bare = _is_bare(_folded(written))
    if len(names) == 1 and not bare:
        return tuple(each for each in GRADES if each.name == names[0])
    if names:
        text = "a number alone may be a grade of SAE or a property class" if bare else _MANY
        raise refuse("ambiguous_bolt_grade", text, "bolt_grade", f"one of: {', '.join(names)}")
    near = ", ".join(near_grades(written))
    accepted = f"{HOW_TO_WRITE}; near: {near}; or bolt_yield_strength in its place"
    raise refuse("unknown_bolt_grade", "Dialset has no bolt grade of this name", "bolt_grade", accepted)


def near_grades(written: str) -> list[str]:
    """Names of at most five grades spelt nearly like this one; else the commonest."""
    matches = get_close_matches(_folded(written)[:40], _NAMES, 12, 0.5)
    names = dict.fromkeys(name for match in matches for name in _NAMES[match])
    return list(names)[:5] or ["ISO 898-1 8.8", "SAE J429 5", "ASTM A193 B7"]


def strength_of(written: str, thread: CatalogueThread) -> GradeRange:
    """The strength of a grade at the size of a thread.

    Raises:
        NoAnswer: those of `find_grade`; ``grade_not_for_thread`` for a metric grade on an inch thread or the
            other way; ``grade_not_for_size`` with the ranges that there are.
    """
    ranges = find_grade(written)
    grade = ranges[0]
    if grade.system != thread.system:
        raise refuse(
            "grade_not_for_thread",
            f"the strengths of {grade.name} are for {_THREADS_OF[grade.system]}; {thread.designation} "
            "is none",
            "bolt_grade",
            f"a grade for {_THREADS_OF[thread.system]}, or bolt_yield_strength in its place",
        )
    for each in ranges:
        if each.covers(thread.geometry.d):
            return each
    raise refuse(
        "grade_not_for_size",
        f"Dialset has no {grade.name} for {thread.designation}",
        "bolt_grade",
        f"sizes {', or '.join(each.sizes for each in ranges)}; or bolt_yield_strength in its place",
    )


_THREADS_OF = {METRIC: "metric threads", UNIFIED: "inch threads"}
