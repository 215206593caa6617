"""The torque of a joint, as answered."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import Basis, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.provenance import ANY_STATUS, MEANING, SourceText, Status
from schemas.words import MEMBERS, NO_STATUS


class EndStatus(Status):
    """How sure one end of a window is, which there may not be."""

    def __init__(self, end: str) -> None:
        text = f"{MEANING}; stated by the caller or the shop; none where there is no {end}."
        name = f"{end}.status"
        super().__init__((*ANY_STATUS, NO_STATUS), attribute=name, metadata={"description": text})


class TorqueWindowPart(Part):
    """Minimum, target and maximum torque, each with what it rests on and how sure it is."""

    only_full = frozenset(
        {
            "minimum_basis",
            "minimum_status",
            "target_basis",
            "target_status",
            "maximum_basis",
            "maximum_status",
        }
    )

    minimum = knowable(
        Quantity(
            "torque",
            attribute="minimum.torque",
            metadata={"description": "Lowest make-up torque that the joint may have."},
        )
    )
    minimum_basis = Basis()
    minimum_status = EndStatus("minimum")
    target = Quantity(
        "torque",
        attribute="target.torque",
        metadata={"description": "Make-up torque by the formula, the table or the caller, as printed."},
    )
    target_basis = Basis(allow_none=False)
    target_status = Status(attribute="target.status")
    maximum = knowable(
        Quantity(
            "torque",
            attribute="maximum.torque",
            metadata={"description": "Highest make-up torque that the joint may have."},
        )
    )
    maximum_basis = Basis()
    maximum_status = EndStatus("maximum")


class BendingStrengthRatioPart(Part):
    """Bending strength ratio and the range accepted at this diameter."""

    value = Number(
        metadata={"description": "Section modulus of the box at the end of the pin over that of the pin."}
    )
    accepted_minimum = Number(metadata={"description": "Lowest ratio accepted at this outside diameter."})
    accepted_maximum = Number(metadata={"description": "Highest ratio accepted at this outside diameter."})


class TabulatedPart(Part):
    """The published row for exactly this joint."""

    value = Quantity("torque", metadata={"description": "Printed value times the compound friction factor."})
    row = Words(metadata={"description": "Its name among the published rows, such as R0001."})
    status = Status()
    source = SourceText()
    resolution = Quantity("torque", metadata={"description": "The step to which the table is rounded."})
    difference = Number(metadata={"description": "Formula over row, less 1."})
    doubt = Words(allow_none=True, metadata={"description": "Why the row must not be used, if so."})


class RotaryShoulderedAnswer(Part):
    """Make-up torque of a rotary shouldered joint."""

    only_full = frozenset(
        {
            "torsional_yield_basis",
            "torsional_yield_friction_factor",
            "tabulated",
            "connection",
            "pin_stress_level",
            "box_stress_level",
            "pin_area",
            "box_area",
        }
    )

    torque = fields.Nested(TorqueWindowPart)
    weaker_member = OneOf(
        MEMBERS, metadata={"description": "The member whose stress times area is lower; it sets the torque."}
    )
    preload = Quantity("force", metadata={"description": "Axial force in the joint at the formula's torque."})
    torsional_yield = knowable(
        Quantity("torque", metadata={"description": "Torque at which the joint yields."})
    )
    torsional_yield_basis = Basis()
    torsional_yield_friction_factor = Number(
        allow_none=True, metadata={"description": "Compound friction factor that torsional_yield is for."}
    )
    bending_strength_ratio = knowable(
        fields.Nested(BendingStrengthRatioPart, metadata={"description": "Bending strength of box over pin."})
    )
    tabulated = knowable(
        fields.Nested(TabulatedPart, metadata={"description": "What a published table has for this joint."})
    )
    connection = Words(metadata={"description": "Designation, whatever name was asked for."})
    pin_stress_level = Quantity("stress", metadata={"description": "Stress that the pin is made up to."})
    box_stress_level = Quantity("stress", metadata={"description": "Stress that the box is made up to."})
    pin_area = Quantity("area", metadata={"description": "Section of the pin, 3/4 in from its shoulder."})
    box_area = Quantity("area", metadata={"description": "Section of the box, 3/8 in from its shoulder."})
