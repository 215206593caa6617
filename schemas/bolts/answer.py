"""Torque and preload of a bolt, as answered."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import Basis, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.torque_window import TorqueWindowPart


class TorqueSplitPart(Part):
    """The parts of the torque, by where it goes."""

    pitch = Quantity("torque", metadata={"description": "Stretches the bolt."})
    thread_friction = knowable(Quantity("torque"))
    bearing_friction = knowable(Quantity("torque"))


class LooseningPart(Part):
    """What loosens the bolt again."""

    torque = Quantity("torque")
    self_locking = Words(metadata={"description": "yes or no: does the thread alone hold."})


class PermissiblePart(Part):
    """F_M of VDI 2230 and its torque."""

    preload = Quantity("force")
    torque = Quantity("torque")


class TighteningStressPart(Part):
    """Shear in the shank while tightening, and tension and shear together, by both conventions."""

    shear_plastic = Quantity("stress", metadata={"description": "Shank plastic throughout, k = 1.5."})
    combined_plastic = Quantity("stress", metadata={"description": "Decides what is refused."})
    combined_plastic_share_of_yield = Number()
    shear_elastic = Quantity(
        "stress", metadata={"description": "Shear at the surface of an elastic shank, k = 2."}
    )
    combined_elastic = Quantity("stress")
    combined_elastic_share_of_yield = Number()


class StretchPart(Part):
    """Stretch of the bolt alone."""

    elongation = Quantity("length")
    nut_angle = knowable(
        Quantity(
            "angle",
            metadata={"description": "Angle that the nut turns for this elongation alone. It is no setting."},
        )
    )


class ScatterPart(Part):
    """How far the preload may lie off by the way of tightening."""

    what = Words()
    plus_minus_share = Number(metadata={"description": "Share either way, the largest published; used here."})
    plus_minus_share_least = Number(metadata={"description": "The smallest published."})
    tightening_factor = Number(metadata={"description": "alpha_A, highest over lowest preload."})
    preload_lower_bound = Quantity(
        "force", metadata={"description": "Lowest preload where the preload of the answer is the mean."}
    )
    preload_upper_bound = Quantity("force", metadata={"description": "Likewise."})
    preload_lowest_if_highest = Quantity(
        "force",
        metadata={
            "description": "Preload over alpha_A: where the friction stated is the lowest, so that the "
            "preload is the highest (VDI 2230)."
        },
    )
    status = Words()
    source = Words()


class InServicePart(Part):
    """The bolt under an external load that pulls the joint apart."""

    bolt_load_share = Number(
        metadata={
            "description": "Share of the external load that the bolt takes: the load factor of VDI 2230, "
            "the stiffness constant C of textbooks."
        }
    )
    bolt_force = Quantity("force", metadata={"description": "Preload and share; all of the load once open."})
    bolt_stress = Quantity("stress", metadata={"description": "Tension on the stress area."})
    share_of_yield = Number()
    safety_margin_to_proof = knowable(
        Number(metadata={"description": "How many times the load would bring the bolt to its proof load."})
    )
    safety_margin_to_proof_basis = Basis()
    safety_margin_to_separation = Number(
        metadata={"description": "How many times the load would open the joint; at 1 or less it is open."}
    )
    separated = Words(metadata={"description": "yes or no: does this load open the joint."})


class BoltPart(Part):
    """What the answers for a torque and for a preload share."""

    only_full = frozenset(
        {
            "share_of_proof_basis",
            "nut_factor_from_friction",
            "nut_factor_from_friction_basis",
            "torque_split",
            "torque_split_basis",
            "loosening",
            "loosening_basis",
            "tightening_stress",
            "tightening_stress_basis",
            "permissible",
            "permissible_basis",
            "torsional_yield_basis",
            "stretch",
            "stretch_basis",
            "scatter",
            "scatter_basis",
            "in_service_basis",
            "thread",
            "stress_area",
            "root_area",
            "area_standard",
            "lead_angle",
            "bearing_diameter",
            "bolt_grade",
            "bolt_grade_sizes",
            "yield_strength",
            "proof_stress",
            "method",
        }
    )

    preload = Quantity("force")
    bolt_stress = Quantity("stress", metadata={"description": "Tension on the stress area."})
    share_of_yield = Number(metadata={"description": "Tension over yield strength."})
    share_of_proof = knowable(Number())
    share_of_proof_basis = Basis()
    nut_factor = Number(metadata={"description": "K = T / (F d) of this torque and preload."})
    nut_factor_from_friction = knowable(
        Number(
            metadata={"description": "K from the same friction, uniform pressure on the face (JIS B 1083)."}
        )
    )
    nut_factor_from_friction_basis = Basis()
    torque_split = fields.Nested(TorqueSplitPart)
    torque_split_basis = Basis()
    loosening = knowable(fields.Nested(LooseningPart))
    loosening_basis = Basis()
    tightening_stress = knowable(fields.Nested(TighteningStressPart))
    tightening_stress_basis = Basis()
    permissible = knowable(fields.Nested(PermissiblePart))
    permissible_basis = Basis()
    torsional_yield = knowable(Quantity("torque"))
    torsional_yield_basis = Basis()
    stretch = knowable(fields.Nested(StretchPart))
    stretch_basis = Basis()
    scatter = knowable(fields.Nested(ScatterPart))
    scatter_basis = Basis()
    in_service = knowable(fields.Nested(InServicePart))
    in_service_basis = Basis()
    thread = Words()
    stress_area = Quantity("area")
    root_area = Quantity("area")
    area_standard = Words(metadata={"description": "Whose definition both areas follow."})
    lead_angle = Quantity("angle")
    bearing_diameter = Quantity("length", allow_none=True, metadata={"description": "Mean, used."})
    bolt_grade = Words(allow_none=True, metadata={"description": "Standard and grade; null where stated."})
    bolt_grade_sizes = Words(allow_none=True, metadata={"description": "The sizes it holds for."})
    yield_strength = Quantity("stress")
    proof_stress = knowable(Quantity("stress"))
    method = Words(metadata={"description": "As in the request; sources has whose equation it is."})


class BoltWindowPart(Part):
    """The torque wanted."""

    torque = fields.Nested(TorqueWindowPart)


class BoltTorqueAnswer(BoltPart, BoltWindowPart):
    """Make-up torque of a bolt."""


class BoltAppliedPart(Part):
    """The torque that was given."""

    applied_torque = Quantity("torque")


class BoltPreloadAnswer(BoltPart, BoltAppliedPart):
    """Preload of a bolt at an applied torque."""
