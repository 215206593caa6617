"""The two calculations for bolts, to be asked without a server."""

from api.answers.bolt import bolt_answer
from api.answers.bolt_preload import bolt_preload_answer
from api.calculation import Calculation
from schemas.bolt import BoltJoint, BoltPreloadRequest, BoltStretch
from schemas.bolt_answer import BoltPreloadAnswer, BoltTorqueAnswer
from schemas.joint import WindowChoice


class BoltRequest(WindowChoice, BoltStretch, BoltJoint):
    """A bolt and how wide its window is."""


TORQUE = Calculation("torque", "", "", {"": BoltRequest()}, bolt_answer, BoltTorqueAnswer(), (), {})
PRELOAD = Calculation(
    "preload",
    "",
    "",
    {"": BoltPreloadRequest()},
    bolt_preload_answer,
    BoltPreloadAnswer(),
    (),
    {},
)
