"""What an external load does to a tightened bolt, where it is given."""

from collections.abc import Mapping
from typing import Any

from api.answers.bolts.optional_members import Extra
from api.answers.bolts.state import BoltState
from api.answers.shop import Shop, withheld
from api.engineering.bolts.service import bolt_force, joint_constant, load_factor, separation_factor
from api.engineering.bolts.stress import stress_from_preload
from api.engineering.checks import Amount, refuse
from api.engineering.provenance import Knowable, Known, NotKnown, Source

SERVICE = Source(
    "bolt under an external load",
    "reprint",
    "Shigley, Mechanical Engineering Design, 8-7 and 8-9, as in its worked solutions",
)
OPEN = (
    "Under the external load the joint opens, and the bolt takes all of it. The joint is no longer "
    "tight or sealed. Tighten further or use more bolts."
)
NOT_MORE = (
    "The figures under an external load hold for a steady load along the bolt axis, at the mean "
    "preload. They exclude fatigue, bending, scatter, relaxation and torsion left from tightening."
)


def service_part(state: BoltState, values: Mapping[str, Any], shop: Shop) -> Extra:
    """Force and stress of the bolt under the external load, and how much more it would take.

    Raises:
        NoAnswer: ``bolt_overstressed`` where the bolt would yield.
    """
    load = values.get("external_load")
    if load is None:
        return Extra(NotKnown("needs external_load"))
    ratio = values.get("stiffness_ratio")
    C = values["joint_constant"] if ratio is None else joint_constant(1.0, ratio)
    thread, strength = state.bolt.thread.geometry, state.bolt.strength
    force = bolt_force(state.preload, load, C)
    stress, limit = stress_from_preload(thread, force), strength.yield_strength
    if not stress < limit:
        text = "under this load the bolt has a stress of {stress}, and yields at {limit}"
        raise refuse(
            "bolt_overstressed",
            text,
            "external_load",
            stress=Amount("stress", stress),
            limit=Amount("stress", limit),
        )
    if SERVICE.status not in shop.accepted_statuses:
        return Extra(withheld(SERVICE.what, SERVICE.status))
    separation = separation_factor(state.preload, load, C)
    part = {
        "joint_constant": C,
        "bolt_force": force,
        "bolt_stress": stress,
        "share_of_yield": stress / limit,
        "load_factor": _load_factor(state, load, C),
        "separation_factor": separation,
        "separated": "no" if separation > 1 else "yes",
    }
    cautions = [NOT_MORE, *([] if separation > 1 else [OPEN])]
    if strength.proof.value is not None and stress > strength.proof.value:
        cautions.append("Under the external load the bolt is stressed beyond its proof stress.")
    shown = Known(part, "load on this one bolt, along its axis")
    return Extra(shown, sources=(SERVICE,), cautions=tuple(cautions))


def _load_factor(state: BoltState, load: float, C: float) -> Knowable[float]:
    """The factor by which the load may grow until the bolt reaches its proof load, or why not known."""
    proof, area = state.bolt.strength.proof, state.bolt.thread.geometry.stress_area
    if proof.value is None:
        return proof
    if not state.tension < proof.value:
        return NotKnown("the preload alone is not below the proof load")
    factor = load_factor(proof.value * area, state.preload, load, C)
    return Known(factor, "to the proof load, closed or open")
