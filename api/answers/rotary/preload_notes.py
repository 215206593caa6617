"""What the preload of a rotary shouldered joint rests on, and how a new one is broken in."""

from collections.abc import Iterator
from typing import Any

from api.answers.rotary.loaded import Loaded
from api.answers.rotary.request import REFERENCE_COMPOUND, Joint
from api.answers.rotary.torque import COMPOUND, FORMULA, RATIO
from api.answers.standing_notices import (
    COMPUTED,
    PRELOAD_ESTIMATE,
    PRELOAD_SCATTERS,
    SECTIONS_COMPUTED,
)
from api.engineering.checks import Amount, Finding
from api.engineering.provenance import Source
from api.engineering.rotary.torque import FRICTION
from api.reference.members import usual_stress_level

TENSION = Source(
    "combined tension and torque",
    "from memory",
    "API RP 7G A.8.3, not at hand; its equations follow from statics with stiffness proportional to area",
)
STATED_COMPOUND = Source("", "stated", "the caller; scales the torque by API RP 7A1")
OTHER_STANDARDS = Source("lower bending strength ratio below 6 in", "read", "other standards (public text)")
BREAK_IN = Source("stress level of a new tool joint at break-in", "read", "DS-1 (public text)")
ADVICE = (
    Source(
        "Make up a new or recut connection slowly to the full torque on a calibrated gauge. Break it "
        "out. Clean, inspect and dope it again. Repeat.",
        "read",
        "practice for new and recut connections (public text)",
    ),
    Source("About three make-ups before service.", "from memory", "practice for new and recut connections"),
)
TOOL_JOINT_ADVICE = Source(
    "Another published practice breaks in a new tool joint at 60,000 psi, break_in_torque. Its usual "
    "stress is 72,000 psi.",
    BREAK_IN.status,
    BREAK_IN.source,
)
MOST_OF_COLLAR = 1.1 + 1e-3
"""Preload over that of the table from which a drill collar is above its usual range (from memory)."""
PRELOAD_NOTICES = (COMPUTED, PRELOAD_ESTIMATE, SECTIONS_COMPUTED, PRELOAD_SCATTERS)
"""What holds for every preload of a rotary shouldered joint."""


def preload_findings(loaded: Loaded, told: bool) -> Iterator[Finding]:
    """What is to be looked at in this preload; the joint itself has its own findings."""
    joint, made = loaded.joint, loaded.made_up
    usual = usual_stress_level(joint.component, joint.connection)
    stress = loaded.preload / min(made.Ap, made.Ab)
    share = stress / usual.stress
    if joint.component == "drill_collar" and share < 1 - 1e-3:
        yield _unusual(
            "preload_below_usual",
            stress,
            usual.stress,
            "The stress is {value}. API RP 7G has {limit} as the least for drill collars. The shoulder may "
            "open in bending.",
            "Break it out, and make it up to its table torque.",
        )
    if joint.component == "drill_collar" and share > MOST_OF_COLLAR:
        yield _unusual(
            "preload_above_usual",
            stress,
            1.1 * usual.stress,
            "The stress is {value}. The usual range of drill collars ends at {limit} (from memory).",
            "Break it out, and inspect pin and box.",
        )
    if joint.component == "tool_joint" and abs(share - 1) > 0.01:  # print rounds to 100 ft-lb
        yield _unusual(
            "preload_not_usual",
            stress,
            usual.stress,
            "The stress is {value}. API RP 7G recommends {limit} for tool joints.",
            "Compare the torque with the one that was ordered.",
        )
    if loaded.state and told and loaded.state.separated:
        yield Finding(
            level="stop",
            code="shoulder_separates",
            text="At {value} of tension the shoulder separates. It no longer seals and no longer shields the "
            "pin.",
            step="verdict",
            remedy="Keep the tension below {limit}.",
            value=Amount("force", loaded.state.pin_force),
            limit=Amount("force", loaded.limits.Po),
        )


def _unusual(code: str, stress: float, limit: float, text: str, remedy: str) -> Finding:
    return Finding(
        level="look",
        code=code,
        text=text,
        step="verdict",
        remedy=remedy,
        value=Amount("stress", stress),
        limit=Amount("stress", limit),
    )


def break_in_advice(joint: Joint) -> list[dict[str, str]]:
    """How to break in a new connection of this component."""
    pieces = (*ADVICE, TOOL_JOINT_ADVICE) if joint.component == "tool_joint" else ADVICE
    return [{"what": each.what, "status": each.status, "source": each.source} for each in pieces]


def factors(joint: Joint, yields_given: dict[str, bool]) -> list[dict[str, Any]]:
    """Every factor and choice behind the answer with its status.

    ``yields_given``: for pin and box whether the caller stated the yield strength.
    """
    entries = [*_of_torque(joint), *_of_yield(joint, yields_given), *_of_tension()]
    if joint.component == "drill_collar":
        ranges = "1.90 to 2.50 below 6 in, 2.25 to 2.75 to 8 in, 2.50 to 3.20 above"
        entries.append(("accepted bending strength ratio", ranges, RATIO))
        entries.append(("lower limit of other standards", "1.80 below 6 in", OTHER_STANDARDS))
    else:
        entries.append(("stress level at break-in", "60,000 psi", BREAK_IN))
    return [
        {"what": what, "value": value, "status": source.status, "source": source.source}
        for what, value, source in entries
    ]


def _of_torque(joint: Joint) -> Iterator[tuple[str, str, Source]]:
    yield "coefficient of friction of thread and shoulder", f"{FRICTION}", FORMULA
    yield (
        "compound friction factor, divided out of the torque",
        f"{joint.compound_friction_factor:.10g}",
        COMPOUND if REFERENCE_COMPOUND in joint.assumptions else STATED_COMPOUND,
    )
    capped = "not capped" if joint.edition == "1998" else "capped where pin and box areas are equal"
    yield f"shoulder radius, edition {joint.edition}", capped, FORMULA
    yield "section of the pin", "3/4 in from its shoulder; old tensile tables, from memory, 5/8 in", FORMULA
    yield "section of the box", "3/8 in from its shoulder", FORMULA


def _of_yield(joint: Joint, yields_given: dict[str, bool]) -> Iterator[tuple[str, str, Source]]:
    usual = next((each for each in joint.sources if each.what.startswith("yield strength")), None)
    for member, strength in (("pin", joint.pin_yield), ("box", joint.box_yield)):
        source = usual or next(iter(joint.yield_sources), None)
        assumed = next((each for each in joint.assumptions if each.field == f"{member}_yield_strength"), None)
        if yields_given[member]:
            yield f"yield strength of the {member}", "as given", Source("", "stated", "the caller")
        elif strength is not None and source is not None and assumed is not None:
            yield f"yield strength of the {member}", assumed.value, source


def _of_tension() -> Iterator[tuple[str, str, Source]]:
    yield "share of a tension that the pin takes", "pin area over pin and box area", TENSION
    yield (
        "divisor of the pin tensile limit",
        "1 (the standard is remembered with 1.1, quoted with 1)",
        TENSION,
    )
    yield "shoulder friction after separation (T4)", "none", TENSION
