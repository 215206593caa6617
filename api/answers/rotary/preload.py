"""The preload of a rotary shouldered connection at a torque, and what tension does to it.

A tension that separates the shoulder is answered so. One that yields the pin is refused, since the forces
are not known then. P1 is not divided by 1.1. Limits of tension from memory still refuse where a shop does
not have them told.
"""

from collections.abc import Mapping
from itertools import takewhile
from typing import Any

from api.answers.answer import Answer
from api.answers.rotary.loaded import Loaded, loaded_joint
from api.answers.rotary.preload_notes import (
    BREAK_IN,
    OTHER_STANDARDS,
    TENSION,
    break_in_advice,
    factors,
    preload_findings,
)
from api.answers.rotary.request import Joint
from api.answers.rotary.torque import (
    COMPOUND,
    FORMULA,
    NO_RATIO,
    RATIO,
    ROTARY_STEPS,
    bending_strength_ratio_of,
    joint_findings,
)
from api.answers.shop import Shop, withheld
from api.engineering.provenance import Knowable, Known, NotKnown, Source, known, weakest_status
from api.engineering.rotary.preload import TensionLimits, pin_yield_tension, torsional_yield
from api.engineering.rotary.sizes import accepted_range
from api.engineering.rotary.torque import MakeUp
from api.engineering.working import Step
from api.reference.members import STEELS
from schemas.rotary.preload import UNDER_TENSION

_TORQUE = "API RP 7G App. A"
_YIELD = "the caller, or API RP 7G"
_TENSION = "API RP 7G A.8.3, from memory; statics"
_UP_TO_ARM = tuple(takewhile(lambda step: step.symbol != "Sp Ap", ROTARY_STEPS))

ROTARY_PRELOAD_STEPS = (
    *_UP_TO_ARM,
    Step("FF", "compound factor", "as given", "joint.compound_friction_factor", "number", "API RP 7A1"),
    Step("T", "applied torque", "as given", "loaded.torque", "torque", "the caller"),
    Step("F0", "preload", "T / (FF arm)", "loaded.preload", "force", _TORQUE),
    Step("Sp", "pin stress", "F0 / Ap", "pin_stress", "stress", "statics"),
    Step("Sb", "box stress", "F0 / Ab", "box_stress", "stress", "statics"),
    Step("Ymp", "yield strength of the pin", "as given or usual", "joint.pin_yield", "stress", _YIELD),
    Step("Ymb", "yield strength of the box", "as given or usual", "joint.box_yield", "stress", _YIELD),
    Step("T1", "torsional yield of the box", "FF Ymb Ab arm", "T1", "torque", _TORQUE),
    Step("T2", "torsional yield of the pin", "FF Ymp Ap arm", "T2", "torque", _TORQUE),
    Step("Po", "tension that separates the shoulder", "F0 (Ap + Ab) / Ab", "Po", "force", _TENSION),
    Step("P1", "tension that yields the pin alone", "Ymp Ap", "P1", "force", _TENSION),
    Step("Pc", "yields a pin in contact", "(P1 - F0) (Ap + Ab) / Ap", "contact", "force", _TENSION),
    Step("T3", "torque at which Po = P1", "FF P1 Ab / (Ap + Ab) arm", "T3", "torque", _TENSION),
    Step("T4", "yields a separated pin", "FF P1 (p/2pi + Rt f/cos(theta))", "T4", "torque", _TENSION),
    Step("P", "axial tension", "as given", "tension", "force", "the caller"),
    Step("Fp", "force in the pin", "P < Po: F0 + P Ap / (Ap + Ab); else P", "pin_force", "force", _TENSION),
    Step("Fs", "force left on the shoulder", "Fp - P", "shoulder_force", "force", _TENSION),
)  # fmt: skip


PSI = 6894.757293168362
BREAK_IN_STRESS = 60_000 * PSI
BREAK_IN_MATERIAL = 120_000 * PSI
OTHER_MINIMUM = 1.80
"""Lowest bending strength ratio that other standards accept below 6 in (public text)."""
WITHHELD = withheld(TENSION.what, TENSION.status)
NEEDS = {member: f"needs {member}_yield_strength" for member in ("pin", "box")}
SHOULDER_FIRST = "the shoulder separates before the pin yields"
PIN_FIRST = "the pin yields before the shoulder separates"
"""Which of both limits is met first."""


def limits_part(limits: TensionLimits, told: bool) -> Knowable[Mapping[str, Any]]:
    """Limits of tension; withheld, like the steel of a collar, where nothing from memory is accepted."""
    if not told or limits.P1 is None or limits.contact is None:
        return WITHHELD
    if limits.Po < limits.P1:
        contact: Knowable[float] = NotKnown(SHOULDER_FIRST)
        lowest = Known(limits.Po, SHOULDER_FIRST)
    else:
        contact, lowest = Known(limits.contact), Known(limits.contact, PIN_FIRST)
    part = {
        "separation_tension": limits.Po,
        "pin_tensile_limit": limits.P1,
        "contact_yield_tension": contact,
        "lowest_limit": lowest,
        "coincidence_torque": limits.T3,
        "separated_pin_yield_torque": limits.T4,
        "status": TENSION.status,
    }
    return Known(part, f"{TENSION.source}; pin tensile limit not divided by 1.1")


def state_part(loaded: Loaded, tension: float | None, told: bool) -> Knowable[Mapping[str, Any]]:
    """The joint under the tension asked for, or why there is none."""
    state, made, pin_yield = loaded.state, loaded.made_up, loaded.joint.pin_yield
    if state is None or tension is None:
        return NotKnown("no axial_tension is given")
    if not told or pin_yield is None:
        return WITHHELD
    shoulder = "separated" if state.separated else "closed"
    margin = pin_yield_tension(pin_yield, made.Ap, made.Ab, loaded.preload) - tension
    part = {
        "tension": tension,
        "shoulder_force": state.shoulder_force,
        "pin_force": state.pin_force,
        "pin_stress": state.pin_stress,
        "pin_share_of_yield": state.pin_stress / pin_yield,
        "separation_margin": loaded.limits.Po - tension,
        "pin_yield_margin": margin,
        "shoulder": shoulder,
        "pin": "below_yield",
        "verdict": UNDER_TENSION[shoulder],
    }
    return Known(part, TENSION.source)


def ratio_part(joint: Joint) -> dict[str, Any] | None:
    """Bending strength ratio of a drill collar; None for a tool joint, for which no range is published."""
    ratio = bending_strength_ratio_of(joint)
    if ratio is None:
        return None
    value, low, high = ratio["value"], ratio["accepted_minimum"], ratio["accepted_maximum"]
    other = OTHER_MINIMUM if (low, high) == accepted_range(0.0) else None
    if value < low:
        within = "below_but_accepted_by_others" if other and value >= other else "below"
    else:
        within = "above" if value > high else "yes"
    return {
        **ratio,
        "within_range": within,
        "other_standards_minimum": other,
    }


def break_in_torque(joint: Joint, made: MakeUp) -> Knowable[float]:
    """Torque at 60,000 psi in the smaller section of a new tool joint, N.m."""
    if joint.component != "tool_joint":
        return NotKnown("a drill collar is broken in at its full make-up torque")
    if any(
        strength < BREAK_IN_MATERIAL * (1 - 1e-9)
        for strength in (joint.pin_yield, joint.box_yield)
        if strength
    ):
        return NotKnown("60,000 psi is for a yield strength of 120,000 psi; this joint has less")
    area = min(made.Ap, made.Ab)
    torque = torsional_yield(BREAK_IN_STRESS, area, made.arm, joint.compound_friction_factor)
    return Known(torque, "the make-up formula at 60,000 psi, times the compound friction factor")


YIELDS = "the make-up formula at the yield strength of each member, times the compound friction factor"
NO_YIELDS = (
    "needs pin_yield_strength and box_yield_strength, each for its own member: the material of a drill "
    "collar is not fixed by its connection"
)
FIRST_IN_TORSION = "yields first in torsion"
SMALLER = "has the smaller section; which yields first is not known without both yield strengths"


def rotary_preload_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/preload/rotary-shouldered``.

    A tension that separates the shoulder is answered with that verdict; one that yields the pin is refused,
    as a torque is that yields pin or box: the forces are not known then.

    Raises:
        NoAnswer: the faults of the joint, ``torsional_yield_exceeded``, ``pin_yield_exceeded``.
    """
    steel_told = all(each.source.status in shop.accepted_statuses for each in STEELS)
    loaded = loaded_joint(values, standard_steel=steel_told)
    joint, made = loaded.joint, loaded.made_up
    told = TENSION.status in shop.accepted_statuses
    sources = (FORMULA, COMPOUND, *joint.sources)
    ratio = ratio_part(joint)
    findings = (*joint_findings(joint), *preload_findings(loaded, told))
    given = {member: f"{member}_yield_strength" in values for member in ("pin", "box")}
    result = {
        "preload": loaded.preload,
        "compound_friction_factor": joint.compound_friction_factor,
        **_stresses(loaded),
        "tension_limits": limits_part(loaded.limits, told),
        "under_tension": state_part(loaded, values.get("axial_tension"), told),
        "bending_strength_ratio": known(ratio, NO_RATIO, RATIO.source),
        "break_in_torque": break_in_torque(joint, made),
        "break_in": break_in_advice(joint),
        "factors": factors(joint, given),
        "connection": joint.connection.designation,
        "pin_area": made.Ap,
        "box_area": made.Ab,
    }
    extra: tuple[Source, ...] = (RATIO, OTHER_STANDARDS) if ratio else (BREAK_IN,)
    return Answer(
        result=result,
        sources=(*sources, *joint.yield_sources, TENSION, *extra),
        status=weakest_status(sources),
        assumptions=joint.assumptions,
        findings=findings,
        working=_working(loaded, values, told),
        steps=ROTARY_PRELOAD_STEPS,
    )


def _stresses(loaded: Loaded) -> dict[str, Any]:
    joint, made, preload = loaded.joint, loaded.made_up, loaded.preload
    pin, box = preload / made.Ap, preload / made.Ab
    both = loaded.torsional_yield is not None
    return {
        "pin_stress": pin,
        "box_stress": box,
        "pin_share_of_yield": known(joint.pin_yield and pin / joint.pin_yield, NEEDS["pin"]),
        "box_share_of_yield": known(joint.box_yield and box / joint.box_yield, NEEDS["box"]),
        "pin_torsional_yield": known(loaded.yields["pin"], NEEDS["pin"]),
        "box_torsional_yield": known(loaded.yields["box"], NEEDS["box"]),
        "torsional_yield": known(loaded.torsional_yield, NO_YIELDS, YIELDS),
        "weaker_member": Known(loaded.weaker_member, FIRST_IN_TORSION if both else SMALLER),
    }


def _working(loaded: Loaded, values: Mapping[str, Any], told: bool) -> dict[str, Any]:
    """What the steps read, flat where it may be missing: a step without a value is left out."""
    limits, state, made = loaded.limits, loaded.state, loaded.made_up
    tension = {
        "Po": limits.Po, "P1": limits.P1, "contact": limits.contact, "T3": limits.T3, "T4": limits.T4,
        "tension": values.get("axial_tension"),
        "pin_force": state.pin_force if state else None,
        "shoulder_force": state.shoulder_force if state else None,
    }  # fmt: skip
    return {
        "thread": loaded.joint.thread, "joint": loaded.joint, "make_up": made, "loaded": loaded,
        "pin_stress": loaded.preload / made.Ap, "box_stress": loaded.preload / made.Ab,
        "T1": loaded.yields["box"], "T2": loaded.yields["pin"],
        **(tension if told else dict.fromkeys(tension)),
    }  # fmt: skip
