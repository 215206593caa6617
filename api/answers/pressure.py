"""What to set on a machine for a joint."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.machine_job import STATICS, Job, job_with, profile_of, task_from
from api.answers.setting import MachineSetting, check_break_out, machine_setting
from api.answers.shop import Shop
from api.engineering.cylinder import area, other_side
from api.engineering.faults import Fault, collecting
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True)
class Working:
    """What the working steps of a pressure or a torque read, SI."""

    torque: float
    moment_arm: float
    force: float
    driven_area: float
    returning_area: float
    efficiency: float
    pressure: float


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
    steps = working(found.job, found.duty.target, found.duty.pressure)
    return Answer(
        {**shown(found), "torque": shop.confirmed(window), "checks": found.checks},
        (*window.sources, STATICS),
        window.target.status,
        (*window.assumptions, *task.assumptions),
        tuple(found.cautions),
        {"machine": found.job.machine, "pressure": steps},
        profile.version,
    )


def shown(found: MachineSetting) -> dict[str, Any]:
    """A setting as answers show it."""
    job = found.job
    return {
        "cylinder_side": job.side,
        "pressure": found.duty.pressure,
        "gauge_setting": found.mark.reading,
        "torque_at_gauge_setting": found.mark.torque,
        "torque_lower_bound": found.torque_lower_bound,
        "torque_upper_bound": found.torque_upper_bound,
        "neighbouring_marks": {"below": found.below, "above": found.above},
        "gauge": job.gauge.serial,
        "break_out_torque": found.break_out_torque,
        "moment_arm": job.moment_arm,
    }


def working(job: Job, torque: float, pressure: float) -> Working:
    """The intermediates of a torque and its pressure."""
    cylinder, side = job.machine.cylinder, job.side
    driven, returning = area(cylinder, side), area(cylinder, other_side(side))
    nominal, arm = job.machine.efficiency.nominal, job.moment_arm
    return Working(torque, arm, torque / arm, driven, returning, nominal, pressure)
