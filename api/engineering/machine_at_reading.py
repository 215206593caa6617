"""A machine at a reading: what a budget of its torque is drawn up for."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from api.engineering.machines.machine import ArmPosition
from api.engineering.turning import Turning


@dataclass(frozen=True)
class AtReading:
    """A machine at a reading, SI.

    Attributes:
        machine: one of `api.engineering.machines`.
        reading: on its gauge.
        turning: the way of turning.
        position: how its arm stands.
    """

    machine: Any
    reading: float
    turning: Turning
    position: ArmPosition

    @cached_property
    def torque(self) -> float:
        """At nominal efficiency, N.m."""
        return self.torque_at(self.reading)

    def torque_at(self, reading: float) -> float:
        """At another reading, N.m."""
        nominal = self.machine.efficiency.nominal
        return float(self.machine.torque_from_reading(reading, self.turning, self.position, nominal))
