"""How the bolts of a flange are tightened to a torque: passes, cross pattern, and what to set for each.

A flange of a number of bolts without a published order is refused: an order of our own would look like
practice. The passes on the way to the target have no published tolerance. Their mark is never above the
last, and a step that the gauge misses by more than 2 % of the target is told. The last is what
`/v1/pressure` sets.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from api.answers.answer import Answer
from api.answers.flanges.settings import FlangeSettings, flange_settings
from api.answers.machines.pressure import check_machine, findings, shown
from api.answers.machines.remedies import Remedies
from api.answers.shop import Shop
from api.answers.standing_notices import COMPUTED, FLANGE_PRACTICE, FLANGE_TORQUE, StandingNotice
from api.engineering.checks import Amount, Fault, Finding, findings_of_validity
from api.engineering.flanges.cross_pattern import CrossPattern, clockwise, in_order
from api.engineering.flanges.passes import TorquePass, tightening_passes
from api.engineering.provenance import Knowable, Known, NotKnown, Source, weakest_status
from api.engineering.torque_window import TorqueWindow
from api.reference.flanges import CROSS_PATTERNS, PRACTICES

PASSES = Source(
    "snug pass, circular passes, check after 4 h",
    "from memory",
    "ASME PCC-1, legacy cross-pattern method, Table 2",
)
TWICE = Source(
    "at least two circular passes", "reprint", "trade notes on flange tightening; no standard named"
)
NOT_PUBLISHED = Finding(
    level="note",
    code="steps_not_published",
    text="No published practice has these steps. Published: "
    f"{'; '.join(each.source.what for each in PRACTICES)}.",
    step="make_up",
)
INSTRUCTIONS = {
    "snug": "Turn every nut snug, no further; then check that the gap is even all round.",
    "cross": "Once round in this order; then check that the gap is even all round.",
    "circular": "Clockwise from nut to nut until no nut turns any more, twice at least.",
    "check": "Where the procedure asks for it, wait at least 4 h. Then go clockwise again until no nut "
    "turns, with the flange cold and without pressure.",
}
FLANGE_BY_TORQUE: tuple[StandingNotice, ...] = (FLANGE_PRACTICE, FLANGE_TORQUE, COMPUTED)
"""The notices of ``/v1/flange-sequence/torque``."""


FAR_FROM_SHARE = 0.02
"""Of the target, by which the mark of a pass may miss its step without a word (own judgement)."""


def check_flange(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses what is wrong with flange and machine before the bolt is computed."""
    if values["bolt_count"] not in CROSS_PATTERNS:
        yield Fault(
            "no_published_pattern",
            "Dialset has no cross pattern for this number of bolts and makes none up",
            "bolt_count",
            accepted=f"one of: {', '.join(map(str, CROSS_PATTERNS))}",
        )
    if values.get("operation") == "break_out":
        text = "a sequence is for making up; Dialset has no order for loosening a flange"
        yield Fault("no_published_pattern", text, "operation", accepted="make_up")
    elif "machine" in values:
        yield from check_machine(values, shop)


def flange_sequence_answer(
    window: TorqueWindow, joint_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/flange-sequence/torque`` for the window of torque of one bolt.

    Its status is that of the torque or of the order, whichever is less sure.

    Raises:
        NoAnswer: with every reason why the machine, where one is given, cannot do a pass.
    """
    window = shop.confirmed(window)
    published, shares = CROSS_PATTERNS[values["bolt_count"]], values["pass_percentages"]
    passes = tuple(tightening_passes(window.goal, shares))
    agreed = [practice.source for practice in PRACTICES if practice.has(shares)]
    found = flange_settings(window, joint_diameter, passes, values, shop) if "machine" in values else None
    target = Source("target torque", window.target.status, window.target.torque.basis or "")
    answer = Answer(
        result={
            "torque": window,
            "cross_order": published.pattern.text,
            "passes": [*_shown_passes(passes, published.pattern, window.goal, found)],
            "agrees_with": agreed,
            "setting": _setting(found),
        },
        sources=(*window.sources, published.source, PASSES, TWICE, *agreed),
        status=weakest_status((target, published.source, PASSES)),
        assumptions=window.assumptions,
        findings=(
            *window.findings,
            *(() if agreed else (NOT_PUBLISHED,)),
            *_far_marks(passes, window.goal, found),
        ),
        table=window.table,
    )
    if found is None:
        return answer
    told = findings(window, values, found.last, shop.policy, Remedies(window, values, shop))
    return _with_setting(answer, found, told)


def _setting(found: FlangeSettings | None) -> Knowable[Mapping[str, Any]]:
    if found is None:
        return NotKnown("no machine is given")
    return Known({**shown(found.last), "checks": (*found.valid, *found.last.checks)})


def _with_setting(answer: Answer, found: FlangeSettings, told: Iterable[Finding]) -> Answer:
    """The answer with all that belongs to the setting at the target, and what is told of it."""
    last, job = found.last, found.last.job
    return replace(
        answer,
        sources=(*answer.sources, *job.sources),
        assumptions=(*answer.assumptions, *job.assumptions, *last.assumptions),
        findings=(*findings_of_validity(found.valid), *answer.findings, *told),
        working=job.working(*last.worked),
        profile=job.profile.version,
        steps=job.profile.kind.to_reading,
    )


def _far_marks(
    passes: Sequence[TorquePass], target: float, found: FlangeSettings | None
) -> Iterator[Finding]:
    """A finding for each step that no mark of the gauge is close to."""
    for each, mark in zip(passes, found.marks, strict=True) if found else ():
        if each.name == "cross" and each.share and mark and each.share < 1:
            given = mark.torque / target
            if abs(given - each.share) > FAR_FROM_SHARE:
                yield Finding(
                    level="look",
                    code="pass_far_from_its_step",
                    text=f"The cross pass at {100 * each.share:.6g} % is set to {mark.reading}, which gives "
                    f"{{value}}, {100 * given:.3g} % of the target. The step is {{limit}}.",
                    remedy="Use a finer gauge, or steps that its marks fit.",
                    step="make_up",
                    value=Amount("torque", mark.torque),
                    limit=Amount("torque", each.share * target),
                )


def _shown_passes(
    passes: Sequence[TorquePass], pattern: CrossPattern, target: float, found: FlangeSettings | None
) -> Iterator[dict[str, Any]]:
    around = in_order(clockwise(pattern.count))
    first = next((mark.torque for mark in found.marks if mark), None) if found else None
    for index, asked in enumerate(passes):
        mark = found.marks[index] if found else None
        each = asked if first is None else asked.no_tighter_than(first)
        yield {
            "number": index + 1,
            "name": each.name,
            "order": pattern.text if each.name in ("snug", "cross") else around,
            "instruction": INSTRUCTIONS[each.name],
            "share": each.share,
            "torque": each.torque,
            "torque_minimum": each.torque_minimum,
            "torque_maximum": each.torque_maximum,
            "gauge_setting": mark.reading if mark else None,
            "torque_at_gauge_setting": mark.torque if mark else None,
            "share_at_gauge_setting": mark.torque / target if mark else None,
        }
