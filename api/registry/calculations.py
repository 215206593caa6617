"""Lists everything that Dialset computes, in the order of its document; families stand in `families`."""

from api.registry.chart import CHART
from api.registry.flanges import FLANGE_CALCULATIONS
from api.registry.joints import JOINT_CALCULATIONS
from api.registry.machines import MACHINE_CALCULATIONS
from api.registry.policy_check import POLICY_CHECK
from api.registry.positions import POSITION_CALCULATIONS
from api.registry.profile_check import PROFILE_CHECK
from api.registry.table_check import TABLE_CHECK
from api.registry.tags import TAGS
from api.registry.units import UNIT_CALCULATIONS

_DECLARED = (
    *JOINT_CALCULATIONS,
    *POSITION_CALCULATIONS,
    *MACHINE_CALCULATIONS,
    *FLANGE_CALCULATIONS,
    *UNIT_CALCULATIONS,
)
CALCULATIONS = tuple(sorted(_DECLARED, key=lambda each: TAGS.index(each.tag)))
FILE_CHECKS = (PROFILE_CHECK, TABLE_CHECK, POLICY_CHECK)
"""What tells the faults of a file of the shop before it is put into service."""
VIEWS = (CHART,)
"""What shows a machine in several forms."""
