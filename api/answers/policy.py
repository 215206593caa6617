"""The rules that a shop has set for itself; nothing is assumed where it is silent."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from api.engineering.provenance import Assumption


@dataclass(frozen=True)
class PolicyVersion:
    """Which policy entered an answer."""

    revision: str
    hash: str


@dataclass(frozen=True, kw_only=True)
class Policy:
    """A policy of a shop; None where it is silent.

    Attributes:
        version: which one; None where the shop has none.
        break_out_ratios: break-out over make-up torque: lowest, likely, highest.
        torque_tolerance: share of the target to either side by component, for joints without a window.
        largest_distance_without_window: share of the target by which a mark may miss it without a window.
        wrong_torque_probability: above it a torque beyond an end of the window is a finding.
        relief_margin: share by which relief cracks above the highest pressure needed.
    """

    version: PolicyVersion | None = None
    break_out_ratios: tuple[float, float, float] | None = None
    torque_tolerance: Mapping[str, float] = field(default_factory=dict)
    largest_distance_without_window: float | None = None
    wrong_torque_probability: float | None = None
    relief_margin: float | None = None

    def assumed(self, rule: str, value: str) -> Assumption:
        """A rule of this policy that entered an answer, as answers list it."""
        revision = self.version.revision if self.version else "none"
        return Assumption(rule, value, f"the policy of the shop, revision {revision}")
