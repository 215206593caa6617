"""The preload of a rotary shouldered joint at an applied torque, as asked and as answered."""

from marshmallow import fields

from schemas.core.faults import FieldFault
from schemas.core.fields import Entry, Number, Part, Words
from schemas.core.quantity_fields import Quantity
from schemas.rotary.joint import RotaryShoulderedCondition, RotaryShoulderedDimensions
from schemas.torque_window import BendingStrengthRatioPart

NO_TARGET = FieldFault(
    "unknown_field",
    "has no part here: the torque is the one applied, not one aimed at; what yields is said by "
    "pin_yield_strength and box_yield_strength",
    "this field left out",
)
NOT_KNOWN = "null where the yield strength is not known."


class RotaryPreloadRequest(RotaryShoulderedCondition, RotaryShoulderedDimensions):
    """A rotary shouldered joint, the torque applied to it, and a tension on it."""

    not_applicable = dict.fromkeys(
        ("pin_stress_level", "box_stress_level", "basis", "torque_tolerance"), NO_TARGET
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
        metadata={"description": "Tension on the made-up joint; without it only the limits are told."},
    )


class TensionLimitsPart(Part):
    """What tension the joint stands at this preload: an estimate without bending and pressure."""

    separation_tension = Quantity(
        "force", allow_none=True, metadata={"description": "At which no force is left on the shoulder."}
    )
    pin_tensile_limit = Quantity(
        "force",
        allow_none=True,
        metadata={"description": "Yield strength times pin area, not divided by 1.1. " + NOT_KNOWN},
    )
    contact_yield_tension = Quantity(
        "force",
        allow_none=True,
        metadata={
            "description": "At which the pin yields with its shoulder still closed; null where the shoulder "
            "separates first, or the yield strength is not known."
        },
    )
    lowest_limit = Quantity(
        "force",
        allow_none=True,
        metadata={"description": "The lower of separation and yield of the pin. " + NOT_KNOWN},
    )
    lowest_limit_reason = Words()
    coincidence_torque = Quantity(
        "torque",
        allow_none=True,
        metadata={
            "description": "Applied torque at which separation and pin yield come at one tension (T3): below "
            "it the shoulder separates first, above it the pin yields first."
        },
    )
    separated_pin_yield_torque = Quantity(
        "torque",
        allow_none=True,
        metadata={"description": "Torque that yields the pin once the shoulder has separated (T4)."},
    )
    status = Words(metadata={"description": "How sure these figures are."})
    reason = Words(metadata={"description": "What they rest on, or why there are none."})


class UnderTensionPart(Part):
    """The joint at the tension asked for."""

    tension = Quantity("force")
    shoulder_force = Quantity("force", metadata={"description": "Left on the shoulder."})
    pin_force = Quantity("force")
    pin_stress = Quantity("stress")
    pin_share_of_yield = Number(allow_none=True, metadata={"description": NOT_KNOWN.capitalize()})
    separation_margin = Quantity(
        "force",
        metadata={"description": "Tension still to come until the shoulder separates; negative beyond."},
    )
    pin_yield_margin = Quantity(
        "force",
        allow_none=True,
        metadata={"description": "Tension still to come until the pin yields. " + NOT_KNOWN},
    )
    shoulder = Words(metadata={"description": "closed or separated."})
    pin = Words(metadata={"description": "below_yield or yield_not_known; beyond yield is refused."})
    verdict = Words()


class PreloadBendingStrengthRatioPart(BendingStrengthRatioPart):
    """Bending strength ratio, the range of API RP 7G-2, and what others accept."""

    within_range = Words(metadata={"description": "yes, below, above, or below_but_accepted_by_others."})
    other_standards_minimum = Number(
        allow_none=True, metadata={"description": "Lower limit of other standards below 6 in; else null."}
    )


class FactorPart(Part):
    """A factor or choice that the answer rests on."""

    what = Words()
    value = Words()
    status = Words(metadata={"description": "read, reprint, fitted, from memory or stated."})
    source = Words()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['what']}: {entry['value']} ({entry['status']}): {entry['source']}"


class AdvicePart(Part):
    """A piece of advice, and how sure it is."""

    what = Words()
    status = Words(metadata={"description": "read or from memory."})
    source = Words()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['what']} ({entry['status']}): {entry['source']}"


class RotaryPreloadAnswer(Part):
    """Preload and stresses of a rotary shouldered joint at an applied torque."""

    preload = Quantity(
        "force", metadata={"description": "The compound friction factor is divided out of the torque."}
    )
    compound_friction_factor = Number(metadata={"description": "The factor that is divided out."})
    pin_stress = Quantity("stress", metadata={"description": "Preload over pin area."})
    box_stress = Quantity("stress", metadata={"description": "Preload over box area."})
    pin_share_of_yield = Number(allow_none=True)
    box_share_of_yield = Number(allow_none=True)
    pin_torsional_yield = Quantity(
        "torque",
        allow_none=True,
        metadata={"description": "With the compound friction factor: compares with the applied torque."},
    )
    box_torsional_yield = Quantity("torque", allow_none=True, metadata={"description": "As for the pin."})
    torsional_yield = Quantity(
        "torque",
        allow_none=True,
        metadata={"description": "The lower of both; null unless both yield strengths are known."},
    )
    torsional_yield_reason = Words()
    weaker_member = Words(metadata={"description": "pin or box."})
    weaker_member_reason = Words()
    tension_limits = fields.Nested(TensionLimitsPart)
    under_tension = fields.Nested(UnderTensionPart, allow_none=True)
    under_tension_reason = Words()
    bending_strength_ratio = fields.Nested(PreloadBendingStrengthRatioPart, allow_none=True)
    bending_strength_ratio_reason = Words()
    break_in_torque = Quantity(
        "torque",
        allow_none=True,
        metadata={"description": "Of a new tool joint, with the compound friction factor."},
    )
    break_in_torque_reason = Words()
    break_in = fields.List(fields.Nested(AdvicePart))
    factors = fields.List(fields.Nested(FactorPart))
    connection = Words()
    pin_area = Quantity("area")
    box_area = Quantity("area")
