"""What to set on a machine for a joint."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.machine_job import as_reading, job_with, profile_of, task_from
from api.answers.setting import MachineSetting, check_break_out, machine_setting
from api.answers.shop import Shop
from api.engineering.faults import Fault, collecting
from api.engineering.torque_window import TorqueWindow


def check_machine(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """What can be said against the machine side of a request before the joint is computed."""
    faults: list[Fault] = []
    with collecting(faults):
        profile_of(values, shop)
    with collecting(faults):
        check_break_out(values)
    yield from faults


def pressure_answer(
    window: TorqueWindow, joint_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/pressure`` for a window of torque.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    profile, task = profile_of(values, shop), task_from(values, joint_diameter)
    found = machine_setting(window, values, job_with(profile, task), shop)
    return Answer(
        {**shown(found), "torque": shop.confirmed(window), "checks": found.checks},
        (*window.sources, *found.job.sources),
        window.target.status,
        (*window.assumptions, *task.assumptions),
        (*window.cautions, *found.cautions),
        found.job.working(found.duty.target, found.duty.reading),
        profile.version,
        window.table,
        profile.kind.to_reading,
    )


def shown(found: MachineSetting) -> dict[str, Any]:
    """A setting as answers show it."""
    job = found.job
    return {
        **job.driven,
        **as_reading(job.gauge, found.duty.reading),
        "gauge_setting": found.mark.reading,
        "torque_at_gauge_setting": found.mark.torque,
        "torque_lower_bound": found.torque_lower_bound,
        "torque_upper_bound": found.torque_upper_bound,
        "neighbouring_marks": {"below": found.below, "above": found.above},
        "gauge": job.gauge.serial,
        "uncertainty": found.uncertainty,
        "gauge_error_share": job.gauge_error(found.mark.at) / found.mark.at,
        "break_out_torque": found.break_out_torque,
        "moment_arm": job.moment_arm,
        "side_load": job.side_load(found.mark.at),
    }
