"""How far the sizes of a machine may be off, to either side: what several kinds have in common."""

from schemas.core.fields import Number, Request
from schemas.core.quantity_fields import Quantity


class HalfWidth(Quantity):
    """A half-width: so far to either side."""

    def __init__(self, kind: str, what: str, limits: tuple[str, str] | None = None) -> None:
        text = f"{what} may be off by so much, + or -."
        super().__init__(kind, zero=True, limits=limits, metadata={"description": text})


class HalfWidthPercent(Number):
    """A half-width as a percentage of the size itself."""

    def __init__(self, what: str) -> None:
        text = f"{what} may be off by so much of itself, + or -."
        super().__init__(0, 10, metadata={"description": text})


class ArmTolerances(Request):
    """Tolerances of a machine with an arm."""

    arm_radius = HalfWidth("length", "The arm radius")
    arm_angle = HalfWidth("angle", "The arm, in the position stated,", ("0.001 deg", "30 deg"))


class PistonTolerances(ArmTolerances):
    """Tolerances of a machine with cylinders on an arm."""

    bore = HalfWidth("length", "The bore")
    rod = HalfWidth("length", "The rod diameter")
    breakaway_pressure = HalfWidth("pressure", "The breakaway pressure")
    return_pressure = HalfWidth("pressure", "The return pressure")


class CylinderTolerances(PistonTolerances):
    """Tolerances of a machine with cylinders whose base is measured too."""

    base_distance = HalfWidth("length", "The base distance")
