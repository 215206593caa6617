"""Make-ups that are judged, on the example machine, worked out here by the equations of their sources.

The machine is one cylinder on an arm: ``T = a e A (p - p0)`` at square, with an arm of 36 in, a bore of 5 in,
30 psi of breakaway, efficiency 0.92 to 0.98, and a gauge of 0 to 3000 psi by 20 psi, off by 1 % of span. Its
budget (JCGM 100, 5.1) has three terms, each rectangular, with a standard uncertainty of its half-width over
``sqrt(3)``: 30 psi of the gauge, half a division of reading, and 0.03 of an efficiency of 0.95.
"""

from math import hypot, pi, sqrt
from random import Random
from typing import Any

from machines import JOB, profile

DIVISION, BREAKAWAY, GAUGE = 20.0, 30.0, 30.0
LOW, NOMINAL, HIGH = 0.92, 0.95, 0.98
GUARD = 1.645
"""Normal: 5 in 100 lie beyond, to one side."""
FT_LB = 36 / 12 * pi / 4 * 5**2
"""Torque for each psi beyond breakaway at an efficiency of 1, ft-lb."""

TOLD = {
    **{"gauge_zero": "0 psi", "marks_moved": "yes", "moved_in_last_stroke": "yes", "as_of": "2026-11-24"},
    **{"slips": 0, "held": "5 s", "limit_proved": True},
}
"""A make-up of which everything was told, and all was well."""
JOINT = {"family": "stated", "torque_source": "invented sheet 1", "torque_target": "34200 ft-lb"}


def asked(minimum: float | None = 33000, maximum: float | None = 35500, **changed: Any) -> dict[str, Any]:
    """A verdict on 640 psi, ordered and read, with members changed; None takes one out."""
    ends = {"torque_minimum": minimum, "torque_maximum": maximum}
    window = {name: f"{end} ft-lb" for name, end in ends.items() if end is not None}
    read = {"ordered_setting": "640 psi", "gauge_reading": "640 psi"}
    made = {**JOINT, **window, **JOB, "machine": profile(), **TOLD, **read, **changed}
    return {name: value for name, value in made.items() if value is not None}


def before(**changed: Any) -> dict[str, Any]:
    """The same joint before it is made up."""
    told = {*TOLD, "gauge_reading", "ordered_setting"} - {"as_of"}
    return {name: value for name, value in asked(**changed).items() if name not in told}


def torque(reading: float, efficiency: float = NOMINAL) -> float:
    """Torque at a reading, ft-lb."""
    return FT_LB * efficiency * (reading - BREAKAWAY)


def doubt(reading: float) -> float:
    """Combined standard uncertainty of the torque at a reading taken to the nearest mark, ft-lb."""
    moving = reading - BREAKAWAY
    shares = GAUGE / moving, DIVISION / 2 / moving, (HIGH - NOMINAL) / NOMINAL
    return torque(reading) * hypot(*shares) / sqrt(3)


def true_torque(reading: float, random: Random) -> float:
    """A torque that may be behind a reading, drawn from what is doubtful of it, ft-lb."""
    off = random.uniform(-GAUGE, GAUGE) + random.uniform(-DIVISION / 2, DIVISION / 2)
    return torque(reading + off, random.uniform(LOW, HIGH))
