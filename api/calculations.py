"""Everything Dialset computes, on one page: joint families and calculations."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema

from api.answers.answer import Answer
from api.answers.conversion import conversion_answer
from api.answers.delivered_torque import delivered_torque_answer
from api.answers.grip import GRIP_STEPS, GRIPPING, grip_answer
from api.answers.machine_choice import check_site, machine_choice_answer
from api.answers.pressure import check_machine, pressure_answer
from api.answers.rotary_shouldered import rotary_answer, rotary_window
from api.answers.shop import Shop
from api.answers.stroke import STROKE_STEPS, stroke_answer
from api.answers.window import stated_window
from api.calculation import Calculation
from api.engineering.faults import Fault, NoAnswer, collecting
from api.engineering.torque_window import TorqueWindow
from api.example_machine import EXAMPLE_PROFILE
from api.working_steps import ROTARY_STEPS
from schemas.base import Request
from schemas.conversion import ConversionAnswer, ConversionRequest
from schemas.fields import Choice
from schemas.grip import GripAnswer, GripRequest
from schemas.joint import RotaryShoulderedJoint, StatedJoint, WindowChoice
from schemas.machine import MachineJob, Reading, SiteJob
from schemas.machine_answer import DeliveredTorqueAnswer, MachineChoiceAnswer, PressureAnswer
from schemas.stroke import StrokeAnswer, StrokeRequest
from schemas.torque_answer import RotaryShoulderedAnswer

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


Checking = Callable[[Mapping[str, Any], Shop], Iterable[Fault]]
Answering = Callable[[TorqueWindow, float | None, Mapping[str, Any], Shop], Answer]


def _requests(task: type[Schema], name: str) -> dict[str, Schema]:
    """For each family the request that joins its fields with a task on machines."""
    requests = {}
    for family in FAMILIES:
        kind = Choice((family.key,), required=True, metadata={"description": "Joint family."})
        members = {"__doc__": f"{task.__doc__} The joint: {family.fields.__doc__}"}
        bases = (task, WindowChoice, family.fields, type("JointFamily", (Request,), {"family": kind}))
        requests[family.key] = type(f"{name}{family.fields.__name__}", bases, members)()
    return requests


def _for_family(answering: Answering, check: Checking) -> Callable[[Mapping[str, Any], Shop], Answer]:
    """Compute the window of the family that a request names, and answer for it.

    The faults of the joint and those that ``check`` finds on the side of the machines are told together.
    """

    def compute(values: Mapping[str, Any], shop: Shop) -> Answer:
        family = _FAMILY[values["family"]]
        diameter = values[family.diameter_field] if family.diameter_field else None
        faults = list(check(values, shop))
        window = None
        with collecting(faults):
            window = family.window(values)
        if window is None or faults:
            raise NoAnswer(faults)
        return answering(window, diameter, values, shop)

    return compute


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
        requests=_requests(MachineJob, "Pressure"),
        compute=_for_family(pressure_answer, check_machine),
        response=PressureAnswer(),
        cautions=(WORKING_VALUES, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, "machine": EXAMPLE_PROFILE, **_JOB},
        query_example={"family": _ROTARY.key, **_ROTARY.example, "machine": "north-bay-2", **_JOB},
    ),
    Calculation(
        name="delivered-torque",
        title="Torque behind a gauge reading",
        description="The torque that a machine delivers at a reading, at nominal efficiency, with its worst "
        "case. The inverse of /v1/pressure.",
        requests={"": Reading()},
        compute=delivered_torque_answer,
        response=DeliveredTorqueAnswer(),
        cautions=(COMPUTED,),
        example={"machine": EXAMPLE_PROFILE, "gauge_reading": "580 psi", **_JOB},
        query_example={"machine": "north-bay-2", "gauge_reading": "750 psi", **_JOB},
    ),
    Calculation(
        name="machine-choice",
        title="Which machines can do a joint, and why the others cannot",
        description="One joint against every machine of a site: those that can with their setting and "
        "bounds, the finest gauge first, and the others with every reason.",
        requests=_requests(SiteJob, "Choice"),
        compute=_for_family(machine_choice_answer, check_site),
        response=MachineChoiceAnswer(),
        cautions=(WORKING_VALUES, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, **_JOB, "as_of": "2026-11-24"},
        needs_machines=True,
    ),
    Calculation(
        name="stroke",
        title="What one stroke of a machine does: rotation, torque from end to end, strokes for a rotation",
        description="Triangle of pipe centre, arm pin and base pin: rotation of a stroke or the part in use, "
        "torque factor h/a at its ends and extremes, its mean over the angle, and the strokes for a rotation "
        "or an axial travel. Only for machines whose cylinder and base are known.",
        requests={"": StrokeRequest()},
        compute=stroke_answer,
        response=StrokeAnswer(),
        cautions=(COMPUTED,),
        example={
            "machine": EXAMPLE_PROFILE,
            "used_from": "42 in",
            "used_to": "54 in",
            "lost_motion": "2 deg",
            "rotation": "60 deg",
        },
        steps=STROKE_STEPS,
        query_example={"machine": "north-bay-2"},
    ),
    Calculation(
        name="grip",
        title="Whether a grip holds a torque: squeeze, chain, links, grip cylinder",
        description="The squeeze N = m T / (mu r) that jaws need, and what each described part says: jaws, "
        "chain (capstan), links of the chain, grip cylinder. Friction and margin are never assumed. A part "
        "that is not described is null with its reason; one that would be overloaded is a refusal. Parts "
        "stand in the profile of the machine, or in the body.",
        requests={"": GripRequest()},
        compute=grip_answer,
        response=GripAnswer(),
        cautions=(*GRIPPING, COMPUTED),
        example={
            "torque": "10000 ft-lb",
            "outside_diameter": "5 in",
            "friction": 0.3,
            "margin": 1.5,
            "machine": EXAMPLE_PROFILE,
        },
        steps=GRIP_STEPS,
        query_example={"machine": "north-bay-2"},
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
