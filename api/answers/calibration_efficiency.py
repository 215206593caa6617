"""The torque of each calibrated side against geometry, and what both sides together tell of a mistake."""

from collections.abc import Iterator, Mapping, Sequence
from math import hypot, sqrt
from statistics import fmean
from typing import Any

from api.answers.calibrated_machine import CalibratedMachine
from api.answers.calibration_series import Series
from api.engineering.faults import Amount, Fault, NoAnswer, collecting
from api.engineering.gauge import Gauge
from api.engineering.likely_mistake import ANOTHER_SIZE, FoundEfficiency
from api.engineering.note import Note
from api.engineering.size_in_doubt import SizeInDoubt, bore_or_arm

Found = Mapping[str, FoundEfficiency]
"""Efficiencies by the name of side and gauge."""


def efficiencies(
    series: Sequence[Series], values: Mapping[str, Any], machine: CalibratedMachine | None
) -> dict[str, FoundEfficiency]:
    """The efficiency of each side and gauge; none where there is no machine with a geometry.

    Raises:
        NoAnswer: ``no_such_side``, and what the machine has to say against the position.
    """
    if machine is None or not machine.has_geometry:
        return {}
    machine.machine.moment_arm(machine.position)
    reference = values.get("reference_uncertainty_percent", 0.0) / 200
    faults: list[Fault] = []
    found = {}
    for each in series:
        with collecting(faults):
            geometry = machine.geometry(each.side)
            line = each.calibration.line
            value = line.b / geometry.torque_per_pressure
            share = hypot(line.u_b / line.b, reference, _gauge_share(each, machine.gauge(each.gauge)))
            found[each.name] = FoundEfficiency(value, value * share, geometry)
    if faults:
        raise NoAnswer(faults)
    return found


def _gauge_share(series: Series, gauge: Gauge | None) -> float:
    """Standard uncertainty of pressure as a share of it at the top of the range; 0 of a gauge not known."""
    highest = series.calibration.levels[-1].pressure
    return gauge.error_at(highest) / sqrt(3) / highest if gauge else 0.0


def size_notes(series: Sequence[Series], machine: CalibratedMachine | None, found: Found) -> Iterator[Note]:
    """What both sides together tell: one slip that explains both, or which size is another than thought."""
    suspect = [each for each in series if each.name in found and found[each.name].mistakes]
    sides, off = {each.side for each in series}, {each.side for each in suspect}
    if len(off) < len(sides):
        for each in suspect:
            text = f"{each.name} alone is off, which no bore or arm explains: see what was read there"
            yield Note("one_side_off", text)
        return
    shared = _shared([found[each.name] for each in suspect]) if len(sides) > 1 else ()
    if shared:
        yield Note("same_mistake", f"one mistake would explain every side: {'; or '.join(shared)}")
    if any(ANOTHER_SIZE in found[each.name].mistakes for each in suspect):
        doubts = list(_doubts(suspect, machine, found))
        yield from _size_notes(doubts) if doubts else ()


def _shared(found: Sequence[FoundEfficiency]) -> list[str]:
    """Texts of the mistakes that explain all, without the one that explains anything."""
    rest = [{mistake.code for mistake in each.mistakes} for each in found[1:]]
    return [
        mistake.text
        for mistake in found[0].mistakes
        if mistake is not ANOTHER_SIZE and all(mistake.code in codes for codes in rest)
    ]


def _doubts(
    suspect: Sequence[Series], machine: CalibratedMachine | None, found: Found
) -> Iterator[SizeInDoubt]:
    if machine is None or machine.piston is None or machine.moment_arm is None:
        return
    for each in suspect:
        efficiency = found[each.name]
        share = efficiency.value / efficiency.geometry.efficiency
        yield SizeInDoubt(each.side, machine.piston, machine.moment_arm, share)


def _size_notes(doubts: Sequence[SizeInDoubt]) -> Iterator[Note]:
    """Which size would give the torque measured, at the efficiency of the profile."""
    which = bore_or_arm(doubts)
    amounts = {
        "bore": Amount("length", fmean(each.bore for each in doubts)),
        "given_bore": Amount("length", doubts[0].piston.bore),
        "arm": Amount("length", fmean(each.arm for each in doubts)),
        "given_arm": Amount("length", doubts[0].moment_arm),
    }
    by_bore, by_arm = (
        "a bore of {bore} instead of {given_bore}",
        "a moment arm of {arm} instead of {given_arm}",
    )
    if which == "bore":
        yield Note("bore_in_doubt", f"{by_bore} would explain both sides, and no moment arm would", amounts)
    elif which == "arm":
        yield Note("arm_hole_in_doubt", f"{by_arm} would explain both sides, and no bore would", amounts)
    elif len({each.side for each in doubts}) == 1:
        text = f"{by_bore}, or {by_arm}, would explain this side; the other side would tell which"
        yield Note("bore_or_arm_in_doubt", text, amounts)
