"""A task for any machine, and whether a request says enough of it for the one it names."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from api.answers.machine_kinds.registry import KINDS
from api.answers.shop import Shop
from api.engineering.checks import Fault
from api.engineering.machines.arm import ArmPosition
from api.engineering.machines.cylinder import Turning
from api.engineering.machines.posture import position_required
from api.engineering.provenance import Assumption


@dataclass(frozen=True)
class Task:
    """A task for any machine, SI.

    Attributes:
        turning: operation and hand of thread.
        position: how the arm stands, None where not stated.
        gripped_diameter: None where not known.
        as_of: the day of the job.
        assumptions: what was taken without having been given, whatever the machine.
        rod_exposed: rod outside the gland, in place of a position.
        grip_spacing: along the pipe from the driven grip to the backup, None where not given.
        opening_moment: bending that opens the shoulder of the joint, None where it has none that is known.
    """

    turning: Turning
    position: ArmPosition | None
    gripped_diameter: float | None
    as_of: date | None
    assumptions: tuple[Assumption, ...]
    rod_exposed: float | None = None
    grip_spacing: float | None = None
    opening_moment: float | None = None


def check_position(values: Mapping[str, Any], shop: Shop) -> Iterator[Fault]:
    """Refuses a request that does not say how the arm of its machine stands, before anything is computed.

    Raises:
        NoAnswer: ``unknown_machine``.
    """
    if "arm_position" in values or "rod_exposed" in values:
        return
    given = values["machine"]
    kind = shop.machine(given).kind if isinstance(given, str) else KINDS[given["loaded"]["kind"]]
    if kind.position_required:
        yield position_required()
