"""Joint families: what must be known of a joint to know its torque. Field names are unique over families."""

from collections.abc import Callable, Mapping
from typing import Any

from marshmallow import ValidationError

from schemas.core.faults import fault
from schemas.core.fields import LEFT_OUT, Choice, Flag, Number, Request, Text
from schemas.core.quantity_fields import Quantity

COMPONENTS = (
    "drill_collar",
    "tool_joint",
    "sub",
    "bit_sub",
    "crossover_sub",
    "float_sub",
    "shock_sub",
    "saver_sub",
    "stabilizer",
    "reamer",
    "jar",
    "kelly",
    "bit",
)
"""Parts of a string by their names; a test compares them with those of `api.reference.members`."""

HIGHEST_YIELD_STRENGTH = "200000 psi"
"""No member of a joint is stronger: what is accepted as its yield strength (own judgement)."""


COMPOUND_FRICTION_FACTORS = (0.7, 1.5)
"""Lowest and highest friction factor that any compound has (own judgement)."""


class CompoundFrictionFactor(Number):
    """Friction factor of a thread compound (API RP 7A1), which a coefficient of friction is not."""

    def __init__(self, **options: Any) -> None:
        super().__init__(*COMPOUND_FRICTION_FACTORS, **options)
        self.accepted += "; the friction factor marked on the compound's container, usually 0.8 to 1.25"

    def outside(self, number: float) -> ValidationError:
        """What it looks like, where that is known."""
        if not 0 <= number < COMPOUND_FRICTION_FACTORS[0]:
            return super().outside(number)
        return fault(
            "implausible_friction_factor",
            f"{number:.10g} looks like a coefficient of friction (the tables use 0.08). The friction "
            "factor of a thread compound is relative to the reference compound, which has 1.0. It is "
            "marked on the container, usually 0.8 to 1.25",
            self.accepted,
        )


def _unless_bit(usual: str) -> Callable[[Mapping[str, Any]], str | None]:
    """What is usual of every part but a bit, whose torque is a range."""
    return lambda values: None if values.get("component") == "bit" else usual


class RotaryShoulderedDimensions(Request):
    """A rotary shouldered connection and the sizes that count, new or worn."""

    connection = Text(
        40,
        required=True,
        metadata={"description": "Designation or former name of the connection.", "example": "NC50"},
    )
    component = Choice(
        COMPONENTS,
        required=True,
        metadata={
            "description": "Part of the string that carries the connection; decides stress level and "
            "window. A sub, stabilizer, reamer, jar or kelly follows drill_collar (common practice, no "
            "source). A bit is a roller-cone bit and has a range of torque of its own.",
            "example": "drill_collar",
        },
    )
    box_outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        required=True,
        metadata={
            "description": "Actual (worn) outside diameter of the box, not the bevel diameter.",
            "example": "6 3/4 in",
        },
    )
    pin_bore = Quantity(
        "length",
        limits=("0.5 in", "40 in"),  # no bore in inches is taken under mm
        required=True,
        metadata={"description": "Actual bore of the pin.", "example": "2-13/16 in"},
    )
    confirm_size = Flag(
        metadata={
            "description": "true: connection, outside diameter and bore are right, though their bending "
            "strength ratio is more than twice the highest that is accepted.",
            LEFT_OUT: False,
        },
    )


class RotaryShoulderedStressLevels(Request):
    """The stress level that each member is made up to."""

    pin_stress_level = Quantity(
        "stress",
        limits=("5000 psi", "200000 psi"),
        metadata={"description": "Stress level of the pin; the usual one of API RP 7G if left out."},
    )
    box_stress_level = Quantity(
        "stress",
        limits=("5000 psi", "200000 psi"),
        metadata={"description": "Stress level of the box; the usual one of API RP 7G if left out."},
    )


class RotaryShoulderedCondition(Request):
    """What else decides how torque and preload of a rotary shouldered joint go together, and its yield."""

    pin_yield_strength = Quantity(
        "stress",
        limits=("20000 psi", HIGHEST_YIELD_STRENGTH),
        metadata={
            "description": "Minimum yield strength of the pin. Without it a drill collar has that of "
            "standard steel (110,000 psi to 6-7/8 in, else 100,000 psi) and a tool joint 120,000 psi."
        },
    )
    box_yield_strength = Quantity(
        "stress",
        limits=("20000 psi", HIGHEST_YIELD_STRENGTH),
        metadata={"description": "Minimum yield strength of the box; as for the pin."},
    )
    low_torque_face = Flag(
        metadata={
            "description": "Whether the wider counterbore of the low torque face is cut. Required where the "
            "connection has one."
        },
    )
    compound_friction_factor = CompoundFrictionFactor(
        metadata={
            "description": "Friction factor marked on the thread compound (API RP 7A1); scales the torque. "
            "1.0, the reference compound, if left out.",
            LEFT_OUT: 1.0,
        },
    )
    edition = Choice(
        ("2003", "1998"),
        metadata={
            "description": "2003: shoulder radius capped where pin and box areas are equal (Addendum 1 and "
            "all drill-collar tables). 1998: uncapped, to reproduce tool-joint tables printed before.",
            LEFT_OUT: _unless_bit("2003"),
        },
    )


class RotaryShoulderedJoint(
    RotaryShoulderedCondition, RotaryShoulderedStressLevels, RotaryShoulderedDimensions
):
    """A rotary shouldered connection, as made up; new or worn."""

    basis = Choice(
        ("formula", "table"),
        metadata={
            "description": "formula: computed. table: the published row for exactly this joint, or a "
            "refusal.",
            LEFT_OUT: _unless_bit("formula"),
        },
    )


class StatedJoint(Request):
    """A joint whose torque the caller states, from a maker's sheet or a customer's order."""

    torque_target = Quantity(
        "torque",
        required=True,
        metadata={"description": "Make-up torque aimed at.", "example": "20000 ft-lb"},
    )
    torque_minimum = Quantity("torque", metadata={"description": "Lowest make-up torque allowed."})
    torque_maximum = Quantity("torque", metadata={"description": "Highest make-up torque allowed."})
    torque_source = Text(
        200,
        required=True,
        metadata={
            "description": "Source of the torque. It goes into the record.",
            "example": "sheet 12 rev B of the tool maker",
        },
    )


class WindowChoice(Request):
    """How wide a window is where its source does not say."""

    torque_tolerance = Number(
        0,
        0.25,
        exclude_low=True,
        metadata={
            "description": "Share of the target allowed either way, 0.05 for plus and minus 5 %. Only where "
            "neither a standard nor the caller states minimum and maximum."
        },
    )
