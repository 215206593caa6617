"""Everything Dialset computes, in the order of its document; joint families stand in `api.families`."""

from api.answers.conversion import conversion_answer
from api.calculation import Calculation
from api.flange_calculations import FLANGE_CALCULATIONS
from api.joint_calculations import JOINT_CALCULATIONS
from api.machine_calculations import MACHINE_CALCULATIONS
from api.position_calculations import POSITION_CALCULATIONS
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
