"""What engineering says besides its numbers: faults, checks of a value against its limit, and findings.

A fault is a reason why there is no answer. A check stays in the full record. A finding is what a foreman
would say of one job: stop, look or note. What is true of every job is none of the three but a standing
notice, see `api.answers.standing_notices`.
"""

import dataclasses
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from typing import Literal, NamedTuple, get_args

NOISE = 1e-12
"""Relative difference of floats that is arithmetic, not torque: a value on the very limit is within it."""


class Amount(NamedTuple):
    """A number in SI with the kind of quantity it is, so that the border can show it in any unit.

    Attributes:
        kind: of quantity.
        value: SI.
        unit: code of the unit it is always shown in: that of the dial it is read on; None for the unit asked
            for.
        on_mark: whether it is a mark of that dial, which is shown as it stands there.
    """

    kind: str
    value: float
    unit: str | None = None
    on_mark: bool = False


@dataclass(frozen=True)
class Fault:
    """One reason why there is no answer.

    ``code`` is stable and meant for programs. ``text`` is the sentence for people; each ``{name}`` in
    it stands for an entry of ``amounts``. ``field`` names the input at fault, if there is one (with a
    dot the member of one), and ``accepted`` says what would be taken, where the sentence does not.
    """

    code: str
    text: str
    field: str | None = None
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)
    accepted: str | None = None


class NoAnswer(ValueError):
    """Raised with every fault found when no number can be given with a clear conscience."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{fault.code}: {fault.text}" for fault in self.faults))


@contextmanager
def collecting(faults: list[Fault]) -> Iterator[None]:
    """Add the faults of a refusal to a list instead of stopping at it, so that all are told at once."""
    try:
        yield
    except NoAnswer as no_answer:
        faults += no_answer.faults


def refuse(
    code: str, text: str, field: str | None = None, accepted: str | None = None, **amounts: Amount
) -> NoAnswer:
    """The exception for a single fault, ready to raise."""
    return NoAnswer([Fault(code, text, field, amounts, accepted)])


Verdict = Literal["pass", "caution", "fail", "not_checked"]


class Check(NamedTuple):
    """One limit.

    Attributes:
        name: what is checked.
        verdict: ``pass``, ``caution``, ``fail`` or ``not_checked``.
        text: a sentence, with ``{value}`` and ``{limit}`` for the amounts.
        code: the code of a refusal where the verdict is ``fail``; empty where it never is.
        value, limit: what was compared.
    """

    name: str
    verdict: Verdict
    text: str
    code: str = ""
    value: Amount | None = None
    limit: Amount | None = None

    @property
    def fault(self) -> Fault:
        """The fault that a failed check is."""
        amounts = {"value": self.value, "limit": self.limit}
        shown = {name: at for name, at in amounts.items() if at}
        return Fault(self.code, self.text, "machine", shown, ACCEPTED.get(self.code))


def failed(checks: Iterable[Check]) -> list[Fault]:
    """The faults of the checks that failed."""
    return [check.fault for check in checks if check.verdict == "fail"]


ACCEPTED: Mapping[str, str] = {
    "profile_is_draft": "a machine whose profile is approved, with who approved it and when",
    "profile_not_in_force": "a machine whose profile is in force on that day",
    "calibration_missing": "a machine whose profile names its calibration",
    "calibration_overdue": "a machine in calibration: have this one calibrated, or use another",
    "as_of_required": "as_of with the day of the job, such as 2026-11-24",
    "diameter_not_gripped": "the diameter of the body in the grip, or a machine that grips it: ask "
    "/v1/machine-choice",
    "below_lowest_setting": "a smaller machine: ask /v1/machine-choice",
    "capacity_exceeded": "a stronger machine",
    "torque_rating_exceeded": "a stronger machine",
    "grip_pressure_exceeded": "a stronger grip, jaws with more friction, or a smaller margin",
}
"""What would be taken in place of what a failed check refuses, by its code."""


def at_most(
    *,
    name: str,
    text: str,
    value: float,
    limit: float,
    kind: str = "",
    shown: Callable[[float], Amount] | None = None,
    code: str = "",
    bad: Verdict = "fail",
) -> Check:
    """A check that a value does not exceed a limit; the limit itself passes.

    Both are of a ``kind``, or ``shown`` as a dial shows them.
    """
    verdict: Verdict = "pass" if value <= limit * (1 + NOISE) else bad
    amount = shown or partial(Amount, kind)
    return Check(name=name, code=code, verdict=verdict, text=text, value=amount(value), limit=amount(limit))


def at_least(
    *,
    name: str,
    text: str,
    value: float,
    limit: float,
    kind: str = "",
    shown: Callable[[float], Amount] | None = None,
    code: str = "",
    bad: Verdict = "fail",
) -> Check:
    """A check that a value does not fall below a limit; the limit itself passes.

    Both are of a ``kind``, or ``shown`` as a dial shows them.
    """
    verdict: Verdict = "pass" if value >= limit * (1 - NOISE) else bad
    amount = shown or partial(Amount, kind)
    return Check(name=name, code=code, verdict=verdict, text=text, value=amount(value), limit=amount(limit))


Level = Literal["stop", "look", "note"]
"""*stop*: do not pull the lever until a named thing is settled; *look*: this job differs from the last;
*note*: why a figure is what it is."""
LEVELS: tuple[Level, ...] = get_args(Level)

Stage = Literal[
    "identify",
    "choose",
    "prepare_grip",
    "prepare_pipe",
    "oil",
    "relief",
    "limit",
    "dope_and_mark",
    "grip",
    "make_up",
    "hold",
    "read",
    "verdict",
    "record",
    "break_out",
]
"""The stages of the work in their order; a finding names the one at which it matters."""


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One thing that makes this job differ from any other.

    Attributes:
        level: how much it matters.
        code: stable, for programs.
        text: short sentences, with their numbers; each ``{name}`` stands for an amount.
        step: the stage of the work at which it matters.
        remedy: what to do, in short sentences; empty where a note asks for nothing.
        value, limit: what was compared, as ``{value}`` and ``{limit}`` of both texts.
        amounts: further amounts of both texts by name.
    """

    level: Level
    code: str
    text: str
    step: Stage
    remedy: str = ""
    value: Amount | None = None
    limit: Amount | None = None
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)

    @property
    def named_amounts(self) -> dict[str, Amount]:
        """Every amount of both texts by its name."""
        compared = {"value": self.value, "limit": self.limit}
        return {**self.amounts, **{name: amount for name, amount in compared.items() if amount}}


def ranked(findings: Iterable[Finding]) -> list[Finding]:
    """Findings from *stop* to *note*, each once, otherwise in the order given.

    >>> look = Finding(level="look", code="left_hand", text="Left-hand thread.", step="make_up")
    >>> stop = Finding(level="stop", code="profile_is_draft", text="A draft.", step="choose")
    >>> [each.code for each in ranked([look, stop, look])]
    ['profile_is_draft', 'left_hand']
    """
    once: list[Finding] = []
    for finding in findings:
        if finding not in once:
            once.append(finding)
    return sorted(once, key=lambda finding: LEVELS.index(finding.level))


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


def findings_of_validity(checks: Iterable[Check]) -> Iterator[Finding]:
    """The findings of the checks of a profile where a torque is set or read: also that no day is given."""
    checks = tuple(checks)
    yield from findings_of(checks)
    if any(check.code == "as_of_required" and check.verdict == "not_checked" for check in checks):
        yield NO_DAY
