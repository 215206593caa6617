"""What every kind of torque machine answers, one file a kind, and what kinds have in common.

A *reading* is what stands on its gauge: a pressure, Pa, or on a pull gauge a force, N.
"""

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass
from inspect import get_annotations
from math import inf
from typing import Any, ClassVar, Literal, Protocol, Self, get_type_hints

from api.engineering.machines.arm import Swing, no_length
from api.engineering.machines.cylinder import ArmPosition, Piston, Side, Turning
from api.engineering.uncertainty.combined import Doubt

Driven = Side | Literal["A", "B"]
"""What is put under pressure: a side of a cylinder, or a port of a motor."""


@dataclass(frozen=True)
class Efficiency:
    """Torque over the torque without losses: lowest, nominal and highest to be expected."""

    low: float
    nominal: float
    high: float

    def doubt(self, name: str, torque: float) -> Doubt:
        """The doubt of the range about a torque at the nominal efficiency, N.m.

        Where the nominal one is not in the middle, the best estimate is that of the middle (JCGM 100, 4.3.8).
        """
        middle, half_width = (self.high + self.low) / 2, (self.high - self.low) / 2
        at_one = torque / self.nominal
        return Doubt(name, "number", half_width, "rectangular", lambda by: at_one * (middle + by))


@dataclass(frozen=True)
class Tolerance:
    """A size that may have a half-width.

    Attributes:
        fields: where it stands in the machine. Two cylinders are measured alike, so that both are off
            together: on the safe side, since both drive.
        kind: kind of quantity of its half-width, in SI; ``number`` where that is a share of the size.
        largest_share: of the size itself; more means that it is not known (own judgement).
    """

    fields: tuple[str, ...]
    kind: str = "length"
    largest_share: float = 0.1


PISTON_TOLERANCES = {"bore": Tolerance(("cylinder.bore",)), "rod": Tolerance(("cylinder.rod",))}
ARM_TOLERANCES = {"arm_radius": Tolerance(("arm_radius",))}
BREAKAWAY_TOLERANCES = {"breakaway_pressure": Tolerance(("breakaway_pressure",), "pressure", 1.0)}
RETURN_TOLERANCES = {"return_pressure": Tolerance(("return_pressure",), "pressure", 1.0)}


class Machine(Hashable, Protocol):
    """A machine at one gripped outside diameter: a frozen dataclass in SI.

    Nothing here has a default. What a kind leaves out mypy names, and `check_kind` as the service starts.
    """

    tolerances: ClassVar[Mapping[str, Tolerance]]
    """Its sizes that may have a half-width, named as in its profile."""

    @property
    def efficiency(self) -> Efficiency:
        """Low, nominal and high."""

    @property
    def piston(self) -> Piston | None:
        """The cylinder that drives it; None where none does, or more than one."""

    @property
    def swing(self) -> Swing | None:
        """Its arm and cylinder, where one length of the cylinder says how the arm stands."""

    @property
    def has_arm(self) -> bool:
        """Whether its torque depends on how an arm stands; else a position means nothing to it."""

    @property
    def own_position(self) -> ArmPosition | None:
        """The position that counts where none is stated; None where one must be."""

    @property
    def calibration_gauges(self) -> Mapping[Driven, str]:
        """Serials of the gauges that it was calibrated on; none where its torque is computed."""

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

    def efficiency_doubts(self, torque: float) -> tuple[Doubt, ...]:
        """What is in doubt of its losses at a torque, N.m; of a calibrated machine its certificate."""

    def arm_cotangent(self, position: ArmPosition) -> float | None:
        """Cotangent of the angle between force and arm at a stated position; None for a kind without an arm.

        An arm that stands off by ``x`` gives ``cos(x) + cotangent sin(x)`` of the torque.
        """

    def position_doubt(self, torque: float, reading: float, turning: Turning) -> Doubt | None:
        """What an unknown position does to a torque, N.m; None for a kind without an arm."""

    def where_it_stands(self) -> Self:
        """The machine without the ends of its stroke, for sizes that are off where it stands."""


class Computed:
    """A machine whose torque is computed: it is known at every reading, and no gauge took part."""

    calibration_gauges: ClassVar[Mapping[Driven, str]] = {}

    def readings(self, turning: Turning) -> tuple[float, float]:
        """Any reading."""
        return 0.0, inf


class NoArm:
    """A machine without an arm: wherever it stands, its torque is the same.

    A subclass says what it is called in a sentence: ``class Motor(NoArm, called="a hydraulic motor")``.
    """

    swing: ClassVar[None] = None
    has_arm: ClassVar[bool] = False
    own_position: ClassVar[ArmPosition] = "square"
    called: ClassVar[str]

    def __init_subclass__(cls, *, called: str) -> None:
        cls.called = called

    def moment_arm(self, position: ArmPosition) -> None:
        """None: there is no arm.

        Raises:
            NoAnswer: ``no_cylinder_length``.
        """
        no_length(position, self.called)

    def arm_cotangent(self, position: ArmPosition) -> None:
        """None: there is no arm that could be off its position."""

    def position_doubt(self, torque: float, reading: float, turning: Turning) -> None:
        """None: no position gives another torque."""

    def where_it_stands(self) -> Self:
        """The machine itself."""
        return self


def range_over_efficiency(
    machine: Machine,
    lowest: float,
    highest: float,
    turning: Turning,
    position: ArmPosition,
    moment_arms: tuple[float, float] | None,
) -> tuple[float, float]:
    """Least and most torque of a computed machine, N.m, between two readings.

    The least takes the lowest reading, efficiency and moment arm, the most the highest; a torque below zero,
    which a machine that does not move cannot give, is zero.

    Args:
        machine: the machine.
        lowest, highest: readings.
        turning, position: how it turns and stands.
        moment_arms: its smallest and largest at that position, m; None for a kind without an arm.
    """
    most = machine.torque_from_reading(highest, turning, position, machine.efficiency.high)
    least = machine.torque_from_reading(lowest, turning, position, machine.efficiency.low)
    if moment_arms:
        least *= moment_arms[0] / moment_arms[1]
    return max(0.0, least), max(0.0, most)


MEMBERS = tuple(name for name in (*get_annotations(Machine), *vars(Machine)) if not name.startswith("_"))
"""What a kind must have, by name."""


def check_kind(kind: type) -> None:
    """Refuse a class that is no machine kind: one that lacks a member, or has a tolerance of no size.

    Raises:
        TypeError: with everything that it lacks.
    """
    fields = getattr(kind, "__dataclass_fields__", {})
    missing = [name for name in MEMBERS if not hasattr(kind, name) and name not in fields]
    if missing:
        raise TypeError(f"{kind.__name__} is no machine kind: it has no {', no '.join(missing)}")
    if stray := list(_sizeless(kind)):
        raise TypeError(f"{kind.__name__} has tolerances of sizes that it has not: {', '.join(stray)}")


def _sizeless(kind: Any) -> Iterator[str]:
    """Places of tolerances at which a kind has no field."""
    for tolerance in kind.tolerances.values():
        for field in tolerance.fields:
            found = kind
            for name in field.split("."):
                found = get_type_hints(found).get(name) if isinstance(found, type) else None
            if found is None:
                yield field
