"""A bolt at its preload: torque, stresses, how near to yield; what is refused and what is said."""

from collections.abc import Iterator
from dataclasses import dataclass

from api.answers.bolt_request import Bolt
from api.engineering.bolt_stress import (
    PERMISSIBLE_SHARE,
    TighteningStress,
    Torsion,
    preload_from_combined_stress,
    preload_from_stress,
    stress_from_preload,
    tightening_stress,
)
from api.engineering.bolt_torque import torque_from_preload
from api.engineering.faults import Amount, Fault, NoAnswer

JUST_ABOVE = 1 + 1e-6
"""A share that is above its limit by less than this is at it: answers have 10 digits."""
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
        yield_preload: at which it is the yield strength; None likewise.
    """

    bolt: Bolt
    preload: float
    torque: float
    tension: float
    plastic: TighteningStress | None
    elastic: TighteningStress | None
    permissible_preload: float | None
    yield_preload: float | None

    @property
    def torsional_yield(self) -> float | None:
        """Torque at which the combined stress reaches yield, N.m; None where torsion is not known."""
        return self._torque(self.yield_preload)

    @property
    def permissible_torque(self) -> float | None:
        """Torque of the permissible preload, N.m; None where torsion is not known."""
        return self._torque(self.permissible_preload)

    @property
    def share_of_yield(self) -> float:
        """Tension over yield strength."""
        return self.tension / self.bolt.strength.yield_strength

    @property
    def share_of_proof(self) -> float | None:
        """Tension over proof stress; None where there is none."""
        proof = self.bolt.strength.proof
        return None if proof is None else self.tension / proof

    def _torque(self, preload: float | None) -> float | None:
        return None if preload is None else torque_from_preload(self.bolt.method.arms, preload)


def state_at(bolt: Bolt, preload: float, field: str) -> BoltState:
    """The bolt at a preload N that it bears.

    Args:
        bolt: the bolt.
        preload: in it, N.
        field: the request field that asks for it, to be named in a refusal.

    Raises:
        NoAnswer: ``bolt_overstressed`` where tension is above yield, or tension and torsion reach it.
    """
    thread, arms = bolt.thread.geometry, bolt.method.arms
    limit = bolt.strength.yield_strength

    def stress(torsion: Torsion) -> TighteningStress | None:
        shank = arms.shank
        return None if shank is None else tightening_stress(thread, preload, preload * shank, torsion)

    def preload_at(combined: float) -> float | None:
        shank = arms.shank
        return None if shank is None else preload_from_combined_stress(thread, combined, shank, "plastic")

    state = BoltState(
        bolt,
        preload,
        torque_from_preload(arms, preload),
        stress_from_preload(thread, preload),
        stress("plastic"),
        stress("elastic"),
        preload_at(PERMISSIBLE_SHARE * limit),
        preload_at(limit),
    )
    if fault := _overstress(state, field):
        raise NoAnswer([fault])
    return state


def _overstress(state: BoltState, field: str) -> Fault | None:
    limit = state.bolt.strength.yield_strength
    amounts = {
        "preload": Amount("force", state.preload),
        "torque": Amount("torque", state.torque),
        "limit": Amount("stress", limit),
    }
    if state.tension > limit:
        text = (
            "at {torque} the preload {preload} puts a tension of {tension} on the stress area, above the "
            "yield strength {limit}; tension alone reaches it at {bearable}"
        )
        bearable = Amount("force", preload_from_stress(state.bolt.thread.geometry, limit))
        amounts |= {"tension": Amount("stress", state.tension), "bearable": bearable}
        return Fault("bolt_overstressed", text, field, amounts)
    if state.plastic is not None and not state.plastic.combined < limit:
        text = (
            "at {torque} and the preload {preload}, tension and torsion together are {combined}, which is "
            "not below the yield strength {limit}; they reach it at {bearable}"
        )
        bearable = Amount("force", state.yield_preload or 0.0)
        amounts |= {"combined": Amount("stress", state.plastic.combined), "bearable": bearable}
        return Fault("bolt_overstressed", text, field, amounts)
    return None


def state_cautions(state: BoltState) -> Iterator[str]:
    """What must be said of a bolt at its preload."""
    strength = state.bolt.strength
    if state.share_of_proof is not None and state.share_of_proof > JUST_ABOVE:
        share = 100 * state.share_of_proof
        yield f"The tension is {share:.3g} % of the proof stress: the bolt may stay longer than it was."
    if state.plastic is None:
        if state.share_of_yield > PERMISSIBLE_SHARE * JUST_ABOVE:
            yield f"The tension alone is {100 * state.share_of_yield:.3g} % of the yield strength."
    else:
        yield from _combined(state.plastic, state.elastic, strength.yield_strength)
    if state.bolt.method.name == "api_6a" and state.share_of_yield > HALF_OF_YIELD * JUST_ABOVE:
        share = 100 * state.share_of_yield
        yield f"API 6A tightens to half of the yield strength; this is {share:.3g} % of it."


def _combined(plastic: TighteningStress, elastic: TighteningStress | None, limit: float) -> Iterator[str]:
    share = plastic.combined / limit
    if share > PERMISSIBLE_SHARE * JUST_ABOVE:
        yield (
            f"Tension and torsion together reach {100 * share:.3g} % of the yield strength while tightening; "
            "VDI 2230 allows 90 %."
        )
    if elastic is not None and not elastic.combined < limit:
        yield (
            "With elastic torsion (JIS B 1083, older VDI 2230) the surface of the shank yields while "
            "tightening; only with plastic torsion, as VDI 2230 now has it, it does not."
        )
