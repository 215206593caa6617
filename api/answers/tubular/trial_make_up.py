"""A make-up torque of buttress casing from trial make-ups to the base of the triangle.

A trial torque beyond half or twice the median is refused until it is left out for a reason: a slip of unit
would go into the mean, and the mean onto a gauge.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from api.answers.answer import Answer
from api.answers.shop import Shop
from api.answers.standing_notices import COMPUTED, TRIAL_CONDITIONS, TRIAL_IS_A_GUIDE
from api.answers.tubular.buttress import HEIGHT, TRIANGLE, WINDOW, buttress_size, face_of
from api.engineering.checks import NOISE, Amount, Fault, Finding, NoAnswer, refuse
from api.engineering.provenance import Known, NotKnown, Source, weakest_status
from api.engineering.tubular.make_up_position import position_of_face
from api.engineering.tubular.trial_torques import FEWEST, TrialTorques, trial_torques
from api.engineering.working import Step

SEVERAL = Source("make up several joints to the base, noting the torque", "from memory", "API RP 5C1 4.4")
SHEET = Source(
    "make joints up to the base, noting the torque, and use their mean: the first 15",
    "reprint",
    "one public running sheet for buttress casing",
)
TORQUES = Source("torques and positions of the trials", "stated", "the request")
APART = Source(
    "torques that stand apart: modified score above 3.5 by the median absolute deviation",
    "from memory",
    "Iglewicz and Hoaglin (1993); that nothing within 10 % of the median stands apart is own judgement",
)
USUAL_COUNT = 15
"""Joints that the running sheet averages."""
WIDE_SPREAD = 0.25
"""Share of the mean above which the spread is remarked on (own judgement, no source)."""
GROSS = 2.0
"""A torque that is more than this times the median, or less than its share, is a slip (own judgement)."""
LEFT_OUT = {
    "short": "more than one thread turn short of the base: outside the window",
    "within_one_turn": "short of the base by one thread turn at most: not made up to the base",
    "past_apex": "past the apex: outside the window",
}
NO_WINDOW = NotKnown(
    "no tolerance on a buttress torque is published: accept each joint by its position, and find out why "
    "where the position is not reached at about this torque"
)
TRIAL_STEPS = (
    Step("n", "joints made up to the base", "counted", "found.count", "number", "API RP 5C1 4.4"),
    Step("T", "torque for use", "sum of torques / n", "found.mean", "torque", "running sheet"),
    Step("s", "deviation", "sqrt(sum (Ti - T)^2 / (n - 1))", "found.standard_deviation", "torque", "sample"),
    Step("M", "median", "middle of the sorted torques", "found.middle", "torque", "sample"),
    Step("d", "departure limit", "max(3.5 MAD / 0.6745, 0.1 M)", "found.departure", "torque", "score 3.5"),
)  # fmt: skip
TRIAL_NOTICES = (COMPUTED, TRIAL_CONDITIONS, TRIAL_IS_A_GUIDE)
"""What holds for every torque from trials."""


@dataclass(frozen=True)
class Trial:
    """One trial, with the reason for which it does not count, if there is one; N.m."""

    joint: str | None
    torque: float
    position: str
    left_out_because: str | None


def trial_make_up_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/trial-make-up/buttress``.

    Raises:
        NoAnswer: ``unclear_size``, ``unknown_size``, ``too_few_trials``, ``trial_out_of_proportion``.
    """
    row = buttress_size(values["size"])
    trials = [_trial(each) for each in values["trials"]]
    found = _counted(trials)
    counted = [each.torque for each in trials if each.left_out_because is None]
    kept = [torque for torque in counted if not found.stands_apart(torque)]
    apart = len(counted) - len(kept)
    result = {
        "size": row.size,
        "weight": values["weight"],
        "pipe_grade": values["pipe_grade"],
        "torque_for_use": Known(found.mean, _in_words(found, apart)),
        "torque_minimum": NO_WINDOW,
        "torque_maximum": NO_WINDOW,
        "given": len(trials),
        "counted": found.count,
        "left_out": len(trials) - found.count,
        **{name: getattr(found, name) for name in ("lowest", "highest", "middle", "spread")},
        "standard_deviation": found.standard_deviation,
        "standard_deviation_percent": 100 * found.standard_deviation / found.mean,
        "departure_limit": found.departure,
        "standing_apart": apart,
        "mean_without_them": fmean(kept) if apart else None,
        "trials": [_shown(number, each, found) for number, each in enumerate(trials, 1)],
    }
    return Answer(
        result=result,
        sources=(TORQUES, SHEET, SEVERAL, WINDOW, TRIANGLE, APART),
        status=weakest_status((SHEET, WINDOW, TRIANGLE)),
        assumptions=(HEIGHT,) if any(face_of(each) is not None for each in values["trials"]) else (),
        findings=tuple(_findings(found, trials, apart)),
        working={"found": found},
        steps=TRIAL_STEPS,
    )


def _in_words(found: TrialTorques, apart: int) -> str:
    joints = f"mean of {found.count} joints made up to the base of the triangle"
    return f"{joints}, of them {apart} standing apart" if apart else joints


def _counted(trials: Sequence[Trial]) -> TrialTorques:
    """The torques that count, unless they are too few, or one is rather a slip than a torque."""
    counted = {number: each.torque for number, each in enumerate(trials, 1) if each.left_out_because is None}
    if len(counted) < FEWEST:
        raise refuse(
            "too_few_trials",
            f"{len(counted)} of {len(trials)} trials reached the base of the triangle and count: "
            f"{_why(trials)}",
            "trials",
            f"at least {FEWEST} trials whose face stands from the base to the apex; API RP 5C1 asks for "
            "several",
        )
    found = trial_torques(list(counted.values()))
    faults = [
        Fault(
            "trial_out_of_proportion",
            (
                f"trial {number} of {{torque}} is less than half or more than twice the median {{median}}: "
                "it looks like a typing error"
            ),
            "trials",
            {"torque": Amount("torque", torque), "median": Amount("torque", found.middle)},
            "the correct torque and unit, or leave_out_because with the reason",
        )
        for number, torque in counted.items()
        if not found.middle / GROSS <= torque <= found.middle * GROSS
    ]
    if faults:
        raise NoAnswer(faults)
    return found


def _trial(given: Mapping[str, Any]) -> Trial:
    face = face_of(given)
    position = given["position"] if face is None else position_of_face(face)
    reason = LEFT_OUT.get(position)
    if "leave_out_because" in given:
        reason = f"left out by the caller: {given['leave_out_because']}"
    return Trial(given.get("joint"), given["torque"], position, reason)


def _shown(number: int, trial: Trial, found: TrialTorques) -> dict[str, Any]:
    counted = trial.left_out_because is None
    return {
        "number": number,
        "joint": trial.joint,
        "torque": trial.torque,
        "position": trial.position,
        "counted": counted,
        "left_out_because": trial.left_out_because,
        "stands_apart": counted and found.stands_apart(trial.torque),
        "departure_percent": 100 * (trial.torque - found.middle) / found.middle,
    }


def _why(trials: Sequence[Trial]) -> str:
    reasons = [
        f"trial {number}: {each.left_out_because}"
        for number, each in enumerate(trials, 1)
        if each.left_out_because
    ]
    more = f"; and {len(reasons) - 5} more" if len(reasons) > 5 else ""
    return "; ".join(reasons[:5]) + more if reasons else "no other was given"


def _findings(found: TrialTorques, trials: Sequence[Trial], apart: int) -> Iterator[Finding]:
    if found.count < USUAL_COUNT:
        yield _look(
            "few_trials",
            f"Only {found.count} joints are averaged. API RP 5C1 4.4 says several (from memory). One "
            f"public running sheet averages the first {USUAL_COUNT} (reprint).",
            "Go on noting the torque of each joint made up to the base.",
        )
    if found.count < 3:
        yield _look(
            "two_trials",
            "Two joints cannot show whether one of them stands apart.",
            "Make up a third.",
        )
    if apart:
        numbers = [
            str(number)
            for number, each in enumerate(trials, 1)
            if each.left_out_because is None and found.stands_apart(each.torque)
        ]
        yield _look(
            "trials_stand_apart",
            f"Trials that stand apart but count: {', '.join(numbers)}.",
            "Find the cause. Leave a trial out only with leave_out_because.",
        )
    if found.spread > WIDE_SPREAD * found.mean * (1 + NOISE):
        yield _look(
            "wide_spread",
            f"Highest and lowest torque differ by {100 * found.spread / found.mean:.3g} % of the mean "
            "(limit of 25 %: own judgement).",
            "Find the cause before you use this torque.",
        )


def _look(code: str, text: str, remedy: str) -> Finding:
    return Finding(level="look", code=code, text=text, step="record", remedy=remedy)
