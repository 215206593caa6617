"""Round threads of casing and tubing: request and answer."""

from typing import Any

from marshmallow import fields

from schemas.core.faults import FieldFault, fault
from schemas.core.fields import Choice, Number, Request, Text, ten_digits
from schemas.core.parts import Basis, Entry, Part, Words, knowable
from schemas.core.quantity_fields import DialReading, Quantity
from schemas.torque_window import TorqueWindowPart
from schemas.tubular.weight import WeightLabel

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
    weight = WeightLabel(
        limits=("0.5 lb/ft", "500 lb/ft"),
        metadata={
            "description": "Nominal weight per length, by which the pipe is called; as printed in lb/ft or "
            "kg/m. A bare number, or one with # behind it, is lb/ft.",
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


class PrintedFootPounds(DialReading):
    """A torque as tables print it: in ft-lb, whatever units are asked for."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else {"value": ten_digits(value), "unit": "lbf.ft"}


class PublishedRoundingPart(Part):
    """Rounded as the tables of API RP 5C1 are: optimum to 10 ft-lb, 75 and 125 % of it again, halves up.

    A printed row may differ by one step.
    """

    optimum = PrintedFootPounds()
    minimum = knowable(PrintedFootPounds())
    maximum = knowable(PrintedFootPounds())


class RoundThreadDimensionsPart(Part):
    """The dimensions used."""

    pipe_outside_diameter = Quantity(
        "length",
        attribute="D",
        metadata={
            "description": (
                "Outside diameter that the thread is cut on: that of the upset for external-upset tubing."
            )
        },
    )
    pipe_inside_diameter = Quantity("length", attribute="d")
    thread_height = Quantity("length", attribute="h")
    pipe_yield_strength = Quantity("stress", attribute="Yp")
    pipe_tensile_strength = Quantity("stress", attribute="Up")


class PositionCriterionPart(Part):
    """What a made-up position says when the torque is read."""

    made_up_position = Words()
    verdict = Words(metadata={"description": "satisfactory, questionable or more_torque."})
    action = Words()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['made_up_position']}: {entry['verdict']}; {entry['action']}"


class MadeUpPositionPart(Part):
    """The position that is judged beside the torque."""

    criteria = knowable(fields.List(fields.Nested(PositionCriterionPart)))
    criteria_basis = Basis()
    turns_past_hand_tight = knowable(Number())
    turns_past_hand_tight_basis = Basis()
    axial_travel_per_turn = knowable(
        Quantity("length", metadata={"description": "Axial travel of one turn: one pitch."})
    )
    hand_tight_standoff_turns = knowable(Number(metadata={"description": "A of API 5B."}))
    hand_tight_standoff = knowable(Quantity("length"))


class RoundThreadAnswer(Part):
    """Make-up torque of an API round thread, and the position to judge beside it."""

    only_full = frozenset(
        {
            "published_rounding_basis",
            "torque_adjustment_factor",
            "area_under_last_perfect_thread",
            "engaged_length",
            "pull_out_strength",
            "fracture_strength",
            "fracture_strength_basis",
            "joint_strength",
            "joint_strength_basis",
            "governing_mode",
            "dimensions",
        }
    )

    torque = fields.Nested(TorqueWindowPart)
    published_rounding = knowable(fields.Nested(PublishedRoundingPart))
    published_rounding_basis = Basis()
    torque_adjustment = Words(allow_none=True, metadata={"description": "The adjustment asked for."})
    torque_adjustment_factor = Number(metadata={"description": "Factor by which the window is multiplied."})
    area_under_last_perfect_thread = Quantity("area")
    engaged_length = Quantity("length")
    pull_out_strength = Quantity("force", metadata={"description": "What the torque goes by."})
    fracture_strength = knowable(Quantity("force"))
    fracture_strength_basis = Basis()
    joint_strength = knowable(
        Quantity(
            "force",
            metadata={"description": "Joint strength as published. The torque does not follow from it."},
        )
    )
    joint_strength_basis = Basis()
    governing_mode = knowable(
        Words(metadata={"description": "Mode that governs the joint strength: pull_out, fracture or yield."})
    )
    preload = knowable(Quantity("force", metadata={"description": "Not defined."}))
    made_up_position = fields.Nested(MadeUpPositionPart)
    dimensions = fields.Nested(RoundThreadDimensionsPart)
    size = Words(allow_none=True)
    weight = Quantity("linear_mass", allow_none=True)
    pipe_grade = Words(allow_none=True)
    thread_type = Words(allow_none=True)
