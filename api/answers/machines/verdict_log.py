"""A log of verdicts, counted line by line: how many of each, and how each machine drifts from its marks."""

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from typing import Any

from api.answers.answer import Answer
from api.engineering.gauges.gauge import Reading
from api.engineering.machines.drift import Off, drift
from api.engineering.machines.verdict import TORQUE_VERDICTS, WORK
from schemas.machines.verdict import VerdictLogPart

_LOG = VerdictLogPart()
Dial = tuple[str, str]
"""A machine by its id, and the unit of its dial: readings in two units have no mean."""


@dataclass
class VerdictLog:
    """The verdicts of a log so far."""

    work: Counter[str] = field(default_factory=lambda: Counter(dict.fromkeys(WORK, 0)))
    torque: Counter[str] = field(default_factory=lambda: Counter(dict.fromkeys(TORQUE_VERDICTS, 0)))
    off: defaultdict[Dial, list[Off]] = field(default_factory=lambda: defaultdict(list))

    def count(self, line: int, answer: Answer) -> None:
        """Add the verdict of a line."""
        result = answer.result
        self.work[result["work"]] += 1
        self.torque[result["torque_verdict"]] += 1
        by = result["reading_less_mark"].value
        if by is not None and answer.profile is not None:
            self.off[answer.profile.id, by.unit].append(Off(line, result["day"], by.value))

    def shown(self) -> dict[str, Any]:
        """What the log comes to, as it stands in an answer."""
        machines = [_drift_shown(dial, readings) for dial, readings in self.off.items()]
        held = {"work": self.work, "torque_verdict": self.torque, "drift": machines}
        return _LOG.written(held, {}, "")


def _drift_shown(dial: Dial, readings: list[Off]) -> dict[str, Any]:
    (machine, unit), found = dial, drift(readings)
    trend = {}
    if found.trend is not None:
        trend = {"trend": Reading(found.trend, unit), "trend_per": found.per}
    return {"machine": machine, "lines": len(readings), "mean": Reading(found.mean, unit), **trend}
