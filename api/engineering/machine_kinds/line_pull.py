"""A line pulling an arm, its pull read on a load cell or a pull gauge: ``T = F a cos(d) e``."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from api.engineering.machine_kinds.machine import (
    ARM_TOLERANCES,
    Computed,
    Efficiency,
    Tolerance,
    range_over_efficiency,
)
from api.engineering.machines.arm import SquareArm
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.uncertainty.combined import Doubt


@dataclass(frozen=True)
class LinePull(SquareArm, Computed, called="a pulled line"):
    """A tong or wrench pulled by a line, SI.

    A line only pulls, so nothing here chooses the way of turning: **the line must be led so that it turns
    the joint the wanted way**, and led anew for the other way. The cell or gauge must feel the pull of the
    line at the arm; what a sheave between them takes belongs to the efficiency.

    A line is led square to its arm, its one position with a name: where none is stated, that one counts.

    Attributes:
        arm_radius, largest_angle_off_square: see `SquareArm`.
        cell_area: effective area of a hydraulic load cell, from its certificate and not from its bore, m2;
            the reading is then its pressure, Pa. None with a pull gauge, whose reading is a force, N.
        efficiency: pull at the arm over the pull read, low, nominal and high.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {
        **ARM_TOLERANCES,
        "cell_area": Tolerance(("cell_area",), "number"),
    }
    piston: ClassVar[None] = None
    own_position: ClassVar[ArmPosition] = "square"

    cell_area: float | None
    efficiency: Efficiency

    def sides(self, turning: Turning) -> tuple[()]:
        """None: the way the line is led decides."""
        return ()

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at a reading, N.m from Pa of the load cell or N of the pull gauge.

        10,000 lbf on an arm of 4 ft:

        >>> tong = LinePull(4.0, None, None, Efficiency(1.0, 1.0, 1.0))
        >>> tong.torque_from_reading(10_000.0, Turning("make_up", "right"), "square", 1.0)
        40000.0
        """
        return self.moment_arm(position) * efficiency * self._pull(reading)

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Reading for a torque on the joint, Pa of the load cell or N of the pull gauge."""
        return torque / (self.moment_arm(position) * efficiency * self._pull(1.0))

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two readings, over efficiency and the angle of the line."""
        arms = self.moment_arms(position)
        return range_over_efficiency(self, lowest, highest, turning, position, arms)

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float:
        """The whole pull of the line as read, N: nothing balances it."""
        self.moment_arm(position)
        return self._pull(reading)

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The range of efficiency."""
        return (self.efficiency.doubt("efficiency", torque),)

    def _pull(self, reading: float) -> float:
        """Pull of the line, N."""
        return reading if self.cell_area is None else reading * self.cell_area
