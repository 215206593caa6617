"""A machine known by its calibration, from its profile."""

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from api.answers.machine_kinds.kind import Kind, Loaded
from api.answers.machine_kinds.steps import PRESSURE_READ, TORQUE_WANTED
from api.engineering.machines.calibrated import Calibrated, CalibratedSide
from api.engineering.machines.machine import ArmPosition
from api.engineering.provenance import Source
from api.engineering.turning import Turning
from api.engineering.working import Step

MEASURED = Source(
    "pressure and torque of the machine",
    "stated",
    "measured torques of the calibration, from the profile: straight between two, nothing beyond",
)
_PARTS = (
    Step("p_low", "lowest calibrated pressure", "from the profile", "at.lowest", "pressure", "profile"),
    Step("p_high", "highest calibrated pressure", "from the profile", "at.highest", "pressure", "profile"),
    Step(
        "U",
        "expanded uncertainty, k = 2",
        "from the profile",
        "machine.expanded_uncertainty",
        "number",
        "profile",
    ),
)
TO_READING = Step(
    "p",
    "pressure",
    "straight between the measured torques on either side",
    "job.reading",
    "pressure",
    "profile",
)
TO_TORQUE = Step(
    "T",
    "torque",
    "straight between the calibrated pressures on either side",
    "job.torque",
    "torque",
    "profile",
)


def build(loaded: Loaded, gripped: float | None) -> Calibrated:
    """The machine, whatever it grips: it was calibrated at one position of the arm."""
    calibrated = loaded["calibrated"]
    measured = {
        side: CalibratedSide(
            found["gauge_serial"], tuple((point["pressure"], point["torque"]) for point in found["points"])
        )
        for side, found in calibrated["sides"].items()
    }
    return Calibrated(
        measured,
        loaded["right_hand_make_up_side"],
        calibrated["position"],
        calibrated["expanded_uncertainty_percent"] / 100,
    )


def working(
    machine: Calibrated, loaded: Loaded, turning: Turning, position: ArmPosition
) -> Mapping[str, Any]:
    """The machine and the range of its calibration."""
    lowest, highest = machine.readings(turning)
    return {"machine": machine, "at": SimpleNamespace(lowest=lowest, highest=highest)}


KIND = Kind(
    build,
    MEASURED,
    (TORQUE_WANTED, *_PARTS, TO_READING),
    (PRESSURE_READ, *_PARTS, TO_TORQUE),
    working,
    says=(
        "The torque is that of the calibration: with another gauge, arm position or repaired cylinder it is void.",
    ),
)
