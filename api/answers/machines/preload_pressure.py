"""What to set on the gauge of a stud tensioner for a preload."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.machine_kinds import stud_tensioner
from api.answers.machines.job import profile_of
from api.answers.machines.profile import Profile, validity_checks
from api.answers.shop import Shop
from api.answers.standing_notices import (
    COMPUTED,
    TENSIONER_AXIS,
    TENSIONER_LIMITS,
    TENSIONER_LOSS,
    TENSIONER_SCATTER,
    TENSIONER_SEAT,
    StandingNotice,
)
from api.engineering.checks import (
    Amount,
    Check,
    Fault,
    Finding,
    NoAnswer,
    collecting,
    failed,
    findings_of,
    refuse,
)
from api.engineering.gauges.gauge import Gauge, Mark, marks_around, marks_in_window
from api.engineering.machines.stud_tensioner import StudTensioner
from api.engineering.machines.tensioner_checks import (
    PreloadDuty,
    check_order,
    preload_setting_checks,
    preload_window_checks,
    tensioner_checks,
)
from api.engineering.provenance import Source

STATED = Source("preload, load-loss factor and stud", "stated", "the caller")
YIELD = Source("95 % of the yield of the stud", "read", "trade guidance; no standard says so")
USUAL_LOSS = 1.10
"""Least load-loss factor of the rule of thumb in two trade notes (read); no standard."""
TENSIONING: tuple[StandingNotice, ...] = (
    TENSIONER_AXIS,
    TENSIONER_LIMITS,
    TENSIONER_SEAT,
    TENSIONER_LOSS,
    TENSIONER_SCATTER,
    COMPUTED,
)
"""The notices of ``/v1/preload-pressure``."""


@dataclass(frozen=True)
class _AtMark:
    """A mark with the least and most preload there, N, and its checks."""

    mark: Mark
    lowest: float
    highest: float
    checks: list[Check]


def preload_pressure_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/preload-pressure``.

    Of the two marks around the target the nearest within the window is taken; where it fails a limit, and
    the other is within the window too and passes them all, the other: as
    `api.answers.machines.pressure` does it.

    Raises:
        NoAnswer: with every reason why this tensioner cannot give this preload.
    """
    profile = _tensioner(values, shop)
    duty, gauge = _duty(values, profile), profile.gauges["make_up"]
    checks = [
        *validity_checks(profile.governance, values.get("as_of"), shop.refuse_unfit),
        *tensioner_checks(profile.limits, gauge, duty),
    ]
    preload = duty.tool.preload_from_pressure
    try:
        marks = marks_in_window(
            gauge, duty.reading, duty.target, duty.minimum, duty.maximum, preload, gives="preload"
        )
    except NoAnswer as no_setting:
        raise NoAnswer([*no_setting.faults, *failed(checks)]) from None
    tried = [_at_mark(profile, gauge, duty, mark) for mark in marks]
    found = next((each for each in tried if not failed(each.checks)), tried[0])
    checks += found.checks
    if faults := failed(checks):
        raise NoAnswer(faults)
    below, above = marks_around(gauge, duty.reading, preload)
    passed_over = marks[0] if found is not tried[0] else None
    return Answer(
        result={
            **_shown(gauge, duty, found),
            "neighbouring_marks": {"below": below, "above": above},
            "checks": checks,
        },
        sources=(profile.kind.source, STATED, YIELD, _accuracy(gauge)),
        status="stated",
        findings=tuple(_findings(gauge, duty, passed_over, checks)),
        working={"duty": duty, "tool_load": duty.tool.tool_load(duty.reading)},
        profile=profile.version,
        steps=profile.kind.to_reading,
    )


def _accuracy(gauge: Gauge) -> Source:
    accuracy = gauge.accuracy
    return Source(f"accuracy of the gauge, {accuracy.name}", accuracy.status, accuracy.source)


def _tensioner(values: Mapping[str, Any], shop: Shop) -> Profile:
    """The profile asked for; what is wrong with it and with the window is told at once."""
    faults: list[Fault] = []
    profile = None
    with collecting(faults):
        profile = profile_of(values, shop)
        if profile.kind is not stud_tensioner.KIND:
            text = "this machine turns: it gives torque, not preload; ask /v1/pressure"
            raise refuse("gives_no_preload", text, "machine", accepted="a stud tensioner")
    with collecting(faults):
        check_order(values["preload_target"], values.get("preload_minimum"), values.get("preload_maximum"))
    if profile is None or faults:
        raise NoAnswer(faults)
    return profile


def _duty(values: Mapping[str, Any], profile: Profile) -> PreloadDuty:
    return PreloadDuty(
        StudTensioner(profile.loaded["effective_area"], values["load_loss_factor"]),
        profile.loaded["load_rating"],
        values["preload_target"],
        values.get("preload_minimum"),
        values.get("preload_maximum"),
        values["stress_area"],
        values["yield_strength"],
    )


def _at_mark(profile: Profile, gauge: Gauge, duty: PreloadDuty, mark: Mark) -> _AtMark:
    error = gauge.error_at(mark.at)
    lowest = duty.tool.preload_from_pressure(max(0.0, mark.at - error))
    highest = duty.tool.preload_from_pressure(mark.at + error)
    checks = [
        *preload_setting_checks(profile.limits, gauge, duty, mark, mark.at + error),
        *preload_window_checks(duty, lowest, highest),
    ]
    return _AtMark(mark, lowest, highest, checks)


def _shown(gauge: Gauge, duty: PreloadDuty, found: _AtMark) -> dict[str, Any]:
    at = found.mark.at
    stress = duty.tool.stud_stress(at, duty.stress_area)
    return {
        "pressure": duty.reading,
        "gauge_setting": found.mark.reading,
        "preload_at_gauge_setting": found.mark.torque,
        "preload_lower_bound": found.lowest,
        "preload_upper_bound": found.highest,
        "gauge": gauge.serial,
        "gauge_error_share": gauge.error_at(at) / at,
        "tool_load": duty.tool.tool_load(at),
        "stud_stress": stress,
        "stud_stress_share_of_yield": stress / duty.yield_strength,
    }


def _findings(
    gauge: Gauge, duty: PreloadDuty, passed_over: Mark | None, checks: Iterable[Check]
) -> Iterator[Finding]:
    yield from findings_of(checks)
    loss = duty.tool.load_loss_factor
    if loss < USUAL_LOSS:
        yield Finding(
            level="look",
            code="load_loss_factor_low",
            text=f"The load-loss factor {loss:.10g} is below {USUAL_LOSS:.2f}, the lowest in trade notes. If "
            "it is too low, the remaining preload is lower than shown.",
            remedy="Measure the stretch of a stud before and after the tool is let off.",
            step="make_up",
            value=Amount("number", loss),
            limit=Amount("number", USUAL_LOSS),
        )
    if passed_over:
        yield Finding(
            level="note",
            code="nearest_mark_not_used",
            text=f"The mark nearest the target, {passed_over.reading}, fails a limit. The mark shown fails "
            "none.",
            step="limit",
        )
