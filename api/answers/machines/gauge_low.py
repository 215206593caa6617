"""A reading low on its dial, where the gauge may be off by much of it, and what would do better."""

from collections.abc import Iterator
from dataclasses import replace

from api.answers.machines.job import Job
from api.answers.machines.relief import ReliefAnswer
from api.engineering.checks import NOISE, Finding
from api.engineering.gauges.accuracy_class import GAUGE_CLASSES
from api.engineering.gauges.gauge import Gauge, working_range
from api.engineering.gauges.spans import smaller_spans
from api.engineering.machines.relief import USUAL_MARGIN

LARGE_ERROR = 0.05
"""Share of a reading above which the error of a gauge low on its dial is told (own judgement)."""


def gauge_low(job: Job, reading: float, least: float | None) -> Iterator[Finding]:
    """Tells a reading below a quarter of the span whose gauge may be off by much of it.

    Args:
        job: the machine and its gauge.
        reading: SI, > 0.
        least: the most that a smaller dial must bear, SI; None where nothing keeps the pointer on one.
    """
    gauge, error = job.gauge, job.setup.gauge_error(reading)
    quarter, _ = working_range(gauge)
    if reading >= quarter * (1 - NOISE) or error <= LARGE_ERROR * reading * (1 + NOISE):
        return
    share = 100 * reading / gauge.last_reading
    off = f"{100 * error / reading:.2g} % of it" if error < reading else "more than the reading itself"
    yield Finding(
        level="look",
        code="gauge_low",
        text=f"{{value}} is {share:.2g} % of the dial: the gauge may be off by {off}.",
        step="read",
        remedy=_remedy(job, reading, gauge.last_reading if least is None else least),
        value=gauge.amount(reading),
        limit=gauge.amount(quarter),
    )


def _remedy(job: Job, reading: float, least: float) -> str:
    gauge = job.gauge

    def does(other: Gauge) -> bool:
        error = job.setup.error_of(other, reading)
        return error <= LARGE_ERROR * reading * (1 + NOISE)

    for span in smaller_spans(gauge, max(least, reading)):
        if does(replace(gauge, span=span)):
            return f"A 0 to {span:.6g} {gauge.unit} gauge of {gauge.accuracy.name} would do."
    for accuracy in sorted(GAUGE_CLASSES.values(), key=lambda each: -each.at(reading, gauge.last_reading)):
        if does(replace(gauge, accuracy=accuracy)):
            return f"A gauge of {accuracy.name} would do."
    return "Use a smaller machine where there is one."


def relief_pressure(relief: ReliefAnswer | None) -> float | None:
    """The most that a gauge must bear, Pa: full flow of relief set as low as it may be.

    A mark of a finer dial may be lower than the one that is set. None without a valve, and where the pressure
    that the grip needs is not counted.
    """
    if relief is None or relief.cracking.value is None:
        return None
    lowest = relief.cracking.value if relief.set_to.value is None else relief.lower
    return lowest + relief.override


def most_pressure(job: Job, reading: float) -> float | None:
    """What a dial must bear if relief is set for a reading, SI; None for a machine without a valve."""
    relief = job.profile.limits.relief
    if relief is None:
        return None
    return max(relief.lowest, min(relief.highest, reading * (1 + USUAL_MARGIN))) + relief.override
