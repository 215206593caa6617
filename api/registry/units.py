"""What Dialset computes of a unit alone."""

from api.answers.conversion import conversion_answer
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.conversion import ConversionAnswer, ConversionRequest

UNIT_CALCULATIONS = (
    Calculation(
        name="conversion",
        tag=LOOK_UP,
        title="A quantity in another unit",
        description=(
            "Converts with exact factors. Understands the spellings of the trade and refuses "
            "what is ambiguous. If you want to know which there are, ask /v1/units."
        ),
        requests={"": ConversionRequest()},
        compute=conversion_answer,
        response=ConversionAnswer(),
        notices=(),
        example={"quantity": "20000 ft-lb", "to": "kN.m"},
    ),
)
