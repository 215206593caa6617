"""The profile that a calibration makes: what was measured, in the units it was read in.

A calibrated profile needs three levels. Its uncertainty holds the reference, the pooled spread, the setting
of the dial at the lowest level and the curve between the points, with Student's factor for few readings
(GUM G.6.4).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from api.answers.calibration.efficiency import not_plausible
from api.answers.calibration.machine import CalibratedMachine
from api.answers.calibration.series import Series
from api.answers.calibration.uncertainty import doubt_of, expanded_percent
from api.engineering.calibration.likely_mistake import FoundEfficiency
from api.engineering.calibration.uncertainty import FEWEST_LEVELS
from api.engineering.provenance import Knowable, Known, NotKnown
from schemas.calibration.parts import MOST_POINTS
from schemas.core.fields import ten_digits
from schemas.machine_kinds.calibrated import CalibratedProfile

LARGEST_UNCERTAINTY = 20
"""Percent; what is less sure than that is no calibration."""
NEEDED = ("certificate", "due", "reference_uncertainty_percent")
MEMBERS = CalibratedProfile().fields
REQUIRED = [name for name, field in MEMBERS.items() if field.required]
REPLACED = ("status", "approved_by", "approved_on", "effective_from", "effective_to")
"""Members of a profile that hold for its own figures only."""
BY_DIAMETER = ("arm_radius", "base_distance")
LONGEST_REVISION = 20


@dataclass(frozen=True)
class MadeProfile:
    """A profile or the reason why there is none, and what it still lacks."""

    profile: Knowable[Mapping[str, Any]]
    lacks: Sequence[str] = ()


def made_profile(
    series: Sequence[Series],
    values: Mapping[str, Any],
    machine: CalibratedMachine | None,
    found: Mapping[str, FoundEfficiency],
) -> MadeProfile:
    """The profile of a calibration.

    Args:
        series: every side and gauge, calibrated.
        values: the request, loaded.
        machine: the machine, if it is known; what a calibration does not change is copied from its profile.
        found: the efficiency of each side and gauge by its name, where there is one.
    """
    reasons = "; ".join([*_reasons(series, values, machine), *_mistakes(found)])
    if reasons:
        return MadeProfile(NotKnown(reasons))
    made = {
        "kind": "calibrated",
        **(_kept(machine.profile.given, values["certificate"]) if machine else {}),
        "calibration": {"certificate": values["certificate"], "due": values["due"].isoformat()},
        "calibrated": _calibrated(series, values, machine),
    }
    lacks = [*(name for name in REQUIRED if name not in made), *_no_drift(series, machine)]
    return MadeProfile(Known(made), lacks)


def _reasons(
    series: Sequence[Series], values: Mapping[str, Any], machine: CalibratedMachine | None
) -> Iterator[str]:
    missing = [name for name in NEEDED if name not in values]
    if missing:
        yield f"not given: {', '.join(missing)}"
    for side in {each.side: None for each in series}:
        if sum(each.side == side for each in series) > 1:
            yield f"side {side} is read on more than one gauge, and a profile holds one; send them apart"
    for each in series:
        yield from _reasons_of(each)
        percent = expanded_percent(doubt_of(each, values, machine))
        if percent is not None and percent > LARGEST_UNCERTAINTY:
            yield f"{each.name}: an uncertainty of {percent:.3g} % is no calibration"
    if machine and any(isinstance(machine.profile.given.get(name), list) for name in BY_DIAMETER):
        yield "the arm of this machine depends on the outside diameter gripped, and one only was calibrated"


def _reasons_of(series: Series) -> Iterator[str]:
    torques = [level.mean_torque for level in series.calibration.levels]
    if len(torques) < FEWEST_LEVELS:
        text = f"fewer than {FEWEST_LEVELS} levels, so how straight the torque is between them is not known"
        yield f"{series.name}: {text}"
    if any(not low < high for low, high in pairwise(torques)):
        yield f"{series.name}: the mean torque does not rise from level to level"
    if len(torques) > MOST_POINTS:
        yield f"{series.name}: more than {MOST_POINTS} levels"
    if all(level.spread is None for level in series.calibration.levels):
        yield f"{series.name}: no level was read in two rising runs, so how torque repeats is not known"


def _mistakes(found: Mapping[str, FoundEfficiency]) -> Iterator[str]:
    for clause in not_plausible(found):
        yield f"{clause}; find the mistake, or correct the profile, or leave the machine out"


def _no_drift(series: Sequence[Series], machine: CalibratedMachine | None) -> Iterator[str]:
    """The gauges of the calibration whose drift from now on is not stated.

    Such a profile holds, but its worst-case bounds count the whole error of the class.
    """
    read = {each.gauge for each in series}
    for operation, gauge in machine.profile.gauges.items() if machine else ():
        if gauge.serial in read and gauge.drift is None:
            yield f"gauges.{operation}.drift_percent_of_span"


def _calibrated(
    series: Sequence[Series], values: Mapping[str, Any], machine: CalibratedMachine | None
) -> dict[str, Any]:
    position = values["arm_position"]
    doubts = (doubt_of(each, values, machine) for each in series)
    percents = [percent for doubt in doubts if (percent := expanded_percent(doubt)) is not None]
    made: dict[str, Any] = {
        "position": position if isinstance(position, str) else _shown(1000 * position, "mm")
    }
    if "calibrated_on" in values:
        made["calibrated_on"] = values["calibrated_on"].isoformat()
    if "reference" in values:
        made["reference"] = values["reference"]
    made["expanded_uncertainty_percent"] = ten_digits(max(percents))
    made["sides"] = {each.side: _side(each) for each in series}
    return made


def _side(series: Series) -> dict[str, Any]:
    side: dict[str, Any] = {"gauge_serial": series.gauge, "points": _points(series)}
    lags = series.calibration.figures["reversibility"]
    if lags is not None:
        side["reversibility_percent"] = ten_digits(lags)
    return side


def _points(series: Series) -> list[dict[str, Any]]:
    return [
        {
            "pressure": _shown(series.pressure_unit.from_si(level.pressure), series.pressure_unit.code),
            "torque": _shown(series.torque_unit.from_si(level.mean_torque), series.torque_unit.code),
        }
        for level in series.calibration.levels
    ]


def _shown(value: float, unit: str) -> dict[str, Any]:
    return {"value": ten_digits(value), "unit": unit}


def _kept(given: Mapping[str, Any], certificate: str) -> dict[str, Any]:
    """The members that a calibration keeps of the machine's profile, as an unapproved draft."""
    kept = {name: value for name, value in given.items() if name in MEMBERS and name not in REPLACED}
    if "right_hand_make_up_port" in given:
        kept["right_hand_make_up_side"] = given["right_hand_make_up_port"]
    revision = f"{given['revision']} + {certificate}"[:LONGEST_REVISION]
    return {**kept, "kind": "calibrated", "status": "draft", "revision": revision}
