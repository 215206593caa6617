"""Every kind of machine, in one list."""

from collections.abc import Mapping

from api.answers.machine_kinds import (
    calibrated,
    cylinder_on_arm,
    cylinder_on_square_arm,
    line_pull,
    motor_through_gears,
    stud_tensioner,
    torque_wrench,
    two_cylinders,
)
from api.answers.machine_kinds.machine_kind import Kind
from schemas.machines.profile import PROFILES


def _by_key(*kinds: Kind) -> dict[str, Kind]:
    """The kinds by the ``kind`` of their profiles.

    Raises:
        TypeError: where two have one key.
    """
    found = {kind.key: kind for kind in kinds}
    if len(found) != len(kinds):
        raise TypeError(f"two kinds of machine have one key among: {', '.join(kind.key for kind in kinds)}")
    return found


KINDS: Mapping[str, Kind] = _by_key(
    cylinder_on_arm.KIND,
    cylinder_on_square_arm.KIND,
    two_cylinders.KIND,
    motor_through_gears.KIND,
    line_pull.KIND,
    torque_wrench.KIND,
    calibrated.KIND,
    stud_tensioner.KIND,
)
PROFILES.update({key: kind.profile for key, kind in KINDS.items()})
