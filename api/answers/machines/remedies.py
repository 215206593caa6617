"""What would make a torque surer where it is too probably a wrong one, each remedy with its figure.

Three are tried: another machine of the shop, a finer gauge or one of a smaller span, and a calibration of
machine and gauge together. Each figure is that of the mark that would then be set, and counts what misses the
window at either end. Which gauges are worth trying is told beforehand by the terms of the budget, in the
middle of the window.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import islice, product
from math import hypot, sqrt
from typing import Any

from api.answers.machines.break_out_limit import break_out_limit
from api.answers.machines.gauge_low import relief_pressure
from api.answers.machines.job import Job, budget_of, job_with
from api.answers.machines.profile import validity_checks
from api.answers.machines.relief import highest_need
from api.answers.machines.setting import MachineSetting, known_marks, machine_setting, nominal_torque
from api.answers.shop import Policy, Shop
from api.engineering.checks import NOISE, NoAnswer
from api.engineering.gauges.accuracy_class import GAUGE_CLASSES
from api.engineering.gauges.gauge import Gauge, HowRead, reading_half_width
from api.engineering.gauges.spans import smaller_spans
from api.engineering.machines.aim import Chance, aimed, chance, first
from api.engineering.torque_window import TorqueWindow

REFERENCE, DRIFT = 0.015, 0.0025
"""Uncertainty of a reference torque, a share of it, k = 2; and drift of a gauge, a share of its span: what a
calibration of machine and gauge together is taken to leave (own judgement)."""
TRIED, MOST_MARKS = 4, 1000
"""Gauges of which a setting is worked out at most; and marks that a dial can have, as in its profile."""
FINER = (1, 2, 5, 10)
"""How many marks a finer dial may have in place of each one of this."""
CLEARLY_BETTER = 0.8
"""Share of the probability of a wrong torque that a remedy may leave at most (own judgement)."""


@dataclass(frozen=True)
class Remedies:
    """What would make a torque surer, for one joint in one shop."""

    window: TorqueWindow
    values: Mapping[str, Any]
    shop: Shop

    def of(self, found: MachineSetting) -> Iterator[str]:
        """Every remedy that does clearly better than a setting, in words with its figure."""
        most = CLEARLY_BETTER * found.wrong_torque_probability
        if better := self.machine(found.job):
            where, risk = better
            if risk <= most:
                yield f"Use {where}: {of_100(risk)} miss the window there."
        if finer := self.gauge(found):
            gauge, risk = finer
            if risk <= most:
                yield f"{_named(gauge)} leaves {of_100(risk)}."
        calibrated = _calibrated(found, self.shop.policy)
        if calibrated is not None and calibrated <= most:
            yield (
                f"Calibrating machine and gauge together leaves {of_100(calibrated, about=True)} "
                f"(reference {100 * REFERENCE:g} %, drift {100 * DRIFT:g} %)."
            )

    def gauge(self, found: MachineSetting) -> tuple[Gauge, float] | None:
        """The coarsest gauge found with which a wrong torque is improbable enough, and how probable it is."""
        limit = self.shop.policy.worth_telling
        for gauge in islice(_worth_trying(found, limit), TRIED):
            risk = self._risk_on(replace(found.job, gauge=gauge))
            if risk is not None and risk <= limit:
                return gauge, risk
        return None

    def _risk_on(self, job: Job, *, both: bool = False) -> float | None:
        """How probable a wrong torque is on a machine; None where it cannot make up the joint.

        Args:
            job: machine, gauge and task.
            both: whether it must be able to break the joint out again, where a ratio is known.
        """
        try:
            found = machine_setting(self.window, self.values, job, self.shop.policy)
            if both and found.break_out_torque is not None:
                turned = job.for_operation("break_out")
                limit = break_out_limit(self.window, turned, self.values, self.shop.policy)
                if found.break_out_torque.likely > limit.mark.torque:
                    return None
        except NoAnswer:
            return None
        return found.wrong_torque_probability

    def machine(self, job: Job) -> tuple[str, float] | None:
        """The other machine of the shop whose torque is surest, and how probable a wrong one is there.

        One of the same site goes first where it is sure enough; another site is named. It can break the joint
        out again. A length of the cylinder is that of one machine: another stands square. Where no day is
        given, no machine is checked for its dates, as in a choice of machines.
        """
        task, limit, stands = job.task, self.shop.policy.worth_telling, ""
        if isinstance(task.position, float) or task.rod_exposed is not None:
            task, stands = replace(task, position="square", rod_exposed=None), " with its arm square"
        able = []
        for profile in self.shop.machines.values():
            unfit = any(
                check.verdict in ("fail", "caution")
                for check in validity_checks(profile.governance, task.as_of, task.as_of is not None)
            )
            if unfit or profile.version == job.profile.version:
                continue
            if (risk := self._risk_on(job_with(profile, task), both=True)) is not None:
                elsewhere = profile.site != job.profile.site
                able.append((elsewhere or risk > limit, risk, profile.version.id, elsewhere, profile.site))
        if not able:
            return None
        _, risk, where, elsewhere, site = min(able)
        place = f" at site {site}" if elsewhere and site else ""
        return f"{where}{place}{stands}", risk


def _worth_trying(found: MachineSetting, limit: float) -> Iterator[Gauge]:
    """Gauges with which a wrong torque should be improbable enough, the coarsest first."""
    gauge = found.job.gauge
    least = relief_pressure(found.relief)
    spans = [gauge.span, *(smaller_spans(gauge, least) if least else ())]
    for _, accuracy in sorted(GAUGE_CLASSES.items(), key=lambda item: -item[1].at(0, 1.0)):
        for span, parts in product(spans, FINER):
            last = span / gauge.division * parts
            ratio = accuracy.at(found.mark.at, span * gauge.unit_in_si) / gauge.error_at(found.mark.at)
            many = last > max(MOST_MARKS, gauge.last)
            if ratio > 1 or (many and parts > 1) or abs(last - round(last)) > NOISE * last:
                continue
            if _risk(found, {"gauge": ratio, "reading": 1 / parts}, parts) <= limit:
                yield replace(
                    gauge,
                    serial="in its place",
                    span=span,
                    division=float(f"{gauge.division / parts:.12g}"),
                    accuracy=accuracy,
                    drift=None if gauge.drift is None else gauge.drift * span / gauge.span,
                )


def _named(gauge: Gauge) -> str:
    marks = f"{gauge.division:.6g} {gauge.unit}"
    return f"A 0 to {gauge.span:.6g} {gauge.unit} gauge of {gauge.accuracy.name} with marks every {marks}"


def _calibrated(found: MachineSetting, policy: Policy) -> float | None:
    """How probable a wrong torque is after a calibration of machine and gauge together; None without a mark.

    Then only the reference, the drift of the gauge and the reading are in doubt. A calibration is for one
    position of the arm; a machine that has been calibrated with this gauge has its own figures.
    """
    job, goal, gauge = found.job, found.duty.goal, found.job.gauge
    if not job.position_known or job.gauge_in_calibration:
        return None
    torque_at, (first_known, last_known) = nominal_torque(job), job.known_readings
    how: HowRead = "digital" if gauge.digital else "set_on_mark"
    doubt = hypot(
        DRIFT * gauge.last_reading, reading_half_width(gauge.division * gauge.unit_in_si, how)
    ) / sqrt(3)

    def torque(number: int) -> float:
        return torque_at(gauge.at(number))

    @cache
    def chance_at(number: int) -> Chance:
        low, high = max(first_known, gauge.at(number) - doubt), min(last_known, gauge.at(number) + doubt)
        slope = (torque_at(high) - torque_at(low)) / (high - low)
        deviation = hypot(REFERENCE / 2 * torque(number), slope * doubt)
        return chance(torque(number), deviation, goal.minimum, goal.maximum)

    known = known_marks(job)
    most = goal.highest if goal.maximum is None else goal.highest / (1 + REFERENCE)
    start = first(known, lambda number: torque(number) >= goal.lowest * (1 - NOISE))
    reach = min(_reach(job, policy)) * (1 + NOISE)
    end = first(known, lambda number: torque(number) > most * (1 + NOISE) or gauge.at(number) > reach)
    marks = range(known.stop if start is None else start, known.stop if end is None else end)
    return 1.0 - chance_at(aimed(marks, torque, chance_at, goal).number).in_window if marks else None


def _reach(job: Job, policy: Policy) -> Iterator[float]:
    """Readings above which nothing is set on a machine, whatever the joint."""
    limits = job.profile.limits
    yield from limits.reachable(job.gauge).values()
    if limits.relief and job.gauge.quantity == "pressure":
        yield highest_need(job, limits.relief, policy)


def _risk(found: MachineSetting, scaled: Mapping[str, float], parts: int) -> float:
    """Estimates the probability of a wrong torque with other doubts, half a division off the middle.

    Args:
        found: the setting as it is.
        scaled: by what each term of its budget is to be multiplied, by name; the others stay.
        parts: marks in place of one.
    """
    goal, job, mark = found.duty.goal, found.job, found.mark
    budget = budget_of(job, mark.at, "set_on_mark")
    doubt = hypot(*(term.contribution * scaled.get(term.name, 1.0) for term in budget.terms))
    middle = (goal.lowest + goal.highest) / 2
    off = mark.torque * job.gauge.division * job.gauge.unit_in_si / mark.at / 2 / parts
    shift = budget.estimate / budget.nominal
    return max(
        1.0 - chance(torque, doubt * torque, goal.minimum, goal.maximum).in_window
        for torque in ((middle - off) * shift, (middle + off) * shift)
    )


def of_100(risk: float, *, about: bool = False) -> str:
    """A probability in words, as so many of 100."""
    if risk < 0.005:
        return "less than 1 of 100"
    return f"{'about ' if about else ''}{100 * risk:.0f} of 100"
