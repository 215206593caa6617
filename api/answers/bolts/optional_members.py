"""What an answer for a bolt has only where it is asked: stretch of the bolt, scatter of its preload."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.bolts.state import BoltState
from api.answers.shop import Shop, withheld
from api.engineering.bolts.scatter import lowest_preload, preload_bounds, tightening_factor_from_plus_minus
from api.engineering.bolts.stretch import ENDS, bolt_sections, elongation, nut_angle_from_travel
from api.engineering.checks import Amount, Finding
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, Source
from api.reference.bolt_friction import SCATTER
from schemas.core.units import unit_named

STEEL = 30e6
"""Modulus of elasticity of steel, psi (Shigley)."""

STRETCH = Source("elongation, sum of F L / (A E)", "read", "Shigley, Mechanical Engineering Design")
NUT_ANGLE = Source("angle of the nut, one turn a pitch", "from memory", "turn-of-nut method")
BOLT_ENDS = Source("what the ends of a bolt add to its stretch", "from memory", "VDI 2230; studs: half a nut")


@dataclass(frozen=True)
class Extra:
    """An optional part of an answer, or why there is none, and what it brings with it."""

    part: Knowable[Mapping[str, Any]]
    sources: tuple[Source, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    findings: tuple[Finding, ...] = ()


def stretch_part(state: BoltState, values: Mapping[str, Any], shop: Shop) -> Extra:
    """Elongation and angle of the nut, where the grip is given."""
    if values.get("grip_length") is None:
        return Extra(NotKnown("needs grip_length"))
    assumptions: list[Assumption] = []

    def usual(field: str, value: Any, words: str, reason: str) -> Any:
        if values.get(field) is not None:
            return values[field]
        assumptions.append(Assumption(field, words, reason))
        return value

    steel = unit_named("psi").to_si(STEEL)
    modulus = usual("bolt_modulus", steel, f"{STEEL:,.0f} psi", "not given; steel")
    unthreaded = usual("unthreaded_length", 0.0, "0", "not given; threaded over the whole grip")
    ends = usual("bolt_ends", "grip_only", "grip_only", "not given; head, nut and engaged thread add nothing")
    if ends != "grip_only" and BOLT_ENDS.status not in shop.accepted_statuses:
        return Extra(withheld(BOLT_ENDS.what, BOLT_ENDS.status))
    thread = state.bolt.thread.geometry
    sections = bolt_sections(thread, values["grip_length"], unthreaded, ENDS[ends])
    stretched = elongation(state.preload, sections, modulus)
    told = NUT_ANGLE.status in shop.accepted_statuses
    angle = nut_angle_from_travel(thread.P, stretched)
    part = {
        "elongation": stretched,
        "nut_angle": Known(angle) if told else withheld(NUT_ANGLE.what, NUT_ANGLE.status),
    }
    basis = (
        "of the bolt alone, on its stress area in the thread; the parts that it clamps and embedding add to "
        "the angle, so that it is no setting"
    )
    of_ends = (BOLT_ENDS,) if ends != "grip_only" else ()
    sources = (STRETCH, *([NUT_ANGLE] if told else []), *of_ends)
    return Extra(Known(part, basis), sources, tuple(assumptions))


def scatter_part(state: BoltState, values: Mapping[str, Any], shop: Shop) -> Extra:
    """Bounds of the preload for a way of tightening, where it is named."""
    name = values.get("tightening_method")
    if name is None:
        return Extra(NotKnown("needs tightening_method"))
    published = [each for each in SCATTER[name] if each.source.status in shop.accepted_statuses]
    if not published:
        source = SCATTER[name][0].source
        return Extra(withheld(source.what, source.status))
    scatter = max(published, key=lambda each: each.high)
    low, high = preload_bounds(state.preload, scatter.high)
    factor = tightening_factor_from_plus_minus(scatter.high)
    part = {
        "what": scatter.what,
        "plus_minus_share": scatter.high,
        "plus_minus_share_least": min(each.low for each in published),
        "tightening_factor": factor,
        "preload_lower_bound": low,
        "preload_upper_bound": high,
        "preload_lowest_if_highest": lowest_preload(state.preload, factor),
        "status": scatter.source.status,
        "source": scatter.source.source,
    }
    basis = "the largest scatter published for it, without relaxation, embedding and change of temperature"
    sources = tuple(each.source for each in published)
    return Extra(Known(part, basis), sources, findings=_scatter_findings(state, high))


def _scatter_findings(state: BoltState, high: float) -> tuple[Finding, ...]:
    """A finding where the highest preload of the scatter reaches yield."""
    if high < state.yield_preload:
        return ()
    finding = Finding(
        level="stop",
        code="scatter_reaches_yield",
        text="This way of tightening can give a preload of {value}. The bolt yields at {limit}.",
        remedy="Tighten in a more exact way, or to a lower preload.",
        step="make_up",
        value=Amount("force", high),
        limit=Amount("force", state.yield_preload),
    )
    return (finding,)
