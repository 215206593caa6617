"""Every joint family, on one page, and how a question about machines takes any of them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from marshmallow import Schema

from api.answers.answer import Answer
from api.answers.bolts.torque import bolt_window
from api.answers.rotary.torque import rotary_window
from api.answers.shop import Shop
from api.answers.shop_tables.tabulated import tabulated_window
from api.answers.stated import stated_window
from api.answers.tubular.round_thread import round_thread_window
from api.engineering.checks import Fault, NoAnswer, collecting
from api.engineering.torque_window import TorqueWindow
from schemas.bolts.request import BoltJoint
from schemas.core.fields import Choice, Request
from schemas.rotary.joint import RotaryShoulderedJoint, StatedJoint, WindowChoice
from schemas.shop_tables.tabulated import TabulatedJoint
from schemas.tubular.round_thread import RoundThreadJoint


@dataclass(frozen=True)
class Family:
    """A joint family: its key, its flat request fields, and the window of torque they give.

    ``diameter_field`` names the outside diameter the machine grips, where the family has one; ``of_pipe``
    is for joints of pipe, which a machine must grip.
    """

    key: str
    fields: type[Schema]
    window: Callable[[Mapping[str, Any], Shop], TorqueWindow]
    example: Mapping[str, Any]
    diameter_field: str | None = None
    of_pipe: bool = False


FAMILIES = (
    Family(
        "rotary_shouldered",
        RotaryShoulderedJoint,
        rotary_window,
        {
            "connection": "NC50",
            "component": "drill_collar",
            "box_outside_diameter": "6 1/2 in",
            "pin_bore": "2-13/16 in",
        },
        diameter_field="box_outside_diameter",
        of_pipe=True,
    ),
    Family(
        "round_thread",
        RoundThreadJoint,
        round_thread_window,
        {"size": "5-1/2", "weight": "17 lb/ft", "pipe_grade": "J55", "thread_type": "STC"},
        of_pipe=True,
    ),
    Family(
        "bolt",
        BoltJoint,
        bolt_window,
        {
            "thread": "1-1/2-8 UN",
            "bolt_grade": "B7",
            "yield_share": 0.5,
            "method": "heavy_hex_nut",
            "thread_friction": 0.13,
        },
    ),
    Family(
        "tabulated",
        TabulatedJoint,
        tabulated_window,
        {
            "table": "double-shoulder",
            "table_key": {
                "connection": "bay joint 40",
                "box_outside_diameter": "5 1/4 in",
                "pin_bore": "2-11/16 in",
            },
        },
    ),
    Family(
        "stated",
        StatedJoint,
        stated_window,
        {"torque_target": "20000 ft-lb", "torque_source": "sheet 12 rev B of the tool maker"},
    ),
)
FAMILY = {family.key: family for family in FAMILIES}


Checking = Callable[[Mapping[str, Any], Shop], Iterable[Fault]]
Answering = Callable[[TorqueWindow, float | None, Mapping[str, Any], Shop], Answer]


def requests_for(task: type[Schema], name: str) -> dict[str, Schema]:
    """One request for each family: its fields joined with a task on machines."""
    requests = {}
    for family in FAMILIES:
        kind = Choice((family.key,), required=True, metadata={"description": "Joint family."})
        members = {"__doc__": f"{task.__doc__} The joint: {family.fields.__doc__}"}
        bases = (task, WindowChoice, family.fields, type("JointFamily", (Request,), {"family": kind}))
        requests[family.key] = type(f"{name}{family.fields.__name__}", bases, members)()
    return requests


def for_family(answering: Answering, check: Checking) -> Callable[[Mapping[str, Any], Shop], Answer]:
    """Compute the window of the family that a request names, and answer for it.

    The faults of the joint and those that ``check`` finds on the side of the machines are told together.
    """

    def compute(values: Mapping[str, Any], shop: Shop) -> Answer:
        family = FAMILY[values["family"]]
        diameter = values[family.diameter_field] if family.diameter_field else None
        faults = list(check(values, shop))
        window = None
        with collecting(faults):
            window = replace(family.window(values, shop), of_pipe=family.of_pipe)
        if window is None or faults:
            raise NoAnswer(faults)
        return answering(window, diameter, values, shop)

    return compute
