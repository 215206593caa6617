"""Trial make-ups of buttress casing, as recorded and as answered."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from schemas.core.faults import FieldFault, contradictions
from schemas.core.fields import Choice, Flag, Number, Request, Text
from schemas.core.parts import Basis, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.tubular.buttress import FaceMeasured

MOST_TRIALS = 500
POSITIONS = ("short", "within_one_turn", "base_to_apex", "past_apex")
FACE = ("face_short_of_base", "face_past_base")
MEASURED_TOO = "the position follows from where the face was measured; leave it out, or leave out that"
NO_POSITION = FieldFault(
    "missing_field",
    "a torque needs the position of the face",
    f"position, one of: {', '.join(POSITIONS)}; or the face measured: {' or '.join(FACE)}",
)
TWICE = "another trial has this name: a joint must not count twice"


class TrialJoint(FaceMeasured):
    """One trial make-up: its torque, and where it brought the coupling face."""

    joint = Text(40, metadata={"description": "Name or number of the joint; each once."})
    torque = Quantity(
        "torque",
        limits=("100 N.m", "1000 kN.m"),
        required=True,
        metadata={"description": "Torque at the end of the make-up, where the face stood as given."},
    )
    position = Choice(
        POSITIONS,
        metadata={
            "description": "Instead of a measured face. short: more than one thread turn short of the base. "
            "within_one_turn: short of the base by one turn, 0.200 in, at most. base_to_apex: at the base or "
            "past it, not past the apex. past_apex: farther."
        },
    )
    leave_out_because = Text(
        200,
        metadata={"description": "Why this joint must not count: galled, cross-threaded, another compound."},
    )

    @validates_schema(skip_on_field_errors=True)
    def _one_position(self, data: Mapping[str, Any], **_: Any) -> None:
        measured = any(name in data for name in FACE)
        contradictions({"position": MEASURED_TOO if measured and "position" in data else None})
        if not measured and "position" not in data:
            raise ValidationError({"position": [NO_POSITION]})


class TrialMakeUpRequest(Request):
    """Trial make-ups of one size, weight and grade, with one compound on one machine."""

    size = Text(
        20,
        required=True,
        metadata={"description": "Nominal size of the casing, a name in inches.", "example": "9-5/8"},
    )
    weight = Text(
        30, required=True, metadata={"description": "For the record: nominal weight.", "example": "47 lb/ft"}
    )
    pipe_grade = Text(
        30, required=True, metadata={"description": "For the record: grade of the pipe.", "example": "L80"}
    )
    trials = fields.List(
        fields.Nested(TrialJoint),
        required=True,
        validate=validate.Length(1, MOST_TRIALS),
        metadata={"description": "Every trial, in the order of running, also those that must not count."},
    )

    @validates_schema(skip_on_field_errors=True)
    def _each_once(self, data: Mapping[str, Any], **_: Any) -> None:
        counts = Counter(each["joint"] for each in data["trials"] if "joint" in each)
        twice = {
            index: {"joint": [FieldFault("contradiction", TWICE)]}
            for index, each in enumerate(data["trials"])
            if counts[each.get("joint")] > 1
        }
        if twice:
            raise ValidationError({"trials": twice})


class TrialPart(Part):
    """One trial as it was counted or left out."""

    number = Number(metadata={"description": "Number of the trial, from 1, in the order given."})
    joint = Words(allow_none=True)
    torque = Quantity("torque")
    position = Words()
    counted = Flag()
    left_out_because = Words(allow_none=True)
    stands_apart = Flag(
        metadata={"description": "Counted, but farther from the median than departure_limit."}
    )
    departure_percent = Number(
        metadata={"description": "Distance from the median of those counted, of any trial, in percent of it."}
    )


class TrialMakeUpAnswer(Part):
    """The torque that brought joints to the base of the triangle, and how far to trust it."""

    only_full = frozenset({"torque_for_use_basis", "trials"})

    size = Words()
    weight = Words()
    pipe_grade = Words()
    torque_for_use = Quantity(
        "torque",
        metadata={"description": "Mean of the joints counted; for this size, weight and grade, as tried."},
    )
    torque_for_use_basis = Basis(allow_none=False)
    torque_minimum = knowable(Quantity("torque", metadata={"description": "None is published."}))
    torque_maximum = knowable(Quantity("torque", metadata={"description": "None is published."}))
    given = Number(metadata={"description": "Trials given."})
    counted = Number(metadata={"description": "Trials whose face reached the base and not past the apex."})
    left_out = Number()
    lowest = Quantity("torque")
    highest = Quantity("torque")
    median = Quantity("torque", attribute="middle")
    spread = Quantity("torque", metadata={"description": "Highest less lowest."})
    standard_deviation = Quantity(
        "torque", metadata={"description": "Standard deviation of the sample, over n - 1."}
    )
    standard_deviation_percent = Number(
        metadata={"description": "Standard deviation in percent of the mean."}
    )
    departure_limit = Quantity(
        "torque",
        metadata={
            "description": "A torque farther from the median stands apart: 3.5 x 1.4826 times the median "
            "absolute deviation, and at least 10 % of the median."
        },
    )
    standing_apart = Number(metadata={"description": "How many of those counted stand apart."})
    mean_without_them = Quantity(
        "torque",
        allow_none=True,
        metadata={
            "description": "Mean without those that stand apart, to compare with; null where none does."
        },
    )
    trials = fields.List(fields.Nested(TrialPart))
