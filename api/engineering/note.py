"""A remark that an answer makes about what it was given."""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass

from api.engineering.faults import Amount


@dataclass(frozen=True)
class Note:
    """A sentence for people with a stable code for programs; each ``{name}`` in it is one of ``amounts``."""

    code: str
    text: str
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)
