"""The findings that checks of a limit make, in words for the person at the machine.

A check stays in the full record. Only one with the verdict ``caution`` that has words here is a finding: the
others are told by the probability of a wrong torque, or matter to nobody at the machine.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from api.engineering.checks import Check
from api.engineering.findings import Finding, Level, Stage


class Words(NamedTuple):
    """What a check says as a finding; without a text the sentence of the check stands."""

    level: Level
    step: Stage
    text: str
    remedy: str


WORDS: Mapping[str, Words] = {
    "profile_status": Words(
        "stop",
        "choose",
        "The machine profile is a draft, or names no approver.",
        "Have the profile approved before you use this machine.",
    ),
    "profile_dates": Words(
        "stop",
        "choose",
        "",
        "Use a machine whose profile is in force.",
    ),
    "calibration": Words(
        "stop",
        "choose",
        "",
        "Have the machine calibrated, or use another one.",
    ),
    "torque_rating": Words(
        "stop",
        "read",
        "The torque can be {value}. The machine is rated for {limit}.",
        "Stop, and inspect the machine.",
    ),
    "rated_pressure": Words(
        "stop",
        "read",
        "The reading {value} is above the lowest rating, {limit}.",
        "Stop, and inspect the machine.",
    ),
    "squeeze_given": Words(
        "stop",
        "grip",
        "The squeeze given slips at {value}. With its margin the torque needs {limit}.",
        "Squeeze harder, or make the joint on another machine.",
    ),
    "static_head": Words(
        "look",
        "read",
        "The head of the oil between gauge and cylinder is {value}. A third of the gauge error is {limit}.",
        "Correct the reading: a gauge above the cylinder reads low, below it high.",
    ),
    "torque_rating_worst_case": Words(
        "look",
        "make_up",
        "In the worst case the torque is {value}. The machine is rated for {limit}.",
        "Use a stronger machine where there is one.",
    ),
    "torsional_yield_worst_case": Words(
        "stop",
        "make_up",
        "In the worst case the torque is {value}. The joint yields at {limit}.",
        "Use a machine and gauge with less uncertainty.",
    ),
    "torque_at_largest_pull": Words(
        "look",
        "limit",
        "The largest pull gives {value}. The joint allows {limit}.",
        "Limit the pull to the mark before you grip the joint.",
    ),
    "load_rating_worst_case": Words(
        "look",
        "make_up",
        "In the worst case the load is {value}. The tensioner is rated for {limit}.",
        "Use a larger tensioner where there is one.",
    ),
    "stud_stress_worst_case": Words(
        "look",
        "make_up",
        "In the worst case the stud has {value}. That is more than 95 % of its yield, {limit}.",
        "Use a gauge with less error, or a lower preload.",
    ),
    "stud_stress_at_relief": Words(
        "look",
        "relief",
        "At full relief flow the stud has {value}. That is more than 95 % of its yield, {limit}.",
        "Set the relief lower before you pull.",
    ),
    "preload_minimum_worst_case": Words(
        "look",
        "make_up",
        "In the worst case the preload is {value}. The minimum is {limit}.",
        "Use a gauge with less error.",
    ),
    "preload_maximum_worst_case": Words(
        "look",
        "make_up",
        "In the worst case the preload is {value}. The maximum is {limit}.",
        "Use a gauge with less error.",
    ),
}
"""By the name of the check."""
NO_DAY = Finding(
    level="look",
    code="day_not_given",
    text="No day of the job is given. Dialset did not check whether the profile is in force and calibrated.",
    step="choose",
    remedy="Give the day of the job as as_of.",
)


def findings_of(checks: Iterable[Check]) -> Iterator[Finding]:
    """The findings that checks make; each has the code of its check, or its name where it has none."""
    for check in checks:
        if check.code == "as_of_required" and check.verdict == "not_checked":
            yield NO_DAY
        words = WORDS.get(check.name)
        if check.verdict == "caution" and words:
            sentence = f"{check.text[0].upper()}{check.text[1:]}."
            yield Finding(
                level=words.level,
                code=check.code or check.name,
                text=words.text or sentence,
                step=words.step,
                remedy=words.remedy,
                value=check.value,
                limit=check.limit,
            )
