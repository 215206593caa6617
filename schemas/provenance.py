"""How sure a figure is, and where it stands, as answered."""

from collections.abc import Collection
from typing import Any

from schemas.core.parts import OneOf, Words
from schemas.words import STATED, STATUSES

MEANING = (
    "How sure it is: read in a public copy of the source; reprint: seen in one reprint of it; fitted: one of "
    "its inputs was inferred from it; from memory: remembered"
)
ANY_STATUS = (*STATUSES, STATED)


class Status(OneOf):
    """How sure a figure is, a published one or one that the caller or the shop states."""

    def __init__(self, words: Collection[str] = ANY_STATUS, **options: Any) -> None:
        more = "; stated by the caller or the shop" if STATED in words else ""
        super().__init__(words, **{"metadata": {"description": f"{MEANING}{more}."}, **options})


class SourceText(Words):
    """Where a figure stands."""

    def __init__(self, **options: Any) -> None:
        text = "The document, table or person that it comes from."
        super().__init__(**{"metadata": {"description": text}, **options})
