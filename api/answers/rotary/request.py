"""A loaded request becomes a joint: its connection is found, usual values are filled in and listed."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from api.engineering.checks import Amount, Fault, NoAnswer, collecting, refuse
from api.engineering.provenance import Assumption, Source
from api.engineering.rotary.sizes import ThreadGeometry, bending_strength_ratio, highest_plausible_ratio
from api.engineering.rotary.torque import check_geometry
from api.reference.bit_torque import BIT_TORQUES, BitTorque
from api.reference.connections import Connection, find_connection, near_designations
from api.reference.make_up_torque import SAME_STRESS
from api.reference.members import (
    BIT,
    FOLLOWED,
    Strength,
    collar_steel,
    rule_of,
    usual_strength,
    usual_stress_level,
)

OTHER_WAYS = (
    "Its maker's torque can be given with family=stated on /v1/pressure. Name the maker's sheet in "
    "torque_source"
)


REFERENCE_COMPOUND = Assumption(
    "compound_friction_factor", "1.0", "not given; reference compound of API RP 7A1 assumed"
)
LATEST_EDITION = Assumption("edition", "2003", "not given; shoulder radius capped as in Addendum 1 (2003)")
BY_FORMULA = Assumption("basis", "formula", "not given")
PLAIN_FACE = Assumption("low_torque_face", "false", "not given; it does not enter the torque of a bit")
ROLLER_CONE = Assumption(
    "component", "bit", "a roller-cone bit; Dialset has no table of fixed-cutter bits: state their torque"
)
NOT_OF_A_BIT = ("pin_stress_level", "box_stress_level", "basis")
"""Fields that do not enter the torque of a bit, which is a range of its table."""


@dataclass(frozen=True)
class Joint:
    """A rotary shouldered joint with every value that its torque needs, SI.

    ``part`` is the part of the string by its name, ``component`` the one whose rule it follows. ``bit`` is
    the range of a bit. ``yield_sources`` are those of the yield strengths alone, which decide no torque.
    """

    connection: Connection
    thread: ThreadGeometry
    part: str
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
    yield_sources: tuple[Source, ...] = ()
    bit: BitTorque | None = None

    @property
    def part_name(self) -> str:
        """The part of the string in words."""
        return self.part.replace("_", " ")

    def at_usual_stress(self, member: str) -> bool:
        """Whether a member (pin or box) is at the stress level of the standard's own tables."""
        stress = self.pin_stress if member == "pin" else self.box_stress
        return abs(stress - usual_stress_level(self.component, self.connection).stress) < SAME_STRESS


def joint_from(values: Mapping[str, Any], *, standard_steel: bool = True) -> Joint:
    """The joint that a request describes.

    ``standard_steel``: whether a collar that states no yield strength is taken to be of standard steel.

    Raises:
        NoAnswer: with all of ``unknown_connection``, ``not_defined_by_formula``,
            ``low_torque_face_required``, ``no_low_torque_face``, ``edition_not_for_collars``,
            ``not_of_a_bit``, ``no_bit_torque``, ``above_yield_strength``, ``impossible_geometry`` and
            ``size_to_confirm`` that apply.
    """
    faults = [*_edition_faults(values), *_bit_faults(values)]
    connection, low_torque_face = None, False
    with collecting(faults):
        connection = _connection(values["connection"])
    if connection is None:
        raise NoAnswer(faults)
    with collecting(faults):
        low_torque_face = _low_torque_face(values, connection)
    joint = _joint(values, connection, low_torque_face, standard_steel)
    faults += _strength_faults(joint)
    with collecting(faults):
        check_geometry(joint.thread, joint.outside_diameter, joint.bore)
        joint = _confirmed(joint, confirmed=values.get("confirm_size", False))
    if values["component"] == BIT and joint.bit is None:
        faults.append(_no_bit(connection))
    if faults:
        raise NoAnswer(faults)
    return joint


def _confirmed(joint: Joint, *, confirmed: bool) -> Joint:
    """The joint, with the sizes that had to be confirmed among its assumptions.

    Raises:
        NoAnswer: ``size_to_confirm`` where they had to be, and were not.
    """
    ratio = bending_strength_ratio(joint.connection.geometry, joint.outside_diameter, joint.bore)
    limit = highest_plausible_ratio(joint.outside_diameter)
    if ratio <= limit:
        return joint
    if not confirmed:
        raise refuse(
            "size_to_confirm",
            "the bending strength ratio of these sizes is {ratio}, beyond {limit}, twice the highest that is "
            f"accepted. Measure again, and check that it is {joint.connection.designation}",
            "box_outside_diameter",
            "other sizes; or confirm_size=true where connection, outside diameter and bore are right",
            ratio=Amount("number", ratio),
            limit=Amount("number", limit),
        )
    reason = f"sizes confirmed by the caller; their bending strength ratio is {ratio:.3g}, beyond {limit:.3g}"
    return replace(joint, assumptions=(*joint.assumptions, Assumption("confirm_size", "true", reason)))


class _Filled:
    """A request with its usual values filled in, each listed as an assumption with its source."""

    def __init__(self, values: Mapping[str, Any], component: str, connection: Connection) -> None:
        self.values, self.component, self.connection = values, component, connection
        self.sources = [connection.source]
        self.yield_sources: list[Source] = []
        self.assumptions: list[Assumption] = []

    def strength(self, field: str, usual: Strength) -> float:
        """A stress given, else the usual one."""
        given: float | None = self.values.get(field)
        if given is not None:
            return given
        if usual.source not in self.sources:
            self.sources.append(usual.source)
        self.assumptions.append(usual.assumed_for(field))
        return usual.stress

    def yield_strength(self, field: str, standard_steel: bool) -> float | None:
        """A yield strength given, else that of the standard, else that of standard collar steel."""
        usual = usual_strength(self.component, "yield_strength", self.connection)
        if usual is not None:
            return self.strength(field, usual)
        given: float | None = self.values.get(field)
        if given is not None or self.component != "drill_collar" or not standard_steel:
            return given
        steel = collar_steel(self.values["box_outside_diameter"])
        if steel.source not in self.yield_sources:
            self.yield_sources.append(steel.source)
        self.assumptions.append(steel.assumed_for(field))
        return steel.strength

    def choice(self, assumed: Assumption, default: Any) -> Any:
        """A value given, else the default."""
        if assumed.field in self.values:
            return self.values[assumed.field]
        self.assumptions.append(assumed)
        return default


def _joint(
    values: Mapping[str, Any], connection: Connection, low_torque_face: bool, standard_steel: bool
) -> Joint:
    """The joint with its usual values filled in, each listed as an assumption."""
    part = values["component"]
    filled = _Filled(values, rule_of(part), connection)
    if part in FOLLOWED:
        filled.assumptions.append(FOLLOWED[part])
    if filled.component == BIT:
        return _bit(values, connection, low_torque_face, filled.choice, filled.assumptions)
    stress_level = usual_stress_level(filled.component, connection)
    return Joint(
        connection=connection,
        thread=connection.with_low_torque_face() if low_torque_face else connection.geometry,
        part=part,
        component=filled.component,
        outside_diameter=values["box_outside_diameter"],
        bore=values["pin_bore"],
        pin_stress=filled.strength("pin_stress_level", stress_level),
        box_stress=filled.strength("box_stress_level", stress_level),
        pin_yield=filled.yield_strength("pin_yield_strength", standard_steel),
        box_yield=filled.yield_strength("box_yield_strength", standard_steel),
        low_torque_face=low_torque_face,
        compound_friction_factor=filled.choice(REFERENCE_COMPOUND, 1.0),
        edition=filled.choice(LATEST_EDITION, "2003"),
        basis=filled.choice(BY_FORMULA, "formula"),
        sources=tuple(filled.sources),
        assumptions=tuple(filled.assumptions),
        yield_sources=tuple(filled.yield_sources),
    )


def _bit(
    values: Mapping[str, Any],
    connection: Connection,
    low_torque_face: bool,
    choice: Callable[[Assumption, Any], Any],
    assumptions: list[Assumption],
) -> Joint:
    """The joint of a bit: no stress level enters its torque, see `api.answers.rotary.bit`."""
    bit = BIT_TORQUES.get(connection.designation)
    assumptions.append(ROLLER_CONE)
    if connection.low_torque_face_counterbore is not None and "low_torque_face" not in values:
        assumptions.append(PLAIN_FACE)
    return Joint(
        connection=connection,
        thread=connection.with_low_torque_face() if low_torque_face else connection.geometry,
        part=BIT,
        component=BIT,
        outside_diameter=values["box_outside_diameter"],
        bore=values["pin_bore"],
        pin_stress=0.0,
        box_stress=0.0,
        pin_yield=values.get("pin_yield_strength"),
        box_yield=values.get("box_yield_strength"),
        low_torque_face=low_torque_face,
        compound_friction_factor=choice(REFERENCE_COMPOUND, 1.0),
        edition="2003",
        basis="range",
        sources=(connection.source, *([bit.source] if bit else ())),
        assumptions=tuple(assumptions),
        bit=bit,
    )


def _connection(name: str) -> Connection:
    found = find_connection(name)
    if found is not None:
        return found
    if re.search(r"doubl|\bds\b|two.?shoulder|second shoulder|premium|proprietary", name, re.IGNORECASE):
        raise refuse(
            "not_defined_by_formula",
            "a double-shouldered or proprietary connection is not defined by the formula of API RP 7G. "
            + OTHER_WAYS,
            "connection",
        )
    near = near_designations(name)
    raise refuse(
        "unknown_connection",
        "no connection of this name is known. The formula does not define double-shouldered or "
        f"proprietary ones. {OTHER_WAYS}",
        "connection",
        "a designation listed at /v1/connections" + (f", near it: {', '.join(near)}" if near else ""),
    )


def _low_torque_face(values: Mapping[str, Any], connection: Connection) -> bool:
    given: bool | None = values.get("low_torque_face")
    counterbore = connection.low_torque_face_counterbore
    if counterbore is not None and given is None and values["component"] != BIT:
        raise refuse(
            "low_torque_face_required",
            f"{connection.designation} may have a low torque face with a counterbore of "
            f"{{counterbore}} instead of {{usual}}. Say whether this one has it (true or false)",
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
    if values.get("edition") == "1998" and rule_of(values["component"]) != "tool_joint":
        text = "the drill-collar table caps the shoulder radius in every edition; 1998 is for tool joints"
        yield Fault("edition_not_for_collars", text, "edition")


def _bit_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    if values["component"] == BIT:
        for name in NOT_OF_A_BIT:
            if name in values:
                text = "the torque of a bit is a range by its connection; this field does not enter it"
                yield Fault("not_of_a_bit", text, name, accepted="this field left out")


def _no_bit(connection: Connection) -> Fault:
    known = ", ".join(BIT_TORQUES)
    return Fault(
        "no_bit_torque",
        f"Dialset has no torque range of a bit with {connection.designation}. {OTHER_WAYS}",
        "connection",
        accepted=f"for a bit one of: {known}",
    )


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
                f"at most the yield strength; a stronger {member} has its own in {member}_yield_strength",
            )
