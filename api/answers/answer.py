"""What every calculation returns before it is put into units: plain SI values and where they come from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from api.engineering.checks import Finding
from api.engineering.provenance import Assumption, Source, TableVersion
from api.engineering.working import Step


@dataclass(frozen=True)
class ProfileVersion:
    """Which machine profile entered an answer: enough to find it again."""

    id: str
    revision: str
    hash: str


@dataclass(frozen=True)
class PolicyVersion:
    """Which policy entered an answer."""

    revision: str
    hash: str


@dataclass(frozen=True, kw_only=True)
class Answer:
    """A result with its provenance.

    Attributes:
        result: SI values, named as in the response schema of the calculation.
        working: the objects that the working steps read their values from, by name.
        sources: everything the result rests on.
        status: how sure the result is: that of the weakest source of its main value.
        assumptions: every value that entered without having been given.
        findings: what makes this very job differ from any other.
        profile: the machine profile used.
        table: the table of the shop used.
        steps: its working, rendered only where a request asks for it.
    """

    result: Mapping[str, Any]
    sources: tuple[Source, ...]
    status: str
    assumptions: tuple[Assumption, ...] = ()
    findings: tuple[Finding, ...] = ()
    working: Mapping[str, Any] = field(default_factory=dict)
    profile: ProfileVersion | None = None
    table: TableVersion | None = None
    steps: tuple[Step, ...] = ()
