"""The torque of a round thread, as answered."""

from typing import Any

from marshmallow import fields

from schemas.base import Part
from schemas.fields import Number, Words, ten_digits
from schemas.quantity_fields import DialReading, Quantity
from schemas.torque_answer import TorqueWindowPart


class PrintedFootPounds(DialReading):
    """A torque as tables print it: in ft-lb, whatever units are asked for."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else {"value": ten_digits(value), "unit": "lbf.ft"}


class PublishedRoundingPart(Part):
    """Rounded as the tables of API RP 5C1 are: optimum to 10 ft-lb, 75 and 125 % of it again, halves up.

    A printed row may differ by one step.
    """

    optimum = PrintedFootPounds()
    minimum = PrintedFootPounds(allow_none=True)
    maximum = PrintedFootPounds(allow_none=True)


class RoundThreadDimensionsPart(Part):
    """The dimensions used."""

    pipe_outside_diameter = Quantity(
        "length",
        attribute="D",
        metadata={"description": "That the thread is cut on: of the upset for external-upset tubing."},
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


class MadeUpPositionPart(Part):
    """The position that is judged beside the torque."""

    criteria = fields.List(fields.Nested(PositionCriterionPart))
    criteria_reason = Words()
    turns_past_hand_tight = Number(allow_none=True)
    turns_past_hand_tight_reason = Words()
    axial_travel_per_turn = Quantity("length", allow_none=True, metadata={"description": "One pitch."})
    hand_tight_standoff_turns = Number(allow_none=True, metadata={"description": "A of API 5B."})
    hand_tight_standoff = Quantity("length", allow_none=True)


class RoundThreadAnswer(Part):
    """Make-up torque of an API round thread, and the position to judge beside it."""

    torque = fields.Nested(TorqueWindowPart)
    published_rounding = fields.Nested(PublishedRoundingPart, allow_none=True)
    published_rounding_reason = Words()
    torque_adjustment = Words(allow_none=True, metadata={"description": "The adjustment asked for."})
    torque_adjustment_factor = Number(metadata={"description": "By which the window is multiplied."})
    area_under_last_perfect_thread = Quantity("area")
    engaged_length = Quantity("length")
    pull_out_strength = Quantity("force", metadata={"description": "What the torque goes by."})
    fracture_strength = Quantity("force", allow_none=True)
    fracture_strength_reason = Words()
    joint_strength = Quantity(
        "force", allow_none=True, metadata={"description": "As published; not what the torque goes by."}
    )
    joint_strength_reason = Words()
    governing_mode = Words(
        allow_none=True, metadata={"description": "Of the joint strength: pull_out, fracture or yield."}
    )
    preload = Quantity("force", allow_none=True)
    preload_reason = Words()
    made_up_position = fields.Nested(MadeUpPositionPart)
    dimensions = fields.Nested(RoundThreadDimensionsPart)
    size = Words(allow_none=True)
    weight = Quantity("linear_mass", allow_none=True)
    pipe_grade = Words(allow_none=True)
    thread_type = Words(allow_none=True)
