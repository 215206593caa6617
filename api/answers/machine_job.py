"""What a request wants of a machine: the profile found, the way of turning, the position of the arm."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.profiles import Profile, profile_from
from api.answers.shop import Shop
from api.engineering.cylinder import Side
from api.engineering.gauge import Gauge
from api.engineering.machines.cylinder_on_arm import ArmPosition, CylinderOnArm
from api.engineering.turning import Turning


@dataclass(frozen=True)
class Job:
    """A machine set to one task."""

    profile: Profile
    turning: Turning
    position: ArmPosition

    @property
    def machine(self) -> CylinderOnArm:
        """The machine itself."""
        return self.profile.machine

    @property
    def gauge(self) -> Gauge:
        """The gauge that is read in this operation."""
        return self.profile.gauges[self.turning.operation]

    @property
    def side(self) -> Side:
        """The side of the cylinder to put under pressure."""
        return self.machine.side(self.turning)

    @property
    def making_up(self) -> bool:
        """Whether the joint is made up, not broken out."""
        return self.turning.operation == "make_up"

    def pressure(self, torque: float, efficiency: float) -> float:
        """Pressure for a torque, Pa from N.m."""
        return self.machine.pressure_from_torque(torque, self.turning, self.position, efficiency)

    def torque_at(self, efficiency: float) -> Callable[[float], float]:
        """Torque as a function of pressure at one efficiency, N.m from Pa."""
        return lambda pressure: self.machine.torque_from_pressure(
            pressure, self.turning, self.position, efficiency
        )


def job_from(values: Mapping[str, Any], shop: Shop) -> Job:
    """The job of a loaded request.

    Raises:
        NoAnswer: ``unknown_machine``.
    """
    given = values["machine"]
    profile = shop.machine(given) if isinstance(given, str) else profile_from(**given)
    return Job(profile, Turning(values["operation"], values["thread_hand"]), values["arm_position"])
