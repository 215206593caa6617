"""A hydraulic torque wrench, from its profile."""

from dataclasses import replace
from types import SimpleNamespace

from api.answers.machine_kinds.machine_kind import (
    EFFICIENCY,
    PRESSURE_READ,
    TORQUE_WANTED,
    Kind,
    Loaded,
    limits_of,
)
from api.answers.standing_notices import WRENCH_DIRECTION
from api.engineering.machine_kinds.machine import Efficiency, Machine
from api.engineering.machine_kinds.torque_wrench import TorqueWrench
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.machines.limits import Limits
from api.engineering.provenance import Source
from api.engineering.working import Step
from schemas.machine_kinds.torque_wrench import TorqueWrenchProfile

EQUATION = Source(
    "pressure and torque of the machine", "stated", "torque factor of the maker, from the profile: T = K p e"
)
_PARTS = (
    Step("T1", "torque of the maker's table", "from the profile", "at.torque", "torque", "profile"),
    Step("p1", "pressure of the maker's table", "from the profile", "at.pressure", "pressure", "profile"),
    EFFICIENCY,
)
TO_READING = Step("p", "pressure", "T p1 / (T1 e)", "job.reading", "pressure", "K = T1 / p1")
TO_TORQUE = Step("T", "torque", "p T1 / p1 e", "job.torque", "torque", "K = T1 / p1")


def build(loaded: Loaded, gripped: float | None) -> Machine:
    """Builds the wrench, whatever it turns."""
    table, spread = loaded["torque_factor"], loaded["torque_factor_range"]
    return TorqueWrench(
        table["torque"] / table["pressure"],
        Efficiency(spread["low"], 1.0, spread["high"]),
        loaded.get("reaction_arm"),
    )


def factor_at(
    machine: TorqueWrench, loaded: Loaded, turning: Turning, position: ArmPosition
) -> SimpleNamespace:
    """The factor of the wrench, as its maker gives it."""
    return SimpleNamespace(**loaded["torque_factor"])


def limits(loaded: Loaded) -> Limits:
    """The limits of the makers; a wrench turns nuts, and grips no pipe."""
    return replace(limits_of(loaded), grips_pipe=False)


KIND = Kind(
    profile=TorqueWrenchProfile(),
    machine=TorqueWrench,
    build=build,
    limits=limits,
    source=EQUATION,
    to_reading=(TORQUE_WANTED, *_PARTS, TO_READING),
    to_torque=(PRESSURE_READ, *_PARTS, TO_TORQUE),
    at=factor_at,
    other_way="Reverse the wrench or its drive, with its reaction member on the other side.",
    standing_notices=(WRENCH_DIRECTION,),
)
