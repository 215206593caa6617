"""FastAPI and pydantic over the same engineering: what others would make of it, giving the same members.

It reads the joints and jobs that are asked in `questions`, and writes short answers in US units. It has none
of our refusals, no text, no picking of members. Its packages are none of Dialset's: see `speed`.
"""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Annotated, Any, Literal

from fastapi import FastAPI, Query
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from api.answers.answer import Answer
from api.answers.question import question_of
from api.app import create_app
from api.engineering.checks import ranked
from api.http.routes import CALCULATIONS
from schemas.core.fields import ten_digits
from schemas.core.quantity import given_quantity
from schemas.core.quantity_fields import FEW, OutputUnits

SHOP = create_app().extensions["dialset"].shop
US = OutputUnits("us")
CALCULATION = {
    name: next(each for each in CALCULATIONS[name]() if each.name == name) for name in CALCULATIONS
}
app = FastAPI()


# what comes in


def si(kind: str) -> Any:
    """A quantity with its unit as an SI float."""
    return Annotated[float, BeforeValidator(lambda given: given_quantity(given, kind).si)]


def three(given: object) -> object:
    """Ratios such as 1.0/1.3/1.6."""
    return tuple(map(float, given.split("/"))) if isinstance(given, str) else (given,) * 3


Length, Stress, Torque = si("length"), si("stress"), si("torque")
Ratios = Annotated[tuple[float, float, float], BeforeValidator(three)]


class Asked(BaseModel):
    """A request; what is not declared is refused."""

    model_config = ConfigDict(extra="forbid")

    detail: Literal["short"] = "short"


class RotaryShoulderedJoint(Asked):
    """A rotary shouldered connection."""

    connection: str = Field(max_length=40)
    component: Literal["drill_collar", "tool_joint"]
    box_outside_diameter: Length = Field(ge=0.0127, le=1.524)
    pin_bore: Length = Field(ge=0.0127, le=1.016)
    confirm_size: bool | None = None
    pin_stress_level: Stress | None = None
    box_stress_level: Stress | None = None
    pin_yield_strength: Stress | None = None
    box_yield_strength: Stress | None = None
    low_torque_face: bool | None = None
    compound_friction_factor: float | None = Field(None, ge=0.7, le=1.5)
    edition: Literal["2003", "1998"] | None = None
    basis: Literal["formula", "table"] | None = None
    torque_tolerance: float | None = Field(None, gt=0, le=0.25)


class Job(Asked):
    """What is done with a joint on a machine."""

    machine: str = Field(max_length=60)
    operation: Literal["make_up", "break_out"]
    thread_hand: Literal["right", "left"]
    arm_position: Literal["square", "unknown"] | Length | None = None
    rod_exposed: Length | None = None
    gripped_outside_diameter: Length | None = None
    as_of: date | None = None
    grip_spacing: Length | None = None
    break_out_ratio: Ratios | None = None
    made_up_torque: Torque | None = None
    aim: Literal["target"] | None = None
    grip_friction: float | None = Field(None, ge=0.01, le=1)
    grip_margin: float | None = Field(None, ge=1, le=10)


class RotaryShoulderedJob(RotaryShoulderedJoint, Job):
    """A rotary shouldered connection on a machine."""

    family: Literal["rotary_shouldered"]


class StatedJob(Job):
    """A joint of which the torque is known, on a machine."""

    family: Literal["stated"]
    torque_target: Torque
    torque_minimum: Torque | None = None
    torque_maximum: Torque | None = None
    torque_source: str = Field(max_length=200)
    torque_tolerance: float | None = Field(None, gt=0, le=0.25)


# what goes out


class Quantity(BaseModel):
    value: float
    unit: str


class Window(BaseModel):
    minimum: Quantity | None
    target: Quantity
    maximum: Quantity | None


class Three(BaseModel):
    low: Quantity
    likely: Quantity
    high: Quantity


class Aim(BaseModel):
    torque: Quantity
    reason: str


class Relief(BaseModel):
    lower: Quantity
    upper_joint: Quantity | None
    upper_machine: Quantity
    set_to: Quantity | None
    gauge: str
    protects: str | None


class BendingStrengthRatio(BaseModel):
    value: float
    accepted_minimum: float
    accepted_maximum: float


class Assumption(BaseModel):
    field: str
    value: str
    reason: str


class Finding(BaseModel):
    level: str
    code: str
    text: str
    value: Quantity | None
    limit: Quantity | None
    remedy: str
    step: str


class WhatWasAsked(BaseModel):
    path: str
    detail: str


class Record(BaseModel):
    """What every answer carries besides its result."""

    status: str
    reasons: dict[str, str]
    assumptions: list[Assumption]
    findings: list[Finding]
    service_edition: str
    asked: WhatWasAsked
    question: str


class TorqueAnswer(Record):
    """The make-up torque of a joint."""

    torque: Window
    weaker_member: str
    preload: Quantity
    torsional_yield: Quantity | None
    bending_strength_ratio: BendingStrengthRatio | None


class PressureAnswer(Record):
    """What to set on the gauge of a machine; what a machine does not have is left out."""

    gauge_setting: Quantity | None = None
    gauge: str | None = None
    cylinder_side: str | None = None
    second_cylinder_side: str | None = None
    motor_port: str | None = None
    torque_at_gauge_setting: Quantity | None = None
    aim: Aim | None = None
    probability_in_window: float | None = None
    probability_below_minimum: float | None = None
    probability_above_maximum: float | None = None
    expected: Three | None = None
    do_not_exceed: Quantity | None = None
    do_not_exceed_basis: str | None = None
    if_it_does_not_move: str | None = None
    relief: Relief | None = None
    break_out_torque: Three | None = None
    torque: Window | None = None


class Writing:
    """Writes one answer, and keeps why what is null in it is not known."""

    def __init__(self) -> None:
        self.reasons: dict[str, Any] = {}

    def known(self, name: str, found: Any, write: Callable[[Any], Any]) -> Any:
        """A value that may not be known."""
        if found.reason is None:
            return write(found.value)
        self.reasons[name] = found
        return None

    def window(self, window: Any) -> Window:
        """A window of torque."""
        low, high = (
            self.known(f"torque.{name}", getattr(window, name).torque, torque)
            for name in ("minimum", "maximum")
        )
        return Window(minimum=low, target=torque(window.target.torque), maximum=high)

    def relief(self, relief: Any) -> Relief:
        """How relief must stand."""
        may_be_null = {"upper_joint": pressure, "set_to": dial, "protects": str}
        return Relief(
            lower=pressure(relief.lower),
            upper_machine=pressure(relief.upper_machine.value),
            gauge=relief.gauge,
            **{
                name: self.known(f"relief.{name}", getattr(relief, name), how)
                for name, how in may_be_null.items()
            },
        )

    def record(self, answer: Answer, stamp: Mapping[str, Any]) -> dict[str, Any]:
        """What every answer carries; written last."""
        return {
            "status": answer.status,
            "reasons": US.reasons(self.reasons),
            "assumptions": [
                Assumption(field=each.field, value=each.value, reason=each.reason)
                for each in answer.assumptions
            ],
            "findings": [finding(each) for each in ranked(answer.findings)],
            **stamp,
        }


def torque(value: Any) -> Quantity:
    return Quantity(**US.show("torque", getattr(value, "value", value)))


def pressure(value: float) -> Quantity:
    return Quantity(**US.show("pressure", value))


def dial(reading: Any) -> Quantity:
    return Quantity(value=ten_digits(reading.value), unit=reading.unit)


def three_of(write: Callable[[Any], Quantity]) -> Callable[[Any], Three]:
    return lambda found: Three(low=write(found.low), likely=write(found.likely), high=write(found.high))


def amount(found: Any) -> Quantity | None:
    return None if found is None else Quantity(**US.show(found.kind, found.value, found.unit))


def finding(found: Any) -> Finding:
    amounts = found.named_amounts
    return Finding(
        level=found.level,
        code=found.code,
        text=US.fill(f"{found.text} {found.remedy}".rstrip(), amounts, FEW),
        value=amount(found.value),
        limit=amount(found.limit),
        remedy=US.fill(found.remedy, amounts, FEW),
        step=found.step,
    )


def bending_strength_ratio(found: Any) -> BendingStrengthRatio:
    names = BendingStrengthRatio.model_fields
    return BendingStrengthRatio(**{name: ten_digits(found[name]) for name in names})


PLAIN = ("gauge", "cylinder_side", "second_cylinder_side", "motor_port", "if_it_does_not_move")
PROBABILITIES = ("probability_in_window", "probability_below_minimum", "probability_above_maximum")
WRITE: Mapping[str, Callable[[Writing, Any], Any]] = {
    **dict.fromkeys(PLAIN, lambda writing, value: value),
    "gauge_setting": lambda writing, value: dial(value),
    "torque_at_gauge_setting": lambda writing, value: torque(value),
    "aim": lambda writing, value: Aim(torque=torque(value["torque"]), reason=value["reason"]),
    "expected": lambda writing, value: three_of(dial)(value),
    "do_not_exceed": lambda writing, value: dial(value.value),
    "relief": Writing.relief,
    "break_out_torque": lambda writing, value: writing.known("break_out_torque", value, three_of(torque)),
    "torque": Writing.window,
}


def answered(name: str, asked: Asked, *, of_machines: bool) -> tuple[Answer, Mapping[str, Any]]:
    """What the engineering says, and the hash of the question with what goes beside it."""
    calculation, values = CALCULATION[name], asked.model_dump(exclude_unset=True, exclude={"detail"})
    question = question_of(calculation.path, calculation.request_for(values), values)
    computed = calculation.compute(values, SHOP)
    answer = SHOP.by_policy(computed, values.get("as_of"), (), of_machines=of_machines)
    return answer, SHOP.stamp(calculation.path, question, "short")


@app.get("/healthz")
async def healthz() -> str:
    """Says that it runs."""
    return "ok"


@app.get("/v1/torque/rotary-shouldered")
async def rotary_shouldered(joint: Annotated[RotaryShoulderedJoint, Query()]) -> TorqueAnswer:
    """The make-up torque of a joint."""
    answer, stamp = answered("torque/rotary-shouldered", joint, of_machines=False)
    result, writing = answer.result, Writing()
    return TorqueAnswer(
        torque=writing.window(result["torque"]),
        weaker_member=result["weaker_member"],
        preload=Quantity(**US.show("force", result["preload"])),
        torsional_yield=writing.known("torsional_yield", result["torsional_yield"], torque),
        bending_strength_ratio=writing.known(
            "bending_strength_ratio", result["bending_strength_ratio"], bending_strength_ratio
        ),
        **writing.record(answer, stamp),
    )


@app.post("/v1/pressure", response_model_exclude_unset=True)
async def gauge_pressure(
    job: Annotated[RotaryShoulderedJob | StatedJob, Field(discriminator="family")],
) -> PressureAnswer:
    """What to set on the gauge of a machine."""
    answer, stamp = answered("pressure", job, of_machines=True)
    result, writing = answer.result, Writing()
    members = {name: write(writing, result[name]) for name, write in WRITE.items() if name in result}
    for name in PROBABILITIES:
        if name in result:
            members[name] = writing.known(name, result[name], ten_digits)
    if "do_not_exceed" in result:
        members["do_not_exceed_basis"] = result["do_not_exceed"].basis
    return PressureAnswer(**members, **writing.record(answer, stamp))
