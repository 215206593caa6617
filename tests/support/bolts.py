"""The two calculations for bolts, to be asked without a server."""

from api.answers.bolts.torque import bolt_answer, bolt_preload_answer
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.bolts.answer import BoltPreloadAnswer, BoltTorqueAnswer
from schemas.bolts.request import BoltJoint, BoltPreloadRequest, BoltStretch
from schemas.rotary.joint import WindowChoice


class BoltRequest(WindowChoice, BoltStretch, BoltJoint):
    """A bolt and how wide its window is."""


TORQUE = Calculation("torque", LOOK_UP, "", "", {"": BoltRequest()}, bolt_answer, BoltTorqueAnswer(), (), {})
PRELOAD = Calculation(
    "preload",
    LOOK_UP,
    "",
    "",
    {"": BoltPreloadRequest()},
    bolt_preload_answer,
    BoltPreloadAnswer(),
    (),
    {},
)
