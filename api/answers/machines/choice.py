"""Which machines can do a joint, and why the others cannot."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.job import Task, job_with, task_from
from api.answers.machines.pressure import MachineSetting, check_break_out, machine_setting, shown
from api.answers.machines.profile import Profile
from api.answers.shop import Shop
from api.engineering.checks import Fault, NoAnswer, collecting
from api.engineering.torque_window import TorqueWindow


def check_site(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses what is wrong with the machine side of a request, before the joint is computed."""
    faults: list[Fault] = []
    if not _profiles(values, shop):
        sites = sorted({str(each.given["site"]) for each in shop.machines.values() if "site" in each.given})
        accepted = f"one of: {', '.join(sites)}" if sites else "this service has no machines"
        faults.append(Fault("no_machines", "no machine is known at this site", "site", accepted=accepted))
    with collecting(faults):
        check_break_out(values)
    yield from faults


def _profiles(values: Mapping[str, Any], shop: Shop) -> list[Profile]:
    site = values.get("site")
    return [each for each in shop.machines.values() if site is None or each.given.get("site") == site]


def machine_choice_answer(
    window: TorqueWindow, joint_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/machine-choice``: one joint against every machine of a site.

    Machines that can are listed with the finest gauge first: the one whose division is the smallest
    share of the target.
    """
    task = task_from(values, joint_diameter, window.opening_moment)
    able, unable = [], []
    profiles = _profiles(values, shop)
    for profile in profiles:
        found = _try(window, values, profile, task, shop)
        if isinstance(found, MachineSetting):
            able.append(found)
        else:
            unable.append({**_named(profile), "reasons": found.faults})
    able.sort(key=_division_share)
    result = {
        "torque": shop.confirmed(window),
        "able": [_able(found) for found in able],
        "unable": unable,
    }
    sources = (*window.sources, *dict.fromkeys(profile.kind.source for profile in profiles))
    return Answer(
        result=result,
        sources=sources,
        status=window.target.status,
        assumptions=(*window.assumptions, *task.assumptions),
        cautions=window.cautions,
        table=window.table,
    )


def _try(
    window: TorqueWindow, values: Mapping[str, Any], profile: Profile, task: Task, shop: Shop
) -> MachineSetting | NoAnswer:
    try:
        return machine_setting(window, values, job_with(profile, task), shop)
    except NoAnswer as no_answer:
        return no_answer


def _named(profile: Profile) -> dict[str, Any]:
    version = profile.version
    return {
        "machine": version.id,
        "site": profile.given.get("site"),
        "profile_revision": version.revision,
        "profile_hash": version.hash,
    }


def _division_share(found: MachineSetting) -> float:
    """Torque of one division as a share of the target."""
    if found.below is not None and found.above is not None:
        return (found.above.torque - found.below.torque) / found.duty.target
    # at an end of what is known of the machine one neighbour is missing; torque is nearly proportional
    gauge = found.job.gauge
    return found.mark.torque * gauge.division * gauge.unit_in_si / found.mark.at / found.duty.target


def _able(found: MachineSetting) -> dict[str, Any]:
    return {
        **_named(found.job.profile),
        **shown(found),
        "division_share_of_target": _division_share(found),
        "checks": found.checks,
        "cautions": list(found.cautions),
    }
