"""A loaded request becomes a joint: its connection is found, usual values are filled in and listed."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.engineering.checks import Amount, Fault, NoAnswer, collecting, refuse
from api.engineering.provenance import Assumption, Source
from api.engineering.rotary.torque import check_geometry
from api.engineering.thread_geometry import ThreadGeometry
from api.reference.connections import (
    Connection,
    Strength,
    find_connection,
    near_designations,
    usual_strength,
    usual_stress_level,
)
from api.reference.make_up_torque import SAME_STRESS

OTHER_WAYS = (
    "its maker's torque can be given with family=stated on /v1/pressure, naming the maker's sheet in "
    "torque_source"
)


REFERENCE_COMPOUND = Assumption(
    "compound_friction_factor", "1.0", "not given; reference compound of API RP 7A1 assumed"
)
LATEST_EDITION = Assumption("edition", "2003", "not given; shoulder radius capped as in Addendum 1 (2003)")
BY_FORMULA = Assumption("basis", "formula", "not given")


@dataclass(frozen=True)
class Joint:
    """A rotary shouldered joint with every value that its torque needs, SI."""

    connection: Connection
    thread: ThreadGeometry
    component: str
    outside_diameter: float
    bore: float
    pin_stress: float
    box_stress: float
    pin_yield: float | None
    box_yield: float | None
    low_torque_face: bool
    compound_friction_factor: float
    edition: str
    basis: str
    sources: tuple[Source, ...]
    assumptions: tuple[Assumption, ...]

    def at_usual_stress(self, member: str) -> bool:
        """Whether a member (pin or box) is at the stress level of the standard's own tables."""
        stress = self.pin_stress if member == "pin" else self.box_stress
        return abs(stress - usual_stress_level(self.component, self.connection).stress) < SAME_STRESS


def joint_from(values: Mapping[str, Any]) -> Joint:
    """The joint that a request describes.

    Raises:
        NoAnswer: with all of ``unknown_connection``, ``not_defined_by_formula``,
            ``low_torque_face_required``, ``no_low_torque_face``, ``edition_not_for_collars``,
            ``above_yield_strength`` and ``impossible_geometry`` that apply.
    """
    faults = list(_edition_faults(values))
    connection, low_torque_face = None, False
    with collecting(faults):
        connection = _connection(values["connection"])
    if connection is None:
        raise NoAnswer(faults)
    with collecting(faults):
        low_torque_face = _low_torque_face(values, connection)
    joint = _joint(values, connection, low_torque_face)
    faults += _strength_faults(joint)
    with collecting(faults):
        check_geometry(joint.thread, joint.outside_diameter, joint.bore)
    if faults:
        raise NoAnswer(faults)
    return joint


def _joint(values: Mapping[str, Any], connection: Connection, low_torque_face: bool) -> Joint:
    """The joint with its usual values filled in, each listed as an assumption."""
    component = values["component"]
    sources = [connection.source]
    assumptions: list[Assumption] = []

    def given_or(field: str, usual: Strength) -> float:
        given: float | None = values.get(field)
        if given is not None:
            return given
        if usual.source not in sources:
            sources.append(usual.source)
        assumptions.append(usual.assumed_for(field))
        return usual.stress

    def yield_strength(field: str) -> float | None:
        usual = usual_strength(component, "yield_strength", connection)
        return values.get(field) if usual is None else given_or(field, usual)

    def choice(assumed: Assumption, default: Any) -> Any:
        if assumed.field in values:
            return values[assumed.field]
        assumptions.append(assumed)
        return default

    stress_level = usual_stress_level(component, connection)
    return Joint(
        connection=connection,
        thread=connection.with_low_torque_face() if low_torque_face else connection.geometry,
        component=component,
        outside_diameter=values["box_outside_diameter"],
        bore=values["pin_bore"],
        pin_stress=given_or("pin_stress_level", stress_level),
        box_stress=given_or("box_stress_level", stress_level),
        pin_yield=yield_strength("pin_yield_strength"),
        box_yield=yield_strength("box_yield_strength"),
        low_torque_face=low_torque_face,
        compound_friction_factor=choice(REFERENCE_COMPOUND, 1.0),
        edition=choice(LATEST_EDITION, "2003"),
        basis=choice(BY_FORMULA, "formula"),
        sources=tuple(sources),
        assumptions=tuple(assumptions),
    )


def _connection(name: str) -> Connection:
    found = find_connection(name)
    if found is not None:
        return found
    if re.search(r"doubl|\bds\b|two.?shoulder|second shoulder|premium|proprietary", name, re.IGNORECASE):
        raise refuse(
            "not_defined_by_formula",
            "a double-shouldered or proprietary connection is not defined by the formula of API RP 7G; "
            + OTHER_WAYS,
            "connection",
        )
    near = near_designations(name)
    raise refuse(
        "unknown_connection",
        "no connection of this name is known. The formula does not define double-shouldered or "
        f"proprietary ones: {OTHER_WAYS}",
        "connection",
        "a designation listed at /v1/connections" + (f", near it: {', '.join(near)}" if near else ""),
    )


def _low_torque_face(values: Mapping[str, Any], connection: Connection) -> bool:
    given: bool | None = values.get("low_torque_face")
    counterbore = connection.low_torque_face_counterbore
    if counterbore is not None and given is None:
        raise refuse(
            "low_torque_face_required",
            f"{connection.designation} may have a low torque face with a counterbore of "
            f"{{counterbore}} instead of {{usual}}: say whether this one has it (true or false)",
            "low_torque_face",
            counterbore=Amount("length", counterbore),
            usual=Amount("length", connection.geometry.counterbore),
        )
    if given and counterbore is None:
        raise refuse(
            "no_low_torque_face",
            f"no low torque face is published for {connection.designation}",
            "low_torque_face",
        )
    return bool(given)


def _edition_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    if values.get("edition") == "1998" and values["component"] == "drill_collar":
        text = "the drill-collar table caps the shoulder radius in every edition; 1998 is for tool joints"
        yield Fault("edition_not_for_collars", text, "edition")


def _strength_faults(joint: Joint) -> Iterator[Fault]:
    for member, stress, limit in (
        ("pin", joint.pin_stress, joint.pin_yield),
        ("box", joint.box_stress, joint.box_yield),
    ):
        if limit is not None and not stress <= limit:
            yield Fault(
                "above_yield_strength",
                f"the stress level of the {member}, {{stress}}, is above its yield strength {{limit}}",
                f"{member}_stress_level",
                {"stress": Amount("stress", stress), "limit": Amount("stress", limit)},
            )
