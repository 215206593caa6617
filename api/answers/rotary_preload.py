"""Preload of a rotary shouldered joint at an applied torque: stresses, limits of tension, break-in."""

from collections.abc import Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.rotary_loaded import Loaded, loaded_joint
from api.answers.rotary_preload_notes import (
    BREAK_IN,
    CAUTIONS,
    OTHER_STANDARDS,
    TENSION,
    break_in_advice,
    cautions,
    factors,
)
from api.answers.rotary_preload_parts import break_in_torque, limits_part, ratio_part, state_part
from api.answers.rotary_shouldered import COMPOUND, FORMULA, RATIO
from api.answers.shop import Shop
from api.engineering.provenance import Source, weakest_status

YIELDS = "the make-up formula at the yield strength of each member, times the compound friction factor"
NO_YIELDS = (
    "needs pin_yield_strength and box_yield_strength, each for its own member: the material of a drill "
    "collar is not fixed by its connection"
)
NO_RATIO = "its accepted range is that of drill collars; none is published for tool joints"


def rotary_preload_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/preload/rotary-shouldered``.

    A tension that separates the shoulder is answered with that verdict; one that yields the pin is refused,
    as a torque is that yields pin or box: the forces are not known then.

    Raises:
        NoAnswer: the faults of the joint, ``torsional_yield_exceeded``, ``pin_yield_exceeded``.
    """
    loaded = loaded_joint(values)
    joint, made = loaded.joint, loaded.made_up
    told = TENSION.status in shop.accepted_statuses
    sources = (FORMULA, COMPOUND, *joint.sources)
    ratio = ratio_part(joint)
    given = {member: f"{member}_yield_strength" in values for member in ("pin", "box")}
    break_in, break_in_reason = break_in_torque(joint, made)
    result = {
        "preload": loaded.preload,
        "compound_friction_factor": joint.compound_friction_factor,
        **_stresses(loaded),
        "tension_limits": limits_part(loaded.limits, told),
        **state_part(loaded, values.get("axial_tension"), told),
        "bending_strength_ratio": ratio,
        "bending_strength_ratio_reason": RATIO.source if ratio else NO_RATIO,
        "break_in_torque": break_in,
        "break_in_torque_reason": break_in_reason,
        "break_in": break_in_advice(joint),
        "factors": factors(joint, given),
        "connection": joint.connection.designation,
        "pin_area": made.Ap,
        "box_area": made.Ab,
    }
    extra: tuple[Source, ...] = (RATIO, OTHER_STANDARDS) if ratio else (BREAK_IN,)
    return Answer(
        result,
        (*sources, TENSION, *extra),
        weakest_status(sources),
        joint.assumptions,
        (*cautions(loaded, ratio, told), *CAUTIONS),
        _working(loaded, values, told),
    )


def _stresses(loaded: Loaded) -> dict[str, Any]:
    joint, made, preload = loaded.joint, loaded.made_up, loaded.preload
    pin, box = preload / made.Ap, preload / made.Ab
    known = None not in loaded.yields.values()
    return {
        "pin_stress": pin,
        "box_stress": box,
        "pin_share_of_yield": pin / joint.pin_yield if joint.pin_yield else None,
        "box_share_of_yield": box / joint.box_yield if joint.box_yield else None,
        "pin_torsional_yield": loaded.yields["pin"],
        "box_torsional_yield": loaded.yields["box"],
        "torsional_yield": loaded.torsional_yield,
        "torsional_yield_reason": YIELDS if known else NO_YIELDS,
        "weaker_member": loaded.weaker_member,
        "weaker_member_reason": "yields first in torsion"
        if known
        else "has the smaller section; which yields first is not known without both yield strengths",
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
