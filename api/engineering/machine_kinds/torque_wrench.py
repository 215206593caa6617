"""A hydraulic torque wrench with the torque factor of its maker: ``T = K p e``."""

from dataclasses import dataclass

from api.engineering.machine_kinds.machine import ANY_READING, ArmPosition, Efficiency, no_length
from api.engineering.machines.cylinder import Turning


@dataclass(frozen=True)
class TorqueWrench:
    """A wrench on its drive, SI.

    Its lever is short and hidden, and its factor holds over the whole stroke, so it has no position. It turns
    the other way by being turned over, with its reaction member on the other side, not by another hose.

    Attributes:
        torque_factor: K of the maker for this wrench and drive, N.m/Pa.
        efficiency: torque over ``K p``, low, nominal and high; nominal 1 where K contains the losses.
        reaction_arm: from the centre of the nut or pipe to where the reaction member bears, m; None if not
            known.
    """

    torque_factor: float
    efficiency: Efficiency
    reaction_arm: float | None

    def sides(self, turning: Turning) -> tuple[()]:
        """None: it is the wrench that is turned over."""
        return ()

    def moment_arm(self, position: ArmPosition) -> float | None:
        """None: its lever is within the factor.

        Raises:
            NoAnswer: ``no_cylinder_length``.
        """
        no_length(position, "a torque wrench")
        return None

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque at a gauge pressure, N.m from Pa.

        A factor of 1.25 ft-lb/psi at 4000 psi:

        >>> wrench = TorqueWrench(1.25, Efficiency(0.97, 1.0, 1.03), None)
        >>> wrench.torque_from_reading(4000.0, Turning("make_up", "right"), "square", 1.0)
        5000.0
        """
        no_length(position, "a torque wrench")
        return self.torque_factor * reading * efficiency

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Gauge pressure for a torque, Pa from N.m."""
        no_length(position, "a torque wrench")
        return torque / (self.torque_factor * efficiency)

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over the spread of the factor."""
        least = self.torque_from_reading(lowest, turning, position, self.efficiency.low)
        most = self.torque_from_reading(highest, turning, position, self.efficiency.high)
        return max(0.0, least), max(0.0, most)

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Any: the torque is computed."""
        return ANY_READING

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """Force of the reaction member at the nominal efficiency, N: it bears on the pipe just as hard."""
        torque = self.torque_from_reading(reading, turning, position, self.efficiency.nominal)
        return None if self.reaction_arm is None else torque / self.reaction_arm
