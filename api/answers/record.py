"""What every answer carries besides its result: enough to check it later. Documented by `Record`."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from operator import attrgetter
from types import SimpleNamespace
from typing import Any

from api.answers.answer import Answer, PolicyVersion
from api.answers.edition import DATA_EDITION, PROGRAM
from api.engineering.checks import ranked
from api.engineering.provenance import Assumption, Source
from api.engineering.working import Step
from schemas.core.parts import DETAILS, Part, Pick, Reasons, names_of, pick_of
from schemas.core.quantity_fields import OutputUnits, written_in
from schemas.finding import FindingPart
from schemas.record import Record, VersionPart

_FINDING, _VERSION, _RECORD = FindingPart(), VersionPart(), Record()


@dataclass(frozen=True)
class Shown:
    """How an answer is to be shown.

    Attributes:
        units: of its quantities.
        pick: which of its members.
        steps: whether with its working.
    """

    units: OutputUnits
    pick: Pick = "full"
    steps: bool = False


ALWAYS = ("reasons", "findings", "service_edition", "asked", "question")
"""What is told with any members that are picked by name."""


def stamp(edition: str, path: str, question: str | None, pick: Pick) -> dict[str, Any]:
    """What every answer and every refusal says of itself.

    Args:
        edition: of the service.
        path: where was asked.
        question: the hash of what was asked; None where that could not be understood.
        pick: which members were wanted.
    """
    wanted: dict[str, str]
    if isinstance(pick, str):
        wanted = {"detail": pick}
    else:
        named = {name: inner for name, inner in pick.items() if name not in ALWAYS}
        wanted = {"answers": ",".join(names_of(named or pick))}
    return {"service_edition": edition, "asked": {"path": path, **wanted}, "question": question}


def with_record(
    answer: Answer,
    response: Part,
    shown: Shown,
    given: Mapping[str, Any],
    policy: PolicyVersion | None,
    stamped: Mapping[str, Any],
) -> dict[str, Any]:
    """An answer as asked for: its result, and the record.

    Args:
        answer: what was computed.
        response: schema of its result.
        shown: units and members.
        given: the request as it came.
        policy: that of the shop.
        stamped: by `stamp`.
    """
    reasons: Reasons = {}
    with written_in(shown.units):
        result = response.written(answer.result, reasons, "", shown.pick)
        findings = [_FINDING.dump(each) for each in ranked(answer.findings)]
    told: dict[str, Any] = {
        "status": answer.status,
        "reasons": shown.units.reasons(reasons),
        "assumptions": [_assumption(each) for each in answer.assumptions],
        "findings": findings,
        "inputs": given,
        **stamped,
    }
    wanted = _wanted(shown.pick)
    if "sources" in wanted:
        told["sources"] = [_source(each) for each in answer.sources]
    if "version" in wanted:
        told["version"] = _VERSION.written(_version(answer, policy), {}, "", pick_of(shown.pick, "version"))
    if shown.steps:
        told["steps"] = working(answer, answer.steps, shown.units)
    whole = result | {name: told[name] for name in wanted if name in told}
    if isinstance(shown.pick, str):
        return whole
    return {name: whole[name] for name in shown.pick if name in whole}


_OF_DETAIL: Mapping[str, tuple[str, ...]] = {detail: tuple(_RECORD.members(detail)) for detail in DETAILS}


def _wanted(pick: Pick) -> Collection[str]:
    """The members of the record that are wanted."""
    return _OF_DETAIL[pick] if isinstance(pick, str) else _RECORD.members(pick)


def working(answer: Answer, steps: tuple[Step, ...], units: OutputUnits) -> list[dict[str, Any]]:
    """The working of an answer in the asked units; a step that this machine does not have is left out."""
    objects = SimpleNamespace(**answer.working)
    values = ((step, attrgetter(step.attribute)(objects)) for step in steps)
    return [
        {
            "symbol": step.symbol,
            "name": step.name,
            "equation": step.equation,
            "value": units.show(step.kind, value),
            "source": step.source,
        }
        for step, value in values
        if value is not None
    ]


def _source(source: Source) -> dict[str, str]:
    return {"what": source.what, "status": source.status, "source": source.source}


def _assumption(assumption: Assumption) -> dict[str, str]:
    return {"field": assumption.field, "value": assumption.value, "reason": assumption.reason}


def _version(answer: Answer, policy: PolicyVersion | None) -> dict[str, str | None]:
    profile, table = answer.profile, answer.table
    return {
        "program": PROGRAM,
        "data": DATA_EDITION,
        "policy_revision": policy.revision if policy else None,
        "policy_hash": policy.hash if policy else None,
        "profile_id": profile.id if profile else None,
        "profile_revision": profile.revision if profile else None,
        "profile_hash": profile.hash if profile else None,
        "table_id": table.id if table else None,
        "table_revision": table.revision if table else None,
        "table_hash": table.hash if table else None,
    }


def stops(answer: Mapping[str, Any]) -> list[str]:
    """The texts of what is to be settled before the lever is pulled, of an answer as written."""
    return [each["text"] for each in answer["findings"] if each["level"] == "stop"]
