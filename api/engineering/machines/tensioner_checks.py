"""Whether a stud tensioner can give a preload at a setting, limit by limit; one that fails is not used."""

from collections.abc import Iterator
from dataclasses import dataclass

from api.engineering.checks import Amount, Check, Fault, NoAnswer, Verdict, at_least, at_most
from api.engineering.gauges.gauge import Gauge, Mark
from api.engineering.machines.limits import (
    FARTHEST,
    Limits,
    capacity_check,
    gauge_checks,
    lowest_setting_check,
    relief_cracking_check,
    relief_rating_check,
)
from api.engineering.machines.stud_tensioner import StudTensioner


@dataclass(frozen=True)
class PreloadDuty:
    """A duty of a tensioner on a stud, SI.

    Attributes:
        tool: the tensioner on this stud.
        load_rating: the most that it may pull, whatever the pressure.
        target, minimum, maximum: preload wanted, and the ends of its window where there are any.
        stress_area, yield_strength: of the stud: tensile stress area of its thread, and least yield.
    """

    tool: StudTensioner
    load_rating: float
    target: float
    minimum: float | None
    maximum: float | None
    stress_area: float
    yield_strength: float

    @property
    def reading(self) -> float:
        """Exact pressure of the target, Pa."""
        return self.tool.pressure_from_preload(self.target)

    def stud_check(self, name: str, where: str, pressure: float, bad: Verdict = "fail") -> Check:
        """Whether the stud bears the tool at a pressure."""
        return self.tool.stud_stress_check(pressure, self.stress_area, self.yield_strength, name, where, bad)


def check_order(target: float, minimum: float | None, maximum: float | None) -> None:
    """Refuse a window of preload that is none.

    Raises:
        NoAnswer: ``window_out_of_order`` unless minimum <= target <= maximum.
    """
    faults = []
    for name, end, lies in (
        ("minimum", minimum, "above" if minimum is not None and minimum > target else ""),
        ("maximum", maximum, "below" if maximum is not None and maximum < target else ""),
    ):
        if end is not None and lies:
            text = f"the {name} preload {{end}} lies {lies} the target {{target}}"
            amounts = {"end": Amount("force", end), "target": Amount("force", target)}
            faults.append(Fault("window_out_of_order", text, f"preload_{name}", amounts))
    if faults:
        raise NoAnswer(faults)


def tensioner_checks(limits: Limits, gauge: Gauge, duty: PreloadDuty) -> Iterator[Check]:
    """The checks that need no setting: load and stud at the target, capacity, relief and the stud there."""
    yield _load_check("load_rating", "for the target", duty, duty.reading)
    yield duty.stud_check("stud_stress_at_target", "under the tool for the target", duty.reading)
    yield capacity_check(limits, gauge, duty.reading, "pressure needed")
    yield from relief_rating_check(limits, gauge)
    if limits.relief:
        where = "under the tool at full relief flow, where only the setting limits it,"
        yield duty.stud_check("stud_stress_at_relief", where, limits.relief.full_flow, "caution")


def preload_setting_checks(
    limits: Limits, gauge: Gauge, duty: PreloadDuty, mark: Mark, highest: float
) -> Iterator[Check]:
    """The checks of the mark to be set; ``highest`` is the pressure there if the gauge reads low, Pa."""
    yield from relief_cracking_check(limits, gauge, mark.at)
    yield lowest_setting_check(limits, gauge, mark.at)
    yield _load_check("load_at_setting", "at the setting", duty, mark.at)
    yield _load_check("load_rating_worst_case", "in the worst case", duty, highest, "caution")
    yield duty.stud_check("stud_stress", "under the tool at the setting", mark.at)
    yield duty.stud_check("stud_stress_worst_case", "under the tool in the worst case", highest, "caution")
    yield from gauge_checks(gauge, mark.at)
    yield from _open_end_checks(duty, mark)


def preload_window_checks(duty: PreloadDuty, lowest: float, highest: float) -> Iterator[Check]:
    """Whether the window holds in the worst case too: least and most preload with the gauge, N."""
    text = "worst-case preload at the setting {value} against the "
    name = "preload_minimum_worst_case"
    if duty.minimum is None:
        yield Check(name=name, verdict="not_checked", text="no minimum preload is given")
    else:
        yield at_least(
            name=name,
            text=text + "minimum {limit}",
            kind="force",
            value=lowest,
            limit=duty.minimum,
            bad="caution",
        )
    name = "preload_maximum_worst_case"
    if duty.maximum is None:
        yield Check(name=name, verdict="not_checked", text="no maximum preload is given")
    else:
        yield at_most(
            name=name,
            text=text + "maximum {limit}",
            kind="force",
            value=highest,
            limit=duty.maximum,
            bad="caution",
        )


def _load_check(name: str, when: str, duty: PreloadDuty, pressure: float, bad: Verdict = "fail") -> Check:
    return at_most(
        name=name,
        code="load_rating_exceeded" if bad == "fail" else "",
        text=f"load under the tool {when} {{value}} against the load rating of the tensioner {{limit}}",
        kind="force",
        value=duty.tool.tool_load(pressure),
        limit=duty.load_rating,
        bad=bad,
    )


def _open_end_checks(duty: PreloadDuty, mark: Mark) -> Iterator[Check]:
    """Where the window is open, a mark far from the target is still not what was asked for."""
    text = "preload at the nearest mark {value} against the target less or plus 10 % {limit}; without "
    text += "preload_minimum and preload_maximum Dialset uses no mark farther off"
    name, code = "distance_from_target", "mark_far_from_target"
    if duty.maximum is None:
        yield at_most(
            name=name,
            code=code,
            text=text,
            kind="force",
            value=mark.torque,
            limit=(1 + FARTHEST) * duty.target,
        )
    if duty.minimum is None:
        yield at_least(
            name=name,
            code=code,
            text=text,
            kind="force",
            value=mark.torque,
            limit=(1 - FARTHEST) * duty.target,
        )
