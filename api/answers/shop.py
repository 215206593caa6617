"""What a running service knows besides the published tables: machines, tables and policy of one shop.

The policy holds the rules that a shop has set for itself; nothing is assumed where it is silent.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from operator import itemgetter
from typing import Any, Literal

from api.answers.answer import Answer, PolicyVersion
from api.answers.edition import DATA_EDITION, PROGRAM, PROGRAM_HASH
from api.answers.machines.profile import Profile, ProfileFolder
from api.answers.record import stamp
from api.answers.shop_file import hash_of
from api.answers.shop_tables.table import Table, TableFolder
from api.engineering.checks import Finding, refuse
from api.engineering.provenance import STATUSES, Assumption, NotKnown
from api.engineering.torque_window import End, TorqueWindow, widened
from schemas.core.parts import Pick
from schemas.core.quantity import NumberRule

WORTH_TELLING = 0.10
"""Probability of a torque beyond an end of the window above which it is told; a policy may say less."""
EVERY_STATUS = frozenset({*STATUSES, "stated"})
"""What a shop accepts that does not say what it accepts."""


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

    @property
    def worth_telling(self) -> float:
        """The probability of a wrong torque above which it is told."""
        return WORTH_TELLING if self.wrong_torque_probability is None else self.wrong_torque_probability

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


@dataclass(frozen=True)
class Range:
    """Lowest, likely and highest of what is to be expected, SI."""

    low: float
    likely: float
    high: float

    def times(self, factor: float) -> "Range":
        """All three times a factor."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)


def ratios_of(values: Mapping[str, Any], policy: Policy) -> tuple[Range | None, tuple[Assumption, ...]]:
    """Break-out over make-up torque: that of the request, else that of the policy, which is then listed."""
    if given := values.get("break_out_ratio"):
        return Range(*given), ()
    if policy.break_out_ratios is None:
        return None, ()
    shown = "/".join(f"{ratio:.10g}" for ratio in policy.break_out_ratios)
    return Range(*policy.break_out_ratios), (policy.assumed("break_out_ratio", shown),)


def check_break_out(values: Mapping[str, Any], policy: Policy) -> None:
    """Refuse a break-out without its ratio.

    Raises:
        NoAnswer: ``break_out_ratio_required``.
    """
    if values["operation"] == "break_out" and ratios_of(values, policy)[0] is None:
        raise refuse(
            "break_out_ratio_required",
            "the ratio of break-out to make-up torque has no published value: state that of your shop, here "
            "or in its policy",
            "break_out_ratio",
        )


def withheld(what: str, status: str) -> NotKnown:
    """What stands in place of a figure that rests on one less sure than a shop accepts."""
    return NotKnown(f"withheld: {what} ({status}), which this service does not accept")


@dataclass(frozen=True)
class Shop:
    """The machines, tables and policy of a shop, and the system of units of answers that name none.

    ``parts`` is all that decides an answer, as `schemas.edition` shows it: these, the program and its data.
    ``edition`` is a short hash over them. ``receipt_key`` seals answers and decides none of them.
    """

    folder: ProfileFolder = field(default_factory=lambda: ProfileFolder({}, {}))
    table_folder: TableFolder = field(default_factory=lambda: TableFolder({}, {}))
    policy: Policy = field(default_factory=Policy)
    units: str = "us"
    receipt_key: bytes | None = field(default=None, repr=False)

    parts: Mapping[str, Any] = field(init=False)
    edition: str = field(init=False)

    def __post_init__(self) -> None:
        machines, tables = self.machines.values(), self.table_folder.tables.values()
        policy = self.policy.version
        parts = {
            "program": {"revision": PROGRAM, "hash": PROGRAM_HASH},
            "data": {"hash": DATA_EDITION},
            "units": self.units,
            "policy": {"revision": policy.revision, "hash": policy.hash} if policy else None,
            "machines": sorted((vars(each.version) for each in machines), key=itemgetter("id")),
            "tables": sorted(({"id": each.id, "hash": each.hash} for each in tables), key=itemgetter("id")),
        }
        object.__setattr__(self, "parts", parts)
        object.__setattr__(self, "edition", hash_of(parts))

    def stamp(
        self, path: str, question: str | None, pick: Pick, shown: Mapping[str, Any] | None = None
    ) -> dict[str, Any]:
        """What an answer or a refusal of this shop says of itself; see `api.answers.record.stamp`."""
        return stamp(self.edition, path, question, pick, shown)

    @property
    def number_rule(self) -> NumberRule:
        """How the text of a user is read where it has a comma."""
        return self.policy.numbers or "strict"

    @property
    def accepted_statuses(self) -> frozenset[str]:
        """Statuses of figures that may decide an answer; all where the policy does not say."""
        accepted = self.policy.accepted_statuses
        return EVERY_STATUS if accepted is None else accepted

    @property
    def refuse_unfit(self) -> bool:
        """Whether an unfit profile is refused; it is told where the policy does not say."""
        return self.policy.unfit_profiles == "refuse"

    @property
    def machines(self) -> Mapping[str, Profile]:
        """Profiles by id."""
        return self.folder.profiles

    def machine(self, machine_id: str) -> Profile:
        """The profile of an id.

        Raises:
            NoAnswer: ``unknown_machine`` with the near ids.
        """
        if machine_id in self.machines:
            return self.machines[machine_id]
        near = get_close_matches(machine_id, self.machines, 3, 0.4) or sorted(self.machines)[:5]
        known = f"near it: {', '.join(near)}" if near else "this service has no machines"
        accepted = f"an id listed at /v1/machines, {known}"
        raise refuse("unknown_machine", "no machine has this id", "machine", accepted)

    def table(self, table_id: str) -> Table:
        """The table of an id.

        Raises:
            NoAnswer: ``unknown_table`` with the near ids, ``table_not_served`` where its file has a fault.
        """
        tables, refused = self.table_folder.tables, self.table_folder.refused_ids
        if table_id in tables:
            return tables[table_id]
        if table_id in refused:
            text = (
                f"the file {refused[table_id]} has a fault, so Dialset serves none of its rows: "
                "correct it; /v1/table-check shows every fault with row and column, /readyz the first "
                "of them"
            )
            raise refuse("table_not_served", text, "table", "a table listed at /v1/tables")
        near = get_close_matches(table_id, tables, 3, 0.4) or sorted(tables)[:5]
        known = f"near it: {', '.join(near)}" if near else "this service has no tables"
        raise refuse("unknown_table", "no table has this id", "table", f"an id listed at /v1/tables, {known}")

    def confirmed(self, window: TorqueWindow) -> TorqueWindow:
        """The window without ends that rest on figures less sure than this shop accepts.

        They still limit the setting: what is not sure enough to aim by is sure enough to be kept within.
        """
        minimum, maximum = self._confirmed(window.minimum), self._confirmed(window.maximum)
        if minimum is window.minimum and maximum is window.maximum:
            return window
        return replace(window, minimum=minimum, maximum=maximum)

    def _confirmed(self, end: End) -> End:
        if end.torque.value is None or end.status in self.accepted_statuses:
            return end
        return End(withheld(end.torque.basis or "this", end.status), withheld=end.torque.value)

    def accept(self, answer: Answer) -> None:
        """Let an answer pass if the shop accepts its status.

        Raises:
            NoAnswer: ``status_not_accepted``.
        """
        if answer.status not in self.accepted_statuses:
            accepted = ", ".join(sorted(self.accepted_statuses))
            raise refuse(
                "status_not_accepted",
                f"this rests on figures with the status '{answer.status}'; this service answers only from: "
                + accepted,
            )

    def by_policy(
        self, answer: Answer, as_of: date | None, commas: Iterable[str], *, of_machines: bool
    ) -> Answer:
        """The answer with every rule of the policy that entered it, and whether that policy holds.

        Args:
            answer: what was computed; it may list rules already.
            as_of: the day of the job, if the question has one.
            commas: how numbers with a comma were read.
            of_machines: whether profiles were judged.

        Raises:
            NoAnswer: ``status_not_accepted``.
        """
        self.accept(answer)
        numbers = (self.policy.assumed("numbers", each) for each in commas)
        judged = self.policy.judged_by(of_machines=of_machines)
        listed = tuple(dict.fromkeys((*answer.assumptions, *judged, *numbers)))
        if not any(isinstance(each, PolicyAssumption) for each in listed):
            return answer
        findings = (*answer.findings, *self.policy.findings(as_of))
        return replace(answer, assumptions=listed, findings=findings)
