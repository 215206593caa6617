"""A stud tensioner, from its profile: it pulls, and gives preload, not torque."""

from collections.abc import Iterator
from typing import NoReturn

from api.answers.machine_kinds.machine_kind import Kind, Loaded, relief_of
from api.answers.standing_notices import TENSIONER_AXIS, TENSIONER_LIMITS, TENSIONER_SEAT
from api.engineering.checks import Amount, Finding, refuse
from api.engineering.machines.limits import Limits
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.stud_tensioner import StudTensionerProfile

EQUATION = Source(
    "pressure and preload of the tensioner", "read", "force of a hydraulic stud tensioner: p = F LTF / A"
)
TO_PRESSURE = (
    Step("F", "preload wanted", "as given", "duty.target", "force", "the caller"),
    Step("LTF", "load-loss factor", "as given", "duty.tool.load_loss_factor", "number", "the caller"),
    Step("A", "effective area", "from the profile", "duty.tool.effective_area", "area", "profile"),
    Step("F_tool", "load under the tool", "F LTF", "tool_load", "force", "load lost to the nut"),
    Step("p", "pressure", "F_tool / A", "duty.reading", "pressure", "statics"),
)
LARGEST_DIFFERENCE = 0.01
"""Share by which a load rating may be rounded (own judgement)."""


def no_torque(*_: object) -> NoReturn:
    """Refuse whatever asks a tensioner for torque.

    Raises:
        NoAnswer: ``gives_no_torque``.
    """
    text = "a stud tensioner pulls: it gives preload, not torque; ask /v1/preload-pressure"
    raise refuse("gives_no_torque", text, "machine")


def limits(loaded: Loaded) -> Limits:
    """The limits of the maker. It has no torque, so every torque is above its rating."""
    return Limits(
        rated=loaded["rated_pressure"],
        torque_rating=0.0,
        diameters=None,
        lowest_setting=loaded["lowest_setting"],
        relief=relief_of(loaded["relief"]),
    )


def findings(loaded: Loaded, limits: Limits) -> Iterator[Finding]:
    """A finding where area, rated pressure and load rating do not go together."""
    most = loaded["effective_area"] * limits.rated["tensioner"]
    if most > (1 + LARGEST_DIFFERENCE) * loaded["load_rating"]:
        yield Finding(
            level="look",
            code="load_rating_in_reach",
            text="At its rated pressure the effective area pulls {value}. The load rating is {limit}.",
            step="choose",
            remedy="Check area, rated pressure and load rating.",
            value=Amount("force", most),
            limit=Amount("force", loaded["load_rating"]),
        )


KIND = Kind(
    profile=StudTensionerProfile(),
    machine=None,
    build=no_torque,
    limits=limits,
    source=EQUATION,
    to_reading=TO_PRESSURE,
    to_torque=(),
    findings=findings,
    standing_notices=(TENSIONER_AXIS, TENSIONER_LIMITS, TENSIONER_SEAT),
)
