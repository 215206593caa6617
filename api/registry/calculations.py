"""Everything Dialset computes, in the order of its document; `api.registry.families` has the families."""

from api.registry.flanges import FLANGE_CALCULATIONS
from api.registry.joints import JOINT_CALCULATIONS
from api.registry.machines import MACHINE_CALCULATIONS
from api.registry.positions import POSITION_CALCULATIONS
from api.registry.units import UNIT_CALCULATIONS

CALCULATIONS = (
    *JOINT_CALCULATIONS,
    *POSITION_CALCULATIONS,
    *MACHINE_CALCULATIONS,
    *FLANGE_CALCULATIONS,
    *UNIT_CALCULATIONS,
)
