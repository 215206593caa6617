"""The preload of a rotary shouldered joint at an applied torque, as asked and as answered."""

from marshmallow import fields

from schemas.core.faults import FieldFault
from schemas.core.fields import Choice, Number
from schemas.core.parts import Basis, Entry, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.provenance import SourceText, Status
from schemas.rotary.joint import COMPONENTS, RotaryShoulderedCondition, RotaryShoulderedDimensions
from schemas.torque_window import BendingStrengthRatioPart
from schemas.words import MEMBERS

SHOULDERS = ("closed", "separated")
PINS = ("below_yield",)
UNDER_TENSION = {
    "closed": "the shoulder stays closed, the pin does not yield",
    "separated": "the shoulder is separated, the pin does not yield",
}
"""What is said of a joint under tension, by its shoulder."""
WITHIN_RANGE = ("yes", "below", "above", "below_but_accepted_by_others")

NO_TARGET = FieldFault(
    "unknown_field",
    "has no part here: the torque is the one applied, not one aimed at; what yields is said by "
    "pin_yield_strength and box_yield_strength",
    "this field left out",
)


class RotaryPreloadRequest(RotaryShoulderedCondition, RotaryShoulderedDimensions):
    """A rotary shouldered joint, the torque applied to it, and a tension on it."""

    not_applicable = dict.fromkeys(
        ("pin_stress_level", "box_stress_level", "basis", "torque_tolerance"), NO_TARGET
    )

    component = Choice(
        tuple(part for part in COMPONENTS if part != "bit"),
        required=True,
        metadata={
            "description": "Part of the string that carries the connection. A sub, stabilizer, reamer, jar "
            "or kelly follows drill_collar (common practice, no source).",
            "example": "drill_collar",
        },
    )
    applied_torque = Quantity(
        "torque",
        required=True,
        metadata={
            "description": "Torque applied at make-up, as measured, with the compound actually used.",
            "example": "30000 ft-lb",
        },
    )
    axial_tension = Quantity(
        "force",
        zero=True,
        metadata={"description": "Tension on the made-up joint. Without it the answer has only the limits."},
    )


class TensionLimitsPart(Part):
    """The tension that the joint bears at this preload: an estimate without bending and pressure."""

    separation_tension = Quantity(
        "force", metadata={"description": "Tension at which no force is left on the shoulder."}
    )
    pin_tensile_limit = Quantity(
        "force", metadata={"description": "Yield strength times pin area, not divided by 1.1."}
    )
    contact_yield_tension = knowable(
        Quantity(
            "force",
            metadata={"description": "Tension at which the pin yields with its shoulder still closed."},
        )
    )
    lowest_limit = Quantity(
        "force",
        metadata={"description": "The lower of separation and yield of the pin."},
    )
    lowest_limit_basis = Basis(allow_none=False)
    coincidence_torque = Quantity(
        "torque",
        metadata={
            "description": "Applied torque at which separation and pin yield come at one tension (T3): "
            "below it the shoulder separates first, above it the pin yields first."
        },
    )
    separated_pin_yield_torque = Quantity(
        "torque",
        metadata={"description": "Torque that yields the pin once the shoulder has separated (T4)."},
    )
    status = Status()


class UnderTensionPart(Part):
    """The joint at the tension asked for."""

    tension = Quantity("force", metadata={"description": "The tension of the request."})
    shoulder_force = Quantity("force", metadata={"description": "Force left on the shoulder."})
    pin_force = Quantity("force", metadata={"description": "Force in the pin."})
    pin_stress = Quantity("stress", metadata={"description": "pin_force over the section of the pin."})
    pin_share_of_yield = Number(metadata={"description": "pin_stress over the yield strength of the pin."})
    separation_margin = Quantity(
        "force",
        metadata={"description": "Tension still to come until the shoulder separates; negative beyond."},
    )
    pin_yield_margin = Quantity(
        "force", metadata={"description": "Tension still to come until the pin yields."}
    )
    shoulder = OneOf(SHOULDERS, metadata={"description": "Whether the shoulder still closes."})
    pin = OneOf(PINS, metadata={"description": "A tension that yields the pin is refused."})
    verdict = OneOf(tuple(UNDER_TENSION.values()), metadata={"description": "Both in words."})


class PreloadBendingStrengthRatioPart(BendingStrengthRatioPart):
    """Bending strength ratio, the range of API RP 7G-2, and what others accept."""

    within_range = OneOf(WITHIN_RANGE, metadata={"description": "Where the ratio lies to that range."})
    other_standards_minimum = Number(
        allow_none=True, metadata={"description": "Lower limit of other standards below 6 in; else null."}
    )


class FactorPart(Part):
    """A factor or choice that the answer rests on."""

    what = Words(metadata={"description": "What the factor or choice is of."})
    value = Words(metadata={"description": "The factor, or the choice in words."})
    status = Status()
    source = SourceText()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['what']}: {entry['value']} ({entry['status']}): {entry['source']}"


class AdvicePart(Part):
    """A piece of advice, and how sure it is."""

    what = Words(metadata={"description": "The advice in words."})
    status = Status()
    source = SourceText()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['what']} ({entry['status']}): {entry['source']}"


class RotaryPreloadAnswer(Part):
    """Preload and stresses of a rotary shouldered joint at an applied torque."""

    only_full = frozenset(
        {
            "torsional_yield_basis",
            "weaker_member_basis",
            "tension_limits",
            "tension_limits_basis",
            "under_tension_basis",
            "bending_strength_ratio_basis",
            "break_in_torque_basis",
            "factors",
            "connection",
            "pin_area",
            "box_area",
        }
    )

    preload = Quantity(
        "force", metadata={"description": "The compound friction factor is divided out of the torque."}
    )
    compound_friction_factor = Number(metadata={"description": "The factor that is divided out."})
    pin_stress = Quantity("stress", metadata={"description": "Preload over pin area."})
    box_stress = Quantity("stress", metadata={"description": "Preload over box area."})
    pin_share_of_yield = knowable(
        Number(metadata={"description": "pin_stress over the yield strength of the pin."})
    )
    box_share_of_yield = knowable(
        Number(metadata={"description": "box_stress over the yield strength of the box."})
    )
    pin_torsional_yield = knowable(
        Quantity(
            "torque",
            metadata={
                "description": (
                    "Torsional yield with the compound friction factor, to compare with the applied torque."
                )
            },
        )
    )
    box_torsional_yield = knowable(
        Quantity("torque", metadata={"description": "Torsional yield of the box, with the same factor."})
    )
    torsional_yield = knowable(Quantity("torque", metadata={"description": "The lower of both."}))
    torsional_yield_basis = Basis()
    weaker_member = OneOf(
        MEMBERS, metadata={"description": "The member that yields first, or has the smaller section."}
    )
    weaker_member_basis = Basis(allow_none=False)
    tension_limits = knowable(
        fields.Nested(TensionLimitsPart, metadata={"description": "Tensions that the joint bears."})
    )
    tension_limits_basis = Basis()
    under_tension = knowable(
        fields.Nested(UnderTensionPart, metadata={"description": "The joint at the tension asked for."})
    )
    under_tension_basis = Basis()
    bending_strength_ratio = knowable(
        fields.Nested(
            PreloadBendingStrengthRatioPart, metadata={"description": "Bending strength of box over pin."}
        )
    )
    bending_strength_ratio_basis = Basis()
    break_in_torque = knowable(
        Quantity(
            "torque",
            metadata={
                "description": "Break-in torque of a new tool joint, with the compound friction factor."
            },
        )
    )
    break_in_torque_basis = Basis()
    break_in = fields.List(
        fields.Nested(AdvicePart), metadata={"description": "How a new or recut joint is broken in."}
    )
    factors = fields.List(
        fields.Nested(FactorPart), metadata={"description": "Factors and choices that the answer rests on."}
    )
    connection = Words(metadata={"description": "Designation, whatever name was asked for."})
    pin_area = Quantity("area", metadata={"description": "Section of the pin, 3/4 in from its shoulder."})
    box_area = Quantity("area", metadata={"description": "Section of the box, 3/8 in from its shoulder."})
