"""The torque of each calibrated side against geometry.

An efficiency found is judged by the range of the profile, 3 % wider at either end (own judgement), not by
that of cylinders: a motor through gears is sound at 0.75.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import hypot, sqrt
from typing import Any

from api.answers.calibration.machine import CalibratedMachine
from api.answers.calibration.series import Series
from api.engineering.calibration.likely_mistake import FoundEfficiency
from api.engineering.checks import Fault, NoAnswer, collecting
from api.engineering.gauges.gauge import Gauge

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


def not_plausible(found: Found) -> Iterator[str]:
    """A clause for every side and gauge whose efficiency is not one of a sound machine."""
    for name, efficiency in found.items():
        if efficiency.verdict != "plausible":
            expected = efficiency.geometry.efficiency
            yield (
                f"{name}: the efficiency {efficiency.value:.3g} is {efficiency.verdict} against geometry and "
                f"the {expected.low:g} to {expected.high:g} of the profile"
            )
