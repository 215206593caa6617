"""Torque and preload of a bolt, as answered."""

from marshmallow import fields

from schemas.bolts.request import METHODS
from schemas.core.fields import Number
from schemas.core.parts import Basis, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import Quantity
from schemas.provenance import SourceText, Status
from schemas.torque_window import TorqueWindowPart
from schemas.words import YES_NO

AREA_STANDARDS = ("ISO 898-1", "ASME B1.1")
"""Whose definitions of the areas of a thread are used."""
AREAS = "Whose definition both areas follow."
PRELOAD = "Axial force in the bolt at the torque of this answer."


class TorqueSplitPart(Part):
    """The parts of the torque, by where it goes."""

    pitch = Quantity("torque", metadata={"description": "Stretches the bolt."})
    thread_friction = knowable(
        Quantity("torque", metadata={"description": "Goes into friction of the thread."})
    )
    bearing_friction = knowable(
        Quantity("torque", metadata={"description": "Goes into friction under the turned head or nut."})
    )


class LooseningPart(Part):
    """What loosens the bolt again."""

    torque = Quantity(
        "torque", metadata={"description": "Torque that loosens it, at the same friction and full preload."}
    )
    self_locking = OneOf(YES_NO, metadata={"description": "Whether the thread alone holds the preload."})


class PermissiblePart(Part):
    """F_M of VDI 2230 and its torque."""

    preload = Quantity(
        "force",
        metadata={
            "description": "Preload at which tension and plastic torsion together reach 0.9 of the yield "
            "strength."
        },
    )
    torque = Quantity("torque", metadata={"description": "Torque that gives that preload."})


class TighteningStressPart(Part):
    """Shear in the shank while tightening, and tension and shear together, by both conventions."""

    shear_plastic = Quantity("stress", metadata={"description": "Shank plastic throughout, k = 1.5."})
    combined_plastic = Quantity("stress", metadata={"description": "Decides what is refused."})
    combined_plastic_share_of_yield = Number(
        metadata={"description": "combined_plastic over the yield strength."}
    )
    shear_elastic = Quantity(
        "stress", metadata={"description": "Shear at the surface of an elastic shank, k = 2."}
    )
    combined_elastic = Quantity(
        "stress", metadata={"description": "Tension and shear_elastic together. It decides nothing."}
    )
    combined_elastic_share_of_yield = Number(
        metadata={"description": "combined_elastic over the yield strength."}
    )


class StretchPart(Part):
    """Stretch of the bolt alone."""

    elongation = Quantity("length", metadata={"description": "How much longer the preload makes the bolt."})
    nut_angle = knowable(
        Quantity(
            "angle",
            metadata={"description": "Angle that the nut turns for this elongation alone. It is no setting."},
        )
    )


class ScatterPart(Part):
    """How far the preload may lie off by the way of tightening."""

    what = Words(metadata={"description": "The way of tightening, as its source calls it."})
    plus_minus_share = Number(metadata={"description": "Share either way, the largest published; used here."})
    plus_minus_share_least = Number(metadata={"description": "The smallest published."})
    tightening_factor = Number(metadata={"description": "alpha_A, highest over lowest preload."})
    preload_lower_bound = Quantity(
        "force", metadata={"description": "Lowest preload where the preload of the answer is the mean."}
    )
    preload_upper_bound = Quantity(
        "force", metadata={"description": "Highest preload where the preload of the answer is the mean."}
    )
    preload_lowest_if_highest = Quantity(
        "force",
        metadata={
            "description": "Preload over alpha_A: where the friction stated is the lowest, so that the "
            "preload is the highest (VDI 2230)."
        },
    )
    status = Status()
    source = SourceText()


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
    share_of_yield = Number(metadata={"description": "bolt_stress over the yield strength."})
    safety_margin_to_proof = knowable(
        Number(metadata={"description": "How many times the load would bring the bolt to its proof load."})
    )
    safety_margin_to_proof_basis = Basis()
    safety_margin_to_separation = Number(
        metadata={"description": "How many times the load would open the joint; at 1 or less it is open."}
    )
    separated = OneOf(YES_NO, metadata={"description": "Whether this load opens the joint."})


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

    preload = Quantity("force", metadata={"description": PRELOAD})
    bolt_stress = Quantity("stress", metadata={"description": "Tension on the stress area."})
    share_of_yield = Number(metadata={"description": "Tension over yield strength."})
    share_of_proof = knowable(Number(metadata={"description": "Tension over proof stress."}))
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
    torsional_yield = knowable(
        Quantity("torque", metadata={"description": "Torque at which the bolt yields while it is tightened."})
    )
    torsional_yield_basis = Basis()
    stretch = knowable(fields.Nested(StretchPart))
    stretch_basis = Basis()
    scatter = knowable(fields.Nested(ScatterPart))
    scatter_basis = Basis()
    in_service = knowable(fields.Nested(InServicePart))
    in_service_basis = Basis()
    thread = Words(metadata={"description": "Designation of the thread."})
    stress_area = Quantity("area", metadata={"description": "Area on which the tension is counted."})
    root_area = Quantity("area", metadata={"description": "Area at the root of the thread."})
    area_standard = OneOf(AREA_STANDARDS, metadata={"description": AREAS})
    lead_angle = Quantity("angle", metadata={"description": "Angle of the helix at the pitch diameter."})
    bearing_diameter = Quantity(
        "length",
        allow_none=True,
        metadata={"description": "Mean, under the turned head or nut; null where none counts."},
    )
    bolt_grade = Words(allow_none=True, metadata={"description": "Standard and grade; null where stated."})
    bolt_grade_sizes = Words(allow_none=True, metadata={"description": "The sizes it holds for."})
    yield_strength = Quantity("stress", metadata={"description": "Minimum yield strength of the bolt."})
    proof_stress = knowable(
        Quantity("stress", metadata={"description": "Proof stress of the grade, or as stated."})
    )
    method = OneOf(METHODS, metadata={"description": "As in the request; sources has whose equation it is."})


class BoltWindowPart(Part):
    """The torque wanted."""

    torque = fields.Nested(TorqueWindowPart)


class BoltTorqueAnswer(BoltPart, BoltWindowPart):
    """Make-up torque of a bolt."""


class BoltAppliedPart(Part):
    """The torque that was given."""

    applied_torque = Quantity("torque", metadata={"description": "The torque of the request."})


class BoltPreloadAnswer(BoltPart, BoltAppliedPart):
    """Preload of a bolt at an applied torque."""
