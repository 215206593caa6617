"""A loaded request becomes a bolt: its thread, strength and method are found, and the preload wanted."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.bolts.method import Method, method_faults, method_of
from api.answers.bolts.strength import Strength, strength_from
from api.engineering.bolts.stress import preload_from_stress
from api.engineering.checks import Fault, Finding, NoAnswer, collecting
from api.engineering.provenance import Assumption, Source
from api.reference.bolt_friction import SCATTER
from api.reference.bolt_threads import STRESS_AREA, CatalogueThread, find_thread

LOADS = ("preload", "bolt_stress", "proof_share", "yield_share")
ONE_SHARE = "exactly one of: bolt_load_share, stiffness_ratio"
ONE_LOAD = f"exactly one of: {', '.join(LOADS)}"


@dataclass(frozen=True)
class Bolt:
    """A bolt with everything that its torque and its checks need, SI."""

    thread: CatalogueThread
    strength: Strength
    method: Method

    @property
    def sources(self) -> tuple[Source, ...]:
        """The sources of the relation of torque and preload."""
        return (*self.method.sources, self.thread.source)

    @property
    def stress_area_source(self) -> Source:
        """The source of the stress area."""
        return STRESS_AREA[self.thread.geometry.standard]

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """The assumptions for what was not given."""
        return self.method.assumptions

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The findings of this very bolt, whatever its preload."""
        return (*self.method.findings, *self.strength.findings)


def bolt_from(values: Mapping[str, Any], *, loaded: bool) -> Bolt:
    """The bolt that a request describes.

    Args:
        values: the loaded request.
        loaded: whether it says how far the bolt is to be tightened.

    Raises:
        NoAnswer: with all that apply of ``unknown_thread``, ``ambiguous_thread``, the faults of grade,
            coefficients and load, and ``tightened_without_torque``.
    """
    faults = [*method_faults(values), *_scatter_faults(values), *_stretch_faults(values)]
    coefficients_stand = not any(fault.code.startswith("coefficient") for fault in faults)
    faults += _service_faults(values)
    faults += _load_faults(values) if loaded else ()
    thread = strength = method = None
    with collecting(faults):
        thread = find_thread(values["thread"])
    with collecting(faults):
        strength = strength_from(values, thread)
    if thread and coefficients_stand:
        with collecting(faults):
            method = method_of(values, thread)
    if strength and strength.proof.reason and values.get("proof_share") is not None:
        faults.append(_no_proof(strength.proof.reason))
    if faults or thread is None or strength is None or method is None:
        raise NoAnswer(faults)
    return Bolt(thread, strength, method)


def preload_wanted(values: Mapping[str, Any], bolt: Bolt) -> tuple[float, str, tuple[Source, ...]]:
    """The preload N that a request asks for, in words how it is asked, and what it rests on besides."""
    geometry, strength = bolt.thread.geometry, bolt.strength
    if values.get("preload") is not None:
        return values["preload"], "the preload stated", ()
    area = bolt.stress_area_source
    if values.get("bolt_stress") is not None:
        return preload_from_stress(geometry, values["bolt_stress"]), "the bolt stress stated", (area,)
    for name, of, limit in (
        ("proof_share", "proof stress", strength.proof.value),
        ("yield_share", "yield strength", strength.yield_strength),
    ):
        share = values.get(name)
        if share is not None and limit is not None:
            words = f"{share:.10g} of the {of} on the stress area"
            return preload_from_stress(geometry, share * limit), words, (area, strength.source)
    raise ValueError("no load of this bolt is stated: bolt_from refuses such a request")


def load_field(values: Mapping[str, Any]) -> str:
    """The field that says how far to tighten."""
    return next(name for name in LOADS if values.get(name) is not None)


def _load_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    given = [name for name in LOADS if values.get(name) is not None]
    if not given:
        yield Fault("bolt_load_required", "nothing says how far to tighten", "preload", accepted=ONE_LOAD)
    for name in given[1:]:
        text = f"{given[0]} already says how far to tighten"
        yield Fault("contradiction", text, name, accepted=ONE_LOAD)


def _scatter_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    name = values.get("tightening_method")
    if name is not None and not _by_torque(name):
        by_torque = ", ".join(filter(_by_torque, SCATTER))
        text = "a tensioner pulls and applies no torque; ask /v1/preload-pressure"
        yield Fault("tightened_without_torque", text, "tightening_method", accepted=f"one of: {by_torque}")


def _by_torque(tightening_method: str) -> bool:
    return all(each.by_torque for each in SCATTER[tightening_method])


def _stretch_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    grip = values.get("grip_length")
    if grip is None:
        for name in ("unthreaded_length", "bolt_ends", "bolt_modulus"):
            if values.get(name) is not None:
                text = "this has no effect without grip_length"
                yield Fault("grip_length_required", text, name, accepted="grip_length as well, or neither")
    elif not values.get("unthreaded_length", 0.0) <= grip:
        text = "the unthreaded length is longer than the grip; give the part of it within the grip"
        yield Fault("impossible_geometry", text, "unthreaded_length")


def _service_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    """Finds what is missing or without effect among the fields of an external load."""
    given = [name for name in ("bolt_load_share", "stiffness_ratio") if values.get(name) is not None]
    if values.get("external_load") is None:
        for name in given:
            text = "this has no effect without external_load"
            yield Fault("coefficient_not_taken", text, name, accepted="external_load as well, or neither")
    elif not given:
        text = "Dialset never assumes what share of the load the bolt takes"
        yield Fault("coefficient_required", text, "bolt_load_share", accepted=ONE_SHARE)
    elif len(given) > 1:
        text = "bolt_load_share and stiffness_ratio both say what share the bolt takes"
        yield Fault("contradiction", text, "stiffness_ratio", accepted=ONE_SHARE)


def _no_proof(reason: str) -> Fault:
    text = f"{reason}, so that it has no share"
    accepted = "yield_share, bolt_stress or preload in its place"
    return Fault("no_proof_stress", text, "proof_share", accepted=accepted)
