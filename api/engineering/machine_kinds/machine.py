"""What every kind of torque machine answers, one file a kind.

A *reading* is what stands on its gauge: a pressure, Pa, or on a pull gauge a force, N.
"""

from dataclasses import dataclass
from math import inf
from typing import Literal, Protocol

from api.engineering.checks import Amount, refuse
from api.engineering.machines.cylinder import Side, Turning

ArmPosition = Literal["square", "unknown"] | float
"""How the arm stands: square to the cylinder, not known, or at a pin-to-pin length of the cylinder, m."""

Driven = Side | Literal["A", "B"]
"""What is put under pressure: a side of a cylinder, or a port of a motor."""

ANY_READING = (0.0, inf)


@dataclass(frozen=True)
class Efficiency:
    """Torque over the torque without losses: lowest, nominal and highest to be expected."""

    low: float
    nominal: float
    high: float


class Machine(Protocol):
    """A machine as it grips one outside diameter."""

    @property
    def efficiency(self) -> Efficiency:
        """Low, nominal and high."""

    def sides(self, turning: Turning) -> tuple[Driven, ...]:
        """What is to be put under pressure, cylinder by cylinder; empty where there is no choice."""

    def moment_arm(self, position: ArmPosition) -> float | None:
        """Distance of the driving force from the pipe centre, m; None for a kind without an arm.

        An unknown position takes the largest there is: no other then gives more torque.

        Raises:
            NoAnswer: for a position that this machine does not have.
        """

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at a reading, N.m; rises with the reading.

        Raises:
            NoAnswer: outside `readings`, or for a position that this machine does not have.
        """

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """The inverse of `torque_from_reading`.

        Raises:
            NoAnswer: where no reading is known to give that torque.
        """

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two readings, over efficiency and arm position.

        A torque below zero, which a machine that does not move cannot give, is zero.
        """

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Lowest and highest reading at which the torque is known.

        Raises:
            NoAnswer: where nothing is known for this way of turning.
        """

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """Force across the pipe at a reading, N, that backup and supports must take; None if not known."""


def no_length(position: ArmPosition, kind: str) -> None:
    """Refuse a pin-to-pin length for a kind that has no such thing.

    Raises:
        NoAnswer: ``no_cylinder_length``.
    """
    if not isinstance(position, str):
        raise refuse(
            "no_cylinder_length",
            f"{kind} has no cylinder whose length {{length}} could say how it stands",
            "arm_position",
            accepted="square or unknown",
            length=Amount("length", position),
        )
