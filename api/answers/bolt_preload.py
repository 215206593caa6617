"""Preload of a bolt at an applied torque: the exact inverse of its make-up torque."""

from collections.abc import Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.bolt_parts import common_cautions, common_parts, common_sources
from api.answers.bolt_request import bolt_from
from api.answers.bolt_state import state_at
from api.answers.bolt_steps import bolt_working, preload_steps
from api.answers.shop import Shop
from api.engineering.bolt_torque import preload_from_torque
from api.engineering.provenance import weakest_status


def bolt_preload_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/preload/bolt``.

    Raises:
        NoAnswer: the faults of the bolt; ``bolt_overstressed``, since beyond yield the preload is not known.
    """
    bolt = bolt_from(values, loaded=False)
    torque = values["applied_torque"]
    state = state_at(bolt, preload_from_torque(bolt.method.arms, torque), "applied_torque")
    parts, extra = common_parts(state, values, shop)
    return Answer(
        {"applied_torque": torque, **parts},
        tuple(dict.fromkeys((*bolt.sources, *common_sources(bolt, extra)))),
        weakest_status((*bolt.sources, bolt.strength.source)),
        (*bolt.assumptions, *extra.assumptions),
        tuple(common_cautions(state, extra)),
        bolt_working(state, values),
        steps=preload_steps(state, shop),
    )
