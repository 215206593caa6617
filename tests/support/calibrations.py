"""Readings of an invented machine in a calibration, computed with plain arithmetic in US units."""

from collections.abc import Callable
from dataclasses import dataclass
from math import pi
from typing import Any

from machines import profile

LEVELS = (500, 1000, 1500, 2000, 2500)
# one share for each level and run: how far this reading lies from the machine (drawn once, then fixed)
SCATTER = (
    (-0.0021, 0.0008, 0.0014),
    (0.0011, -0.0016, 0.0003),
    (-0.0005, 0.0019, -0.0012),
    (0.0009, -0.0002, -0.0008),
    (0.0004, 0.0006, -0.0011),
)
LAG = 0.012
"""Share by which torque lags behind pressure when it falls."""


@dataclass(frozen=True)
class TrueMachine:
    """What the machine really is, whatever its profile says; in, psi."""

    bore: float = 5.0
    rod: float = 2.5
    arm: float = 36.0
    efficiency: float = 0.95
    breakaway: float = 30.0

    def torque(self, side: str, pressure: float) -> float:
        """ft-lb."""
        area = pi / 4 * (self.bore**2 - (self.rod**2 if side == "rod" else 0.0))
        return self.efficiency * area * (pressure - self.breakaway) * self.arm / 12


@dataclass(frozen=True)
class WrittenDown:
    """How what was read came to be written down: times a factor, with a unit, under the name of a side."""

    pressure_factor: float = 1.0
    pressure_unit: str = "psi"
    torque_factor: float = 1.0
    torque_unit: str = "ft-lb"
    swapped: bool = False

    def reading(
        self, side: str, gauge: str, pressure: float, torque: float, run: int, direction: str
    ) -> dict[str, Any]:
        """One reading of a request."""
        named = {"cap": "rod", "rod": "cap"}[side] if self.swapped else side
        return {
            "pressure": {"value": pressure * self.pressure_factor, "unit": self.pressure_unit},
            "torque": {"value": torque * self.torque_factor, "unit": self.torque_unit},
            "run": run,
            "direction": direction,
            "side": named,
            "gauge": gauge,
        }


def readings(
    side: str,
    gauge: str = "EX-9",
    machine: TrueMachine = TrueMachine(),
    written: WrittenDown = WrittenDown(),
    levels: tuple[int, ...] = LEVELS,
    scatter: float = 1.0,
) -> list[dict[str, Any]]:
    """Three rising runs, a falling one and the zero before and after."""
    found = [written.reading(side, gauge, 0, 0, 1, "rising")]
    for run in (1, 2, 3):
        for level, shares in zip(levels, SCATTER, strict=False):
            torque = machine.torque(side, level) * (1 + scatter * shares[run - 1])
            found.append(written.reading(side, gauge, level, torque, run, "rising"))
    for level in reversed(levels[:-1]):
        torque = machine.torque(side, level) * (1 + LAG)
        found.append(written.reading(side, gauge, level, torque, 3, "falling"))
    return [*found, written.reading(side, gauge, 0, 4, 3, "falling")]


MOTOR = profile(
    kind="motor_through_gears",
    displacement="24 in3/rev",
    gear_ratio=40,
    starting_efficiency={"low": 0.8, "nominal": 0.9, "high": 0.95},
    gear_efficiency={"low": 0.98, "nominal": 0.98, "high": 0.98},
    right_hand_make_up_port="A",
    rated_pressure={"motor": "3000 psi", "hoses": "3000 psi"},
    **dict.fromkeys(
        (
            "cylinder",
            "arm_radius",
            "base_distance",
            "right_hand_make_up_side",
            "efficiency",
            "breakaway_pressure",
        )
    ),
)


def motor_readings(torque: Callable[[float], float]) -> list[dict[str, Any]]:
    """Two rising runs on port A, ft-lb from psi."""
    written = WrittenDown()
    return [
        {**written.reading("cap", "EX-1", psi, torque(psi), run, "rising"), "side": "A"}
        for run in (1, 2)
        for psi in LEVELS
    ]


CERTIFICATE = {
    "certificate": "EX-0417",
    "calibrated_on": "2026-11-20",
    "due": "2027-11-20",
    "reference": "invented torque cell T-1",
    "reference_uncertainty_percent": 0.5,
}


def request(*series: list[dict[str, Any]], **changed: Any) -> dict[str, Any]:
    """A calibration of the example machine; a member that is None is left out."""
    made = {
        "readings": [reading for each in series for reading in each],
        "arm_position": "square",
        "machine": profile(),
        **CERTIFICATE,
        **changed,
    }
    return {name: value for name, value in made.items() if value is not None}
