"""The squeeze that a torque needs, and the cylinder that gives it."""

from dataclasses import dataclass
from math import tan

from api.engineering.machines.cylinder import Piston, Side, pressure_from_force


def slip_torque(squeeze: float, radius: float, friction: float) -> float:
    """Torque at which squeezed jaws slip: ``T = mu N r``, N.m (Coulomb friction).

    Args:
        squeeze: N, sum of the radial forces, N, >= 0.
        radius: r, of the gripped pipe, half its outside diameter, m, > 0.
        friction: mu, between die and pipe, > 0.

    240 000 lbf on 5 in at friction 0.3 hold 15 000 lbf.ft, 1.5 times 10 000:

    >>> round(slip_torque(240_000, 2.5 / 12, 0.3), 6)
    15000.0
    """
    return friction * squeeze * radius


def squeeze_for_torque(torque: float, radius: float, friction: float, margin: float) -> float:
    """Squeeze that holds a torque with a margin: ``N = m T / (mu r)``, N.

    Args:
        torque: T, to be held, N.m, > 0.
        radius: r, of the gripped pipe, half its outside diameter, m, > 0.
        friction: mu, between die and pipe, > 0.
        margin: m, torque at which the grip slips over the torque it must hold, >= 1.

    10 000 lbf.ft on 5 in outside diameter, friction 0.3, margin 1.5 need 240 000 lbf:

    >>> round(squeeze_for_torque(10_000, 2.5 / 12, 0.3, 1.5), 6)
    240000.0
    """
    return margin * torque / (friction * radius)


def friction_to_lock(wedge_angle: float) -> float:
    """Friction at the die face above which wedge or cam jaws tighten themselves: ``tan(wedge angle)``.

    Friction on the back of the wedge, which hinders it, is neglected.

    Args:
        wedge_angle: rad, > 0, < pi/2.

    >>> from math import radians
    >>> round(friction_to_lock(radians(15)), 4)
    0.2679
    """
    return tan(wedge_angle)


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

    >>> from api.engineering.machines.cylinder import cap_area
    >>> direct = GripCylinder(Piston(4, 2), "cap", 3.0, 10.0, 1.0, 1.0)
    >>> round(pressure_for_squeeze(direct, 2 * 1000 * cap_area(direct.piston)), 9)
    1000.0
    """
    force = squeeze / (2 * cylinder.travel_per_diameter * cylinder.efficiency)
    return pressure_from_force(cylinder.piston, cylinder.squeezing_side, force, 1.0, 0.0, 0.0)
