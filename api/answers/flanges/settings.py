"""The marks of the passes of a flange on a machine, and why there are none."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from api.answers.machines.job import job_with, profile_of, task_from
from api.answers.machines.profile import validity_checks
from api.answers.machines.setting import MachineSetting, machine_setting
from api.answers.shop import Shop
from api.engineering.checks import NOISE, Amount, Check, Fault, NoAnswer, collecting, failed, refuse
from api.engineering.flanges.passes import TorquePass
from api.engineering.gauges.gauge import Mark, marks_around, no_mark_in_window
from api.engineering.machines.limits import FARTHEST, lowest_setting_check
from api.engineering.torque_window import TorqueWindow


@contextmanager
def of_pass(name: str) -> Iterator[None]:
    """Puts the name of a pass before every reason for which it has no setting.

    Raises:
        NoAnswer: what was raised inside, so named.
    """
    try:
        yield
    except NoAnswer as no_answer:
        raise NoAnswer([replace(fault, text=f"{name}: {fault.text}") for fault in no_answer.faults]) from None


@dataclass(frozen=True)
class FlangeSettings:
    """The setting at the target, and a mark for every pass, None for one without a torque.

    Attributes:
        valid: the checks of the profile on the day of the job.
        last: the setting at the target.
        marks: of the passes in their turn.
    """

    valid: tuple[Check, ...]
    last: MachineSetting
    marks: tuple[Mark | None, ...]


def flange_settings(
    window: TorqueWindow,
    joint_diameter: float | None,
    passes: Sequence[TorquePass],
    values: Mapping[str, Any],
    shop: Shop,
) -> FlangeSettings:
    """The settings of one machine for all passes: a sequence of which one pass cannot be set is none.

    Raises:
        NoAnswer: the reasons against the setting at the target as they are, or those against every other
            pass, with its name before them.
    """
    job = job_with(profile_of(values, shop), task_from(values, joint_diameter))
    valid = tuple(validity_checks(job.profile.governance, job.task.as_of, shop.refuse_unfit))
    faults = failed(valid)
    last = None
    with collecting(faults):
        last = machine_setting(window, values, job, shop.policy)
    if last is None or faults:
        raise NoAnswer(faults)
    marks: list[Mark | None] = []
    for each in passes:
        mark = last.mark if each.share == 1 else None
        if mark is None and each.share is not None:
            with collecting(faults), of_pass(f"cross pass at {100 * each.share:.6g} %"):
                mark = _mark_on_the_way(last, each.share)
        marks.append(mark)
    if not faults:
        faults += _shared_marks(passes, marks)
    if faults:
        raise NoAnswer(faults)
    return FlangeSettings(valid, last, tuple(marks))


def _mark_on_the_way(last: MachineSetting, share: float) -> Mark:
    """The mark nearest a share of the target, never above that of the last pass.

    No practice gives such a torque a tolerance: it may miss by `FARTHEST` of the target. Whatever limits a
    setting from above has been checked at the last mark.
    """
    job, target = last.job, last.duty.goal.target
    torque = share * target
    setup = job.setup
    exact = setup.reading(torque, setup.standing.efficiency.nominal)
    around = marks_around(job.gauge, exact, setup.torque, setup.known_readings)
    highest = last.mark.torque * (1 + NOISE)
    marks = [mark for mark in around if mark is not None and 0 < mark.torque <= highest]
    if not marks:
        raise no_mark_in_window(*around, "torque")
    mark = min(marks, key=lambda each: abs(each.torque - torque))
    if abs(mark.torque - torque) > FARTHEST * target * (1 + NOISE):
        raise refuse(
            "mark_far_from_target",
            f"the nearest mark {mark.reading} gives {{given}}, more than 10 % of the target off {{wanted}}",
            "machine",
            given=Amount("torque", mark.torque),
            wanted=Amount("torque", torque),
        )
    check = lowest_setting_check(job.profile.limits, job.gauge, mark.at)
    if check.verdict == "fail":
        raise NoAnswer([check.fault])
    return mark


def _shared_marks(passes: Sequence[TorquePass], marks: Sequence[Mark | None]) -> list[Fault]:
    """Steps too small for the gauge: two passes would share one mark."""
    cross = [mark.reading for each, mark in zip(passes, marks, strict=True) if each.name == "cross" and mark]
    shared = sorted({reading.value for reading in cross if cross.count(reading) > 1})
    if not shared:
        return []
    places = " and ".join(f"{value:.12g} {cross[0].unit}" for value in shared)
    text = f"more than one cross pass falls on {places}: the gauge is too coarse for these steps"
    return [Fault("no_mark_in_window", text, "pass_percentages")]
