"""What to set on a machine for a joint, or every reason why it cannot be.

Of the two marks around the target the nearest within the window is set. Where it fails a limit, and the
other is within the window and passes them all, that one is set, and a caution says so.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.job import (
    Job,
    as_reading,
    check_position,
    forces,
    job_with,
    profile_of,
    task_from,
    uncertainty_of,
)
from api.answers.machines.profile import validity_checks
from api.answers.shop import Shop
from api.engineering.check_findings import findings_of
from api.engineering.checks import Check, Fault, NoAnswer, collecting, refuse
from api.engineering.gauges.gauge import Mark, marks_around, marks_in_window
from api.engineering.machines.setting_checks import Duty, SettingTorques, machine_checks, setting_checks
from api.engineering.provenance import Knowable, known
from api.engineering.torque_window import TorqueWindow


@dataclass(frozen=True, kw_only=True)
class MachineSetting:
    """A setting that passed every check, with its worst-case torques, SI."""

    job: Job
    duty: Duty
    mark: Mark
    below: Mark | None
    above: Mark | None
    passed_over: Mark | None
    break_out_torque: float | None
    torque_lower_bound: float
    torque_upper_bound: float
    uncertainty: Knowable[Mapping[str, Any]]
    checks: tuple[Check, ...]

    @property
    def cautions(self) -> Iterator[str]:
        """What the person at the machine must know of this setting."""
        if self.job.making_up and self.duty.minimum is None:
            yield "No minimum torque is known for this joint. The setting is the mark nearest the target."
        if not self.job.making_up:
            yield (
                "The break-out torque is an estimate by the stated ratio. The joint may need more. "
                "Never exceed the limits of the machine."
            )
        yield from self.job.cautions
        if self.passed_over:
            yield (
                f"The mark nearest the target, {self.passed_over.reading}, fails a limit. The mark "
                "shown fails none."
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
            "the ratio of break-out to make-up torque has no published value: state that of your shop",
            "break_out_ratio",
        )


def machine_setting(window: TorqueWindow, values: Mapping[str, Any], job: Job, shop: Shop) -> MachineSetting:
    """The setting of one machine for a window of torque.

    Of the two marks around the target the nearest within the window is taken; where it fails a limit, and
    the other is within the window too and passes them all, the other.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    ratio: float | None = values.get("break_out_ratio")
    break_out = None if ratio is None else window.goal * ratio
    checks = list(validity_checks(job.profile.governance, job.task.as_of, shop.refuse_unfit))
    try:
        duty = _duty(window, job, break_out)
        checks += machine_checks(job.profile.limits, job.gauge, duty)
        torque_from_reading = job.torque_at(job.machine.efficiency.nominal)
        marks = marks_in_window(
            job.gauge,
            duty.reading,
            duty.target,
            duty.minimum,
            duty.maximum,
            torque_from_reading,
            job.known_readings,
        )
    except NoAnswer as no_setting:
        raise NoAnswer([*no_setting.faults, *_failed(checks)]) from None
    below, above = marks_around(job.gauge, duty.reading, torque_from_reading, job.known_readings)
    tried = [_at_mark(job, duty, mark) for mark in marks]
    found = next((each for each in tried if not _failed(each.checks)), tried[0])
    if failed := _failed([*checks, *found.checks]):
        raise NoAnswer(failed)
    passed_over = marks[0] if found is not tried[0] else None
    low, high = found.torques.lower_bound, found.torques.upper_bound
    doubt = uncertainty_of(job, found.mark.at, "set_on_mark")
    every = (*checks, *found.checks)
    return MachineSetting(
        job=job,
        duty=duty,
        mark=found.mark,
        below=below,
        above=above,
        passed_over=passed_over,
        break_out_torque=break_out,
        torque_lower_bound=low,
        torque_upper_bound=high,
        uncertainty=doubt,
        checks=every,
    )


@dataclass(frozen=True)
class _AtMark:
    """A mark with the torques and checks of setting it."""

    mark: Mark
    torques: SettingTorques
    checks: list[Check]


def _at_mark(job: Job, duty: Duty, mark: Mark) -> _AtMark:
    low, high = job.torque_range(mark.at)
    torques = SettingTorques(job.torque_at(job.machine.efficiency.high)(mark.at), low, high)
    return _AtMark(mark, torques, list(setting_checks(job.profile.limits, job.gauge, duty, mark, torques)))


def _failed(checks: list[Check]) -> list[Fault]:
    return [check.fault for check in checks if check.verdict == "fail"]


def _duty(window: TorqueWindow, job: Job, break_out: float | None) -> Duty:
    target = window.goal if job.making_up or break_out is None else break_out
    efficiency = job.machine.efficiency
    return Duty(
        making_up=job.making_up,
        target=target,
        minimum=window.minimum.torque.value if job.making_up else None,
        maximum=window.maximum.torque.value if job.making_up else None,
        torsional_yield=window.torsional_yield,
        gripped_diameter=job.task.gripped_diameter,
        reading=job.reading(target, efficiency.nominal),
        reading_at_low_efficiency=_if_known(lambda: job.reading(target, efficiency.low)),
        torque_at_highest=_if_known(
            lambda: job.torque_at(efficiency.high)(job.profile.limits.highest_reading)
        ),
    )


def _if_known(value: Callable[[], float]) -> float | None:
    """A value that may lie outside what is known of a machine whose torque was measured, not computed."""
    try:
        return value()
    except NoAnswer as no_answer:
        if any(fault.code != "outside_calibration" for fault in no_answer.faults):
            raise
        return None


def check_machine(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses what is wrong with the machine side of a request, before the joint is computed.

    A profile in the request was judged as it was loaded.
    """
    faults: list[Fault] = []
    with collecting(faults):
        if isinstance(values["machine"], str):
            shop.machine(values["machine"])
        faults += check_position(values, shop)
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
    profile, task = profile_of(values, shop), task_from(values, joint_diameter, window.opening_moment)
    found = machine_setting(window, values, job_with(profile, task), shop)
    return Answer(
        result={**shown(found), "torque": shop.confirmed(window), "checks": found.checks},
        sources=(*window.sources, *found.job.sources),
        status=window.target.status,
        assumptions=(*window.assumptions, *found.job.assumptions),
        cautions=(*window.cautions, *found.cautions),
        findings=(*window.findings, *found.job.findings_at(found.mark.at), *findings_of(found.checks)),
        working=found.job.working(found.duty.target, found.duty.reading),
        profile=profile.version,
        table=window.table,
        steps=profile.kind.to_reading,
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
        "break_out_torque": known(found.break_out_torque, "no break_out_ratio is given"),
        **forces(job, found.mark.at),
    }
