"""Everything Dialset computes, in the order of its document; `api.registry.families` has the families."""

from api.answers.conversion import conversion_answer
from api.registry.calculation import Calculation
from api.registry.flanges import FLANGE_CALCULATIONS
from api.registry.joints import JOINT_CALCULATIONS
from api.registry.machines import MACHINE_CALCULATIONS
from api.registry.positions import POSITION_CALCULATIONS
from schemas.conversion import ConversionAnswer, ConversionRequest

CALCULATIONS = (
    *JOINT_CALCULATIONS,
    *POSITION_CALCULATIONS,
    *MACHINE_CALCULATIONS,
    *FLANGE_CALCULATIONS,
    Calculation(
        name="conversion",
        title="A quantity in another unit",
        description="Exact factors; understands the spellings of the trade and refuses what is ambiguous.",
        requests={"": ConversionRequest()},
        compute=conversion_answer,
        response=ConversionAnswer(),
        cautions=(),
        example={"quantity": "20000 ft-lb", "to": "kN.m"},
    ),
)
