"""A bolt at its preload: torque, stresses, how near to yield; what is refused and what is said.

The torque at yield is compared with the worst case too, as a check, and no `torque_tolerance` may reach
it: the target of a bolt lies much nearer to its yield than that of a rotary joint.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from api.answers.bolts.request import Bolt
from api.engineering.bolts.stress import (
    PERMISSIBLE_SHARE,
    TighteningStress,
    Torsion,
    preload_from_combined_stress,
    stress_from_preload,
    tightening_stress,
)
from api.engineering.bolts.torque import torque_from_preload
from api.engineering.checks import Amount, Fault, Finding, NoAnswer
from api.engineering.provenance import Knowable, Known

JUST_ABOVE = 1 + 1e-6
"""A share that is above its limit by less than this is at it: answers have 10 digits."""
OF_PROOF = "tension on the stress area over the proof stress"
HALF_OF_YIELD = 0.5
"""The bolt stress of the table of API 6A, as a share of the yield strength."""


@dataclass(frozen=True)
class BoltState:
    """A bolt at a preload, SI.

    Attributes:
        bolt: the bolt.
        preload: N.
        torque: that gives it, N.m.
        tension: on the stress area, Pa.
        plastic: stress while tightening with plastic torsion; None where torsion is not known.
        elastic: the same with elastic torsion.
        permissible_preload: at which the combined stress is 0.9 of yield (plastic torsion); None likewise.
        yield_preload: at which tension and torsion reach the yield strength; where torsion is not known, with
            that of the pitch alone, which is the least that it can be.
    """

    bolt: Bolt
    preload: float
    torque: float
    tension: float
    plastic: TighteningStress | None
    elastic: TighteningStress | None
    permissible_preload: float | None
    yield_preload: float

    @property
    def torsional_yield(self) -> float:
        """Torque by which the bolt yields, N.m."""
        return torque_from_preload(self.bolt.method.arms, self.yield_preload)

    @property
    def permissible_torque(self) -> float | None:
        """Torque of the permissible preload, N.m; None where torsion is not known."""
        preload = self.permissible_preload
        return None if preload is None else torque_from_preload(self.bolt.method.arms, preload)

    @property
    def share_of_yield(self) -> float:
        """Tension over yield strength."""
        return self.tension / self.bolt.strength.yield_strength

    @property
    def share_of_proof(self) -> Knowable[float]:
        """Tension over proof stress, where there is one."""
        proof = self.bolt.strength.proof
        return proof if proof.value is None else Known(self.tension / proof.value, OF_PROOF)


def state_at(bolt: Bolt, preload: float, field: str) -> BoltState:
    """The bolt at a preload N that it bears.

    Args:
        bolt: the bolt.
        preload: in it, N.
        field: the request field that asks for it, to be named in a refusal.

    Raises:
        NoAnswer: ``bolt_overstressed`` where tension and torsion reach the yield strength.
    """
    thread, arms = bolt.thread.geometry, bolt.method.arms
    limit = bolt.strength.yield_strength

    def stress(torsion: Torsion) -> TighteningStress | None:
        shank = arms.shank
        return None if shank is None else tightening_stress(thread, preload, preload * shank, torsion)

    def preload_at(combined: float, shank: float) -> float:
        return preload_from_combined_stress(thread, combined, shank, "plastic")

    state = BoltState(
        bolt,
        preload,
        torque_from_preload(arms, preload),
        stress_from_preload(thread, preload),
        stress("plastic"),
        stress("elastic"),
        None if arms.shank is None else preload_at(PERMISSIBLE_SHARE * limit, arms.shank),
        preload_at(limit, arms.pitch if arms.shank is None else arms.shank),
    )
    if fault := _overstress(state, field):
        raise NoAnswer([fault])
    return state


def _overstress(state: BoltState, field: str) -> Fault | None:
    if state.preload < state.yield_preload:
        return None
    pitch_alone = ""
    if state.plastic is None:
        pitch_alone = ". The torsion is that of the pitch alone: friction in the thread adds to it"
    return Fault(
        "bolt_overstressed",
        "at {torque} the preload {preload} puts a tension of {tension} on the stress area. With the torsion "
        "of tightening the bolt yields at {bearable}. Its yield strength is {limit}" + pitch_alone,
        field,
        {
            "torque": Amount("torque", state.torque),
            "preload": Amount("force", state.preload),
            "tension": Amount("stress", state.tension),
            "bearable": Amount("force", state.yield_preload),
            "limit": Amount("stress", state.bolt.strength.yield_strength),
        },
    )


def state_findings(state: BoltState) -> Iterator[Finding]:
    """The findings of a bolt at its preload."""
    limit, proof = state.bolt.strength.yield_strength, state.bolt.strength.proof.value
    tension = Amount("stress", state.tension)
    if proof is not None and state.tension > proof * JUST_ABOVE:
        yield Finding(
            level="stop",
            code="above_proof_stress",
            text=f"The tension {{value}} is {100 * state.tension / proof:.3g} % of the proof stress, "
            "{limit}. The bolt can stretch permanently.",
            remedy="Tighten to a lower preload, or have the procedure for this bolt confirmed.",
            step="make_up",
            value=tension,
            limit=Amount("stress", proof),
        )
    if state.plastic is None:
        yield from _tension_alone(state, limit)
    else:
        yield from _combined(state.plastic, state.elastic, limit)
    if state.bolt.method.name == "heavy_hex_nut" and state.share_of_yield > HALF_OF_YIELD * JUST_ABOVE:
        yield Finding(
            level="look",
            code="above_half_of_yield",
            text=f"The tension {{value}} is {100 * state.share_of_yield:.3g} % of the yield strength. API 6A "
            "tightens to half of it, {limit}.",
            remedy="Check that the procedure of this flange allows it.",
            step="make_up",
            value=tension,
            limit=Amount("stress", HALF_OF_YIELD * limit),
        )


def _tension_alone(state: BoltState, limit: float) -> Iterator[Finding]:
    """What is told where torsion is not known: it comes on top of the tension."""
    if state.share_of_yield > PERMISSIBLE_SHARE * JUST_ABOVE:
        yield Finding(
            level="stop",
            code="tension_near_yield",
            text=f"The tension alone, {{value}}, is {100 * state.share_of_yield:.3g} % of the yield "
            "strength. Torsion of tightening comes on top, and is not known.",
            remedy="Tighten to a lower preload, or state the frictions instead of a nut factor.",
            step="make_up",
            value=Amount("stress", state.tension),
            limit=Amount("stress", PERMISSIBLE_SHARE * limit),
        )


def _combined(plastic: TighteningStress, elastic: TighteningStress | None, limit: float) -> Iterator[Finding]:
    share = plastic.combined / limit
    if share > PERMISSIBLE_SHARE * JUST_ABOVE:
        yield Finding(
            level="look",
            code="combined_stress_high",
            text=f"Tension and torsion together reach {{value}}, {100 * share:.3g} % of the yield strength. "
            "VDI 2230 allows 90 %, {limit}.",
            remedy="Tighten to a lower preload, or in a way that controls yield.",
            step="make_up",
            value=Amount("stress", plastic.combined),
            limit=Amount("stress", PERMISSIBLE_SHARE * limit),
        )
    if elastic is not None and not elastic.combined < limit:
        yield Finding(
            level="look",
            code="surface_yields_if_elastic",
            text="With elastic torsion the surface of the shank reaches {value} and yields at {limit} "
            "(JIS B 1083). With plastic torsion it does not (VDI 2230).",
            remedy="Use the torsion that the procedure for this bolt asks for.",
            step="make_up",
            value=Amount("stress", elastic.combined),
            limit=Amount("stress", limit),
        )
