"""The cylinder that closes the jaws: how far it has gone, and its pressure for a squeeze. SI: m, N, Pa."""

from dataclasses import dataclass

from api.engineering.cylinder import Piston, Side, pressure_from_force


@dataclass(frozen=True)
class GripCylinder:
    """A cylinder that closes jaws.

    Attributes:
        piston: bore and rod.
        squeezing_side: the side under pressure while it squeezes.
        stroke: m.
        open_diameter: outside diameter at which the jaws touch with the cylinder at the beginning of its
            stroke, m.
        travel_per_diameter: travel of the cylinder over the change of diameter between the jaws.
        efficiency: squeeze over squeeze without losses, 0 to 1.
    """

    piston: Piston
    squeezing_side: Side
    stroke: float
    open_diameter: float
    travel_per_diameter: float
    efficiency: float


def travel_used(cylinder: GripCylinder, outside_diameter: float) -> float:
    """Travel until the jaws touch: ``(D_open - OD) travel/diameter``, m; below 0 the pipe does not go in.

    >>> travel_used(GripCylinder(Piston(4, 2), "cap", 3.0, 10.0, 0.5, 1.0), 6.0)
    2.0
    """
    return (cylinder.open_diameter - outside_diameter) * cylinder.travel_per_diameter


def pressure_for_squeeze(cylinder: GripCylinder, squeeze: float) -> float:
    """Gauge pressure on the squeezing side for a squeeze, Pa.

    By virtual work ``F ds = N dr`` with ``ds = travel/diameter dD = travel/diameter 2 dr``, so that
    ``N = 2 F efficiency travel/diameter``. A cylinder that pushes one of two jaws closes the diameter by its
    own travel, and the pipe feels its force twice, once from each jaw:

    >>> from api.engineering.cylinder import cap_area
    >>> direct = GripCylinder(Piston(4, 2), "cap", 3.0, 10.0, 1.0, 1.0)
    >>> round(pressure_for_squeeze(direct, 2 * 1000 * cap_area(direct.piston)), 9)
    1000.0
    """
    force = squeeze / (2 * cylinder.travel_per_diameter * cylinder.efficiency)
    return pressure_from_force(cylinder.piston, cylinder.squeezing_side, force, 1.0, 0.0, 0.0)
