"""Two judgements of one make-up: whether the work was done as ordered, and whether its torque passes.

They are two since a gauge often cannot prove what a shop rightly accepts. What was not told is never assumed:
it is a reason why nobody can tell.
"""

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

from api.engineering.checks import NOISE, Amount, Check
from api.engineering.gauges.gauge import Gauge
from api.engineering.machines.aim import GUARD
from api.engineering.provenance import Source

Seen = Literal["yes", "no", "not_seen"]
"""What was seen at the machine."""
Work = Literal["as_ordered", "not_as_ordered", "cannot_tell"]
WORK: tuple[Work, ...] = get_args(Work)
TorqueVerdict = Literal["pass", "low", "high", "cannot_tell"]
TORQUE_VERDICTS: tuple[TorqueVerdict, ...] = get_args(TorqueVerdict)
Rule = Literal["simple", "guarded"]
End = Literal["minimum", "maximum"]
ENDS: tuple[End, ...] = get_args(End)

GUARD_BAND = Source(
    "guard band of a verdict",
    "from memory",
    "JCGM 106, 8.3: guarded acceptance. The factor 1.645 leaves 5 in 100 beyond an end, of a normal spread.",
)

ReasonCode = Literal[
    "off_the_mark",
    "marks_did_not_move",
    "marks_not_seen",
    "static_check",
    "last_stroke_not_seen",
    "gauge_zero_off",
    "machine_unfit",
    "no_ordered_mark",
    "not_told",
    "torque_in_window",
    "torque_below_minimum",
    "torque_above_maximum",
    "within_guard_band",
    "nothing_moved",
    "no_window",
    "motion_not_known",
]
REASON_CODES: tuple[ReasonCode, ...] = get_args(ReasonCode)


@dataclass(frozen=True)
class Reason:
    """One reason of a judgement.

    Attributes:
        code: stable, for programs.
        says: the judgement that it speaks for.
        text: a sentence; each ``{name}`` stands for an amount.
        field: what of the request it is of, or what is missing there; None where it is of none.
        amounts: those of the text.
    """

    code: ReasonCode
    says: Work | TorqueVerdict
    text: str
    field: str | None = None
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)


# the work


@dataclass(frozen=True)
class Told:
    """What was read and seen at the machine, SI; None where it was not told.

    Attributes:
        gauge: that was read.
        reading: where its pointer stood.
        mark: that was ordered; None where it is not known.
        zero: the reading at rest.
        marks_moved: whether the marks across the joint moved as it was made up.
        moved_in_last_stroke: whether the joint still turned as the reading was taken.
    """

    gauge: Gauge
    reading: float
    mark: float | None
    zero: float | None
    marks_moved: Seen | None
    moved_in_last_stroke: Seen | None

    def allowed_at(self, reading: float) -> float:
        """What a reading may be off, SI: half a division, which the eye tells apart.

        Nobody sets the last digit of a display: it may be off by its error there, if that is more (own
        judgement).
        """
        half = 0.5 * self.gauge.division * self.gauge.unit_in_si
        return max(half, self.gauge.error_at(reading)) if self.gauge.digital else half

    @property
    def zero_off(self) -> bool:
        """Whether the gauge at rest stands off zero by more than is allowed."""
        return self.zero is not None and abs(self.zero) > self.allowed_at(0.0) * (1 + NOISE)

    @property
    def nothing_moved(self) -> bool:
        """Whether it was told that nothing moved, so that the reading is a static check at most."""
        return "no" in (self.marks_moved, self.moved_in_last_stroke)


def work_of(reasons: Sequence[Reason]) -> Work:
    """The judgement of the work: what speaks against it outranks what nobody can tell.

    >>> work_of([])
    'as_ordered'
    """
    said = {reason.says for reason in reasons}
    if "not_as_ordered" in said:
        return "not_as_ordered"
    return "cannot_tell" if said else "as_ordered"


def work_reasons(told: Told, valid: Sequence[Check]) -> Iterator[Reason]:
    """Every reason why the work is not as ordered, or why nobody can tell; none where it is.

    Args:
        told: what was read and seen.
        valid: the checks of the machine profile on the day of the job.
    """
    yield from _of_reading(told)
    yield from _of_marks(told.marks_moved)
    yield from _of_last_stroke(told.moved_in_last_stroke)
    for check in valid:
        if check.verdict == "caution":
            yield Reason(
                "machine_unfit", "cannot_tell", f"{check.text[0].upper()}{check.text[1:]}.", "machine"
            )
        elif check.code == "as_of_required":
            yield _not_told("as_of", "Whether the machine was in calibration is not known")


def _of_reading(told: Told) -> Iterator[Reason]:
    """Compares the reading less the zero with the mark, where both are known and the zero is not far off."""
    gauge, zero = told.gauge, told.zero
    if told.mark is None:
        yield Reason(
            "no_ordered_mark", "cannot_tell", "No mark is known that was ordered.", "ordered_setting"
        )
    if zero is None:
        yield _not_told("gauge_zero", "Where the pointer stands at rest is not known")
    elif told.zero_off:
        amounts = {"zero": gauge.amount(zero), "most": gauge.amount(told.allowed_at(0.0))}
        text = "At rest the gauge reads {zero}, where at most {most} is taken. Nothing is corrected by it."
        yield Reason("gauge_zero_off", "cannot_tell", text, "gauge_zero", amounts)
    if told.mark is None or zero is None or told.zero_off:
        return
    off, most = told.reading - zero - told.mark, told.allowed_at(told.mark)
    if abs(off) > most * (1 + NOISE):
        found = {"reading": told.reading, "mark": told.mark, "most": most}
        amounts = {name: gauge.amount(value) for name, value in found.items()}
        text = "The reading {reading} is off the mark {mark} by more than {most}."
        yield Reason("off_the_mark", "not_as_ordered", text, "gauge_reading", amounts)


def _of_marks(seen: Seen | None) -> Iterator[Reason]:
    if seen is None:
        yield _not_told("marks_moved", "Whether the joint moved is not known")
    elif seen == "no":
        text = "The marks did not move: the joint was tight already, is galled, or the grip slipped."
        yield Reason("marks_did_not_move", "not_as_ordered", text, "marks_moved")
    elif seen == "not_seen":
        yield Reason("marks_not_seen", "cannot_tell", "Nobody saw whether the marks moved.", "marks_moved")


def _of_last_stroke(seen: Seen | None) -> Iterator[Reason]:
    if seen is None:
        yield _not_told("moved_in_last_stroke", "Whether the joint moved as it was read is not known")
    elif seen == "no":
        text = "Nothing moved in the last stroke: the reading is a static check. Repeat it after a break-out "
        text += "of a few degrees."
        yield Reason("static_check", "cannot_tell", text, "moved_in_last_stroke")
    elif seen == "not_seen":
        text = "Nobody saw whether the joint moved in the last stroke."
        yield Reason("last_stroke_not_seen", "cannot_tell", text, "moved_in_last_stroke")


def _not_told(name: str, unknown: str) -> Reason:
    return Reason("not_told", "cannot_tell", f"{unknown}: {name} is missing.", name)


# the torque


@dataclass(frozen=True)
class Judged:
    """A torque that is judged, N.m.

    Attributes:
        estimate: the best estimate at the reading.
        deviation: its combined standard uncertainty.
        minimum, maximum: ends of the window; None where there is none.
        rule: of the decision.
    """

    estimate: float
    deviation: float
    minimum: float | None
    maximum: float | None
    rule: Rule

    @property
    def ends(self) -> tuple[End, ...]:
        """The ends that it is judged by."""
        given = zip(ENDS, (self.minimum, self.maximum), strict=True)
        return tuple(name for name, end in given if end is not None)

    @property
    def guard(self) -> float:
        """Width of the guard band at each end.

        >>> Judged(100.0, 2.0, 90.0, 110.0, "guarded").guard
        3.29
        """
        return 0.0 if self.rule == "simple" else GUARD * self.deviation

    @property
    def accepted_from(self) -> float | None:
        """The least torque that passes, N.m; None where no minimum is judged."""
        return None if self.minimum is None else self.minimum + self.guard

    @property
    def accepted_to(self) -> float | None:
        """The most torque that passes, N.m; None where no maximum is judged."""
        return None if self.maximum is None else self.maximum - self.guard


def torque_verdict(judged: Judged) -> TorqueVerdict:
    """The verdict on a torque: ``pass``, ``low``, ``high``, or ``cannot_tell`` (JCGM 106, 8.2 and 8.3).

    Simple: what lies in the window passes. Guarded: it passes from the minimum plus ``1.645 u`` to the
    maximum less ``1.645 u``; it is low or high beyond an end by as much; between, nobody can tell. An end
    itself is within.

    >>> torque_verdict(Judged(93.0, 2.0, 90.0, 110.0, "simple"))
    'pass'
    >>> [torque_verdict(Judged(torque, 2.0, 90.0, 110.0, "guarded")) for torque in (86.7, 93.0, 93.3)]
    ['low', 'cannot_tell', 'pass']
    """
    guard, torque = judged.guard, judged.estimate
    if not judged.ends:
        return "cannot_tell"
    if judged.minimum is not None and torque < (judged.minimum - guard) * (1 - NOISE):
        return "low"
    if judged.maximum is not None and torque > (judged.maximum + guard) * (1 + NOISE):
        return "high"
    above = judged.accepted_from is None or torque >= judged.accepted_from * (1 - NOISE)
    below = judged.accepted_to is None or torque <= judged.accepted_to * (1 + NOISE)
    return "pass" if above and below else "cannot_tell"


_SAYS: Mapping[TorqueVerdict, tuple[ReasonCode, str]] = {
    "pass": ("torque_in_window", "The torque {torque} lies where the {rule} rule accepts it{ends}."),
    "low": ("torque_below_minimum", "The torque {torque} lies below the minimum {minimum}."),
    "high": ("torque_above_maximum", "The torque {torque} lies above the maximum {maximum}."),
    "cannot_tell": (
        "within_guard_band",
        "The torque {torque} lies within the guard band, {guard}, of an end{ends}.",
    ),
}
"""What is said of each verdict by the rule."""


def torque_reasons(judged: Judged, told: Told, *, fit: bool) -> Iterator[Reason]:
    """Why the torque has its verdict: the first reason is that of the verdict, the others what it depends on.

    Args:
        judged: the torque.
        told: what was read and seen.
        fit: whether the machine is approved, in force and calibrated on the day of the job, as far as told.
    """
    if told.nothing_moved:
        text = "Nothing moved, so the reading proves nothing of the torque beyond a static check."
        moved = "moved_in_last_stroke" if told.moved_in_last_stroke == "no" else "marks_moved"
        yield Reason("nothing_moved", "cannot_tell", text, moved)
        if torque_verdict(judged) == "high":
            code, text = _SAYS["high"]
            yield Reason(code, "cannot_tell", *_with_ends(text, judged))
        return
    if not judged.ends:
        yield Reason("no_window", "cannot_tell", "No end of a window is known to judge the torque by.")
        return
    verdict = torque_verdict(judged)
    code, text = _SAYS[verdict]
    yield Reason(code, verdict, *_with_ends(text, judged))
    if told.moved_in_last_stroke != "yes":
        text = "It holds only if the joint moved in the last stroke, which is not known."
        yield Reason("motion_not_known", verdict, text, "moved_in_last_stroke")
    if told.zero_off:
        text = "It is that of the reading as it stands, on a gauge that is off at rest."
        yield Reason("gauge_zero_off", verdict, text, "gauge_zero")
    if not fit:
        text = "It rests on a machine that is not fit for use on the day."
        yield Reason("machine_unfit", verdict, text, "machine")


def _with_ends(text: str, judged: Judged) -> tuple[str, None, Mapping[str, Amount]]:
    """A sentence with the ends that were judged, its field, and its amounts."""
    named = {"minimum": judged.minimum, "maximum": judged.maximum, "guard": judged.guard}
    given = {name: Amount("torque", value) for name, value in named.items() if value is not None}
    ends = ", ".join(f"{end} {{{end}}}" for end in judged.ends)
    filled = text.replace("{ends}", f": {ends}").replace("{rule}", judged.rule)
    return filled, None, {"torque": Amount("torque", judged.estimate), **given}


# what to do


Action = Literal["accept", "ask", "tell", "repeat", "redo", "other_machine", "quarantine"]
NEXT_STEPS: Mapping[Action, str] = {
    "accept": "Accept the joint and record it.",
    "ask": "Record it as it is, and ask who planned the joint whether it is accepted.",
    "tell": "Tell what is missing, and ask again.",
    "repeat": "Repeat slowly from below, to the ordered mark.",
    "redo": "Break out, clean, inspect, dope again, and make it up again.",
    "other_machine": "Take another machine or gauge, and make it up again there.",
    "quarantine": "Stop. Quarantine both members: the torque reached their torsional yield.",
}
"""What to do next, one line for each."""


class Verdict(NamedTuple):
    """Both judgements, with what decides the next step.

    Attributes:
        work, torque: the two judgements.
        reasons: of both.
        yielded: whether the torque reached the torsional yield of the joint.
        can_pass: whether any torque could pass on this machine and gauge.
        above_mark: whether the reading lies above the ordered mark.
        far: whether an end of the window is open, and the torque is farther from the target than any mark
            that would be set.
    """

    work: Work
    torque: TorqueVerdict
    reasons: frozenset[ReasonCode]
    yielded: bool
    can_pass: bool
    above_mark: bool
    far: bool


UNFIT: frozenset[ReasonCode] = frozenset({"machine_unfit", "gauge_zero_off"})
"""Reasons for which no reading on this machine can be trusted."""
TO_REPEAT: frozenset[ReasonCode] = frozenset({"static_check", "marks_not_seen", "last_stroke_not_seen"})
"""Reasons that repeating the last stroke settles."""
TO_TELL: frozenset[ReasonCode] = frozenset({"not_told", "no_ordered_mark"})


def next_action(of: Verdict) -> Action:
    """What to do next, the graver first.

    >>> next_action(Verdict("as_ordered", "pass", frozenset(), False, True, False, False))
    'accept'
    >>> next_action(Verdict("as_ordered", "pass", frozenset(), False, True, False, True))
    'ask'
    """
    if of.yielded:
        return "quarantine"
    if of.reasons & {"torque_above_maximum", "marks_did_not_move"}:
        return "redo"
    if of.reasons & UNFIT or not of.can_pass:
        return "other_machine"
    if of.torque == "low" or of.reasons & TO_REPEAT:
        return "repeat"
    if "off_the_mark" in of.reasons:
        return "ask" if of.above_mark else "repeat"
    if of.reasons & TO_TELL:
        return "tell"
    if "within_guard_band" in of.reasons:
        return "other_machine"
    return "ask" if of.far else "accept"
