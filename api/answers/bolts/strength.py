"""How strong a bolt is: by its grade at its size, or as stated."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.engineering.checks import Amount, Fault, Finding, NoAnswer, refuse
from api.engineering.provenance import Knowable, Source, known
from api.reference.bolt_grades import HOW_TO_WRITE, GradeRange, find_grade, strength_of
from api.reference.bolt_threads import CatalogueThread

STATED = ("bolt_yield_strength", "bolt_proof_stress")


@dataclass(frozen=True)
class Strength:
    """Strength of a bolt, Pa.

    Attributes:
        name: of the grade; None where stated.
        sizes: the sizes it holds for, in words; None where stated.
        yield_strength: minimum.
        proof: proof stress, where there is one.
        source: of the figures.
        findings: what differs between editions.
    """

    name: str | None
    sizes: str | None
    yield_strength: float
    proof: Knowable[float]
    source: Source
    findings: tuple[Finding, ...] = ()


def strength_from(values: Mapping[str, Any], thread: CatalogueThread | None) -> Strength | None:
    """The strength of a request; None where only a missing thread is in the way.

    Raises:
        NoAnswer: ``bolt_strength_required``, ``contradiction``, and those of `strength_of`.
    """
    grade = values.get("bolt_grade")
    stated = [name for name in STATED if values.get(name) is not None]
    if grade is None:
        return _stated(values)
    if stated:
        text = "the grade already gives the strength: give it or bolt_yield_strength, not both"
        accepted = "bolt_grade alone, or bolt_yield_strength with or without bolt_proof_stress"
        raise NoAnswer([Fault("contradiction", text, name, accepted=accepted) for name in stated])
    if thread is None:
        find_grade(grade)
        return None
    row = strength_of(grade, thread)
    proof = known(row.proof, f"{row.standard} has no proof stress")
    findings = (_editions(row),) if row.editions else ()
    return Strength(row.name, row.sizes, row.yield_strength, proof, row.source, findings)


def _editions(row: GradeRange) -> Finding:
    """The finding that editions of the standard differ."""
    return Finding(
        level="look",
        code="grade_differs_by_edition",
        text=f"Grade {row.name}: {row.editions}.",
        remedy="Check the edition on the certificate of the bolts.",
        step="identify",
        value=Amount("stress", row.yield_strength),
    )


def _stated(values: Mapping[str, Any]) -> Strength:
    yield_strength, proof = (values.get(name) for name in STATED)
    if yield_strength is None:
        text = "the strength of the bolt is needed to check its preload"
        accepted = f"{HOW_TO_WRITE}; or bolt_yield_strength"
        raise refuse("bolt_strength_required", text, "bolt_grade", accepted)
    if proof is not None and not proof <= yield_strength:
        raise refuse(
            "contradiction",
            "a proof stress {proof} is not above the yield strength {limit}",
            "bolt_proof_stress",
            proof=Amount("stress", proof),
            limit=Amount("stress", yield_strength),
        )
    source = Source("strength of the bolt", "stated", "stated by the caller")
    return Strength(None, None, yield_strength, known(proof, "no bolt_proof_stress stated"), source)
