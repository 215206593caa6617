"""The torque that the grip of a machine holds on a job, where its friction and margin are given."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.grip.holding import grip_cylinder_of
from api.answers.machines.job import Job
from api.engineering.checks import Amount
from api.engineering.findings import Finding
from api.engineering.grip.chain import chain_slip_torque
from api.engineering.grip.squeeze import pressure_for_squeeze, slip_torque


def held_torque(job: Job, values: Mapping[str, Any]) -> float | None:
    """The most torque that the grip holds with its margin, N.m; None where that is not known.

    Jaws hold up to their rated squeeze, and up to that of their cylinder at its rated pressure; a chain up to
    its rated load.

    Args:
        job: the machine and what it grips.
        values: of the request: ``grip_friction``, ``grip_margin``, never assumed.
    """
    friction, margin = values.get("grip_friction"), values.get("grip_margin")
    diameter = job.task.gripped_diameter
    if friction is None or margin is None or diameter is None:
        return None
    ends = [*_squeezes(job.profile.loaded)]
    torques = [slip_torque(squeeze, diameter / 2, friction) for squeeze in ends]
    if chain := job.profile.loaded.get("chain"):
        torques.append(chain_slip_torque(chain["rated_load"], diameter / 2, friction, chain["wrap"]))
    return min(torques) / margin if torques else None


def _squeezes(loaded: Mapping[str, Any]) -> Iterator[float]:
    """The squeezes at which a part of the grip ends, N."""
    if jaws := loaded.get("jaws"):
        yield jaws["rated_squeeze"]
    if part := loaded.get("grip_cylinder"):
        yield part["rated_pressure"] / pressure_for_squeeze(grip_cylinder_of(part), 1.0)


def grip_findings(job: Job, values: Mapping[str, Any], torque: float) -> Iterator[Finding]:
    """Tells a torque (N.m) that the grip does not hold."""
    held = held_torque(job, values)
    if held is not None and torque > held:
        yield Finding(
            level="stop",
            code="grip_cannot_hold",
            text="The torque can be {value}. The grip holds {limit} with its margin.",
            step="grip",
            remedy="Use a machine with a stronger grip, or jaws with more friction.",
            value=Amount("torque", torque),
            limit=Amount("torque", held),
        )
