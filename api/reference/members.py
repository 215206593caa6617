"""The members of a rotary shouldered joint: parts of a string by their names, stress levels and strengths.

API RP 7G has drill collars and tool joints. That the other parts of the bottom-hole assembly follow drill
collars is common practice, no source. A kelly and its saver sub do too: their mate, a tool joint, has the
higher stress level, and mixed mates take the lower torque.

The minimum yield strength of drill collars of standard steel is that of API Spec 7-1, from memory. It is that
of the size the collar was made in: a collar worn below 6-7/8 in that was 7 in has the lesser one.
"""

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from api.engineering.provenance import Assumption, Source
from api.reference.connections import CONNECTIONS, SAME_LENGTH, Connection
from api.reference.table import read_table

COMPONENTS = ("drill_collar", "tool_joint")
"""Every component that a joint can be."""

AS_DRILL_COLLARS = (
    "sub",
    "bit_sub",
    "crossover_sub",
    "float_sub",
    "shock_sub",
    "saver_sub",
    "stabilizer",
    "reamer",
    "jar",
    "kelly",
)
"""Parts whose connections follow the rule of drill collars: common practice, no source."""

BIT = "bit"
"""A bit has a table of its own, see `api.reference.bit_torque`."""

STRING_PARTS = (*COMPONENTS, *AS_DRILL_COLLARS, BIT)
"""Every part that may be asked by its name."""

_MATES_WITH_TOOL_JOINTS = ("kelly", "saver_sub")


def rule_of(part: str) -> str:
    """The component whose rule a part of the string follows; a bit that of its own table.

    >>> rule_of("stabilizer"), rule_of("tool_joint"), rule_of("bit")
    ('drill_collar', 'tool_joint', 'bit')
    """
    return "drill_collar" if part in AS_DRILL_COLLARS else part


def _followed(part: str) -> Assumption:
    reason = f"a {part.replace('_', ' ')} follows the rule of drill collars: common practice, no source"
    if part in _MATES_WITH_TOOL_JOINTS:
        reason += "; the tool joint it mates with has the higher stress level, and the lower torque counts"
    return Assumption("component", "drill_collar", reason)


FOLLOWED: Mapping[str, Assumption] = {part: _followed(part) for part in AS_DRILL_COLLARS}
"""What an answer lists for a part that follows the rule of another."""


class Strength(NamedTuple):
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


def usual_stress_level(component: str, connection: Connection) -> Strength:
    """The published ``stress_level`` of a component with this connection.

    Raises:
        LookupError: where no row of ``member_strengths.csv`` has it; at start for every connection.
    """
    found = usual_strength(component, "stress_level", connection)
    if found is None:
        name = connection.designation
        raise LookupError(f"member_strengths.csv has no stress_level of a {component} for {name}")
    return found


def check_strengths() -> None:
    """Refuse to start where a joint that can be asked lacks its stress level, or a tool joint its yield.

    Raises:
        LookupError: naming component and connection.
    """
    for connection in CONNECTIONS:
        for component in COMPONENTS:
            usual_stress_level(component, connection)
        if usual_strength("tool_joint", "yield_strength", connection) is None:
            raise LookupError("member_strengths.csv has no yield_strength of a tool_joint")


check_strengths()


class CollarSteel(NamedTuple):
    """Yield strength (Pa) of collars above an outside diameter (m), and where it stands."""

    above: float
    strength: float
    printed: str
    reason: str
    source: Source

    def assumed_for(self, field: str) -> Assumption:
        """The assumption that a member that states no yield strength is of this steel."""
        return Assumption(field, f"{self.printed} psi", self.reason)


def _reason(up_to: str, source: str, status: str) -> str:
    if up_to == "any":
        sizes = "above 6-7/8 in"
    else:
        sizes = f"up to {up_to}; a collar worn from a larger size has less"
    return f"not given; standard steel of {source}, {status}, {sizes}"


STEELS = tuple(
    CollarSteel(
        row.number("outside_diameter_above"),
        row.number("yield_strength"),
        f"{int(row.text['yield_strength']):,}",
        _reason(row.text["up_to"], row.text["source"], row.text["status"]),
        Source("minimum yield strength of standard collar steel", row.text["status"], row.text["source"]),
    )
    for row in read_table("collar_steel.csv")
)
"""From the smallest to the largest outside diameter."""


def collar_steel(outside_diameter: float) -> CollarSteel:
    """The standard steel of a drill collar of this outside diameter, m, > 0.

    >>> collar_steel(6.875 * 0.0254).printed, collar_steel(7 * 0.0254).printed
    ('110,000', '100,000')
    """
    return next(each for each in reversed(STEELS) if outside_diameter > each.above + SAME_LENGTH)
