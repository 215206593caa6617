"""A bit: its torque is a range of its pin's connection, not a formula's.

The range names no target, so Dialset takes the middle: own judgement, listed in each answer. What the formula
says beside it, preload and stress in the smaller section, is said at that torque.
"""

from dataclasses import replace

from api.answers.rotary.request import Joint
from api.engineering.provenance import Assumption, Known, weakest_status
from api.engineering.rotary.torque import make_up
from api.engineering.torque_window import End, TorqueWindow
from api.reference.bit_torque import BitTorque

MIDDLE = Assumption(
    "torque_target", "middle of the range", "own judgement: the range of a bit names no torque to aim at"
)


def middle(bit: BitTorque) -> float:
    """The torque aimed at with the reference compound, N.m."""
    return (bit.minimum + bit.maximum) / 2


def bit_at_its_torque(joint: Joint, bit: BitTorque) -> Joint:
    """The joint at the stress level, Pa, that the torque aimed at gives its smaller section."""
    at_one = make_up(joint.thread, joint.outside_diameter, joint.bore, 1.0, 1.0)
    stress = middle(bit) / at_one.reference_torque
    return replace(joint, pin_stress=stress, box_stress=stress)


def bit_window(joint: Joint, bit: BitTorque, torsional_yield: float | None) -> TorqueWindow:
    """The range of the table, times the compound friction factor."""
    factor = joint.compound_friction_factor
    status = weakest_status((bit.source,))
    compound = f", times the compound friction factor {factor:.10g}" if factor != 1.0 else ""

    def end(torque: float, what: str) -> End:
        return End(Known(factor * torque, f"{what} of the range of a roller-cone bit{compound}"), status)

    return TorqueWindow(
        end(bit.minimum, "low end"),
        end(middle(bit), "middle"),
        end(bit.maximum, "high end"),
        joint.sources,
        (*joint.assumptions, MIDDLE),
        torsional_yield,
    )
