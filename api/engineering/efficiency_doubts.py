"""The doubt of what is lost between pressure and torque."""

from collections.abc import Iterator

from api.engineering.machine_at_reading import AtReading
from api.engineering.machines.calibrated import Calibrated
from api.engineering.machines.machine import Efficiency
from api.engineering.machines.motor_through_gears import MotorThroughGears
from api.engineering.uncertainty import Doubt


def efficiency_doubts(at: AtReading) -> Iterator[Doubt]:
    """The range of efficiency, of motor and gears apart; of a calibrated machine its certificate.

    Where the nominal one is not in the middle, the best estimate is that of the middle (JCGM 100, 4.3.8).
    """
    machine, torque = at.machine, at.torque
    if isinstance(machine, Calibrated):
        share = machine.expanded_uncertainty
        yield Doubt("calibration", "number", share, "normal", lambda by: torque * (1 + by))
    elif isinstance(machine, MotorThroughGears):
        yield _range_doubt("starting_efficiency", machine.starting_efficiency, torque)
        yield _range_doubt("gear_efficiency", machine.gear_efficiency, torque)
    else:
        yield _range_doubt("efficiency", machine.efficiency, torque)


def _range_doubt(name: str, spread: Efficiency, torque: float) -> Doubt:
    middle, half_width = (spread.high + spread.low) / 2, (spread.high - spread.low) / 2
    at_one = torque / spread.nominal
    return Doubt(name, "number", half_width, "rectangular", lambda by: at_one * (middle + by))
