"""Where a number comes from and how sure it is."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

STATUSES = ("read", "reprint", "fitted", "from memory")
"""From the surest to the least sure; ``stated`` (by the caller) stands outside the scale.

*read*: seen in a public copy of the source; *reprint*: seen in one public reprint of it; *fitted*: one
of its inputs was inferred from its value; *from memory*: remembered, whether or not a formula agrees.
"""


class Source(NamedTuple):
    """One thing an answer rests on: what it is, how sure it is, and where it stands."""

    what: str
    status: str
    source: str


@dataclass(frozen=True)
class Assumption:
    """A value that entered an answer without having been given by the caller, and why."""

    field: str
    value: str
    reason: str


@dataclass(frozen=True)
class TableVersion:
    """Which table of the shop, and which revision of its row, gave a torque; ``hash`` is of the file."""

    id: str
    revision: str
    hash: str


def weakest_status(sources: Iterable[Source]) -> str:
    """The least sure status among ``sources``; ``stated`` if nothing published is among them."""
    found = [STATUSES.index(source.status) for source in sources if source.status in STATUSES]
    return STATUSES[max(found)] if found else "stated"
