"""What the preload of a rotary shouldered joint rests on, and how a new one is broken in."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.rotary.loaded import Loaded
from api.answers.rotary.request import REFERENCE_COMPOUND, Joint
from api.answers.rotary.torque import COMPOUND, FORMULA, RATIO
from api.engineering.provenance import Source
from api.engineering.rotary.torque import FRICTION
from api.engineering.thread_geometry import pin_nose_root_diameter
from api.reference.connections import usual_stress_level

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
CAUTIONS = (
    "Separation and tension are an estimate. Stiffness is taken proportional to area, and pin and box "
    "as equally long. Bending, pressure, temperature and shock are not in it. It has no margin.",
    "Dialset computes only the pin 3/4 in from its shoulder, the box 3/8 in from its shoulder, and "
    "their contact. It does not compute the pipe body, the upset or the threads.",
    "The preload is for the compound friction factor used here. It assumes a coefficient of friction "
    "of 0.08 with the reference compound. Another compound gives another preload. Real friction "
    "scatters from make-up to make-up, and the preload with it.",
)


def cautions(loaded: Loaded, ratio: Mapping[str, Any] | None, told: bool) -> Iterator[str]:
    """The cautions of this very answer."""
    joint, made = loaded.joint, loaded.made_up
    usual = usual_stress_level(joint.component, joint.connection)
    share = loaded.preload / min(made.Ap, made.Ab) / usual.stress
    if joint.component == "drill_collar" and share < 1 - 1e-3:
        yield (
            f"The preload is {share:.3g} of that at the stress level of API RP 7G, {usual.printed} psi. "
            "That level is a minimum for drill collars. The shoulder may open in bending."
        )
    if joint.component == "drill_collar" and share > MOST_OF_COLLAR:
        yield (
            f"The preload is {share:.3g} of that at the stress level of API RP 7G, {usual.printed} psi. "
            "Its usual range for drill collars ends at 1.1 (from memory)."
        )
    if joint.component == "tool_joint" and abs(share - 1) > 0.01:  # print rounds to 100 ft-lb
        yield (
            f"The preload is {share:.3g} of that at the stress level API RP 7G recommends for tool joints, "
            f"{usual.printed} psi."
        )
    if ratio and ratio["within_range"] != "yes":
        yield (
            f"The bending strength ratio {ratio['value']:.2f} is outside "
            f"{ratio['accepted_minimum']:.2f} to {ratio['accepted_maximum']:.2f}, the range of API RP "
            "7G-2 at this diameter."
        )
    if loaded.state and told and loaded.state.separated:
        yield "At this tension the shoulder separates. It no longer seals and no longer shields the pin."
    if not joint.bore < pin_nose_root_diameter(joint.thread):
        yield (
            "The pin bore is not smaller than the thread root at the pin nose. The last threads have "
            "no wall below them. Check the bore."
        )
    if joint.edition == "1998":
        yield (
            "Edition 1998 lets the shoulder radius grow with the outside diameter. Use it only to "
            "check old print."
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
        if yields_given[member]:
            yield f"yield strength of the {member}", "as given", Source("", "stated", "the caller")
        elif strength is not None and usual is not None:
            yield f"yield strength of the {member}", "120,000 psi", usual


def _of_tension() -> Iterator[tuple[str, str, Source]]:
    yield "share of a tension that the pin takes", "pin area over pin and box area", TENSION
    yield (
        "divisor of the pin tensile limit",
        "1 (the standard is remembered with 1.1, quoted with 1)",
        TENSION,
    )
    yield "shoulder friction after separation (T4)", "none", TENSION
