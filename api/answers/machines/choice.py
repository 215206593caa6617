"""Which machines can do a joint, and why the others cannot."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.job import Job, Task, job_with, task_from
from api.answers.machines.mark_choice import choice_for
from api.answers.machines.pressure import (
    NO_RATIO,
    Operated,
    check_operation,
    findings,
    operated,
    rules_of,
    shown,
)
from api.answers.machines.profile import Profile, validity_checks
from api.answers.machines.setting import MachineSetting
from api.answers.shop import Policy, PolicyAssumption, Shop, ratios_of
from api.engineering.checks import NO_DAY, Check, Fault, NoAnswer, collecting, failed, findings_of, ranked
from api.engineering.machines.cylinder import Operation
from api.engineering.provenance import Assumption, Knowable, known
from api.engineering.torque_window import TorqueWindow

MOST = 20
"""Machines that an answer lists where the request does not say how many."""
OTHER: Mapping[Operation, Operation] = {"make_up": "break_out", "break_out": "make_up"}


def check_site(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses what is wrong with the machine side of a request, before the joint is computed."""
    faults: list[Fault] = []
    if not _profiles(values, shop):
        sites = sorted({str(each.given["site"]) for each in shop.machines.values() if "site" in each.given})
        accepted = f"one of: {', '.join(sites)}" if sites else "this service has no machines"
        faults.append(Fault("no_machines", "no machine is known at this site", "site", accepted=accepted))
    with collecting(faults):
        check_operation(values, shop.policy)
    yield from faults


def _profiles(values: Mapping[str, Any], shop: Shop) -> list[Profile]:
    site = values.get("site")
    return [each for each in shop.machines.values() if site is None or each.given.get("site") == site]


@dataclass(frozen=True)
class Able:
    """A machine that can do the operation asked for.

    Attributes:
        profile: that of the machine.
        found: what it is set to, or what is expected of it.
        valid: the checks of its profile on the day.
        can_both: whether it can do the other operation too; not known without a break-out ratio.
    """

    profile: Profile
    found: Operated
    valid: tuple[Check, ...]
    can_both: Knowable[bool]

    @property
    def fit(self) -> bool:
        """Whether its profile is approved, in force and calibrated."""
        return not any(check.verdict == "caution" for check in self.valid)

    @property
    def order(self) -> tuple[bool, float, str]:
        """Where it stands in the list: fit machines first, then those whose torque is surest.

        Of a break-out the one whose reach lies farthest above what is likely comes first.
        """
        found = self.found
        if isinstance(found, MachineSetting):
            risk = found.wrong_torque_probability
        else:
            risk = found.exact.likely / found.reach.mark.at
        return not self.fit, risk, self.profile.version.id


def machine_choice_answer(
    window: TorqueWindow, joint_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/machine-choice``: one joint against every machine of a site."""
    window = shop.confirmed(window)
    task = task_from(values, joint_diameter, window.opening_moment)
    able: list[Able] = []
    unable = []
    profiles = _profiles(values, shop)
    for profile in profiles:
        try:
            able.append(_able(window, values, profile, task, shop))
        except NoAnswer as no_answer:
            unable.append({**_named(profile), "reasons": no_answer.faults})
    able.sort(key=lambda each: each.order)
    first, most = int(values.get("offset", 0)), int(values.get("limit", MOST))
    result = {
        "torque": window,
        "able_count": len(able),
        "unable_count": len(unable),
        "able": [_line(each, window, values, shop.policy) for each in able[first : first + most]],
        "unable": unable[first : first + most],
    }
    sources = (*window.sources, *dict.fromkeys(profile.kind.source for profile in profiles))
    return Answer(
        result=result,
        sources=sources,
        status=window.target.status,
        assumptions=(
            *window.assumptions,
            *task.assumptions,
            *ratios_of(values, shop.policy)[1],
            *_rules_of_shop(able, shop.policy),
        ),
        findings=(*window.findings, *(() if task.as_of else (NO_DAY,))),
        table=window.table,
    )


def _able(window: TorqueWindow, values: Mapping[str, Any], profile: Profile, task: Task, shop: Shop) -> Able:
    """What a machine can do.

    Raises:
        NoAnswer: with every reason why it cannot do the operation asked for.
    """
    valid = tuple(validity_checks(profile.governance, task.as_of, shop.refuse_unfit))
    faults = failed(valid)
    job, found = job_with(profile, task), None
    with collecting(faults):
        found = operated(window, values, job, shop.policy)
    if found is None or faults:
        raise NoAnswer(faults)
    return Able(profile, found, valid, _can_both(window, values, job, shop))


def _rules_of_shop(able: list[Able], policy: Policy) -> Iterator[Assumption]:
    """The rules of the shop that entered what its machines are set to, each once."""
    entered = (rule for each in able for rule in rules_of(each.found, policy))
    yield from dict.fromkeys(rule for rule in entered if isinstance(rule, PolicyAssumption))


def _can_both(window: TorqueWindow, values: Mapping[str, Any], job: Job, shop: Shop) -> Knowable[bool]:
    if ratios_of(values, shop.policy)[0] is None:
        return known(None, NO_RATIO)
    other = job.for_operation(OTHER[job.task.turning.operation])
    if other.making_up:
        return known(choice_for(window, values, other, shop.policy) is not None, "")
    try:
        operated(window, values, other, shop.policy)
    except NoAnswer:
        return known(False, "")
    return known(True, "")


def _named(profile: Profile) -> dict[str, Any]:
    version = profile.version
    return {
        "machine": version.id,
        "site": profile.given.get("site"),
        "profile_revision": version.revision,
        "profile_hash": version.hash,
    }


def _line(able: Able, window: TorqueWindow, values: Mapping[str, Any], policy: Policy) -> dict[str, Any]:
    whole = shown(able.found)
    found = (*findings_of(able.valid), *findings(window, values, able.found, policy))
    return {
        **_named(able.profile),
        **{name: whole[name] for name in OF_A_LINE if name in whole},
        "fit": able.fit,
        "can_both": able.can_both,
        "findings": ranked(found),
    }


OF_A_LINE = (
    "gauge_setting",
    "torque_at_gauge_setting",
    "probability_in_window",
    "capability",
    "expected",
    "do_not_exceed",
    "gauge",
    "cylinder_side",
)
