"""A rotary shouldered joint at its applied torque and tension, or the refusal of what yields it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.rotary.request import Joint, joint_from
from api.engineering.checks import NoAnswer
from api.engineering.rotary.preload import (
    TensionLimits,
    TensionState,
    pin_yield_tension,
    preload_from_torque,
    tension_faults,
    tension_limits,
    torque_faults,
    torsional_yield,
    under_tension,
)
from api.engineering.rotary.torque import MakeUp, make_up
from schemas.core.quantity import read_quantity
from schemas.rotary.joint import HIGHEST_YIELD_STRENGTH

ANY_STRESS = {"pin_stress_level": 1.0, "box_stress_level": 1.0, "basis": "formula"}
"""Areas and arm are those of any stress level: a unit stress decides nothing, and is not an assumption."""
STRONGEST = read_quantity(HIGHEST_YIELD_STRENGTH, "stress").si


@dataclass(frozen=True)
class Loaded:
    """A joint at its applied torque, SI; None where the yield strength is not known."""

    joint: Joint
    made_up: MakeUp
    torque: float
    preload: float
    yields: Mapping[str, float | None]
    limits: TensionLimits
    state: TensionState | None

    @property
    def torsional_yield(self) -> float | None:
        """Applied torque that yields the weaker member, N.m; None unless both are known."""
        pin, box = self.yields["pin"], self.yields["box"]
        return None if pin is None or box is None else min(pin, box)

    @property
    def weaker_member(self) -> str:
        """The member that yields first, or where a yield strength is not known, the smaller section."""
        pin, box = self.yields["pin"], self.yields["box"]
        if pin is None or box is None:
            return "pin" if self.made_up.Ap < self.made_up.Ab else "box"
        return "pin" if pin < box else "box"


def loaded_joint(values: Mapping[str, Any], *, standard_steel: bool) -> Loaded:
    """The joint of a request at its applied torque and, where one is given, its tension.

    ``standard_steel``: whether a collar that states no yield strength is taken to be of standard steel.

    Raises:
        NoAnswer: the faults of the joint, ``torsional_yield_exceeded``, ``pin_yield_exceeded``.
    """
    joint = joint_from({**values, **ANY_STRESS}, standard_steel=standard_steel)
    made = make_up(
        joint.thread,
        joint.outside_diameter,
        joint.bore,
        joint.pin_stress,
        joint.box_stress,
        cap_shoulder_radius=joint.edition == "2003",
    )
    torque, tension = values["applied_torque"], values.get("axial_tension")
    factor = joint.compound_friction_factor
    preload = preload_from_torque(torque, made.arm, factor)
    _check(joint, made, torque, preload, tension)
    pin, box = joint.pin_yield, joint.box_yield
    yields = {
        "pin": None if pin is None else torsional_yield(pin, made.Ap, made.arm, factor),
        "box": None if box is None else torsional_yield(box, made.Ab, made.arm, factor),
    }
    limits = tension_limits(made, preload, factor, pin)
    state = None if tension is None else under_tension(tension, preload, made.Ap, made.Ab)
    return Loaded(joint, made, torque, preload, yields, limits, state)


def _check(joint: Joint, made: MakeUp, torque: float, preload: float, tension: float | None) -> None:
    """Refuse what yields the joint; where a yield strength is not known, what yields any steel."""
    factor = joint.compound_friction_factor
    known = {"pin": joint.pin_yield, "box": joint.box_yield}
    supposed = [member for member, strength in known.items() if strength is None]
    pin, box = joint.pin_yield or STRONGEST, joint.box_yield or STRONGEST
    limits = {
        "pin": torsional_yield(pin, made.Ap, made.arm, factor),
        "box": torsional_yield(box, made.Ab, made.arm, factor),
    }
    faults = torque_faults(torque, limits, supposed)
    if tension is not None:
        # A torque that is refused leaves no preload to judge with; the pin alone still has its limit.
        limit = pin_yield_tension(pin, made.Ap, made.Ab, 0.0 if faults else preload)
        faults += tension_faults(tension, limit, "pin" in supposed)
    if faults:
        raise NoAnswer(faults)
