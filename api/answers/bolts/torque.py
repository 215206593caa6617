"""The torque of a bolt for a preload, and the preload of a bolt at a torque."""

# ruff: noqa: E501  # tables
# fmt: off

from collections.abc import Mapping
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from api.answers.answer import Answer
from api.answers.bolts.members import COMBINED, common_findings, common_parts, common_sources, extras_of
from api.answers.bolts.request import bolt_from, load_field, preload_wanted
from api.answers.bolts.state import BoltState, state_at
from api.answers.shop import Shop
from api.answers.standing_notices import (
    COMPUTED,
    HEAVY_HEX_NUTS,
    STATED_NUT_FACTOR,
    STEADY_LOAD,
    StandingNotice,
)
from api.engineering.bolts.torque import preload_from_torque
from api.engineering.provenance import Known, NotKnown, weakest_status
from api.engineering.torque_window import End, TorqueWindow, from_memory, widened
from api.engineering.working import Step

_THREAD = (
    Step("d", "nominal diameter", "of the thread", "thread.d", "length", "ISO 261; ASME B1.1"),
    Step("P", "pitch", "of the thread", "thread.P", "length", "ISO 261; ASME B1.1"),
    Step("d2", "pitch diameter", "d - 0.649519 P", "thread.d2", "length", "ISO 724; ASME B1.1"),
    Step("d0", "stress diameter", "d - 0.938194 P metric, d - 0.9743 P inch", "thread.d0", "length", "ISO 898-1; ASME B1.1"),
    Step("At", "stress area", "pi/4 d0^2", "thread.stress_area", "area", "ISO 898-1; ASME B1.1"),
    Step("phi", "lead angle", "tan(phi) = P / (pi d2)", "thread.phi", "angle", "ISO 724; ASME B1.1"),
    Step("Re", "yield strength", "of the grade at this size, or stated", "strength.yield_strength", "stress", "grade"),
    Step("Sp", "proof stress", "of the grade at this size, or stated", "strength.proof.value", "stress", "grade"),
)
_WANTED = (
    Step("Sp share", "share of the proof stress", "as given", "given.proof_share", "number", "request"),
    Step("Re share", "share of the yield strength", "as given", "given.yield_share", "number", "request"),
    Step("sigma", "tension on the stress area", "stated, share times strength, or F / At", "state.tension", "stress", "ISO 898-1; ASME B1.1"),
    Step("F", "preload", "stated, or sigma At", "state.preload", "force", "ISO 898-1; ASME B1.1"),
)
_GIVEN = (
    Step("K", "nut factor", "as given", "given.nut_factor", "number", "request"),
    Step("mu_t", "friction in the thread", "as given", "given.thread_friction", "number", "request"),
    Step("mu_b", "friction in the bearing", "as given", "given.bearing_friction", "number", "request"),
)


def _arms(source: str, pitch: str, thread: str, face: str, bearing: str) -> tuple[Step, ...]:
    return (
        Step("Dkm", "mean bearing diameter", face, "method.bearing_diameter", "length", source),
        Step("a_P", "arm of the pitch", pitch, "arms.pitch", "length", source),
        Step("a_t", "arm of thread friction", thread, "arms.thread", "length", source),
        Step("a_b", "arm of bearing friction", bearing, "arms.bearing", "length", source),
        Step("arm", "torque per preload", "a_P + a_t + a_b", "arms.total", "length", source),
    )


_MEAN, _FRICTION = "(Do + Di) / 2", "mu_b Dkm / 2"
_ARMS = {
    "nut_factor": (Step("arm", "torque per preload", "K d", "arms.total", "length", "Shigley Eq. 8-27"),),
    "exact_helix": _arms("Shigley Eq. 8-26; ASME PCC-1 App. J", "P / 2 pi", "d2/2 tan(phi + rho') - a_P, tan(rho') = mu_t / cos 30", _MEAN, _FRICTION),
    "simplified_helix": _arms("ISO 16047", "P / 2 pi", "mu_t d2 / (2 cos 30)", _MEAN, _FRICTION),
    "rounded_helix": _arms("VDI 2230", "0.16 P", "0.58 d2 mu_t", _MEAN, _FRICTION),
    "heavy_hex_nut": _arms("API 6A, annex", "P / 2 pi", "E (P + pi f E S) / [2 (pi E - P f S)] - a_P, E = d2, f = mu_t, S = sec 30", "(H + d + K) / 2, H = 1.5 d + K, K = 1/8 in", "f Dkm / 2"),
}
_TORQUE = (Step("T", "torque", "F arm", "state.torque", "torque", "of the method"),)
_PRELOAD = (
    Step("T", "torque", "as given", "state.torque", "torque", "request"),
    Step("F", "preload", "T / arm", "state.preload", "force", "of the method"),
    Step("sigma", "tension on the stress area", "F / At", "state.tension", "stress", "ISO 898-1; ASME B1.1"),
)
_STRESS = (
    Step("M_G", "torque in the shank", "F d2/2 tan(phi + rho'); ISO 16047 and VDI 2230: F [P / 2 pi + mu_t d2 / (2 cos 30)]", "given.shank_torque", "torque", "VDI 2230"),
    Step("tau", "shear, shank plastic", "12 M_G / (pi d0^3)", "plastic.shear", "stress", "VDI 2230"),
    Step("sigma_red", "tension and shear, shank plastic", "sqrt(sigma^2 + 3 tau^2)", "plastic.combined", "stress", "VDI 2230"),
    Step("tau_e", "shear, shank elastic", "16 M_G / (pi d0^3)", "elastic.shear", "stress", "JIS B 1083"),
    Step("sigma_red_e", "tension and shear, shank elastic", "sqrt(sigma^2 + 3 tau_e^2)", "elastic.combined", "stress", "JIS B 1083"),
    Step("F_M", "preload at 0.9 of yield", "At 0.9 Re / sqrt(1 + 3 [3 M_G / (F d0)]^2)", "state.permissible_preload", "force", "VDI 2230"),
    Step("T_Re", "torque at yield", "arm F_M / 0.9", "state.torsional_yield", "torque", "VDI 2230"),
)
# fmt: on

_NAMES = ("nut_factor", "thread_friction", "bearing_friction", "proof_share", "yield_share")


def torque_steps(state: BoltState, shop: Shop) -> tuple[Step, ...]:
    """The working of the torque of a preload."""
    return (*_THREAD, *_WANTED, *_GIVEN, *_ARMS[state.bolt.method.name], *_TORQUE, *_stress(state, shop))


def preload_steps(state: BoltState, shop: Shop) -> tuple[Step, ...]:
    """The working of the preload of a torque."""
    return (*_THREAD, *_GIVEN, *_ARMS[state.bolt.method.name], *_PRELOAD, *_stress(state, shop))


def _stress(state: BoltState, shop: Shop) -> tuple[Step, ...]:
    told = state.plastic is not None and COMBINED.status in shop.accepted_statuses
    return _STRESS if told else ()


def bolt_working(state: BoltState, values: Mapping[str, Any]) -> dict[str, Any]:
    """The objects that the working reads its values from, by name."""
    method = state.bolt.method
    given = {name: values.get(name) for name in _NAMES}
    shank = None if method.arms.shank is None else state.preload * method.arms.shank
    return {
        "given": SimpleNamespace(**given, shank_torque=shank),
        "thread": state.bolt.thread.geometry,
        "strength": state.bolt.strength,
        "method": method,
        "arms": method.arms,
        "plastic": state.plastic,
        "elastic": state.elastic,
        "state": state,
    }


BOLTING: tuple[StandingNotice, ...] = (STATED_NUT_FACTOR, HEAVY_HEX_NUTS, STEADY_LOAD, COMPUTED)
"""The notices of ``/v1/torque/bolt`` and ``/v1/preload/bolt``."""

NO_ENDS = NotKnown("no standard gives a bolt a minimum or a maximum torque; state a torque_tolerance")


def bolt_window(values: Mapping[str, Any], shop: Shop) -> TorqueWindow:
    """The torque window of a bolt from its loaded request.

    Raises:
        NoAnswer: the faults of the bolt, ``bolt_overstressed``.
    """
    state, window = _computed(values)
    return _with_findings(state, window, values, shop)[0]


def bolt_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/torque/bolt``."""
    state, window = _computed(values)
    window, parts = _with_findings(state, window, values, shop)
    return Answer(
        result={"torque": window, **parts},
        sources=window.sources,
        status=weakest_status((*state.bolt.sources, state.bolt.strength.source)),
        assumptions=window.assumptions,
        findings=window.findings,
        working=bolt_working(state, values),
        steps=torque_steps(state, shop),
    )


def _computed(values: Mapping[str, Any]) -> tuple[BoltState, TorqueWindow]:
    bolt = bolt_from(values, loaded=True)
    preload, words, besides = preload_wanted(values, bolt)
    state = state_at(bolt, preload, load_field(values))
    sources = (*bolt.sources, *besides)
    basis = f"{bolt.method.sources[0].what} at {words}"
    target = End(Known(state.torque, basis), weakest_status(sources))
    no_end = End(NO_ENDS)
    window = TorqueWindow(no_end, target, no_end, sources, bolt.assumptions, state.torsional_yield)
    return state, widened(window, values.get("torque_tolerance"))


def _with_findings(
    state: BoltState, window: TorqueWindow, values: Mapping[str, Any], shop: Shop
) -> tuple[TorqueWindow, dict[str, Any]]:
    """The window with what is not its target but belongs to it, and the parts of the answer."""
    extras = extras_of(state, values, shop)
    sources = dict.fromkeys((*window.sources, *common_sources(state.bolt, extras)))
    assumptions = (*window.assumptions, *extras.assumptions)
    findings = (*common_findings(state, extras), *from_memory(window.target))
    shown = replace(window, sources=tuple(sources), assumptions=assumptions, findings=findings)
    return shown, common_parts(state, extras, shop)


def bolt_preload_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/preload/bolt``.

    Raises:
        NoAnswer: the faults of the bolt; ``bolt_overstressed``, since beyond yield the preload is not known.
    """
    bolt = bolt_from(values, loaded=False)
    torque = values["applied_torque"]
    state = state_at(bolt, preload_from_torque(bolt.method.arms, torque), "applied_torque")
    extras = extras_of(state, values, shop)
    return Answer(
        result={"applied_torque": torque, **common_parts(state, extras, shop)},
        sources=tuple(dict.fromkeys((*bolt.sources, *common_sources(bolt, extras)))),
        status=weakest_status((*bolt.sources, bolt.strength.source)),
        assumptions=(*bolt.assumptions, *extras.assumptions),
        findings=tuple(common_findings(state, extras)),
        working=bolt_working(state, values),
        steps=preload_steps(state, shop),
    )
