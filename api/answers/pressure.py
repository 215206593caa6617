"""What to set on a machine for a joint."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.machine_job import Job, job_from
from api.answers.shop import Shop
from api.engineering.cylinder import area, other_side
from api.engineering.faults import Fault, NoAnswer, refuse
from api.engineering.gauge import Setting, setting_from_torque
from api.engineering.machine_checks import Check, Duty, machine_checks, setting_checks
from api.engineering.provenance import Source
from api.engineering.torque_window import TorqueWindow

STATICS = Source(
    "pressure from torque",
    "read",
    "statics of cylinder and arm: T = h e (A (p - p_breakaway) - A' p_return)",
)


@dataclass(frozen=True)
class Working:
    """What the working steps of a pressure read, SI."""

    torque: float
    moment_arm: float
    force: float
    driven_area: float
    returning_area: float
    efficiency: float
    pressure: float


def pressure_answer(
    window: TorqueWindow, outside_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/pressure`` for a window of torque.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    job = job_from(values, shop)
    break_out = _break_out_torque(window, values, job)
    duty = _duty(window, outside_diameter, job, break_out)
    setting, checks = _set(job, duty)
    result = {
        "cylinder_side": job.side,
        "pressure": duty.pressure,
        "gauge_setting": setting.mark.reading,
        "torque_at_gauge_setting": setting.mark.torque,
        "neighbouring_marks": {"below": setting.below, "above": setting.above},
        "gauge": job.gauge.serial,
        "torque": window,
        "break_out_torque": break_out,
        "moment_arm": job.machine.moment_arm(job.position),
        "checks": checks,
    }
    return Answer(
        result,
        (*window.sources, STATICS),
        window.target.status,
        window.assumptions,
        tuple(_cautions(job, duty, checks)),
        {"machine": job.machine, "pressure": _working(job, duty)},
        job.profile.version,
    )


def _break_out_torque(window: TorqueWindow, values: Mapping[str, Any], job: Job) -> float | None:
    ratio = values.get("break_out_ratio")
    if ratio is not None:
        return float(window.goal * ratio)
    if job.making_up:
        return None
    raise refuse(
        "break_out_ratio_required",
        "break-out torque over make-up torque has no published value: state the ratio your shop goes by",
        "break_out_ratio",
    )


def _duty(window: TorqueWindow, diameter: float | None, job: Job, break_out: float | None) -> Duty:
    target = window.goal if job.making_up or break_out is None else break_out
    efficiency = job.machine.efficiency
    return Duty(
        making_up=job.making_up,
        target=target,
        minimum=window.minimum.torque if job.making_up else None,
        maximum=window.maximum.torque if job.making_up else None,
        outside_diameter=diameter,
        pressure=job.pressure(target, efficiency.nominal),
        pressure_at_low_efficiency=job.pressure(target, efficiency.low),
        position_known=job.position != "unknown",
        torque_at_high=job.torque_at(efficiency.high),
        torque_at_low=job.torque_at(efficiency.low),
    )


def _set(job: Job, duty: Duty) -> tuple[Setting, list[Check]]:
    """The setting and every check; refuses with all reasons at once."""
    faults: list[Fault] = []
    checks = list(machine_checks(job.profile.limits, job.gauge, duty))
    setting = None
    torque_from_pressure = job.torque_at(job.machine.efficiency.nominal)
    try:
        setting = setting_from_torque(
            job.gauge, duty.pressure, duty.target, duty.minimum, duty.maximum, torque_from_pressure
        )
        checks += setting_checks(job.profile.limits, job.gauge, duty, setting.mark)
    except NoAnswer as no_setting:
        faults += no_setting.faults
    faults += [_fault(check) for check in checks if check.verdict == "fail"]
    if setting is None or faults:
        raise NoAnswer(faults)
    return setting, checks


def _fault(check: Check) -> Fault:
    amounts = {"value": check.value, "limit": check.limit}
    return Fault(check.code, check.text, "machine", {name: at for name, at in amounts.items() if at})


def _working(job: Job, duty: Duty) -> Working:
    cylinder, arm = job.machine.cylinder, job.machine.moment_arm(job.position)
    driven, returning = area(cylinder, job.side), area(cylinder, other_side(job.side))
    efficiency = job.machine.efficiency.nominal
    return Working(duty.target, arm, duty.target / arm, driven, returning, efficiency, duty.pressure)


def _cautions(job: Job, duty: Duty, checks: list[Check]) -> Iterator[str]:
    if not job.profile.approved:
        yield f"The profile {job.profile.version.id} is a draft: no one has approved its figures."
    if not duty.position_known:
        yield (
            "Arm position unknown: the largest moment arm of the stroke is used, so the torque is at most "
            "the one shown; the minimum is not assured."
        )
    if job.making_up and duty.minimum is None:
        yield "No minimum torque is known for this joint; the setting is the mark nearest the target."
    if not job.making_up:
        yield (
            "The break-out torque is an estimate by the stated ratio; the joint may need more. Never exceed "
            "the limits of the machine."
        )
    for check in checks:
        if check.name == "torque_at_relief" and check.verdict == "caution":
            yield "At full relief flow the machine exceeds the torque of this joint: see checks."
