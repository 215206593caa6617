"""Which marks of a gauge a chart shows: those that the machine allows, and of many a readable few."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from math import floor, log10

from api.answers.machines.job import Job
from api.answers.machines.relief import highest_need, relief_of
from api.answers.shop import Policy
from api.engineering.checks import NOISE, Fault, NoAnswer, collecting, failed, refuse
from api.engineering.gauges.gauge import NOUNS, Gauge
from api.engineering.machines.limits import capacity_check

FEWEST = 10
"""Rows that a step round on the dial must leave; else one round in divisions is taken (own judgement)."""


def marks_to_set(job: Job, policy: Policy) -> range:
    """The numbers of all marks that can be set, without a gap: every limit has them on one side.

    Relief must protect the machine there, with its margin above the mark.

    Raises:
        NoAnswer: where there is none, with every reason why the lowest is not set.
    """
    gauge, limits, marks = job.gauge, job.profile.limits, range(job.gauge.last + 1)
    known = job.setup.known_readings
    highest = min(limits.reachable(gauge).values())
    first = max(
        1,
        bisect_left(marks, limits.lowest_setting * (1 - NOISE), key=gauge.at),
        bisect_left(marks, known[0], key=gauge.at),
    )
    end = min(
        bisect_right(marks, highest * (1 + NOISE), key=gauge.at),
        bisect_right(marks, known[1], key=gauge.at),
    )
    first += bisect_left(range(first, end), True, key=lambda number: job.setup.given(number).torque > 0)
    if not first < end:
        raise _nothing(job)
    if faults := _faults(job, first, policy):
        raise NoAnswer(faults)
    found = range(first, end)
    return found[: bisect_left(found, True, key=lambda number: bool(_faults(job, number, policy)))]


def _faults(job: Job, number: int, policy: Policy) -> list[Fault]:
    """What speaks against a mark of a machine, whatever the joint."""
    at = job.setup.at_mark(number)
    found = at.faults
    if job.making_up:
        found += _capacity_faults(job, at.mark.torque)
        if valve := relief_of(job, None, {}, policy):
            with collecting(found):
                valve.at(at.mark.at, at.mark.torque)
    elif job.profile.limits.relief:
        protects = highest_need(job.setup, job.profile.limits.relief, policy)
        if at.mark.at > protects * (1 + NOISE):
            text = "relief with its margin protects the machine up to {upper} only"
            amounts = {"upper": job.gauge.amount(protects)}
            found.append(Fault("relief_cannot_protect", text, "machine", amounts))
    return found


def _capacity_faults(job: Job, torque: float) -> list[Fault]:
    """Whether the machine reaches a torque, N.m, at its lowest efficiency too, as far as that is known."""
    needed = job.setup.reading_if_known(torque, job.machine.efficiency.low)
    if needed is None:
        return []
    words = f"{NOUNS[job.gauge.quantity]} needed at the lowest efficiency"
    return failed([capacity_check(job.profile.limits, job.gauge, needed, words)])


def _nothing(job: Job) -> NoAnswer:
    return refuse(
        "nothing_to_chart",
        f"no mark of gauge {job.gauge.serial} from the lowest setting {{lowest}} up is within every limit of "
        "this machine",
        "machine",
        lowest=job.gauge.amount(job.profile.limits.lowest_setting),
    )


def readable(marks: range, gauge: Gauge, most: int) -> list[int]:
    """Chooses at most ``most`` marks: the first, the last, and the multiples of a step between.

    The step is 1, 2 or 5 times a power of ten in the unit of the dial or, where that leaves too few, in
    divisions.

    Args:
        marks: numbers of marks, at least one.
        gauge: their dial.
        most: rows that there may be, at least 3.

    >>> from api.engineering.gauges.accuracy_class import stated_accuracy
    >>> dial = Gauge("G", "psi", 3000, 25, 1.0, stated_accuracy(1), "work_port")
    >>> [dial.reading(number).value for number in readable(range(10, 51), dial, 13)]
    [250.0, 300.0, 400.0, 500.0, 600.0, 700.0, 800.0, 900.0, 1000.0, 1100.0, 1200.0, 1250.0]
    """
    if len(marks) <= most:
        return list(marks)
    few = _first_with(_round_on_dial(gauge.division), marks, most)
    return few if len(few) >= FEWEST else _first_with(map(int, _one_two_five(0)), marks, most)


def _first_with(steps: Iterator[int], marks: range, most: int) -> list[int]:
    """The rows of the first step that leaves at most ``most``; none where no step does."""
    for step in steps:
        between = range(-(-marks.start // step) * step, marks.stop, step)
        rows = {marks[0], *between[: most + 1], marks[-1]}
        if len(rows) <= most:
            return sorted(rows)
    return []


def _round_on_dial(division: float) -> Iterator[int]:
    """Divisions that make 1, 2 or 5 times a power of ten of the dial's unit, rising."""
    for value in _one_two_five(floor(log10(division))):
        step = value / division
        if step >= 0.5 and abs(step - round(step)) < 1e-9 * step:
            yield round(step)


def _one_two_five(exponent: int) -> Iterator[float]:
    """Round numbers, rising, from a power of ten on; a dial has no more than a million marks."""
    for power in range(exponent, exponent + 7):
        yield from (float(f"{digit}e{power}") for digit in (1, 2, 5))
