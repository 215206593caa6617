"""A line pulling an arm, its pull read on a load cell or a pull gauge: ``T = F a cos(d) e``."""

from dataclasses import dataclass

from api.engineering.machine_kinds.machine import ANY_READING, ArmPosition, Efficiency
from api.engineering.machines.cylinder import Turning
from api.engineering.machines.off_square import moment_arms_off_square


@dataclass(frozen=True)
class LinePull:
    """A tong or wrench pulled by a line, SI.

    A line only pulls, so nothing here chooses the way of turning: **the line must be led so that it turns
    the joint the wanted way**, and led anew for the other way. The cell or gauge must feel the pull of the
    line at the arm; what a sheave between them takes belongs to the efficiency.

    Attributes:
        arm_radius: from the centre of the gripped pipe to where the line takes hold, m.
        largest_angle_off_square: farthest that the line ever stands off square to the arm, rad; None if not
            known.
        cell_area: effective area of a hydraulic load cell, from its certificate and not from its bore, m2;
            the reading is then its pressure, Pa. None with a pull gauge, whose reading is a force, N.
        efficiency: pull at the arm over the pull read, low, nominal and high.
    """

    arm_radius: float
    largest_angle_off_square: float | None
    cell_area: float | None
    efficiency: Efficiency

    def sides(self, turning: Turning) -> tuple[()]:
        """None: the way the line is led decides."""
        return ()

    def moment_arm(self, position: ArmPosition) -> float:
        """The arm radius: at square, and as the largest there is where the position is unknown, m.

        Raises:
            NoAnswer: ``no_cylinder_length``, ``angle_off_square_unknown``.
        """
        return self._moment_arms(position)[1]

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
        smallest, largest = self._moment_arms(position)
        least = smallest * self.efficiency.low * self._pull(lowest)
        most = largest * self.efficiency.high * self._pull(highest)
        return max(0.0, least), max(0.0, most)

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Any: the torque is computed."""
        return ANY_READING

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float:
        """The whole pull of the line as read, N: nothing balances it."""
        self._moment_arms(position)
        return self._pull(reading)

    def _moment_arms(self, position: ArmPosition) -> tuple[float, float]:
        return moment_arms_off_square(
            self.arm_radius, self.largest_angle_off_square, position, "a pulled line"
        )

    def _pull(self, reading: float) -> float:
        """Pull of the line, N."""
        return reading if self.cell_area is None else reading * self.cell_area
