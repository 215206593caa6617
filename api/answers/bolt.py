"""Make-up torque of a bolt from the preload wanted: the window, the checks, the record."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from api.answers.answer import Answer
from api.answers.bolt_parts import common_cautions, common_parts, common_sources
from api.answers.bolt_request import bolt_from, load_field, preload_wanted
from api.answers.bolt_state import BoltState, state_at
from api.answers.bolt_steps import bolt_working, torque_steps
from api.answers.shop import Shop
from api.answers.window import widened
from api.engineering.provenance import weakest_status
from api.engineering.torque_window import End, TorqueWindow

NO_ENDS = "no standard gives a bolt a minimum or a maximum torque; state a torque_tolerance"


def bolt_window(values: Mapping[str, Any], shop: Shop) -> TorqueWindow:
    """The torque window of a bolt from its loaded request.

    Raises:
        NoAnswer: the faults of the bolt, ``bolt_overstressed``.
    """
    state, window = _computed(values)
    return _with_cautions(state, window, values, shop)[0]


def bolt_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/torque/bolt``."""
    state, window = _computed(values)
    window, parts = _with_cautions(state, window, values, shop)
    return Answer(
        {"torque": window, **parts},
        window.sources,
        weakest_status((*state.bolt.sources, state.bolt.strength.source)),
        window.assumptions,
        window.cautions,
        bolt_working(state, values),
        steps=torque_steps(state, shop),
    )


def _computed(values: Mapping[str, Any]) -> tuple[BoltState, TorqueWindow]:
    bolt = bolt_from(values, loaded=True)
    preload, words, besides = preload_wanted(values, bolt)
    state = state_at(bolt, preload, load_field(values))
    sources = (*bolt.sources, *besides)
    reason = f"{bolt.method.sources[0].what} at {words}"
    target = End(state.torque, reason, weakest_status(sources))
    no_end = End(None, NO_ENDS, "none")
    window = TorqueWindow(no_end, target, no_end, sources, bolt.assumptions, state.torsional_yield)
    return state, widened(window, values.get("torque_tolerance"))


def _with_cautions(
    state: BoltState, window: TorqueWindow, values: Mapping[str, Any], shop: Shop
) -> tuple[TorqueWindow, dict[str, Any]]:
    """The window with what is not its target but belongs to it, and the parts of the answer."""
    parts, extra = common_parts(state, values, shop)
    sources = dict.fromkeys((*window.sources, *common_sources(state.bolt, extra)))
    assumptions = (*window.assumptions, *extra.assumptions)
    cautions = tuple(common_cautions(state, extra))
    return replace(window, sources=tuple(sources), assumptions=assumptions, cautions=cautions), parts
