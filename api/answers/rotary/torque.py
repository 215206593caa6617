"""The make-up torque of a rotary shouldered connection, and what is to be looked at before it is made up.

`torsional_yield` is for the compound friction factor of the request, which it states, so that it can be
compared with the torque beside it.

The status of an answer is that of its target. The 10 % above a drill-collar value is from memory, and
`maximum_status` says so. That window holds only where the weaker member is at the stress level of the
standard; otherwise both ends are open, with that reason.

A pin bore above the thread root at the nose is to be looked at, not refused: print has such rows (2-3/8 REG,
1-3/4 in). One that leaves no metal at the nose is refused.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from api.answers.answer import Answer
from api.answers.rotary.bit import bit_at_its_torque, bit_window
from api.answers.rotary.printed_row import compare, row_or_refusal
from api.answers.rotary.request import Joint, joint_from
from api.answers.shop import Policy, Shop, withheld
from api.engineering.checks import NOISE, Amount, Finding
from api.engineering.provenance import Knowable, Known, NotKnown, Source, known, weakest_status
from api.engineering.rotary.sizes import (
    AS_MEASURED,
    NARROWEST_SHOULDER,
    USUAL_WEAR,
    accepted_range,
    bending_strength_ratio,
    pin_nose_root_diameter,
    shoulder_opening_moment,
    shoulder_width,
)
from api.engineering.rotary.torque import MakeUp, make_up
from api.engineering.torque_window import End, TorqueWindow
from api.engineering.working import Step
from api.reference.connections import SAME_LENGTH
from api.reference.make_up_torque import PRINTED_RANGES

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
    window = replace(window, findings=tuple(joint_findings(joint)))
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


OLD_EDITION = Finding(
    level="look",
    code="old_edition",
    text="Edition 1998 lets the shoulder radius grow with the outside diameter. Addendum 1 (2003) corrected "
    "this.",
    step="identify",
    remedy="Use it only to check old print.",
)


def bending_strength_ratio_of(joint: Joint) -> dict[str, float] | None:
    """Bending strength ratio of a drill collar and its accepted range (API RP 7G-2); None where none is."""
    if joint.component != "drill_collar":
        return None
    low, high = accepted_range(joint.outside_diameter)
    value = bending_strength_ratio(joint.connection.geometry, joint.outside_diameter, joint.bore)
    return {"value": value, "accepted_minimum": low, "accepted_maximum": high}


def joint_findings(joint: Joint) -> Iterator[Finding]:
    """Everything in which this joint differs from one of the printed tables."""
    yield from _worn_shoulder(joint)
    yield from _outside_print(joint)
    ratio = bending_strength_ratio_of(joint)
    if ratio:
        yield from _ratio_outside(ratio)
    root = pin_nose_root_diameter(joint.thread)
    if not joint.bore < root:
        yield Finding(
            level="look",
            code="no_wall_at_pin_nose",
            text="The pin bore {value} is not smaller than the thread root at the pin nose, {limit}. The "
            "last threads have no wall below them.",
            step="identify",
            remedy="Check the bore.",
            value=Amount("length", joint.bore),
            limit=Amount("length", root),
        )
    if joint.edition == "1998":
        yield OLD_EDITION
    yield from _by_practice(joint)


MATES_OF_TOOL_JOINTS = ("kelly", "saver_sub")
"""Parts by the rule of drill collars whose mates are often tool joints (common practice, no source)."""


def _by_practice(joint: Joint) -> Iterator[Finding]:
    """A part whose owner may use the higher stress of a tool joint, where neither stress level is given."""
    assumed = {assumption.field for assumption in joint.assumptions}
    if joint.part in MATES_OF_TOOL_JOINTS and {"pin_stress_level", "box_stress_level"} <= assumed:
        yield Finding(
            level="look",
            code="component_by_practice",
            text=f"This {joint.part_name} is made up by the rule of drill collars. Its mate is often a tool "
            "joint, which has a higher stress.",
            step="identify",
            remedy="Ask which rule its owner uses. Give component=tool_joint or the stress levels.",
        )


def _worn_shoulder(joint: Joint) -> Iterator[Finding]:
    width = shoulder_width(joint.thread, joint.outside_diameter)
    if width < NARROWEST_SHOULDER * (1 - NOISE):
        yield Finding(
            level="stop",
            code="worn_shoulder",
            text="Shoulder left: {value}. It must be {limit} or more.",
            step="identify",
            remedy=f"Take the {joint.part_name} out of service or have it inspected.",
            value=Amount("length", width),
            limit=Amount("length", NARROWEST_SHOULDER),
        )


def _outside_print(joint: Joint) -> Iterator[Finding]:
    name = joint.connection.designation
    printed = PRINTED_RANGES.get((name, joint.component))
    if printed is None:
        return
    sizes = (
        ("box outside diameter", joint.outside_diameter, printed.box_outside_diameter, USUAL_WEAR),
        ("pin bore", joint.bore, printed.pin_bore, AS_MEASURED),
    )
    for what, value, (low, high), below in sizes:
        if not low - below - SAME_LENGTH <= value <= high + AS_MEASURED + SAME_LENGTH:
            yield Finding(
                level="look",
                code="outside_printed_range",
                text=f"The {what} is {{value}}. The printed rows of {name} have {{low}} to {{high}}.",
                step="identify",
                remedy="Measure it again, and check that it is this connection.",
                value=Amount("length", value),
                limit=Amount("length", low if value < low else high),
                amounts={"low": Amount("length", low), "high": Amount("length", high)},
            )


def _ratio_outside(ratio: Mapping[str, float]) -> Iterator[Finding]:
    value, low, high = ratio["value"], ratio["accepted_minimum"], ratio["accepted_maximum"]
    if not low <= value <= high:
        member = "box" if value < low else "pin"
        yield Finding(
            level="look",
            code="bending_strength_ratio",
            text="The bending strength ratio is {value}. The accepted range is {low} to {high}: the "
            f"{member} is the weaker in bending.",
            step="identify",
            remedy="Measure both sizes again. Ask who plans the string whether it may run.",
            value=Amount("number", value),
            limit=Amount("number", low if value < low else high),
            amounts={"low": Amount("number", low), "high": Amount("number", high)},
        )
