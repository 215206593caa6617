"""How sure each side of a calibration is, and everything that entered that."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from api.answers.calibration.machine import CalibratedMachine
from api.answers.calibration.series import Series
from api.engineering.calibration.uncertainty import CalibrationUncertainty, calibration_uncertainty
from api.engineering.gauges.gauge import Gauge, reading_half_width
from api.engineering.provenance import Assumption

FIELD = "expanded_uncertainty_percent"


def doubt_of(
    series: Series, values: Mapping[str, Any], machine: CalibratedMachine | None
) -> CalibrationUncertainty | None:
    """The uncertainty of a torque of one side; None where something of it is not known."""
    reference = values.get("reference_uncertainty_percent")
    if reference is None:
        return None
    gauge = machine.gauge(series.gauge) if machine else None
    setting = _setting(gauge) if gauge else None
    return calibration_uncertainty(series.calibration.levels, reference / 100, setting)


def _setting(gauge: Gauge) -> float:
    """How far the pressure may be from the mark it was set to, Pa."""
    division = gauge.division * gauge.unit_in_si
    return reading_half_width(division, "digital" if gauge.digital else "set_on_mark")


def expanded_percent(doubt: CalibrationUncertainty | None) -> float | None:
    """Expanded uncertainty of a torque, percent."""
    return None if doubt is None else 100 * doubt.expanded


def doubt_assumptions(
    series: Sequence[Series], values: Mapping[str, Any], machine: CalibratedMachine | None
) -> Iterator[Assumption]:
    """Lists what entered the uncertainty of each side."""
    for each in series:
        doubt = doubt_of(each, values, machine)
        if doubt is not None:
            yield from _of_side(each.name, doubt)


def _of_side(name: str, doubt: CalibrationUncertainty) -> Iterator[Assumption]:
    yield Assumption(
        FIELD,
        f"{name}: factor {doubt.coverage:.4g}, spread {_percent(doubt.spread)} with "
        f"{doubt.degrees_of_freedom} degrees of freedom",
        "the spread of single rising runs pooled over the levels, against a mean of "
        f"{doubt.fewest_runs}; the factor is t for 95.45 % of the effective degrees of freedom (JCGM 100 "
        f"G.6.4, table G.2), and no level counts for less than k = 2 on its own spread, at most "
        f"{_percent(doubt.largest_spread)}",
    )
    if doubt.setting is None:
        yield Assumption(
            FIELD,
            f"{name}: nothing for how the pressure was set",
            "the gauge is not known, so neither are its divisions; runs set alike do not show it",
        )
    else:
        yield Assumption(
            FIELD,
            f"{name}: pressure set within {_percent(doubt.setting)} of the torque",
            "a quarter of a division of a dial, half a step of a display, at the level where it matters most",
        )
    yield Assumption(
        FIELD,
        f"{name}: straight between levels within {_percent(doubt.interpolation)}",
        "how far the worst level lies from the straight line between its neighbours",
    )
    yield Assumption(
        FIELD,
        f"{name}: reference {_percent(doubt.reference)} standard uncertainty",
        "half of its expanded uncertainty as given, k = 2",
    )


def _percent(share: float) -> str:
    return f"{round(100 * share, 9):.3g} %"
