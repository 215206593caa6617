"""Parts of the answer on the preload of a rotary shouldered joint; what is not known is null."""

from typing import Any

from api.answers.rotary_loaded import Loaded
from api.answers.rotary_preload_notes import TENSION
from api.answers.rotary_request import Joint
from api.engineering.bending_strength_ratio import accepted_range, bending_strength_ratio
from api.engineering.rotary_preload import TensionLimits, pin_yield_tension, torsional_yield
from api.engineering.rotary_shouldered import MakeUp

PSI = 6894.757293168362
BREAK_IN_STRESS = 60_000 * PSI
BREAK_IN_MATERIAL = 120_000 * PSI
OTHER_MINIMUM = 1.80
"""Lowest bending strength ratio that other standards accept below 6 in (public text)."""
WITHHELD = f"withheld: {TENSION.what} ({TENSION.status}), which this service does not accept"


def limits_part(limits: TensionLimits, told: bool) -> dict[str, Any]:
    """Limits of tension; all null where this shop accepts nothing from memory."""
    P1, contact = limits.P1, limits.contact
    if P1 is None or contact is None:
        lowest, reason = None, "needs pin_yield_strength: the pin may yield before the shoulder separates"
    elif limits.Po < P1:
        lowest, reason = limits.Po, "the shoulder separates before the pin yields"
    else:
        lowest, reason = contact, "the pin yields before the shoulder separates"
    part = {
        "separation_tension": limits.Po,
        "pin_tensile_limit": P1,
        "contact_yield_tension": contact if P1 is not None and limits.Po >= P1 else None,
        "lowest_limit": lowest,
        "coincidence_torque": limits.T3,
        "separated_pin_yield_torque": limits.T4,
    }
    if not told:
        return {**dict.fromkeys(part), "lowest_limit_reason": WITHHELD, "status": "none", "reason": WITHHELD}
    return {
        **part,
        "lowest_limit_reason": reason,
        "status": TENSION.status,
        "reason": f"{TENSION.source}; pin tensile limit not divided by 1.1",
    }


def state_part(loaded: Loaded, tension: float | None, told: bool) -> dict[str, Any]:
    """The joint under the tension asked for, or why there is none."""
    state, made, pin_yield = loaded.state, loaded.made_up, loaded.joint.pin_yield
    if state is None or tension is None:
        return {"under_tension": None, "under_tension_reason": "no axial_tension is given"}
    if not told:
        return {"under_tension": None, "under_tension_reason": WITHHELD}
    verdict = "the shoulder is separated" if state.separated else "the shoulder stays closed"
    verdict += ", whether the pin yields is not known" if pin_yield is None else ", the pin does not yield"
    part = {
        "tension": tension,
        "shoulder_force": state.shoulder_force,
        "pin_force": state.pin_force,
        "pin_stress": state.pin_stress,
        "pin_share_of_yield": state.pin_stress / pin_yield if pin_yield else None,
        "separation_margin": loaded.limits.Po - tension,
        "pin_yield_margin": pin_yield_tension(pin_yield, made.Ap, made.Ab, loaded.preload) - tension
        if pin_yield
        else None,
        "shoulder": "separated" if state.separated else "closed",
        "pin": "below_yield" if pin_yield else "yield_not_known",
        "verdict": verdict,
    }
    return {"under_tension": part, "under_tension_reason": TENSION.source}


def ratio_part(joint: Joint) -> dict[str, Any] | None:
    """Bending strength ratio of a drill collar; None for a tool joint, for which no range is published."""
    if joint.component != "drill_collar":
        return None
    low, high = accepted_range(joint.outside_diameter)
    value = bending_strength_ratio(joint.connection.geometry, joint.outside_diameter, joint.bore)
    other = OTHER_MINIMUM if (low, high) == accepted_range(0.0) else None
    if value < low:
        within = "below_but_accepted_by_others" if other and value >= other else "below"
    else:
        within = "above" if value > high else "yes"
    return {
        "value": value,
        "accepted_minimum": low,
        "accepted_maximum": high,
        "within_range": within,
        "other_standards_minimum": other,
    }


def break_in_torque(joint: Joint, made: MakeUp) -> tuple[float | None, str]:
    """Torque at 60,000 psi in the smaller section of a new tool joint, N.m, and its reason."""
    if joint.component != "tool_joint":
        return None, "a drill collar is broken in at its full make-up torque"
    if any(
        strength < BREAK_IN_MATERIAL * (1 - 1e-9)
        for strength in (joint.pin_yield, joint.box_yield)
        if strength
    ):
        return None, "60,000 psi is for a yield strength of 120,000 psi; this joint has less"
    area = min(made.Ap, made.Ab)
    torque = torsional_yield(BREAK_IN_STRESS, area, made.arm, joint.compound_friction_factor)
    return torque, "the make-up formula at 60,000 psi, times the compound friction factor"
