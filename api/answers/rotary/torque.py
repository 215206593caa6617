"""The make-up torque of a rotary shouldered connection, beside its printed row.

`torsional_yield` is for the compound friction factor of the request, which it states, so that it can be
compared with the torque beside it.

The status of an answer is that of its target. The 10 % above a drill-collar value is from memory, and
`maximum_status` says so. That window holds only where the weaker member is at the stress level of the
standard; otherwise both ends are open, with that reason.

A pin bore above the thread root at the nose is to be looked at, not refused: print has such rows (2-3/8 REG,
1-3/4 in). One that leaves no metal at the nose is refused.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from api.answers.answer import Answer
from api.answers.policy import Policy
from api.answers.rotary.bit import bit_at_its_torque, bit_window
from api.answers.rotary.findings import bending_strength_ratio_of, joint_findings
from api.answers.rotary.request import Joint, joint_from
from api.answers.shop import Shop, withheld
from api.engineering.checks import Amount, Fault, NoAnswer, refuse
from api.engineering.provenance import Knowable, Known, NotKnown, Source, known, weakest_status
from api.engineering.rotary.shoulder_opening import shoulder_opening_moment
from api.engineering.rotary.torque import MakeUp, make_up
from api.engineering.torque_window import End, TorqueWindow, from_memory
from api.engineering.working import Step
from api.reference.make_up_torque import PublishedTorque, TableKey, published_row, rows_around

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


def _key(joint: Joint) -> TableKey | None:
    """The key of the row to look for; None for mates of two stress levels, which no table has."""
    if abs(joint.pin_stress - joint.box_stress) > 1.0:
        return None
    return TableKey(
        joint.connection.designation,
        joint.component,
        joint.low_torque_face,
        joint.edition == "2003",
        joint.pin_stress,
    )


def _row(joint: Joint) -> PublishedTorque | None:
    key = _key(joint)
    return published_row(key, joint.outside_diameter, joint.bore) if key else None


def compare(joint: Joint, torque: float) -> dict[str, Any] | None:
    """The published row for exactly this joint beside the computed torque, if there is one.

    The difference is that of the formula from the row, as a share of the row, both at the friction
    factor of the request.
    """
    row = _row(joint)
    if row is None:
        return None
    published = row.torque * joint.compound_friction_factor
    return {
        "value": published,
        "row": row.row,
        "status": row.source.status,
        "source": row.source.source,
        "resolution": row.resolution,
        "difference": torque / published - 1,
        "doubt": row.doubt or None,
    }


def row_or_refusal(joint: Joint) -> PublishedTorque:
    """The published row for exactly this joint.

    Raises:
        NoAnswer: ``no_published_row`` with the rows around it, or ``row_in_doubt``.
    """
    row = _row(joint)
    if row is None:
        raise NoAnswer([_no_row(joint)])
    if not row.doubt and not row.exact:
        text = (
            f"the only row, {row.row}, is of an older edition and rounded to {{step}}: ask with basis=formula"
        )
        raise refuse("row_rounded", text, "basis", step=Amount("torque", row.resolution))
    if row.doubt:
        text = f"row {row.row} is in doubt ({row.doubt}): ask with basis=formula"
        raise NoAnswer([Fault("row_in_doubt", text, "basis")])
    return row


def _no_row(joint: Joint) -> Fault:
    key = _key(joint)
    around = rows_around(key, joint.outside_diameter, joint.bore) if key else []
    if not around:
        return Fault(
            "no_published_row",
            "Dialset has no table row for this connection, component, edition and stress level: ask "
            "with basis=formula",
            "basis",
        )
    parts: list[str] = []
    amounts: dict[str, Amount] = {}
    for number, row in enumerate(around):
        parts.append(f"row {row.row}: {{od{number}}} x {{bore{number}}}, {{torque{number}}}")
        amounts |= {
            f"od{number}": Amount("length", row.box_outside_diameter),
            f"bore{number}": Amount("length", row.pin_bore),
            f"torque{number}": Amount("torque", row.torque),
        }
    text = "no published row is for exactly this joint, and Dialset guesses none; the rows around it: "
    return Fault("no_published_row", text + "; ".join(parts), "basis", amounts)


FORMULA = Source(
    "make-up torque formula",
    "read",
    "API RP 7G, Appendix A, torque calculations for rotary shouldered connections (public copy)",
)
COMPOUND = Source("friction factor of the thread compound", "read", "API RP 7A1 (public copy)")
COLLAR_MAXIMUM = Source(
    "drill-collar maximum, 10 % above the table value",
    "from memory",
    "API RP 7G, note to the drill-collar table",
)
RATIO = Source(
    "bending strength ratio",
    "read",
    "API Spec 7, drill-collar table; accepted ranges API RP 7G-2 (public copies)",
)


NO_WINDOW = {
    "tool_joint": "API RP 7G gives tool joints one value, no minimum or maximum; state a torque_tolerance",
    "drill_collar": "at this stress level the value is not that of API RP 7G, whose minimum and maximum hold "
    "for its own only; state a torque_tolerance",
}


YIELD = "the make-up formula at the yield strength of each member, for the compound friction factor shown"
NO_YIELD = (
    "needs pin_yield_strength and box_yield_strength: the material of a bit is not fixed by its connection"
)
NO_RATIO = "its accepted range is that of drill collars; none is published for tool joints and bits"
NO_ROW = "no published row for exactly this joint is held"


@dataclass(frozen=True)
class RotaryResult:
    """The results of one rotary shouldered joint, SI."""

    joint: Joint
    made_up: MakeUp
    window: TorqueWindow


def rotary_window(values: Mapping[str, Any], shop: Shop) -> TorqueWindow:
    """The torque window of a rotary shouldered joint from its loaded request."""
    found = rotary_result(values, shop.policy)
    joint = found.joint
    size = joint.outside_diameter, joint.thread.counterbore
    return replace(found.window, opening_moment=shoulder_opening_moment(found.made_up.preload, *size))


def rotary_result(values: Mapping[str, Any], policy: Policy) -> RotaryResult:
    """Computes one joint; where it has no window, the policy of the shop may say how wide it is.

    Raises:
        NoAnswer: impossible geometry, an unknown or undefined connection, no published row.
    """
    joint = joint_from(values)
    if joint.bit:
        joint = bit_at_its_torque(joint, joint.bit)
    made_up = make_up(
        joint.thread,
        joint.outside_diameter,
        joint.bore,
        joint.pin_stress,
        joint.box_stress,
        joint.compound_friction_factor,
        cap_shoulder_radius=joint.edition == "2003",
    )
    window = _bit_or_formula(joint, made_up)
    window = replace(window, findings=(*joint_findings(joint), *from_memory(window.target)))
    stated = values.get("torque_tolerance")
    return RotaryResult(joint, made_up, policy.widened(window, (joint.part, joint.component), stated))


def _bit_or_formula(joint: Joint, made_up: MakeUp) -> TorqueWindow:
    if joint.bit:
        return bit_window(joint, joint.bit, _torsional_yield(joint, made_up))
    if joint.basis == "table":
        row = row_or_refusal(joint)
        target = row.torque * joint.compound_friction_factor
        basis, reason = row.source, f"published value of row {row.row}"
    else:
        target, basis, reason = made_up.torque, FORMULA, "formula of API RP 7G at the stress levels used"
    if joint.compound_friction_factor != 1.0:
        reason += f", times the compound friction factor {joint.compound_friction_factor:.10g}"
    return _window(joint, made_up, target, reason, basis)


def _window(joint: Joint, made_up: MakeUp, target: float, reason: str, basis: Source) -> TorqueWindow:
    compound = (COMPOUND,) if joint.compound_friction_factor != 1.0 else ()
    sources = (basis, *compound, *joint.sources)
    status = weakest_status(sources)
    goal = End(Known(target, reason), status)
    if joint.component == "drill_collar" and joint.at_usual_stress(made_up.weaker_member):
        minimum = End(Known(target, "API RP 7G: the drill-collar value is a minimum"), status)
        maximum = End(Known(1.1 * target, COLLAR_MAXIMUM.what), COLLAR_MAXIMUM.status)
        sources = (*sources, COLLAR_MAXIMUM)
    else:
        minimum = maximum = End(NotKnown(NO_WINDOW[joint.component]))
    torsional_yield = _torsional_yield(joint, made_up)
    return TorqueWindow(minimum, goal, maximum, sources, joint.assumptions, torsional_yield)


def rotary_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/torque/rotary-shouldered``."""
    computed = rotary_result(values, shop.policy)
    joint, made_up, window = computed.joint, computed.made_up, shop.confirmed(computed.window)
    sources = [*window.sources, *joint.yield_sources]
    if joint.basis != "formula":
        sources.append(FORMULA)
    ratio = bending_strength_ratio_of(joint)
    if ratio:
        sources.append(RATIO)
    torsional_yield = _told(window.torsional_yield, joint, shop)
    result = {
        "torque": window,
        "weaker_member": made_up.weaker_member,
        "preload": made_up.preload,
        "torsional_yield": torsional_yield,
        "torsional_yield_friction_factor": joint.compound_friction_factor if torsional_yield.value else None,
        "bending_strength_ratio": known(ratio, NO_RATIO),
        "tabulated": known(compare(joint, made_up.torque), NO_ROW),
        "connection": joint.connection.designation,
        "pin_stress_level": joint.pin_stress,
        "box_stress_level": joint.box_stress,
        "pin_area": made_up.Ap,
        "box_area": made_up.Ab,
    }
    return Answer(
        result=result,
        sources=tuple(sources),
        status=window.target.status,
        assumptions=window.assumptions,
        findings=window.findings,
        working={"thread": joint.thread, "joint": joint, "make_up": made_up},
        steps=ROTARY_STEPS,
    )


def _told(torque: float | None, joint: Joint, shop: Shop) -> Knowable[float]:
    """The torsional yield, unless it rests on a strength less sure than the shop accepts."""
    for source in joint.yield_sources:
        if torque is not None and source.status not in shop.accepted_statuses:
            return withheld(source.what, source.status)
    return known(torque, NO_YIELD, YIELD)


def _torsional_yield(joint: Joint, made_up: MakeUp) -> float | None:
    """Torque at which the weaker member yields, N.m: the same formula with S = yield strength (API RP 7G)."""
    if joint.pin_yield is None or joint.box_yield is None:
        return None
    force = min(joint.pin_yield * made_up.Ap, joint.box_yield * made_up.Ab)
    return force * made_up.arm * joint.compound_friction_factor
