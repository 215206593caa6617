"""The parts that the answers for a torque and for a preload of a bolt have in common."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.bolts.optional_members import Extra, scatter_part, stretch_part
from api.answers.bolts.request import Bolt
from api.answers.bolts.service import service_part
from api.answers.bolts.state import BoltState, state_cautions
from api.answers.shop import Shop
from api.engineering.bolts.stress import TighteningStress
from api.engineering.provenance import Source

COMBINED = Source(
    "stress while tightening",
    "reprint",
    "VDI 2230 (2001) for plastic torsion, whose tables it gives; JIS B 1083 and VDI 2230 (1986) for elastic",
)
JIS = Source("nut factor from friction", "read", "JIS B 1083; Machinery's Handbook 31, eqs. 13 and 14")

NO_SPLIT = (
    "a nut factor holds thread and bearing friction together: only the part of the pitch is known, and not "
    "the torsion in the bolt"
)
KNOWN = {
    "torque_split_reason": "parts of the torque by the method used",
    "tightening_stress_reason": "tension and torsion by VDI 2230, of a plastic and of an elastic shank",
    "loosening_reason": "at the same friction and the full preload, by the method used",
    "permissible_reason": "tension and plastic torsion together at 0.9 of the yield strength (VDI 2230)",
    "nut_factor_by_jis_b_1083_reason": "from the same friction, uniform pressure on the face; to compare",
}
YIELD_KNOWN = "torque at which tension and plastic torsion together reach the yield strength"
YIELD_AT_LATEST = (
    "torque at which the bolt yields at the latest: torsion by the pitch alone, since friction in the "
    "thread, which adds to it, is not known from a nut factor"
)


def common_parts(state: BoltState, values: Mapping[str, Any], shop: Shop) -> tuple[dict[str, Any], Extra]:
    """The result that both answers share, and what its optional parts bring with them."""
    bolt, thread = state.bolt, state.bolt.thread.geometry
    strength, arms = bolt.strength, bolt.method.arms
    stretch, scatter = stretch_part(state, values, shop), scatter_part(state, values, shop)
    service = service_part(state, values, shop)
    result = {
        "preload": state.preload,
        "bolt_stress": state.tension,
        "share_of_yield": state.share_of_yield,
        "share_of_proof": state.share_of_proof,
        "share_of_proof_reason": strength.no_proof or "tension on the stress area over the proof stress",
        "nut_factor": state.torque / (state.preload * thread.d),
        "nut_factor_by_jis_b_1083": bolt.method.jis_nut_factor,
        **_torque_parts(state),
        "tightening_stress": _stress_part(state),
        "permissible": _permissible_part(state),
        "torsional_yield": state.torsional_yield,
        "torsional_yield_reason": YIELD_AT_LATEST if arms.shank is None else YIELD_KNOWN,
        **(KNOWN if arms.shank is not None else dict.fromkeys(KNOWN, NO_SPLIT)),
        **_withheld(shop),
        "stretch": stretch.part,
        "stretch_reason": stretch.reason,
        "scatter": scatter.part,
        "scatter_reason": scatter.reason,
        "in_service": service.part,
        "in_service_reason": service.reason,
        "thread": bolt.thread.designation,
        "stress_area": thread.stress_area,
        "root_area": thread.root_area,
        "area_standard": thread.standard,
        "lead_angle": thread.phi,
        "bearing_diameter": bolt.method.bearing_diameter,
        "bolt_grade": strength.name,
        "bolt_grade_sizes": strength.sizes,
        "yield_strength": strength.yield_strength,
        "proof_stress": strength.proof,
        "method": bolt.method.name,
    }
    return result, stretch.joined(scatter).joined(service)


def _withheld(shop: Shop) -> dict[str, Any]:
    """What is not told where the shop does not accept how the stress is computed; it limits all the same."""
    if COMBINED.status in shop.accepted_statuses:
        return {}
    names = ("tightening_stress", "permissible", "torsional_yield")
    reason = f"withheld: {COMBINED.what} ({COMBINED.status}), which this service does not accept"
    return {**dict.fromkeys(names), **dict.fromkeys((f"{name}_reason" for name in names), reason)}


def common_sources(bolt: Bolt, extra: Extra) -> tuple[Source, ...]:
    """Everything that both answers rest on besides their main value."""
    of_friction = (JIS,) if bolt.method.arms.shank is not None else ()
    return (bolt.stress_area_source, bolt.strength.source, COMBINED, *of_friction, *extra.sources)


def common_cautions(state: BoltState, extra: Extra) -> Iterator[str]:
    """What both answers say."""
    yield from state.bolt.cautions
    yield from state_cautions(state)
    yield from extra.cautions


def _torque_parts(state: BoltState) -> dict[str, Any]:
    arms, F = state.bolt.method.arms, state.preload

    def torque(arm: float | None) -> float | None:
        return None if arm is None else F * arm

    return {
        "torque_split": {
            "pitch": torque(arms.pitch),
            "thread_friction": torque(arms.thread),
            "bearing_friction": torque(arms.bearing),
        },
        "loosening": _loosening_part(state),
    }


def _loosening_part(state: BoltState) -> dict[str, Any] | None:
    arms = state.bolt.method.arms
    if arms.loosening is None or arms.bearing is None:
        return None
    in_thread = arms.loosening - arms.bearing
    return {"torque": state.preload * arms.loosening, "self_locking": "yes" if in_thread > 0 else "no"}


def _permissible_part(state: BoltState) -> dict[str, Any] | None:
    if state.permissible_preload is None:
        return None
    return {"preload": state.permissible_preload, "torque": state.permissible_torque}


def _stress_part(state: BoltState) -> dict[str, float] | None:
    if state.plastic is None or state.elastic is None:
        return None
    limit = state.bolt.strength.yield_strength

    def of(torsion: str, stress: TighteningStress) -> dict[str, float]:
        return {
            f"shear_{torsion}": stress.shear,
            f"combined_{torsion}": stress.combined,
            f"combined_{torsion}_share_of_yield": stress.combined / limit,
        }

    return of("plastic", state.plastic) | of("elastic", state.elastic)
