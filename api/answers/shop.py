"""What a running service knows besides the published tables: machines, tables and policy of one shop."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches

from api.answers.answer import Answer
from api.answers.machines.profile import Profile, ProfileFolder
from api.answers.policy import EVERY_STATUS, Policy, PolicyAssumption
from api.answers.record import DATA_EDITION, PROGRAM
from api.answers.shop_file import hash_of
from api.answers.shop_tables.table import Table, TableFolder
from api.engineering.checks import refuse
from api.engineering.provenance import NotKnown
from api.engineering.torque_window import End, TorqueWindow


def withheld(what: str, status: str) -> NotKnown:
    """What stands in place of a figure that rests on one less sure than a shop accepts."""
    return NotKnown(f"withheld: {what} ({status}), which this service does not accept")


@dataclass(frozen=True)
class Shop:
    """The machines, tables and policy of a shop.

    ``edition`` is a short hash over all that decides an answer: these, the program and its data.
    """

    folder: ProfileFolder = field(default_factory=lambda: ProfileFolder({}, {}))
    table_folder: TableFolder = field(default_factory=lambda: TableFolder({}, {}))
    policy: Policy = field(default_factory=Policy)

    edition: str = field(init=False)

    def __post_init__(self) -> None:
        machines = sorted((each.version.id, each.version.hash) for each in self.machines.values())
        tables = sorted((each.id, each.hash) for each in self.table_folder.tables.values())
        version = self.policy.version
        whole = [PROGRAM, DATA_EDITION, version.hash if version else None, machines, tables]
        object.__setattr__(self, "edition", hash_of(whole))

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
        return replace(
            window, minimum=self._confirmed(window.minimum), maximum=self._confirmed(window.maximum)
        )

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
