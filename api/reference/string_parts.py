"""Parts of a drill string by their names, and the rule that the connection of each is made up by.

API RP 7G has drill collars and tool joints. That the other parts of the bottom-hole assembly follow drill
collars is common practice, no source. A kelly and its saver sub do too: their mate, a tool joint, has the
higher stress level, and mixed mates take the lower torque.
"""

from collections.abc import Mapping

from api.engineering.provenance import Assumption
from api.reference.connections import COMPONENTS

AS_DRILL_COLLARS = (
    "sub",
    "bit_sub",
    "crossover_sub",
    "float_sub",
    "shock_sub",
    "saver_sub",
    "stabilizer",
    "reamer",
    "jar",
    "kelly",
)
"""Parts whose connections follow the rule of drill collars: common practice, no source."""

BIT = "bit"
"""A bit has a table of its own, see `api.reference.bit_torque`."""

STRING_PARTS = (*COMPONENTS, *AS_DRILL_COLLARS, BIT)
"""Every part that may be asked by its name."""

_MATES_WITH_TOOL_JOINTS = ("kelly", "saver_sub")


def rule_of(part: str) -> str:
    """The component whose rule a part of the string follows; a bit that of its own table.

    >>> rule_of("stabilizer"), rule_of("tool_joint"), rule_of("bit")
    ('drill_collar', 'tool_joint', 'bit')
    """
    return "drill_collar" if part in AS_DRILL_COLLARS else part


def _followed(part: str) -> Assumption:
    reason = f"a {part.replace('_', ' ')} follows the rule of drill collars: common practice, no source"
    if part in _MATES_WITH_TOOL_JOINTS:
        reason += "; the tool joint it mates with has the higher stress level, and the lower torque counts"
    return Assumption("component", "drill_collar", reason)


FOLLOWED: Mapping[str, Assumption] = {part: _followed(part) for part in AS_DRILL_COLLARS}
"""What an answer lists for a part that follows the rule of another."""
