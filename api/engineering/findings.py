"""What a foreman would say of one job, ranked: stop, look, note.

What is true of every job is no finding but a standing notice, see `api.answers.standing_notices`.
"""

import dataclasses
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from api.engineering.checks import Amount

Level = Literal["stop", "look", "note"]
"""*stop*: do not pull the lever until a named thing is settled; *look*: this job differs from the last;
*note*: why a figure is what it is."""
LEVELS: tuple[Level, ...] = get_args(Level)

Stage = Literal[
    "identify",
    "choose",
    "prepare_grip",
    "prepare_pipe",
    "oil",
    "relief",
    "limit",
    "dope_and_mark",
    "grip",
    "make_up",
    "hold",
    "read",
    "verdict",
    "record",
    "break_out",
]
"""The stages of the work in their order; a finding names the one at which it matters."""


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One thing that makes this job differ from any other.

    Attributes:
        level: how much it matters.
        code: stable, for programs.
        text: short sentences, with their numbers; each ``{name}`` stands for an amount.
        step: the stage of the work at which it matters.
        remedy: what to do, in short sentences; empty where a note asks for nothing.
        value, limit: what was compared, as ``{value}`` and ``{limit}`` of both texts.
        amounts: further amounts of both texts by name.
    """

    level: Level
    code: str
    text: str
    step: Stage
    remedy: str = ""
    value: Amount | None = None
    limit: Amount | None = None
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)

    @property
    def named_amounts(self) -> dict[str, Amount]:
        """Every amount of both texts by its name."""
        compared = {"value": self.value, "limit": self.limit}
        return {**self.amounts, **{name: amount for name, amount in compared.items() if amount}}


def ranked(findings: Iterable[Finding]) -> list[Finding]:
    """Findings from *stop* to *note*, each once, otherwise in the order given.

    >>> look = Finding(level="look", code="left_hand", text="Left-hand thread.", step="make_up")
    >>> stop = Finding(level="stop", code="profile_is_draft", text="A draft.", step="choose")
    >>> [each.code for each in ranked([look, stop, look])]
    ['profile_is_draft', 'left_hand']
    """
    once: list[Finding] = []
    for finding in findings:
        if finding not in once:
            once.append(finding)
    return sorted(once, key=lambda finding: LEVELS.index(finding.level))
