"""What is to be looked at in a rotary shouldered joint before it is made up; the same on every question."""

from collections.abc import Iterator, Mapping

from api.answers.rotary.request import Joint
from api.engineering.checks import NOISE, Amount
from api.engineering.findings import Finding
from api.engineering.rotary.bending_strength_ratio import accepted_range, bending_strength_ratio
from api.engineering.rotary.plausibility import AS_MEASURED, NARROWEST_SHOULDER, USUAL_WEAR, shoulder_width
from api.engineering.thread_geometry import pin_nose_root_diameter
from api.reference.make_up_torque import SAME_LENGTH, printed_range

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
    printed = printed_range(name, joint.component)
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
