"""The parts that the answers for a torque and for a preload of a bolt have in common."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from api.answers.bolts.optional_members import Extra, scatter_part, stretch_part
from api.answers.bolts.request import Bolt
from api.answers.bolts.service import service_part
from api.answers.bolts.state import BoltState, state_findings
from api.answers.shop import Shop, withheld
from api.engineering.bolts.stress import TighteningStress
from api.engineering.checks import Finding
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, Source, known

T = TypeVar("T")

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
BY_METHOD = "parts of the torque by the method used"
LOOSENING = "at the same friction and the full preload, by the method used"
BY_JIS = "from the same friction, uniform pressure on the face; to compare"
STRESS = "tension and torsion by VDI 2230, of a plastic and of an elastic shank"
PERMISSIBLE = "tension and plastic torsion together at 0.9 of the yield strength (VDI 2230)"
YIELD_KNOWN = "torque at which tension and plastic torsion together reach the yield strength"
YIELD_AT_LATEST = (
    "torque at which the bolt yields at the latest: torsion by the pitch alone, since friction in the "
    "thread, which adds to it, is not known from a nut factor"
)


@dataclass(frozen=True)
class Extras:
    """The members that both answers have only on demand, and what comes with them."""

    stretch: Extra
    scatter: Extra
    service: Extra

    @property
    def all(self) -> tuple[Extra, ...]:
        """Every extra member, in the order of the answer."""
        return self.stretch, self.scatter, self.service

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """The assumptions that entered the members."""
        return tuple(each for extra in self.all for each in extra.assumptions)


def extras_of(state: BoltState, values: Mapping[str, Any], shop: Shop) -> Extras:
    """The optional parts of a request."""
    return Extras(
        stretch_part(state, values, shop),
        scatter_part(state, values, shop),
        service_part(state, values, shop),
    )


def common_parts(state: BoltState, extras: Extras, shop: Shop) -> dict[str, Any]:
    """The result that both answers share."""
    bolt, thread = state.bolt, state.bolt.thread.geometry
    strength, by_nut_factor = bolt.strength, bolt.method.arms.shank is None

    def combined(value: T | None, basis: str) -> Knowable[T]:
        """What rests on the stress while tightening; where the shop withholds that, it still limits."""
        accepted = COMBINED.status in shop.accepted_statuses
        return known(value, NO_SPLIT, basis) if accepted else withheld(COMBINED.what, COMBINED.status)

    return {
        "preload": state.preload,
        "bolt_stress": state.tension,
        "share_of_yield": state.share_of_yield,
        "share_of_proof": state.share_of_proof,
        "nut_factor": state.torque / (state.preload * thread.d),
        "nut_factor_from_friction": known(bolt.method.jis_nut_factor, NO_SPLIT, BY_JIS),
        "torque_split": Known(_torque_split(state), None if by_nut_factor else BY_METHOD),
        "loosening": known(_loosening_part(state), NO_SPLIT, LOOSENING),
        "tightening_stress": combined(_stress_part(state), STRESS),
        "permissible": combined(_permissible_part(state), PERMISSIBLE),
        "torsional_yield": combined(state.torsional_yield, YIELD_AT_LATEST if by_nut_factor else YIELD_KNOWN),
        "stretch": extras.stretch.part,
        "scatter": extras.scatter.part,
        "in_service": extras.service.part,
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


def common_sources(bolt: Bolt, extras: Extras) -> tuple[Source, ...]:
    """Sources of both answers besides that of their main value."""
    of_friction = (JIS,) if bolt.method.arms.shank is not None else ()
    of_extras = (source for extra in extras.all for source in extra.sources)
    return (bolt.stress_area_source, bolt.strength.source, COMBINED, *of_friction, *of_extras)


def common_findings(state: BoltState, extras: Extras) -> Iterator[Finding]:
    """The findings of both answers."""
    yield from state.bolt.findings
    yield from state_findings(state)
    for extra in extras.all:
        yield from extra.findings


def _torque_split(state: BoltState) -> dict[str, Any]:
    arms, F = state.bolt.method.arms, state.preload

    def torque(arm: float | None) -> Knowable[float]:
        return NotKnown(NO_SPLIT) if arm is None else Known(F * arm)

    return {
        "pitch": F * arms.pitch,
        "thread_friction": torque(arms.thread),
        "bearing_friction": torque(arms.bearing),
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
