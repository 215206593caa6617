"""The machine that a calibration was made on, as far as its profile tells: geometry and gauges."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.machines.job import profile_of
from api.answers.machines.profile import Profile
from api.answers.shop import Shop
from api.engineering.calibration.likely_mistake import Geometry
from api.engineering.calibration.slips import CYLINDER, MOTOR, Drive
from api.engineering.checks import refuse
from api.engineering.gauges.gauge import Gauge
from api.engineering.machine_kinds.calibrated import OTHER
from api.engineering.machine_kinds.machine import Driven, Machine
from api.engineering.machines.cylinder import ArmPosition, Piston, Turning

BOTH_WAYS = (Turning("make_up", "right"), Turning("break_out", "right"))
"""One turning for each of the two ways; between them they drive whatever a machine can drive."""
ONE_MEGAPASCAL = 1e6
DRIVES: Mapping[Driven, Drive] = {"cap": CYLINDER, "rod": CYLINDER, "A": MOTOR, "B": MOTOR}
"""What turns a machine, by what of it is put under pressure."""


@dataclass(frozen=True)
class CalibratedMachine:
    """A machine set to the position of its calibration."""

    profile: Profile
    machine: Machine
    position: ArmPosition

    @property
    def has_geometry(self) -> bool:
        """Tells whether the profile says where its torque comes from; a calibrated one does not."""
        return not self.machine.calibration_gauges

    @property
    def piston(self) -> Piston | None:
        """The piston, where the machine has exactly one."""
        return self.machine.piston

    @property
    def moment_arm(self) -> float | None:
        """The moment arm at the position, m."""
        return self.machine.moment_arm(self.position)

    def gauge(self, serial: str) -> Gauge | None:
        """The gauge of a serial, if it is one of this machine's."""
        return next((gauge for gauge in self.profile.gauges.values() if gauge.serial == serial), None)

    def geometry(self, side: Driven) -> Geometry:
        """The torque of a side by geometry.

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
        return Geometry(slopes[side], slopes.get(OTHER[side]), self.machine.efficiency, DRIVES[side])

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
