"""How probable a wrong torque is at a setting, and what would make it less so.

Three remedies are tried, each with its figure: another machine of the shop, a finer gauge, and a calibration
of machine and gauge together. Those of a gauge and of a calibration are worked out from the terms of the
budget, for the mark that may lie half a division off the middle of the window: the real mark can only be
better.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from typing import Any

from api.answers.machines.job import Job, budget_of, job_with
from api.answers.machines.profile import validity_checks
from api.answers.machines.setting import MachineSetting, machine_setting
from api.answers.policy import Policy
from api.answers.shop import Shop
from api.engineering.checks import Amount, NoAnswer
from api.engineering.findings import Finding
from api.engineering.gauges.accuracy_class import GAUGE_CLASSES
from api.engineering.machines.aim import chance
from api.engineering.torque_window import TorqueWindow

WORTH_TELLING = 0.10
"""Probability of a torque beyond an end of the window above which it is told; a policy may say less."""
REFERENCE, DRIFT = 0.015, 0.0025
"""Uncertainty of a reference torque, a share of it, k = 2; and drift of a gauge, a share of its span: what a
calibration of machine and gauge together is taken to leave (own judgement)."""
FINER = (1, 2, 5, 10)
"""How many marks a finer dial may have in place of each one of this."""


def wrong_torque_findings(
    found: MachineSetting, policy: Policy, remedies: "Remedies | None"
) -> Iterator[Finding]:
    """Tells an end of the window that the torque may well miss, with a remedy in figures."""
    chance_here, goal = found.chance.value, found.duty.goal
    if chance_here is None:
        return
    limit = limit_of(policy)
    misses = (
        ("below_minimum_likely", "fall below", chance_here.below_minimum, goal.minimum),
        ("above_maximum_likely", "exceed", chance_here.above_maximum, goal.maximum),
    )
    for code, miss, probability, end in misses:
        if end is not None and probability > limit:
            yield Finding(
                level="look",
                code=code,
                text=f"{100 * probability:.0f} of 100 such settings {miss} {{end}}.",
                step="make_up",
                remedy=" ".join(remedies.of(found)) if remedies else "Choose a machine that is surer.",
                value=Amount("number", probability),
                limit=Amount("number", limit),
                amounts={"end": Amount("torque", end)},
            )


def limit_of(policy: Policy) -> float:
    """The probability of a wrong torque above which it is told."""
    return WORTH_TELLING if policy.wrong_torque_probability is None else policy.wrong_torque_probability


@dataclass(frozen=True)
class Remedies:
    """What would make a torque surer, for one joint in one shop."""

    window: TorqueWindow
    values: Mapping[str, Any]
    shop: Shop

    def of(self, found: MachineSetting) -> Iterator[str]:
        """Every remedy that does better than a setting, in words with its figure."""
        here = found.wrong_torque_probability
        if better := self.machine(found.job):
            where, risk = better
            if risk < here:
                yield f"Use {where}: {of_100(risk)} miss the window there."
        yield from _with_a_gauge(found, limit_of(self.shop.policy))
        calibrated = _calibrated(found)
        if calibrated < here:
            yield (
                f"Calibrating machine and gauge together leaves about {of_100(calibrated)} "
                f"(reference {100 * REFERENCE:g} %, drift {100 * DRIFT:g} %)."
            )

    def machine(self, job: Job) -> tuple[str, float] | None:
        """The other machine of the shop whose torque is surest, and how probable a wrong one is there."""
        task = job.task
        able = []
        for profile in self.shop.machines.values():
            unfit = any(
                check.verdict in ("fail", "caution")
                for check in validity_checks(profile.governance, task.as_of, refuse_unfit=True)
            )
            if unfit or profile.version == job.profile.version:
                continue
            try:
                other = machine_setting(self.window, self.values, job_with(profile, task), self.shop.policy)
            except NoAnswer:
                continue
            able.append((other.wrong_torque_probability, profile.version.id))
        if not able:
            return None
        risk, where = min(able)
        return where, risk


def _with_a_gauge(found: MachineSetting, limit: float) -> Iterator[str]:
    """The coarsest gauge with which a wrong torque is improbable enough, where there is one."""
    gauge = found.job.gauge
    for name, accuracy in sorted(GAUGE_CLASSES.items(), key=lambda item: -item[1].at(0, 1.0)):
        ratio = accuracy.at(found.mark.at, gauge.last_reading) / gauge.error_at(found.mark.at)
        for parts in FINER:
            risk = _risk(found, {"gauge": ratio, "reading": 1 / parts}, parts)
            if ratio <= 1 and risk <= limit:
                division = f"{gauge.division / parts:.6g} {gauge.unit}"
                yield f"A gauge of {name} with marks every {division} leaves {of_100(risk)} at most."
                return


def _calibrated(found: MachineSetting) -> float:
    """How probable a wrong torque is after a calibration of machine and gauge together."""
    gauge = found.job.gauge
    left = hypot(DRIFT * gauge.last_reading / found.mark.at / 3**0.5, REFERENCE / 2)
    return _risk(found, {"gauge": 0.0, "efficiency": 0.0}, 1, left)


def _risk(found: MachineSetting, scaled: Mapping[str, float], parts: int, more: float = 0.0) -> float:
    """How probable a wrong torque is with other doubts, half a division off the middle of the window.

    Args:
        found: the setting as it is.
        scaled: by what each term of its budget is to be multiplied, by name; the others stay.
        parts: marks in place of one.
        more: a further standard uncertainty, a share of the torque.
    """
    goal, job, mark = found.duty.goal, found.job, found.mark
    budget = budget_of(job, mark.at, "set_on_mark")
    doubt = hypot(more, *(term.contribution * scaled.get(term.name, 1.0) for term in budget.terms))
    middle = (goal.lowest + goal.highest) / 2
    off = mark.torque * job.gauge.division * job.gauge.unit_in_si / mark.at / 2 / parts
    shift = budget.estimate / budget.nominal
    return max(
        1.0 - chance(torque, doubt * torque, goal.minimum, goal.maximum).in_window
        for torque in ((middle - off) * shift, (middle + off) * shift)
    )


def of_100(risk: float) -> str:
    """A probability in words, as so many of 100."""
    return "less than 1 of 100" if risk < 0.005 else f"{100 * risk:.0f} of 100"
