"""A machine known by its calibration: torque measured at pressures, straight from one to the next.

It is never extrapolated. Where the highest or lowest efficiency would need a reading beyond its points, the
check says `not_checked` instead of guessing; the doubt of a reading at an end is carried with the slope
there.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Literal, Self

from api.engineering.checks import NOISE, Amount, Fault, NoAnswer, refuse
from api.engineering.interpolation import Point, value_at
from api.engineering.machine_kinds.machine import Driven, Efficiency, Tolerance
from api.engineering.machines.cylinder import ArmPosition, Turning, cylinder_side
from api.engineering.uncertainty.combined import Doubt

OTHER: Mapping[Driven, Driven] = {"cap": "rod", "rod": "cap", "A": "B", "B": "A"}
"""What returns the oil while one is under pressure."""
PORTS = ("A", "B")
"""What is put under pressure on a machine with a motor."""
TEN_DIGITS = 1e-9
"""A value that was answered with ten digits may come back, and is still at the end it was at."""
SAME_LENGTH = 0.0005
"""Pin-to-pin lengths that differ by no more, m, are one position of the arm (own judgement)."""


@dataclass(frozen=True)
class CalibratedSide:
    """One side as it was calibrated.

    Attributes:
        gauge_serial: the gauge on which the pressures were read.
        points: measured torque (N.m) at each pressure (Pa), at least 2, both rising from point to point.
        reversibility: most that the torque coming down differed from that going up, a share of it; None where
            not stated.
    """

    gauge_serial: str
    points: tuple[Point, ...]
    reversibility: float | None = None


@dataclass(frozen=True)
class Calibrated:
    """A machine known by its calibration, SI.

    Attributes:
        measured: what the calibration found, side by side; a side may be missing.
        right_hand_make_up_side: the side, or port of a motor, that makes up a right-hand thread.
        calibrated_position: how the arm stood: ``square``, or a pin-to-pin length, m.
        expanded_uncertainty: that of the certificate for a torque, k = 2, as a share of it, 0 < U < 1.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]] = {}
    """None: the calibration holds them all."""
    piston: ClassVar[None] = None
    swing: ClassVar[None] = None

    measured: Mapping[Driven, CalibratedSide]
    right_hand_make_up_side: Driven
    calibrated_position: Literal["square"] | float
    expanded_uncertainty: float

    @property
    def efficiency(self) -> Efficiency:
        """Torque over the calibrated torque: losses are in the points, only the doubt of them is left."""
        return Efficiency(1 - self.expanded_uncertainty, 1.0, 1 + self.expanded_uncertainty)

    @property
    def has_arm(self) -> bool:
        """Whether a cylinder drives it; a motor has no arm."""
        return self.right_hand_make_up_side not in PORTS

    @property
    def own_position(self) -> ArmPosition:
        """The calibrated position: at no other is its torque known."""
        return self.calibrated_position

    def side(self, turning: Turning) -> Driven:
        """The side to put under pressure, calibrated or not."""
        own = self.right_hand_make_up_side
        return own if cylinder_side("cap", turning) == "cap" else OTHER[own]

    def sides(self, turning: Turning) -> tuple[Driven]:
        """The one side that was under pressure."""
        return (self.side(turning),)

    @property
    def calibration_gauges(self) -> Mapping[Driven, str]:
        """The gauge on which each side was calibrated: its class error is in the points already."""
        return {side: each.gauge_serial for side, each in self.measured.items()}

    def moment_arm(self, position: ArmPosition) -> float | None:
        """None: a calibration measures the torque and not the arm.

        Raises:
            NoAnswer: ``position_not_calibrated``.
        """
        calibrated = self.calibrated_position
        if not self.has_arm:
            return None
        if isinstance(position, str) or isinstance(calibrated, str):
            same = position == calibrated
        else:
            same = abs(position - calibrated) <= SAME_LENGTH * (1 + NOISE)
        if not same:
            raise _other_position(position, calibrated)
        return None

    def torque_from_reading(
        self, reading: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Torque on the joint at a gauge pressure, N.m from Pa: straight between two calibrated points.

        Raises:
            NoAnswer: ``outside_calibration``, ``side_not_calibrated``, ``position_not_calibrated``.
        """
        self.moment_arm(position)
        points = self._on(turning).points
        _within(reading, points[0][0], points[-1][0], "pressure")
        return value_at(points, reading) * efficiency

    def reading_from_torque(
        self, torque: float, turning: Turning, position: ArmPosition, efficiency: float
    ) -> float:
        """Gauge pressure for a torque on the joint, Pa from N.m.

        Raises:
            NoAnswer: as `torque_from_reading`.
        """
        self.moment_arm(position)
        turned = [(measured * efficiency, pressure) for pressure, measured in self._on(turning).points]
        _within(torque, turned[0][0], turned[-1][0], "torque")
        return value_at(turned, torque)

    def torque_range(
        self, lowest: float, highest: float, turning: Turning, position: ArmPosition
    ) -> tuple[float, float]:
        """Least and most torque, N.m, between two pressures (Pa), over the doubt of the calibration.

        Near an end of the calibrated range the doubt of a reading may reach beyond it. There it is carried
        with the slope of the last piece: how much a doubt of pressure matters, not what a reading gives.

        Raises:
            NoAnswer: ``outside_calibration`` where no pressure between the two is calibrated.
        """
        self.moment_arm(position)
        points = self._on(turning).points
        first = points[0][0]
        _within(min(max(first, lowest), highest), first, points[-1][0], "pressure")
        least = value_at(points, lowest) * self.efficiency.low
        return max(0.0, least), max(0.0, value_at(points, highest) * self.efficiency.high)

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Lowest and highest calibrated pressure of the side, Pa.

        Raises:
            NoAnswer: ``side_not_calibrated``.
        """
        points = self._on(turning).points
        return points[0][0], points[-1][0]

    def side_load(self, reading: float, turning: Turning, position: ArmPosition) -> float | None:
        """None: a calibration measures the torque and not the forces."""
        self.moment_arm(position)
        return None

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """The uncertainty of its certificate."""
        share = self.expanded_uncertainty
        return (Doubt("calibration", "number", share, "normal", lambda by: torque * (1 + by)),)

    def arm_cotangent(self, position: ArmPosition) -> None:
        """None: how far its arm stood off is in the certificate."""

    def position_doubt(self, torque: float, reading: float, turning: Turning) -> None:
        """None: only its calibrated position gives a torque."""

    def where_it_stands(self) -> Self:
        """The machine itself."""
        return self

    def _on(self, turning: Turning) -> CalibratedSide:
        side = self.side(turning)
        if side not in self.measured:
            raise refuse(
                "side_not_calibrated",
                f"this machine is calibrated on {' and '.join(self.measured)} only; to "
                f"{turning.operation.replace('_', ' ')} a {turning.thread_hand}-hand thread, {side} is under "
                "pressure",
                "machine",
            )
        return self.measured[side]


def _within(value: float, first: float, last: float, kind: str) -> None:
    if not first * (1 - TEN_DIGITS) <= value <= last * (1 + TEN_DIGITS):
        raise refuse(
            "outside_calibration",
            f"the {kind} {{value}} lies outside what was calibrated, {{first}} to {{last}}",
            "machine",
            f"a {kind} within what was calibrated, or a machine calibrated as far as this",
            value=Amount(kind, value),
            first=Amount(kind, first),
            last=Amount(kind, last),
        )


def _other_position(position: ArmPosition, calibrated: ArmPosition) -> NoAnswer:
    told = {"position": position, "calibrated": calibrated}
    amounts = {name: Amount("length", at) for name, at in told.items() if not isinstance(at, str)}
    asked, known = (at if isinstance(at, str) else f"at the length {{{name}}}" for name, at in told.items())
    text = (
        f"this machine is calibrated with its arm {known}, not {asked}; each position is its own calibration"
    )
    return NoAnswer([Fault("position_not_calibrated", text, "arm_position", amounts)])
