"""Whether this program still gets the published figures right."""

from dataclasses import dataclass

from api.engineering.rotary.torque import make_up
from api.reference.connections import find_connection
from api.reference.make_up_torque import PUBLISHED, PublishedTorque

TOLERANCE = 0.0005
"""Largest difference from a printed torque: rounding to 1 ft-lb and to the printed dimensions."""


@dataclass(frozen=True)
class Readiness:
    """How many published torques were recomputed, the worst difference, and the rows that miss."""

    compared: int
    worst_difference: float
    missed: tuple[str, ...]


def check() -> Readiness:
    """Recompute every full-precision published torque that is not in doubt."""
    rows = [row for row in PUBLISHED if row.exact]
    differences = {row.row: abs(_recompute(row) / row.torque - 1) for row in rows}
    missed = tuple(row for row, difference in differences.items() if not difference <= TOLERANCE)
    return Readiness(len(rows), max(differences.values(), default=1.0), missed)


def _recompute(row: PublishedTorque) -> float:
    connection = find_connection(row.key.connection)
    if connection is None:
        return 0.0
    thread = connection.with_low_torque_face() if row.key.low_torque_face else connection.geometry
    stress, capped = row.key.stress_level, row.key.capped
    return make_up(
        thread, row.box_outside_diameter, row.pin_bore, stress, stress, cap_shoulder_radius=capped
    ).torque
