"""The working of the preload of a rotary shouldered joint."""

from itertools import takewhile

from api.engineering.working import Step
from api.working_steps import ROTARY_STEPS

_TORQUE = "API RP 7G App. A"
_YIELD = "the caller, or API RP 7G"
_TENSION = "API RP 7G A.8.3, from memory; statics"
_UP_TO_ARM = tuple(takewhile(lambda step: step.symbol != "Sp Ap", ROTARY_STEPS))

ROTARY_PRELOAD_STEPS = (
    *_UP_TO_ARM,
    Step("FF", "compound factor", "as given", "joint.compound_friction_factor", "number", "API RP 7A1"),
    Step("T", "applied torque", "as given", "loaded.torque", "torque", "the caller"),
    Step("F0", "preload", "T / (FF arm)", "loaded.preload", "force", _TORQUE),
    Step("Sp", "pin stress", "F0 / Ap", "pin_stress", "stress", "statics"),
    Step("Sb", "box stress", "F0 / Ab", "box_stress", "stress", "statics"),
    Step("Ymp", "yield strength of the pin", "as given or usual", "joint.pin_yield", "stress", _YIELD),
    Step("Ymb", "yield strength of the box", "as given or usual", "joint.box_yield", "stress", _YIELD),
    Step("T1", "torsional yield of the box", "FF Ymb Ab arm", "T1", "torque", _TORQUE),
    Step("T2", "torsional yield of the pin", "FF Ymp Ap arm", "T2", "torque", _TORQUE),
    Step("Po", "tension that separates the shoulder", "F0 (Ap + Ab) / Ab", "Po", "force", _TENSION),
    Step("P1", "tension that yields the pin alone", "Ymp Ap", "P1", "force", _TENSION),
    Step("Pc", "yields a pin in contact", "(P1 - F0) (Ap + Ab) / Ap", "contact", "force", _TENSION),
    Step("T3", "torque at which Po = P1", "FF P1 Ab / (Ap + Ab) arm", "T3", "torque", _TENSION),
    Step("T4", "yields a separated pin", "FF P1 (p/2pi + Rt f/cos(theta))", "T4", "torque", _TENSION),
    Step("P", "axial tension", "as given", "tension", "force", "the caller"),
    Step("Fp", "force in the pin", "P < Po: F0 + P Ap / (Ap + Ab); else P", "pin_force", "force", _TENSION),
    Step("Fs", "force left on the shoulder", "Fp - P", "shoulder_force", "force", _TENSION),
)  # fmt: skip
