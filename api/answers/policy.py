"""The rules that a shop has set for itself; nothing is assumed where it is silent."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Literal

from api.engineering.findings import Finding
from api.engineering.provenance import STATUSES, Assumption
from api.engineering.torque_window import TorqueWindow, widened
from schemas.core.number_rule import NumberRule

EVERY_STATUS = frozenset({*STATUSES, "stated"})
"""What a shop accepts that does not say what it accepts."""


@dataclass(frozen=True)
class PolicyVersion:
    """Which policy entered an answer."""

    revision: str
    hash: str


@dataclass(frozen=True)
class Approval:
    """Who answers for a policy, and when it holds."""

    status: str = "approved"
    approved_by: str | None = None
    approved_on: date | None = None
    effective_from: date | None = None
    effective_to: date | None = None

    @property
    def is_draft(self) -> bool:
        """Whether nobody has approved it: an approval names who and when."""
        return self.status != "approved" or self.approved_by is None or self.approved_on is None

    @property
    def first_day(self) -> date | None:
        """The first day on which it holds: no policy holds before it was approved."""
        return max((day for day in (self.effective_from, self.approved_on) if day), default=None)

    def holds_on(self, day: date) -> bool:
        """Whether it is in force on a day."""
        first, last = self.first_day, self.effective_to
        return (first is None or first <= day) and (last is None or day <= last)


class PolicyAssumption(Assumption):
    """A rule of the policy that entered an answer."""


@dataclass(frozen=True, kw_only=True)
class Policy:
    """A policy of a shop; None where it is silent.

    Attributes:
        version: which one; None where the shop has none.
        approval: who answers for it, and when it holds.
        accepted_statuses: those of figures that may decide an answer, ``stated`` among them.
        unfit_profiles: whether an unfit profile is refused, or told in the answer.
        break_out_ratios: break-out over make-up torque: lowest, likely, highest.
        torque_tolerance: share of the target to either side by component, for joints without a window.
        largest_distance_without_window: share of the target by which a mark may miss it without a window.
        wrong_torque_probability: above it a torque beyond an end of the window is a finding.
        relief_margin: share by which relief cracks above the highest pressure needed.
        decision_rule: how a verdict compares a torque with its window.
        numbers: how a comma in a number of a request is read.
    """

    version: PolicyVersion | None = None
    approval: Approval = field(default_factory=Approval)
    accepted_statuses: frozenset[str] | None = None
    unfit_profiles: Literal["refuse", "tell"] | None = None
    break_out_ratios: tuple[float, float, float] | None = None
    torque_tolerance: Mapping[str, float] = field(default_factory=dict)
    largest_distance_without_window: float | None = None
    wrong_torque_probability: float | None = None
    relief_margin: float | None = None
    decision_rule: Literal["simple", "guarded"] | None = None
    numbers: NumberRule | None = None

    def assumed(self, rule: str, value: str) -> PolicyAssumption:
        """A rule of this policy that entered an answer, as answers list it."""
        revision = self.version.revision if self.version else "none"
        return PolicyAssumption(rule, value, f"the policy of the shop, revision {revision}")

    def judged_by(self, *, of_machines: bool) -> Iterator[PolicyAssumption]:
        """The rules by which every answer is judged, as far as this policy states them.

        Args:
            of_machines: whether a profile was judged too.
        """
        if self.accepted_statuses is not None:
            accepted = ", ".join(each for each in STATUSES if each in self.accepted_statuses)
            yield self.assumed("accepted_statuses", accepted)
        if of_machines and self.unfit_profiles is not None:
            yield self.assumed("unfit_profiles", self.unfit_profiles)

    def widened(
        self, window: TorqueWindow, components: tuple[str, ...], stated: float | None
    ) -> TorqueWindow:
        """The window of a joint with the tolerance that the request states, else that of this policy.

        Args:
            window: that of its standard.
            components: what carries the joint, in the words of the request; the first that is in this policy.
            stated: the torque_tolerance of the request.

        Raises:
            NoAnswer: as `api.engineering.torque_window.widened`.
        """
        known = (self.torque_tolerance[each] for each in components if each in self.torque_tolerance)
        own = next(known, None)
        open_ended = window.minimum.torque.value is None and window.maximum.torque.value is None
        if stated is not None or own is None or not open_ended:
            return widened(window, stated)
        assumed = self.assumed("torque_tolerance", f"{own:.10g}")
        listed = replace(window, assumptions=(*window.assumptions, assumed))
        return widened(listed, own, "the policy's torque_tolerance")

    def findings(self, as_of: date | None) -> Iterator[Finding]:
        """What an answer says that this policy entered: a policy that does not hold is a *stop*.

        Args:
            as_of: the day of the job; without it only the approval is judged.
        """
        if self.version is None:
            return
        name = f"The shop's policy, revision {self.version.revision},"
        if self.approval.is_draft:
            yield Finding(
                level="stop",
                code="policy_is_draft",
                text=f"{name} is a draft, or names no approver and day.",
                step="identify",
                remedy="Have it approved before this answer is used.",
            )
        if as_of is not None and not self.approval.holds_on(as_of):
            first, last = self.approval.first_day or "no date", self.approval.effective_to or "no date"
            yield Finding(
                level="stop",
                code="policy_not_in_force",
                text=f"{name} is not in force on {as_of}. It holds from {first} to {last}.",
                step="identify",
                remedy="Put the policy of that day into service first.",
            )
