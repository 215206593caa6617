"""A hydraulic torque wrench, from its profile."""

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from api.answers.machine_kinds.machine_kind import EFFICIENCY, PRESSURE_READ, TORQUE_WANTED, Kind, Loaded
from api.engineering.machine_kinds.machine import ArmPosition, Efficiency
from api.engineering.machine_kinds.torque_wrench import TorqueWrench
from api.engineering.machines.cylinder import Turning
from api.engineering.provenance import Source
from api.engineering.working import Step

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


def build(loaded: Loaded, gripped: float | None) -> TorqueWrench:
    """The wrench, whatever it turns."""
    table, spread = loaded["torque_factor"], loaded["torque_factor_range"]
    return TorqueWrench(
        table["torque"] / table["pressure"],
        Efficiency(spread["low"], 1.0, spread["high"]),
        loaded.get("reaction_arm"),
    )


def working(
    machine: TorqueWrench, loaded: Loaded, turning: Turning, position: ArmPosition
) -> Mapping[str, Any]:
    """The wrench and its factor."""
    return {"machine": machine, "at": SimpleNamespace(**loaded["torque_factor"])}


KIND = Kind(
    build,
    EQUATION,
    (TORQUE_WANTED, *_PARTS, TO_READING),
    (PRESSURE_READ, *_PARTS, TO_TORQUE),
    working,
    says=(
        "If you turn the wrench over, it turns in the opposite direction. Check its direction before "
        "applying pressure. Check that its reaction member bears fully.",
    ),
)
