"""The working of each calculation as a table: what is shown with ``steps=true``."""

from api.engineering.working import Step

_RP7G = "API RP 7G App. A"

ROTARY_STEPS = (
    Step("C", "pitch diameter at the gauge point", "from the thread table", "thread.pitch_diameter", "length", "API Spec 7-2"),
    Step("Lpc", "pin length", "from the thread table", "thread.pin_length", "length", "API Spec 7-2"),
    Step("Qc", "box counterbore", "from the thread table", "thread.counterbore", "length", "API Spec 7-2"),
    Step("H", "thread height, not truncated", "from the thread table", "thread.thread_height", "length", "API Spec 7-2"),
    Step("Srs", "root truncation", "from the thread table", "thread.root_truncation", "length", "API Spec 7-2"),
    Step("p", "lead", "1 / threads per inch", "thread.lead", "length", "API Spec 7-2"),
    Step("B", "thread loss of the pin section", "2 (H/2 - Srs) + tpr/96", "make_up.B", "length", _RP7G),
    Step("E", "taper gain of the box section", "tpr/32", "make_up.E", "length", _RP7G),
    Step("Ap", "pin area 3/4 in from the shoulder", "pi/4 ((C - B)^2 - ID^2)", "make_up.Ap", "area", _RP7G),
    Step("Ab", "box area 3/8 in from the shoulder", "pi/4 (OD^2 - (Qc - E)^2)", "make_up.Ab", "area", _RP7G),
    Step("Rt", "mean thread radius", "(2 C - (Lpc - 5/8) tpr/12) / 4", "make_up.Rt", "length", _RP7G),
    Step("OD_eq", "outside diameter of equal areas", "sqrt((Qc - E)^2 + (C - B)^2 - ID^2)", "make_up.OD_equal", "length", _RP7G),
    Step("OD'", "outside diameter in Rs", "min(OD, OD_eq); edition 1998: OD", "make_up.OD_shoulder", "length", _RP7G),
    Step("Rs", "mean shoulder radius", "(OD' + Qc) / 4", "make_up.Rs", "length", _RP7G),
    Step("p/2pi", "lead arm", "p / 2 pi", "make_up.lead_arm", "length", _RP7G),
    Step("Rt f/cos", "thread friction arm, f = 0.08", "Rt f / cos(theta)", "make_up.thread_arm", "length", _RP7G),
    Step("Rs f", "shoulder friction arm, f = 0.08", "Rs f", "make_up.shoulder_arm", "length", _RP7G),
    Step("arm", "torque per preload", "p/2pi + Rt f/cos(theta) + Rs f", "make_up.arm", "length", _RP7G),
    Step("Sp Ap", "pin force", "pin stress level times pin area", "make_up.pin_force", "force", _RP7G),
    Step("Sb Ab", "box force", "box stress level times box area", "make_up.box_force", "force", _RP7G),
    Step("F", "preload", "min(Sp Ap, Sb Ab)", "make_up.preload", "force", _RP7G),
    Step("T1", "torque with the reference compound", "F arm", "make_up.reference_torque", "torque", _RP7G),
    Step("FF", "compound friction factor", "as given", "joint.compound_friction_factor", "number", "API RP 7A1"),
    Step("T", "make-up torque", "FF T1", "make_up.torque", "torque", "API RP 7A1"),
)  # fmt: skip
