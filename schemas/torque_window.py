"""The torque of a joint, as answered."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import Basis, Part, Words, knowable
from schemas.core.quantity_fields import Quantity


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

    minimum = knowable(Quantity("torque", attribute="minimum.torque"))
    minimum_basis = Basis()
    minimum_status = Words(attribute="minimum.status")
    target = Quantity("torque", attribute="target.torque")
    target_basis = Basis(allow_none=False)
    target_status = Words(attribute="target.status")
    maximum = knowable(Quantity("torque", attribute="maximum.torque"))
    maximum_basis = Basis()
    maximum_status = Words(attribute="maximum.status")


class BendingStrengthRatioPart(Part):
    """Bending strength ratio and the range accepted at this diameter."""

    value = Number()
    accepted_minimum = Number()
    accepted_maximum = Number()


class TabulatedPart(Part):
    """The published row for exactly this joint."""

    value = Quantity("torque", metadata={"description": "Printed value times the compound friction factor."})
    row = Words()
    status = Words()
    source = Words()
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
    weaker_member = Words(metadata={"description": "pin or box."})
    preload = Quantity("force", metadata={"description": "Axial force in the joint at the formula's torque."})
    torsional_yield = knowable(Quantity("torque"))
    torsional_yield_basis = Basis()
    torsional_yield_friction_factor = Number(
        allow_none=True, metadata={"description": "Compound friction factor that torsional_yield is for."}
    )
    bending_strength_ratio = knowable(fields.Nested(BendingStrengthRatioPart))
    tabulated = knowable(fields.Nested(TabulatedPart))
    connection = Words()
    pin_stress_level = Quantity("stress")
    box_stress_level = Quantity("stress")
    pin_area = Quantity("area")
    box_area = Quantity("area")
