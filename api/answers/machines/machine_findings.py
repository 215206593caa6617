"""What a machine says of itself, whatever the joint: on its chart, and before its profile is served."""

from collections.abc import Iterator, Mapping
from math import floor, log10

from api.answers.machines.job import Job
from api.engineering.checks import NOISE, Amount, Finding
from api.engineering.gauges.gauge import Gauge, Reading
from api.engineering.machines.cylinder import Operation
from api.engineering.machines.relief import Relief


def relief_findings(
    relief: Relief, ends: Mapping[str, float], operation: Operation, gauge: Gauge
) -> Iterator[Finding]:
    """Whether the full flow of a relief valve overloads a part of its machine.

    Args:
        relief: the valve.
        ends: the pressure that each part bears, Pa, by its name; not empty.
        operation: what is refused where the valve cannot be set low enough.
        gauge: the dial whose unit the sentences use.
    """
    least = min(ends, key=lambda name: ends[name])
    most, words = ends[least] - relief.override, operation.replace("_", "-")
    part = "span of its gauge" if least.startswith("span of") else least  # a serial may look like an amount
    if relief.lowest > most * (1 + NOISE):
        yield Finding(
            level="stop",
            code="relief_overloads_machine",
            text=f"Relief lets at least {_on(gauge, relief.lowest + relief.override)} through. "
            f"The machine bears {_at_most_on(gauge, ends[least])}: {part}.",
            step="relief",
            remedy=f"Fit a valve that opens lower. Until then Dialset refuses every {words}.",
            value=gauge.amount(relief.lowest + relief.override),
            limit=gauge.amount(ends[least]),
        )
    elif relief.highest > most * (1 + NOISE):
        yield Finding(
            level="look",
            code="relief_too_high",
            text=f"Relief can be set up to {_on(gauge, relief.highest)}. "
            f"Its full flow then overloads the machine: {part}.",
            step="relief",
            remedy=f"For {words}, set relief to at most {_at_most_on(gauge, most)}.",
            value=gauge.amount(relief.highest),
            limit=gauge.amount(most),
        )


def _on(gauge: Gauge, pressure: float) -> Reading:
    return Reading(float(f"{pressure / gauge.unit_in_si:.4g}"), gauge.unit)


def _at_most_on(gauge: Gauge, pressure: float) -> Reading:
    """A limit as its dial shows it, four digits of it, never rounded up."""
    reading = pressure / gauge.unit_in_si
    one = 10.0 ** (floor(log10(reading)) - 3) if reading > 0 else 1.0
    return Reading(float(f"{floor(reading / one * (1 + NOISE)) * one:.4g}"), gauge.unit)


def reach_findings(job: Job, highest: float | None) -> Iterator[Finding]:
    """Whether a machine reaches more torque than its rating.

    Args:
        job: the machine as it stands.
        highest: torque at the most that it reaches and at its highest efficiency, N.m; None where not known.
    """
    rating = job.profile.limits.torque_rating
    if highest is not None and highest <= rating * (1 + NOISE):
        return
    unknown = "The torque that this machine can reach is not known. It is rated for {limit}."
    yield Finding(
        level="look",
        code="torque_rating_in_reach",
        text=unknown if highest is None else "This machine can reach {value}. It is rated for {limit}.",
        step="limit",
        remedy="Prove the limit with open grips first. Never go beyond the last mark.",
        value=None if highest is None else Amount("torque", highest),
        limit=Amount("torque", rating),
    )
