"""A machine known by its calibration, from its profile."""

from collections.abc import Iterator

from api.answers.machine_kinds.machine_kind import (
    PRESSURE_READ,
    TORQUE_WANTED,
    Kind,
    Loaded,
    limits_of,
)
from api.engineering.checks import Finding
from api.engineering.machine_kinds.calibrated import Calibrated, CalibratedSide
from api.engineering.machine_kinds.machine import Machine
from api.engineering.machines.limits import Limits
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.calibrated import CalibratedProfile

MEASURED = Source(
    "pressure and torque of the machine",
    "stated",
    "calibration of the machine, from its profile: straight between measured points, never extrapolated",
)
DOUBT = Step(
    "U",
    "expanded uncertainty, k = 2, as a share",
    "from the certificate",
    "machine.expanded_uncertainty",
    "number",
    "profile",
)
PRESSURE = Step(
    "p", "pressure", "straight between the measured points around T", "job.reading", "pressure", "profile"
)
TORQUE = Step(
    "T", "torque", "straight between the measured points around p", "job.torque", "torque", "profile"
)


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the machine from its calibration."""
    part = loaded["calibrated"]
    measured = {
        side: CalibratedSide(
            each["gauge_serial"],
            tuple((point["pressure"], point["torque"]) for point in each["points"]),
            each["reversibility_percent"] / 100 if "reversibility_percent" in each else None,
        )
        for side, each in part["sides"].items()
    }
    share = part["expanded_uncertainty_percent"] / 100
    return Calibrated(measured, loaded["right_hand_make_up_side"], part["position"], share)


def findings(loaded: Loaded, limits: Limits) -> Iterator[Finding]:
    """What a calibration leaves open."""
    sides, own = loaded["calibrated"]["sides"], loaded["right_hand_make_up_side"]
    if own not in sides:
        yield Finding(
            level="look",
            code="side_not_calibrated",
            text=f"The side that makes up a right-hand thread, {own}, is not calibrated.",
            step="choose",
            remedy="Have it calibrated, or make up right-hand threads on another machine.",
        )
    gauges = {gauge["serial"] for gauge in loaded["gauges"].values()}
    for side, each in sides.items():
        if each["gauge_serial"] not in gauges:
            yield Finding(
                level="look",
                code="calibration_gauge_unknown",
                text=f"Side {side} was calibrated on gauge {each['gauge_serial']}, which is not of this "
                "profile. Its error is missing from every bound.",
                step="read",
                remedy="Describe that gauge in the profile, or calibrate on a gauge of the profile.",
            )
    if loaded.get("outside_diameter") is None:
        yield Finding(
            level="look",
            code="no_range_of_grip",
            text="The profile gives no range of the grip.",
            step="prepare_grip",
            remedy="Check that the machine grips the joint.",
        )


KIND = Kind(
    profile=CalibratedProfile(),
    machine=Calibrated,
    build=build,
    limits=limits_of,
    source=MEASURED,
    to_reading=(TORQUE_WANTED, DOUBT, PRESSURE),
    to_torque=(PRESSURE_READ, DOUBT, TORQUE),
    findings=findings,
)
