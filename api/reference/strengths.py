"""Usual stress levels and yield strengths of API RP 7G, by component and connection."""

from dataclasses import dataclass
from functools import cache

from api.engineering.provenance import Assumption, Source
from api.reference.connections import Connection
from api.reference.table import read_table


@dataclass(frozen=True)
class Strength:
    """A stress (Pa) that the standard gives for a component, and where."""

    stress: float
    printed: str
    source: Source

    @cache  # noqa: B019  # a handful of strengths, which live as long as the program
    def assumed_for(self, field: str) -> Assumption:
        """The assumption that a field not given has this value."""
        return Assumption(field, f"{self.printed} psi", f"not given; usual value of {self.source.source}")


def _load() -> dict[tuple[str, str, str], Strength]:
    strengths = {}
    for row in read_table("member_strengths.csv"):
        text = row.text
        name = text["quantity"].replace("_", " ")
        source = Source(f"{name} of a {text['component'].replace('_', ' ')}", text["status"], text["source"])
        key = (text["component"], text["quantity"], text["applies_to"])
        strengths[key] = Strength(row.number("stress"), f"{int(text['stress']):,}", source)
    return strengths


_STRENGTHS = _load()


def usual_strength(component: str, quantity: str, connection: Connection) -> Strength | None:
    """The published ``stress_level`` or ``yield_strength``: of the connection, its thread form, or any."""
    for applies_to in (connection.designation, connection.thread_form, "*"):
        if strength := _STRENGTHS.get((component, quantity, applies_to)):
            return strength
    return None
