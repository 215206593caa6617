"""Every kind of machine, by the ``kind`` of its profile."""

from collections.abc import Mapping

from api.answers.machine_kinds import cylinder_on_arm
from api.answers.machine_kinds.kind import Kind

KINDS: Mapping[str, Kind] = {
    "cylinder_on_arm": cylinder_on_arm.KIND,
}
