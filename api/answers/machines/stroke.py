"""What a stroke of a machine does: rotation, torque from end to end, strokes for a rotation."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.job import profile_of
from api.answers.machines.profile import Profile, validity_checks
from api.answers.shop import Shop
from api.answers.standing_notices import BETWEEN_STROKES, COMPUTED, LAST_STROKE, StandingNotice
from api.engineering.checks import Fault, NoAnswer, collecting, findings_of, refuse
from api.engineering.machines.arm import Swing, square_length
from api.engineering.machines.cylinder import rod_assumptions
from api.engineering.machines.limits import diameter_check
from api.engineering.machines.stroke import (
    Stroke,
    arm_at,
    rotation_from_travel,
    square_position,
    stroke_between,
    strokes_for_rotation,
    useful_rotation,
)
from api.engineering.provenance import Assumption, Source, known
from api.engineering.working import Step

TRIANGLE = Source(
    "rotation and moment arm over the stroke",
    "read",
    "triangle of pipe centre, arm pin and base pin: cos(theta) = (a^2 + b^2 - L^2) / 2ab, h = dL/dtheta",
)
STROKE_NOTICES: tuple[StandingNotice, ...] = (LAST_STROKE, BETWEEN_STROKES, COMPUTED)
NEVER_SQUARE = (
    "the base is no farther from the pipe than the arm pin, so that the cylinder never stands square"
)
_ANGLE = "acos((a^2 + b^2 - L^2) / 2ab)"
STROKE_STEPS = (
    Step("a", "arm radius", "from the profile", "swing.arm_radius", "length", "profile"),
    Step("b", "base distance", "from the profile", "swing.base_distance", "length", "profile"),
    Step("L1", "shortest length in use", "as given, or closed", "stroke.start.length", "length", "profile"),
    Step("L2", "longest length in use", "as given, or open", "stroke.end.length", "length", "profile"),
    Step("theta1", "arm angle at L1", _ANGLE, "stroke.start.arm_angle", "angle", "triangle"),
    Step("theta2", "arm angle at L2", _ANGLE, "stroke.end.arm_angle", "angle", "triangle"),
    Step("dtheta", "rotation of the arm", "theta2 - theta1", "stroke.rotation", "angle", "triangle"),
    Step("h", "mean moment arm", "(L2 - L1) / dtheta", "stroke.mean_moment_arm", "length", "virtual work"),
    Step("lost", "lost in every stroke", "as given", "lost_motion", "angle", "the caller"),
    Step("used", "rotation of the joint", "dtheta - lost", "useful", "angle", "triangle"),
)  # fmt: skip


@dataclass(frozen=True)
class Wanted:
    """A rotation of the joint, rad, and the strokes it takes."""

    rotation: float
    strokes: int
    rotation_in_last_stroke: float


def stroke_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/stroke``.

    Raises:
        NoAnswer: ``no_stroke`` for a kind without arm and cylinder, ``outside_stroke``, ``dead_centre``,
            ``nothing_left_of_stroke``, and the profile's own faults.
    """
    profile, gripped = profile_of(values, shop), values.get("gripped_outside_diameter")
    checks = [
        *validity_checks(profile.governance, values.get("as_of"), shop.refuse_unfit),
        diameter_check(profile.limits, gripped),
    ]
    failed = [check.fault for check in checks if check.verdict == "fail"]
    if failed:
        raise NoAnswer(failed)
    swing = swing_of(profile, gripped)
    stroke = _stroke(swing, values)
    useful = useful_rotation(stroke.rotation, values["lost_motion"])
    wanted = _wanted(values, useful)
    result = {
        **_shown(swing, stroke),
        "useful_rotation_per_stroke": useful,
        "wanted": known(wanted, "neither rotation nor axial_travel is given"),
        "checks": checks,
    }
    return Answer(
        result=result,
        sources=(TRIANGLE,),
        status="stated",
        assumptions=(*_assumptions(values), *rod_assumptions(swing.cylinder)),
        findings=tuple(findings_of(checks)),
        working={"swing": swing, "stroke": stroke, "lost_motion": values["lost_motion"], "useful": useful},
        profile=profile.version,
        steps=STROKE_STEPS,
    )


def swing_of(profile: Profile, gripped_diameter: float | None) -> Swing:
    """Arm and cylinder of a machine: all that a stroke needs of it.

    Raises:
        NoAnswer: ``no_stroke`` for a kind without them, and for two cylinders that are not alike.
    """
    swing = profile.machine(gripped_diameter).swing
    if swing is None:
        raise refuse(
            "no_stroke",
            "the profile of this machine does not say how one length of a cylinder turns its arm",
            "machine",
            accepted="a machine with one cylinder on its arm, or two alike, whose base distance is known",
        )
    return swing


def _stroke(swing: Swing, values: Mapping[str, Any]) -> Stroke:
    start = values.get("used_from", swing.cylinder.closed_length)
    end = values.get("used_to", swing.cylinder.open_length)
    faults: list[Fault] = []
    for field, length in (("used_from", start), ("used_to", end)):
        with collecting(faults), _blamed_on(field):
            arm_at(swing, length)
    if faults:
        raise NoAnswer(faults)
    if not start < end:
        raise refuse("contradiction", "the part of the stroke in use has no length", "used_from")
    return stroke_between(swing, start, end)


@contextmanager
def _blamed_on(field: str) -> Iterator[None]:
    """Name the field of this request in a refusal of the arm, which knows it by another name."""
    try:
        yield
    except NoAnswer as refusal:
        accepted = "a pin-to-pin length within the stroke and 5 degrees or more from a dead centre"
        raise NoAnswer([replace(each, field=field, accepted=accepted) for each in refusal.faults]) from None


def _wanted(values: Mapping[str, Any], useful: float) -> Wanted | None:
    rotation = values.get("rotation")
    if "axial_travel" in values:
        rotation = rotation_from_travel(values["axial_travel"], values["lead"])
    if rotation is None:
        return None
    strokes = strokes_for_rotation(rotation, useful)
    return Wanted(rotation, strokes, rotation - (strokes - 1) * useful)


def _shown(swing: Swing, stroke: Stroke) -> dict[str, Any]:
    start, end = stroke.start.length, stroke.end.length
    return {
        "rotation_per_stroke": stroke.rotation,
        "start": stroke.start,
        "end": stroke.end,
        "smallest": stroke.smallest,
        "largest": stroke.largest,
        "mean_moment_arm": stroke.mean_moment_arm,
        "mean_torque_factor": stroke.mean_moment_arm / swing.arm_radius,
        "torque_spread": stroke.largest.moment_arm / stroke.smallest.moment_arm - 1,
        "square_length": known(square_length(swing.arm_radius, swing.base_distance), NEVER_SQUARE),
        "square_position": square_position(swing, start, end),
    }


def _assumptions(values: Mapping[str, Any]) -> Iterator[Assumption]:
    reason = "not given; the whole stroke is taken to be used"
    if "used_from" not in values:
        yield Assumption("used_from", "the closed length of the cylinder", reason)
    if "used_to" not in values:
        yield Assumption("used_to", "the open length of the cylinder", reason)
