"""The machine that a calibration was made on, as far as its profile tells: geometry and gauges."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.machines.job import profile_of
from api.answers.machines.profile import Profile
from api.answers.shop import Shop
from api.engineering.calibration.likely_mistake import Geometry
from api.engineering.calibration.slips import CYLINDER, MOTOR
from api.engineering.checks import refuse
from api.engineering.gauges.gauge import Gauge
from api.engineering.machine_kinds.calibrated import OTHER, Calibrated
from api.engineering.machine_kinds.machine import ArmPosition, Driven, Machine
from api.engineering.machine_kinds.motor_through_gears import MotorThroughGears
from api.engineering.machines.cylinder import Piston, Turning

BOTH_WAYS = (Turning("make_up", "right"), Turning("break_out", "right"))
"""One turning for each of the two ways; between them they drive whatever a machine can drive."""
ONE_MEGAPASCAL = 1e6


@dataclass(frozen=True)
class CalibratedMachine:
    """A machine set to the position of its calibration."""

    profile: Profile
    machine: Machine
    position: ArmPosition

    @property
    def has_geometry(self) -> bool:
        """Whether its profile says what its torque comes from; one calibrated before does not."""
        return not isinstance(self.machine, Calibrated)

    @property
    def piston(self) -> Piston | None:
        """Its cylinder, if it has one alone."""
        found = getattr(self.machine, "cylinder", None)
        return found if isinstance(found, Piston) else None

    @property
    def moment_arm(self) -> float | None:
        """Moment arm at the position, m."""
        return self.machine.moment_arm(self.position)

    def gauge(self, serial: str) -> Gauge | None:
        """The gauge of a serial, if it is one of this machine's."""
        return next((gauge for gauge in self.profile.gauges.values() if gauge.serial == serial), None)

    def geometry(self, side: Driven) -> Geometry:
        """What geometry says of a side.

        Raises:
            NoAnswer: ``no_such_side``, and those of the machine for a position that it does not have.
        """
        slopes = {}
        for turning in BOTH_WAYS:
            for driven in self.machine.sides(turning)[:1]:
                slopes[driven] = self._slope(turning)
        if side not in slopes:
            raise refuse(
                "no_such_side",
                f"this machine has no side {side} to put under pressure",
                "readings",
                accepted=" or ".join(slopes) or "no side: it is not driven by pressure on one",
            )
        drive = MOTOR if isinstance(self.machine, MotorThroughGears) else CYLINDER
        return Geometry(slopes[side], slopes.get(OTHER[side]), self.machine.efficiency, drive)

    def _slope(self, turning: Turning) -> float:
        """Torque per pressure without losses, m3: a torque that is computed is straight in pressure."""
        low, high = (
            self.machine.torque_from_reading(pressure, turning, self.position, 1.0)
            for pressure in (ONE_MEGAPASCAL, 2 * ONE_MEGAPASCAL)
        )
        return (high - low) / ONE_MEGAPASCAL


def machine_of(values: Mapping[str, Any], shop: Shop) -> CalibratedMachine | None:
    """The machine that a request names or holds, at the position of the calibration; None without one.

    Raises:
        NoAnswer: ``unknown_machine``, ``gripped_diameter_required``, ``diameter_not_in_table``.
    """
    if "machine" not in values:
        return None
    profile = profile_of(values, shop)
    machine = profile.machine(values.get("gripped_outside_diameter"))
    return CalibratedMachine(profile, machine, values["arm_position"])
