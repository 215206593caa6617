"""The readings of a calibration, apart by side and gauge: each is a calibration of its own."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.engineering.calibration.levels import CalibrationReading
from api.engineering.calibration.series import Calibration, calibrate
from api.engineering.checks import NOISE, Fault, NoAnswer, collecting
from api.engineering.gauges.gauge import Gauge, Reading
from api.engineering.machine_kinds.machine import Driven
from schemas.core.units import Unit

Loaded = Mapping[str, Any]


@dataclass(frozen=True)
class Series:
    """One side on one gauge, and the units it was read in."""

    side: Driven
    gauge: str
    pressure_unit: Unit
    torque_unit: Unit
    calibration: Calibration

    @property
    def name(self) -> str:
        """Side and gauge, as a sentence names them."""
        return _name(self.side, self.gauge)

    def on_dial(self, pressure: float) -> Reading:
        """A pressure (Pa) as it stands on the dial."""
        return Reading(self.pressure_unit.from_si(pressure), self.pressure_unit.code)


def series_of(readings: Sequence[Loaded], gauges: Mapping[str, Gauge]) -> list[Series]:
    """Every side and gauge of loaded readings, calibrated, in the order in which they first stand.

    Args:
        readings: loaded readings.
        gauges: those known, by serial.

    Raises:
        NoAnswer: ``contradiction``, ``not_dial_unit``, ``above_gauge``, ``too_few_points``,
            ``torque_not_rising``.
    """
    groups: dict[tuple[Driven, str], list[Loaded]] = {}
    for reading in readings:
        groups.setdefault((reading["side"], reading["gauge"]), []).append(reading)
    faults: list[Fault] = []
    found = []
    for (side, serial), group in groups.items():
        with collecting(faults):
            found.append(_series(side, serial, group, gauges.get(serial)))
    if faults:
        raise NoAnswer(faults)
    return found


def _series(side: Driven, serial: str, group: Sequence[Loaded], gauge: Gauge | None) -> Series:
    faults = list(_faults(_name(side, serial), group, gauge))
    if faults:
        raise NoAnswer(faults)
    readings = [
        CalibrationReading(each["pressure"].si, each["torque"].si, int(each["run"]), each["direction"])
        for each in group
    ]
    calibration = calibrate(readings, _name(side, serial))
    first = group[0]
    return Series(side, serial, first["pressure"].unit, first["torque"].unit, calibration)


def _faults(name: str, group: Sequence[Loaded], gauge: Gauge | None) -> Iterator[Fault]:
    for quantity in ("pressure", "torque"):
        codes = dict.fromkeys(each[quantity].unit.code for each in group)
        if len(codes) > 1:
            text = f"{name}: each {quantity} must be in one unit, that of the dial or display; given in "
            yield Fault("contradiction", text + " and ".join(codes), "readings")
    if gauge is None:
        return
    others = dict.fromkeys(
        each["pressure"].unit.code for each in group if each["pressure"].unit.code != gauge.unit
    )
    if others:
        text = (
            f"gauge {gauge.serial} reads in {gauge.unit}, not in {' or '.join(others)}; give the readings as "
        )
        yield Fault("not_dial_unit", text + "they stand on the dial", "readings")
    elif any(each["pressure"].si > gauge.last_reading * (1 + NOISE) for each in group):
        text = f"gauge {gauge.serial} ends at {gauge.span:.12g} {gauge.unit}"
        yield Fault("above_gauge", text, "readings")


def _name(side: Driven, gauge: str) -> str:
    return f"side {side} on gauge {gauge}"
