"""Every standing notice with what it is of, as the registry and the kinds of machines tell it."""

from collections.abc import Iterator
from functools import cache
from typing import Any

from api.answers.machine_kinds.registry import KINDS
from api.answers.standing_notices import StandingNotice
from api.registry.calculations import CALCULATIONS, VIEWS


@cache
def notices_listed() -> dict[str, dict[str, Any]]:
    """Every notice by its id: id, text, and the names of the questions and machine kinds that it is of."""
    listed: dict[str, dict[str, Any]] = {}
    for name, notices in _holders():
        for notice in notices:
            entry = listed.setdefault(notice.id, {"id": notice.id, "text": notice.text, "of": []})
            entry["of"].append(name)
    return listed


def _holders() -> Iterator[tuple[str, tuple[StandingNotice, ...]]]:
    yield from ((each.name, each.notices) for each in CALCULATIONS)
    yield from ((each.name, each.notices) for each in VIEWS)
    yield from ((key, kind.notices) for key, kind in KINDS.items())
