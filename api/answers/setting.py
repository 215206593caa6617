"""What one machine has to be set to for one joint, or every reason why it cannot be."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.machine_job import Job
from api.answers.shop import Shop
from api.answers.validity import validity_checks
from api.engineering.checks import Check
from api.engineering.faults import Fault, NoAnswer, refuse
from api.engineering.gauge import Setting, setting_from_torque
from api.engineering.machine_checks import Duty, SettingTorques, machine_checks, setting_checks
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True)
class MachineSetting:
    """A setting that passed every check, with its worst-case torques, SI."""

    job: Job
    duty: Duty
    setting: Setting
    break_out_torque: float | None
    torque_lower_bound: float
    torque_upper_bound: float
    checks: tuple[Check, ...]

    @property
    def cautions(self) -> Iterator[str]:
        """What the person at the machine must know of this setting."""
        if not self.job.position_known:
            yield (
                "Arm position unknown: the largest moment arm of the stroke is used, so the torque is at "
                "most the one shown; the minimum is not assured."
            )
        if self.job.making_up and self.duty.minimum is None:
            yield "No minimum torque is known for this joint; the setting is the mark nearest the target."
        if not self.job.making_up:
            yield (
                "The break-out torque is an estimate by the stated ratio; the joint may need more. Never "
                "exceed the limits of the machine."
            )
        if self.job.task.turning.thread_hand == "left":
            yield (
                "Left-hand thread: the other side of the cylinder is under pressure than for right hand. "
                "Make sure that the gauge reads that side."
            )
        if self.job.gauge.connected_at == "pump":
            yield (
                "The gauge is connected at the pump: while oil flows it reads the line drop too. Read it at "
                "stall."
            )
        for check in self.checks:
            if check.caution:
                yield check.caution


def check_break_out(values: Mapping[str, Any]) -> None:
    """Refuse a break-out without its ratio.

    Raises:
        NoAnswer: ``break_out_ratio_required``.
    """
    if values["operation"] == "break_out" and "break_out_ratio" not in values:
        raise refuse(
            "break_out_ratio_required",
            "break-out torque over make-up torque has no published value: state the ratio your shop goes by",
            "break_out_ratio",
        )


def machine_setting(window: TorqueWindow, values: Mapping[str, Any], job: Job, shop: Shop) -> MachineSetting:
    """The setting of one machine for a window of torque.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    ratio: float | None = values.get("break_out_ratio")
    break_out = None if ratio is None else window.goal * ratio
    checks = list(validity_checks(job.profile.governance, job.task.as_of, shop.refuse_unfit))
    try:
        duty = _duty(window, job, break_out)
        checks += machine_checks(job.profile.limits, job.gauge, duty)
        setting = setting_from_torque(
            job.gauge,
            duty.pressure,
            duty.target,
            duty.minimum,
            duty.maximum,
            job.torque_at(job.machine.efficiency.nominal),
        )
    except NoAnswer as no_setting:
        raise NoAnswer([*no_setting.faults, *_failed(checks)]) from None
    low, high = job.torque_range(setting.mark.pressure, job.gauge.accuracy)
    torques = _torques(job, setting, high)
    checks += setting_checks(job.profile.limits, job.gauge, duty, setting.mark, torques)
    if failed := _failed(checks):
        raise NoAnswer(failed)
    return MachineSetting(job, duty, setting, break_out, low, high, tuple(checks))


def _failed(checks: list[Check]) -> list[Fault]:
    return [check.fault for check in checks if check.verdict == "fail"]


def _torques(job: Job, setting: Setting, upper_bound: float) -> SettingTorques:
    efficiency, pressure = job.machine.efficiency, setting.mark.pressure
    at_low, at_high = job.torque_at(efficiency.low)(pressure), job.torque_at(efficiency.high)(pressure)
    return SettingTorques(at_low, at_high, upper_bound)


def _duty(window: TorqueWindow, job: Job, break_out: float | None) -> Duty:
    target = window.goal if job.making_up or break_out is None else break_out
    efficiency = job.machine.efficiency
    return Duty(
        making_up=job.making_up,
        target=target,
        minimum=window.minimum.torque if job.making_up else None,
        maximum=window.maximum.torque if job.making_up else None,
        torsional_yield=window.torsional_yield,
        gripped_diameter=job.task.gripped_diameter,
        pressure=job.pressure(target, efficiency.nominal),
        pressure_at_low_efficiency=job.pressure(target, efficiency.low),
        torque_at_relief=job.torque_at(efficiency.high)(job.profile.limits.relief_full_flow),
        position_known=job.position_known,
    )
