"""What would make a torque surer where it is too probably a wrong one, each remedy with its figure.

Three are tried: another machine of the shop, a finer gauge or one of a smaller span, and a calibration of
machine and gauge together. Each figure is that of the mark that would then be set, and counts what misses the
window at either end. Which gauges are worth trying is told beforehand by the terms of the budget, in the
middle of the window.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import islice, product
from math import hypot, sqrt
from typing import Any

from api.answers.machines.break_out_limit import break_out_limit
from api.answers.machines.job import Job, job_with
from api.answers.machines.job_findings import relief_pressure
from api.answers.machines.mark_choice import Chosen, choice_for
from api.answers.machines.relief import highest_need
from api.answers.machines.setting import MachineSetting
from api.answers.shop import Policy, Shop, ratios_of
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
        chosen = choice_for(self.window, self.values, job, self.shop.policy)
        if chosen is None or (both and not self._can_break_out(chosen)):
            return None
        return chosen.wrong_torque_probability

    def _can_break_out(self, chosen: Chosen) -> bool:
        """Whether a machine can likely break out what it makes up; also where no ratio is known."""
        ratios, _ = ratios_of(self.values, self.shop.policy)
        if ratios is None:
            return True
        try:
            turned = chosen.job.for_operation("break_out")
            limit = break_out_limit(self.window, turned, self.values, self.shop.policy)
        except NoAnswer:
            return False
        return ratios.times(chosen.torque).likely <= limit.mark.torque

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
            if profile.version == job.profile.version or not profile.governance.fit_on(task.as_of):
                continue
            if (risk := self._risk_on(job_with(profile, task), both=True)) is not None:
                elsewhere = profile.site != job.profile.site
                able.append((elsewhere or risk > limit, risk, profile.version.id, elsewhere, profile.site))
        if not able:
            return None
        _, risk, where, elsewhere, site = min(able)
        place = f" at site {site}" if elsewhere and site else ""
        return f"{where}{place}{stands}", risk


COARSEST_FIRST = sorted(GAUGE_CLASSES.values(), key=lambda accuracy: -accuracy.at(0, 1.0))


def _worth_trying(found: MachineSetting, limit: float) -> Iterator[Gauge]:
    """Gauges with which a wrong torque should be improbable enough, the coarsest first."""
    gauge, at = found.job.gauge, found.mark.at
    error, least = gauge.error_at(at), relief_pressure(found.relief)
    spans = [gauge.span, *(smaller_spans(gauge, least) if least else ())]
    sure_enough = _estimate(found, limit)
    for accuracy, span in product(COARSEST_FIRST, spans):
        ratio = accuracy.at(at, span * gauge.unit_in_si) / error
        for parts in FINER if ratio <= 1 else ():
            last = span / gauge.division * parts
            many = last > max(MOST_MARKS, gauge.last)
            if (many and parts > 1) or abs(last - round(last)) > NOISE * last:
                continue
            if sure_enough(ratio, parts):
                yield replace(
                    gauge,
                    serial="in its place",
                    span=span,
                    division=float(f"{gauge.division / parts:.12g}"),
                    accuracy=accuracy,
                    drift=None if gauge.drift is None else gauge.drift * span / gauge.span,
                )


def _estimate(found: MachineSetting, limit: float) -> Callable[[float, int], bool]:
    """Tells of a gauge whether a wrong torque should be improbable enough, half a division off the middle.

    It is asked with the error of that gauge over that of the one at hand, and its marks in place of one.
    """
    goal, gauge, mark = found.duty.goal, found.job.gauge, found.mark
    budget = found.job.setup.budget(mark.at, "set_on_mark", told=False)
    middle, shift = (goal.lowest + goal.highest) / 2, budget.estimate / budget.nominal
    off = mark.torque * gauge.division * gauge.unit_in_si / mark.at / 2

    def contribution(*names: str) -> float:
        return hypot(*(term.contribution for term in budget.terms if term.name in names))

    of_gauge, of_reading = contribution("gauge"), contribution("reading")
    of_machine = contribution(*{term.name for term in budget.terms} - {"gauge", "reading"})

    def sure_enough(ratio: float, parts: int) -> bool:
        doubt = hypot(of_machine, of_gauge * ratio, of_reading / parts)
        return all(
            1.0 - chance(torque, doubt * torque, goal.minimum, goal.maximum).in_window <= limit
            for torque in ((middle - off / parts) * shift, (middle + off / parts) * shift)
        )

    return sure_enough


def _named(gauge: Gauge) -> str:
    marks = f"{gauge.division:.6g} {gauge.unit}"
    return f"A 0 to {gauge.span:.6g} {gauge.unit} gauge of {gauge.accuracy.name} with marks every {marks}"


def _calibrated(found: MachineSetting, policy: Policy) -> float | None:
    """How probable a wrong torque is after a calibration of machine and gauge together; None without a mark.

    Then only the reference, the drift of the gauge and the reading are in doubt. A calibration is for one
    position of the arm; a machine that has been calibrated with this gauge has its own figures.
    """
    job, goal, gauge = found.job, found.duty.goal, found.job.gauge
    setup = job.setup
    if not job.position_known or setup.gauge_in_calibration:
        return None
    first_known, last_known = setup.known_readings
    how: HowRead = "digital" if gauge.digital else "set_on_mark"
    doubt = hypot(
        DRIFT * gauge.last_reading, reading_half_width(gauge.division * gauge.unit_in_si, how)
    ) / sqrt(3)

    def torque(number: int) -> float:
        return setup.given(number).torque

    @cache
    def chance_at(number: int) -> Chance:
        low, high = max(first_known, gauge.at(number) - doubt), min(last_known, gauge.at(number) + doubt)
        slope = (setup.torque(high) - setup.torque(low)) / (high - low)
        deviation = hypot(REFERENCE / 2 * torque(number), slope * doubt)
        return chance(torque(number), deviation, goal.minimum, goal.maximum)

    known = setup.known_marks
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
        yield highest_need(job.setup, limits.relief, policy)


def of_100(risk: float, *, about: bool = False) -> str:
    """A probability in words, as so many of 100."""
    if risk < 0.005:
        return "less than 1 of 100"
    return f"{'about ' if about else ''}{100 * risk:.0f} of 100"
