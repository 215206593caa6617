"""Everything Dialset computes, on one page: joint families and calculations."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema

from api.answers.conversion import conversion_answer
from api.answers.pressure import pressure_answer
from api.answers.rotary_shouldered import rotary_answer, rotary_window
from api.answers.shop import Shop
from api.answers.window import stated_window
from api.calculation import Calculation
from api.engineering.torque_window import TorqueWindow
from api.example_machine import EXAMPLE_PROFILE
from api.working_steps import PRESSURE_STEPS, ROTARY_STEPS
from schemas.answers import PressureAnswer, RotaryShoulderedAnswer
from schemas.conversion import ConversionAnswer, ConversionRequest
from schemas.fields import Choice
from schemas.joint import RotaryShoulderedJoint, StatedJoint, WindowChoice
from schemas.machine import MachineJob

COMPUTED = (
    "A computed figure is for the named connection, machine, gauge and compound only. It does not replace "
    "the machine maker's manual, the standard in force, local codes or the judgement of a qualified person."
)
WORKING_VALUES = (
    "Measure the actual outside diameter and bore; check the hand of the thread and the cylinder side before "
    "applying pressure. Stand clear of the arm, and depressurise before opening any line."
)


@dataclass(frozen=True)
class Family:
    """A joint family: its key, its flat request fields, and the window of torque they give.

    ``diameter_field`` names the outside diameter the machine grips, where the family has one.
    """

    key: str
    fields: type[Schema]
    window: Callable[[Mapping[str, Any]], TorqueWindow]
    example: Mapping[str, Any]
    diameter_field: str | None = None


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
    ),
    Family(
        "stated",
        StatedJoint,
        stated_window,
        {"torque_target": "20000 ft-lb", "torque_source": "sheet 12 rev B of the tool maker"},
    ),
)
_FAMILY = {family.key: family for family in FAMILIES}


def _pressure_request(family: Family) -> Schema:
    kind = Choice((family.key,), required=True, metadata={"description": "Joint family."})
    bases = (MachineJob, WindowChoice, family.fields)
    name = f"Pressure{family.fields.__name__}"
    members = {"family": kind, "__doc__": f"A machine and a joint: {family.fields.__doc__}"}
    request: Schema = type(name, bases, members)()
    return request


def _pressure(values: Mapping[str, Any], shop: Shop) -> Any:
    family = _FAMILY[values["family"]]
    diameter = values[family.diameter_field] if family.diameter_field else None
    return pressure_answer(family.window(values), diameter, values, shop)


class RotaryShoulderedRequest(WindowChoice, RotaryShoulderedJoint):
    """A rotary shouldered joint and how wide its window is."""


_ROTARY = _FAMILY["rotary_shouldered"]
_JOB = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}

CALCULATIONS = (
    Calculation(
        name="torque/rotary-shouldered",
        title="Make-up torque of a rotary shouldered joint",
        description="Formula of API RP 7G Appendix A for drill collars and tool joints, new or worn, with "
        "the window, the weaker member, the preload, the torsional yield and the "
        "published row if there is one.",
        requests={"": RotaryShoulderedRequest()},
        compute=rotary_answer,
        response=RotaryShoulderedAnswer(),
        cautions=(COMPUTED,),
        example=_ROTARY.example,
        steps=ROTARY_STEPS,
    ),
    Calculation(
        name="pressure",
        title="What to set on the gauge for a joint on a machine",
        description="The mark nearest the target whose torque lies within the window, the cylinder side, and "
        "every check of the machine. Refused with all reasons where the machine cannot do it.",
        requests={family.key: _pressure_request(family) for family in FAMILIES},
        compute=_pressure,
        response=PressureAnswer(),
        cautions=(WORKING_VALUES, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, "machine": EXAMPLE_PROFILE, **_JOB},
        steps=PRESSURE_STEPS,
        query_example={"family": _ROTARY.key, **_ROTARY.example, "machine": "north-bay-2", **_JOB},
    ),
    Calculation(
        name="conversion",
        title="A quantity in another unit",
        description="Exact factors; understands the spellings of the trade and refuses what is ambiguous.",
        requests={"": ConversionRequest()},
        compute=conversion_answer,
        response=ConversionAnswer(),
        cautions=(),
        example={"quantity": "20000 ft-lb", "to": "kN.m"},
    ),
)
