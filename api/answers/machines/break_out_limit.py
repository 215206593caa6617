"""Where a break-out must stop: the last mark that machine, joint, grip and relief allow."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil, floor
from typing import Any

from api.answers.machines.job import Job
from api.answers.machines.job_findings import held_torque
from api.answers.machines.relief import ReliefAnswer, grip_pressure_of, highest_need
from api.answers.shop import Policy, Range
from api.engineering.checks import NOISE, Amount, Fault, Finding, refuse
from api.engineering.gauges.gauge import NOUNS, Gauge, Mark
from api.engineering.machines.aim import first
from api.engineering.torque_window import TorqueWindow

YIELD, GRIP, WINDOW, RELIEF = "torsional yield of the joint", "grip", "relief window", "relief"
PROTECTING = "relief, which is set to protect the joint"
BEYOND = {
    YIELD: "No machine may go beyond it. Ask the owner of the joint how to free it.",
    GRIP: "Use a machine with a stronger grip, or jaws with more friction.",
    RELIEF: "It needs more than was expected. Find out why, then ask again with a higher break_out_ratio.",
    PROTECTING: "Ask the owner of the joint before you set relief higher.",
}
"""What to do where the limit is not that of the machine's strength, by what sets it."""
STRONGER = "Use a stronger machine: ask /v1/machine-choice."


@dataclass(frozen=True)
class BreakOutLimit:
    """The mark that a break-out must not exceed, and what sets it."""

    mark: Mark
    set_by: str

    @property
    def if_it_does_not_move(self) -> str:
        """What to do if the joint does not move (common practice, no source)."""
        return (
            f"Stop at {self.mark.reading}, set by the {self.set_by}. Let the pressure off. Check the hand of "
            "the thread, the side under pressure and the grip. Do not exceed the limit, even if all is "
            f"right. {BEYOND.get(self.set_by, STRONGER)}"
        )


def break_out_limit(
    window: TorqueWindow, job: Job, values: Mapping[str, Any], policy: Policy
) -> BreakOutLimit:
    """The highest mark that a break-out may reach on a machine, wherever its relief is set.

    At its highest efficiency the machine must stay within its torque rating, the joint below its torsional
    yield and the grip within what it holds, as far as these are known.

    Raises:
        NoAnswer: ``break_out_beyond_machine`` where there is no such mark.
    """
    ends = dict(_ends(window, job, values, policy))
    set_by = min(ends, key=lambda name: ends[name])
    gauge = job.gauge
    number = floor(ends[set_by] * (1 + NOISE) / (gauge.division * gauge.unit_in_si))
    if number not in job.setup.known_marks or number == 0:
        raise refuse(
            "break_out_beyond_machine",
            f"no mark of gauge {gauge.serial} is below the limit {{limit}}, set by the {set_by}",
            "machine",
            BEYOND.get(set_by, STRONGER),
            limit=gauge.amount(ends[set_by]),
        )
    return BreakOutLimit(_mark(job, number), set_by)


def _ends(
    window: TorqueWindow, job: Job, values: Mapping[str, Any], policy: Policy
) -> Iterator[tuple[str, float]]:
    """Readings that a break-out must not exceed, each with what sets it."""
    limits = job.profile.limits
    yield from limits.reachable(job.gauge).items()
    if limits.relief and job.gauge.quantity == "pressure":
        yield WINDOW, highest_need(job.setup, limits.relief, policy)
    torques = {
        "torque rating": limits.torque_rating,
        YIELD: window.torsional_yield,
        GRIP: held_torque(job, values),
    }
    for name, torque in torques.items():
        reading = None if torque is None else job.setup.reading_if_known(torque, job.machine.efficiency.high)
        if reading is not None:
            yield name, reading
    yield "last reading at which the torque is known", job.setup.known_readings[1]


def let_through(
    job: Job, limit: BreakOutLimit, relief: ReliefAnswer | None, set_by: str, values: Mapping[str, Any]
) -> BreakOutLimit:
    """The limit, or below it the last mark that relief lets through with its margin, as it is set.

    It lets through what the grip needs for that mark too, where both share one supply.

    Args:
        job: the machine.
        limit: wherever relief is set.
        relief: as it is set; None for a machine without one.
        set_by: what a limit is set by that this relief sets.
        values: of the request: ``grip_friction``, ``grip_margin``.
    """
    if relief is None or relief.cracking.value is None:
        return limit
    most = relief.lets_through * (1 + NOISE)

    def opens(number: int) -> bool:
        mark = _mark(job, number)
        return max(mark.at, grip_pressure_of(job, mark.torque, values).value or 0.0) > most

    marks = range(job.setup.known_marks.start, number_above(job.gauge, limit.mark.at) + 1)
    number = first(marks, opens)
    return limit if number is None else BreakOutLimit(_mark(job, number - 1), set_by)


def _mark(job: Job, number: int) -> Mark:
    at, torque, _ = job.setup.given(number)
    return Mark(job.gauge.reading(number), at, torque)


def number_nearest(gauge: Gauge, reading: float) -> int:
    """The number of the mark nearest to a reading, SI."""
    return round(reading / (gauge.division * gauge.unit_in_si))


def number_above(gauge: Gauge, reading: float) -> int:
    """The number of the mark at or above a reading, SI."""
    return ceil(reading / (gauge.division * gauge.unit_in_si) * (1 - NOISE))


def yield_findings(
    job: Job, expected: Range, limit: BreakOutLimit, torsional_yield: float | None
) -> Iterator[Finding]:
    """Tells a limit at which the joint can yield in the worst case, the error of the gauge with it.

    It is a *stop* where the likely reading, SI, lies beyond the last mark that is safe, and to be looked at
    where the highest one does.
    """
    most = job.setup.torque_range(limit.mark.at)[1]
    if torsional_yield is None or most < torsional_yield:
        return
    known = job.setup.known_marks
    beyond = first(known, lambda number: job.setup.torque_range(job.gauge.at(number))[1] >= torsional_yield)
    number = max(known.start, (known.stop if beyond is None else beyond) - 1)
    safe = job.gauge.at(number) * (1 + NOISE)
    remedy = f"Up to {job.gauge.reading(number)} it does not. "
    if expected.likely > safe:
        remedy += "It likely needs {likely}. Use a finer gauge, or ask the owner of the joint how to free it."
    else:
        remedy += "Beyond, go slowly, or use a gauge with less error."
    yield Finding(
        level="stop" if expected.likely > safe else "look" if expected.high > safe else "note",
        code="limit_can_yield",
        text=f"At {limit.mark.reading} the torque can be {{value}} at worst. The joint yields at {{limit}}.",
        step="break_out",
        remedy=remedy,
        value=Amount("torque", most),
        limit=Amount("torque", torsional_yield),
        amounts={"likely": job.gauge.amount(expected.likely)},
    )


def beyond_fault(job: Job, torque: float, likely: float, limit: BreakOutLimit) -> Fault:
    """The refusal of a break-out whose likely torque, N.m, and reading, SI, lie beyond the limit."""
    return Fault(
        "break_out_beyond_machine",
        f"breaking this joint out likely needs {{torque}}, a {NOUNS[job.gauge.quantity]} of {{likely}}. "
        f"This machine must stop at {limit.mark.reading}, set by the {limit.set_by}",
        "machine",
        {"torque": Amount("torque", torque), "likely": job.gauge.amount(likely)},
        BEYOND.get(limit.set_by, STRONGER),
    )


def may_stop_short(torque: float, limit: BreakOutLimit) -> Iterator[Finding]:
    """Tells that the high expectation, N.m, lies beyond the limit."""
    yield Finding(
        level="look",
        code="break_out_beyond",
        text="Breaking this joint out may need {value}. "
        f"This machine must stop at {limit.mark.reading}, {{limit}}, set by the {limit.set_by}.",
        step="break_out",
        remedy=BEYOND.get(limit.set_by, "Have a stronger machine ready."),
        value=Amount("torque", torque),
        limit=Amount("torque", limit.mark.torque),
    )
