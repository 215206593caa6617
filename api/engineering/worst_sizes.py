"""A machine with every size off to where it gives least, or most, torque."""

from collections.abc import Mapping
from typing import Any

from api.engineering.machine_at_reading import AtReading
from api.engineering.machine_tolerances import (
    TOLERANCES,
    Tolerance,
    check_half_widths,
    off_by,
    reaching_where_it_stands,
)


def weakest_and_strongest(at: AtReading, half_widths: Mapping[str, float]) -> tuple[Any, Any]:
    """Two machines between which this one lies, with all its sizes off at once.

    Torque rises or falls with every size all the way between its ends, so the worst of all together has
    each at one of its own.

    Args:
        at: the machine at a reading at which it moves, and at the position in question.
        half_widths: of its sizes by name, SI, as far as they are stated.

    Raises:
        NoAnswer: ``tolerance_too_wide``, ``dead_centre``.
    """
    check_half_widths(at.machine, half_widths)
    weakest = strongest = at.machine if at.position == "unknown" else reaching_where_it_stands(at.machine)
    for name, tolerance in TOLERANCES[type(at.machine)].items():
        if half_widths.get(name):
            falls = _torque(at, tolerance, half_widths[name]) < _torque(at, tolerance, -half_widths[name])
            by = -half_widths[name] if falls else half_widths[name]
            weakest, strongest = off_by(weakest, tolerance, -by), off_by(strongest, tolerance, by)
    return weakest, strongest


def _torque(at: AtReading, tolerance: Tolerance, by: float) -> float:
    machine = at.machine if at.position == "unknown" else reaching_where_it_stands(at.machine)
    return AtReading(off_by(machine, tolerance, by), at.reading, at.turning, at.position).torque
