"""The family of API round threads: casing and tubing, from the catalogue or by their dimensions."""

from typing import Any

from schemas.base import Request
from schemas.faults import FieldFault, fault
from schemas.fields import Choice, Number, Text
from schemas.quantity_fields import Quantity

FRICTION_FACTOR = FieldFault(
    "friction_factor_not_applicable",
    "the compound friction factor of rotary shouldered practice does not apply to these tapered threads by "
    "itself: their torque is for API modified thread compound, and for another it is found by trial",
    "no friction factor; torque_adjustment for a tin-plated coupling or a PTFE ring",
)
TOLERANCE = FieldFault(
    "tolerance_not_needed",
    "a round thread has a minimum and a maximum; a torque_tolerance would contradict them",
    "no torque_tolerance",
)


class ThreadsPerInch(Number):
    """Threads per inch of an API round thread."""

    pitches = (8, 10)

    def __init__(self, **options: Any) -> None:
        super().__init__(*self.pitches, **options)
        self.accepted = "8 or 10"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        number = super()._deserialize(value, attr, data, **kwargs)
        if number not in self.pitches:
            raise fault("out_of_range", "API round threads have 8 or 10 threads per inch", self.accepted)
        return number


class RoundThreadJoint(Request):
    """API round-thread casing or tubing: by size, weight, grade and thread type, or by its dimensions."""

    not_applicable = {"compound_friction_factor": FRICTION_FACTOR, "torque_tolerance": TOLERANCE}

    size = Text(
        20,
        metadata={"description": "Nominal size, a name in inches.", "example": "5-1/2"},
    )
    weight = Quantity(
        "linear_mass",
        limits=("0.5 lb/ft", "500 lb/ft"),
        metadata={
            "description": "Nominal weight per length, by which the pipe is called; as printed in lb/ft or "
            "kg/m.",
            "example": "17 lb/ft",
        },
    )
    pipe_grade = Text(20, metadata={"description": "Grade of the pipe (API 5CT).", "example": "J55"})
    thread_type = Choice(
        ("STC", "LTC", "NUE", "EUE", "IJ", "BTC"),
        metadata={
            "description": "STC, LTC: short and long round-thread casing. NUE, EUE, IJ: non-upset, "
            "external-upset and integral-joint tubing. BTC: buttress, which has no torque and is refused.",
            "example": "STC",
        },
    )
    pipe_outside_diameter = Quantity(
        "length",
        limits=("1 in", "30 in"),
        metadata={
            "description": "Instead of the catalogue: outside diameter that the thread is cut on, that of "
            "the upset for external-upset tubing."
        },
    )
    pipe_inside_diameter = Quantity(
        "length",
        limits=("0.5 in", "30 in"),
        metadata={
            "description": "Inside diameter below the thread, that of the pin upset for integral-joint "
            "tubing."
        },
    )
    engaged_length = Quantity(
        "length",
        limits=("0.3 in", "12 in"),
        metadata={"description": "Engaged thread length at nominal power make-up, L4 - M of API 5B."},
    )
    thread_height = Quantity(
        "length",
        limits=("0.04 in", "0.1 in"),
        metadata={"description": "Height of the thread; or give threads_per_inch."},
    )
    threads_per_inch = ThreadsPerInch(
        metadata={"description": "8 or 10, which gives the height of API round thread."}
    )
    pipe_yield_strength = Quantity(
        "stress",
        limits=("20000 psi", "200000 psi"),
        metadata={"description": "Minimum yield strength of the pipe."},
    )
    pipe_tensile_strength = Quantity(
        "stress",
        limits=("20000 psi", "250000 psi"),
        metadata={"description": "Minimum tensile strength of the pipe."},
    )
    torque_adjustment = Choice(
        ("tin_plated_coupling", "ptfe_ring"),
        metadata={
            "description": "tin_plated_coupling: 80 % of the torque; ptfe_ring: 70 % (API RP 5C1 notes, from "
            "memory). None if left out."
        },
    )
