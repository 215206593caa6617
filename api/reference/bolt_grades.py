"""Strengths of bolt grades by size, as their standards limit them: over, from and through a diameter."""

from dataclasses import dataclass

from api.engineering.provenance import Source
from api.reference.bolt_threads import METRIC, UNIFIED
from api.reference.inch_fraction import as_mixed_number
from api.reference.table import Row, read_table
from schemas.units import unit_named


@dataclass(frozen=True)
class GradeRange:
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
        caution: what differs between editions, or empty.
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
    caution: str
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
        caution=text["caution"],
        note=text["note"],
        source=Source(f"strength of bolt grade {name}", text["status"], text["source"]),
    )


GRADES = (
    *(_range(row, METRIC) for row in read_table("bolt_grades_metric.csv")),
    *(_range(row, UNIFIED) for row in read_table("bolt_grades_inch.csv")),
)
