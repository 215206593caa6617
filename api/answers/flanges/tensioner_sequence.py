"""How the studs of a flange are tensioned to a preload: groups, and what to set for each."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from api.answers.answer import Answer
from api.answers.flanges.settings import of_pass
from api.answers.machines.preload_pressure import TENSIONING, preload_pressure_answer
from api.answers.shop import Shop
from api.answers.standing_notices import FIRST_GROUP, FLANGE_PRACTICE, FLANGE_TENSION, StandingNotice
from api.engineering.checks import Amount, Finding
from api.engineering.flanges.cross_pattern import clockwise, in_order
from api.engineering.provenance import Assumption, Source, known

GROUPS = Source(
    "with half coverage the first group at a higher pressure than the second",
    "reprint",
    "trade notes on tensioning; no standard named",
)
FACTOR = Source("pressure of the first group over that of the second", "stated", "the caller")
CHECKING = Source("check pass at the pressure of the preload", "from memory", "common practice; no source")
RUN_DOWN = "Set all tools of this group together to this mark. Run the nuts down by hand tools, then let off."
CHECK = (
    "Set this group again to the mark of the preload. Run the nuts down as before and let off, until "
    "no nut runs down further. If one did, check the other group in the same way."
)
FLANGE_BY_TENSION: tuple[StandingNotice, ...] = (FLANGE_PRACTICE, FLANGE_TENSION, FIRST_GROUP, *TENSIONING)
"""The notices of ``/v1/flange-sequence/preload``."""
LET_DOWN = Assumption(
    "first_pass_factor",
    "as given",
    "the second group is taken to let the first down to the preload by this factor",
)
LARGEST_LOSS = 0.02
"""Share by which two marks may miss the factor between their groups without a word (own judgement)."""
WINDOW_ENDS = ("preload_minimum", "preload_maximum")


def tensioner_sequence_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/flange-sequence/preload``.

    The setting of the preload itself is that of ``/v1/preload-pressure``. The first group is asked for a
    preload higher by its factor, and so a pressure higher by it; the window of the preload does not bind it.

    Raises:
        NoAnswer: with every reason why these tensioners cannot do it.
    """
    last = preload_pressure_answer(values, shop)
    first = _first(values, shop) if values["coverage"] == "half" else None
    passes = [{"number": number, **each} for number, each in enumerate(_passes(values, last, first), start=1)]
    return replace(
        last,
        result={
            "tools_needed": len(_group(values, 1)),
            "passes": passes,
            "setting": last.result,
            "first_setting": known(
                first and first.result, "with full coverage all studs are tensioned at once"
            ),
        },
        sources=(*last.sources, *((GROUPS, FACTOR) if first else ()), CHECKING),
        status=CHECKING.status,
        assumptions=(*last.assumptions, *((LET_DOWN,) if first else ())),
        findings=(*last.findings, *(_findings(values, last, first) if first else ())),
    )


def _first(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The setting of the first group, judged by tensioner and stud, not by the window of the preload."""
    asked = {name: value for name, value in values.items() if name not in WINDOW_ENDS}
    with of_pass("first pass"):
        answer = preload_pressure_answer({**asked, "preload_target": _first_preload(values)}, shop)
    checks = [check for check in answer.result["checks"] if not check.name.startswith(WINDOW_ENDS)]
    return replace(answer, result={**answer.result, "checks": checks})


def _first_preload(values: Mapping[str, Any]) -> float:
    preload: float = values["preload_target"] * values["first_pass_factor"]
    return preload


def _group(values: Mapping[str, Any], first: int) -> tuple[int, ...]:
    """The studs tensioned at once, from the first of them."""
    return clockwise(values["bolt_count"], first, 1 if values["coverage"] == "full" else 2)


def _passes(values: Mapping[str, Any], last: Answer, first: Answer | None) -> Iterator[dict[str, Any]]:
    preload = values["preload_target"]
    if first:
        yield _pass("first", _group(values, 1), RUN_DOWN, _first_preload(values), first)
        yield _pass("second", _group(values, 2), RUN_DOWN, preload, last)
    else:
        yield _pass("first", _group(values, 1), RUN_DOWN, preload, last)
    yield _pass("check", _group(values, 1), CHECK, preload, last)


def _pass(name: str, studs: tuple[int, ...], text: str, preload: float, answer: Answer) -> dict[str, Any]:
    result = answer.result
    return {
        "name": name,
        "order": in_order(studs),
        "instruction": text,
        "preload": preload,
        "pressure": result["pressure"],
        "gauge_setting": result["gauge_setting"],
        "preload_at_gauge_setting": result["preload_at_gauge_setting"],
        "tool_load": result["tool_load"],
        "stud_stress_share_of_yield": result["stud_stress_share_of_yield"],
    }


def _findings(values: Mapping[str, Any], last: Answer, first: Answer) -> Iterator[Finding]:
    """What half coverage adds: how the marks of the groups go together, and the findings of the first."""
    marks = [answer.result["gauge_setting"] for answer in (first, last)]
    ratio, factor = marks[0].value / marks[1].value, values["first_pass_factor"]
    if abs(ratio / factor - 1) > LARGEST_LOSS:
        yield Finding(
            level="look",
            code="group_ratio_off",
            text=f"The ratio of the marks {marks[0]} and {marks[1]} is {ratio:.4g}; the factor is "
            f"{factor:.4g}. The first group may keep another preload than the second.",
            remedy="Measure the stretch of studs of both groups.",
            step="make_up",
            value=Amount("number", ratio),
            limit=Amount("number", factor),
        )
    highest, maximum = first.result["preload_upper_bound"], values.get("preload_maximum")
    if maximum is not None and highest > maximum:
        yield Finding(
            level="look",
            code="first_group_above_maximum",
            text="The first group can reach {value}; preload_maximum is {limit}. It comes below that only if "
            "the second group relaxes it by the factor.",
            remedy="Measure the stretch of studs of the first group after the last pass.",
            step="make_up",
            value=Amount("force", highest),
            limit=Amount("force", maximum),
        )
    if marks[0].value <= marks[1].value:
        yield Finding(
            level="look",
            code="first_group_no_higher",
            text=f"On this gauge the first group is set to {marks[0]}, no higher than the second.",
            remedy="Expect its nuts to turn in the check pass.",
            step="make_up",
        )
    for finding in first.findings:
        if finding not in last.findings:
            yield replace(finding, text=f"First pass: {finding.text}")
