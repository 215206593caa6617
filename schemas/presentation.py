"""How an answer is to be shown. Nothing here changes a number, only its unit and its surroundings."""

from schemas.base import Request
from schemas.fields import Choice, Flag, Text
from schemas.output_units import SYSTEMS
from schemas.quantity_fields import UnitName


def _unit_of(kind: str) -> UnitName:
    return UnitName(kind, metadata={"description": f"Unit in which every {kind} of the answer is shown."})


class Presentation(Request):
    """Units and working; may stand in the query of any request or in the body of a POST."""

    units = Choice(
        tuple(SYSTEMS),
        metadata={"description": "System of units of the answer. Gauge settings keep the unit of the dial."},
    )
    torque_unit = _unit_of("torque")
    pressure_unit = _unit_of("pressure")
    length_unit = _unit_of("length")
    force_unit = _unit_of("force")
    stress_unit = _unit_of("stress")
    area_unit = _unit_of("area")
    angle_unit = _unit_of("angle")
    steps = Flag(metadata={"description": "true: the answer shows its working, equation by equation."})


class PlainText(Request):
    """One value as text, for a spreadsheet cell; in the query only."""

    format = Choice(
        ("json", "text"),
        metadata={"description": "text: one value alone, as a spreadsheet cell takes it. json if left out."},
    )
    answer = Text(
        60,
        metadata={
            "description": "With text: name of the value, such as torque.target; refusal: why there is none."
        },
    )
    unit = Text(
        64,
        metadata={"description": "With text: unit of the value. Required for a quantity."},
    )


class SystemOfUnits(Request):
    """A request that takes the system of units and nothing else."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units of the answer."})


class Nothing(Request):
    """A request that takes no query at all."""
