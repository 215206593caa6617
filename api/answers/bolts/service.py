"""What an external load does to a tightened bolt, where it is given."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.bolts.optional_members import Extra
from api.answers.bolts.state import BoltState
from api.answers.bolts.strength import Strength
from api.answers.shop import Shop, withheld
from api.engineering.bolts.service import (
    bolt_force,
    bolt_load_share,
    safety_margin_to_proof,
    safety_margin_to_separation,
)
from api.engineering.bolts.stress import stress_from_preload
from api.engineering.checks import Amount, Finding, refuse
from api.engineering.provenance import Knowable, Known, NotKnown, Source

SERVICE = Source(
    "bolt under an external load",
    "reprint",
    "Shigley, Mechanical Engineering Design, 8-7 and 8-9, as in its worked solutions",
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
    C = values["bolt_load_share"] if ratio is None else bolt_load_share(1.0, ratio)
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
    separation = safety_margin_to_separation(state.preload, load, C)
    part = {
        "bolt_load_share": C,
        "bolt_force": force,
        "bolt_stress": stress,
        "share_of_yield": stress / limit,
        "safety_margin_to_proof": _margin_to_proof(state, load, C),
        "safety_margin_to_separation": separation,
        "separated": "no" if separation > 1 else "yes",
    }
    shown = Known(part, "load on this one bolt, along its axis")
    findings = [*([] if separation > 1 else [_opens(state, load, C)]), *_beyond_proof(strength, stress)]
    return Extra(shown, sources=(SERVICE,), findings=tuple(findings))


def _opens(state: BoltState, load: float, C: float) -> Finding:
    """The finding that this load opens the joint."""
    return Finding(
        level="stop",
        code="joint_opens",
        text="The external load {value} opens the joint, which opens at {limit}. The joint is then no longer "
        "tight or sealed.",
        remedy="Tighten further, or use more bolts.",
        step="make_up",
        value=Amount("force", load),
        limit=Amount("force", state.preload / (1 - C)),
    )


def _beyond_proof(strength: Strength, stress: float) -> Iterator[Finding]:
    """The finding that the load brings the bolt beyond its proof stress."""
    proof = strength.proof.value
    if proof is not None and stress > proof:
        yield Finding(
            level="stop",
            code="above_proof_stress_under_load",
            text="Under the external load the tension in the bolt is {value}. Its proof stress is {limit}.",
            remedy="Use a stronger bolt, or more bolts.",
            step="make_up",
            value=Amount("stress", stress),
            limit=Amount("stress", proof),
        )


def _margin_to_proof(state: BoltState, load: float, C: float) -> Knowable[float]:
    """The factor by which the load may grow until the bolt reaches its proof load, or why not known."""
    proof, area = state.bolt.strength.proof, state.bolt.thread.geometry.stress_area
    if proof.value is None:
        return proof
    if not state.tension < proof.value:
        return NotKnown("the preload alone is not below the proof load")
    factor = safety_margin_to_proof(proof.value * area, state.preload, load, C)
    return Known(factor, "to the proof load, closed or open")
