"""What the listing of sucker rods shows, by its filters; SI."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from api.reference.sucker_rods import SUCKER_RODS, SuckerRod


def rods_listed(filters: Mapping[str, Any]) -> list[SuckerRod]:
    """Every size of rod, with the displacements for a run or a grade; sizes without any are left out."""
    return [each for each in (_narrowed(rod, filters) for rod in SUCKER_RODS.values()) if each.displacements]


def _narrowed(rod: SuckerRod, filters: Mapping[str, Any]) -> SuckerRod:
    found = tuple(
        each
        for each in rod.displacements
        if filters.get("run", each.run) == each.run
        and filters.get("rod_grade", each.grades[0]) in each.grades
    )
    return replace(rod, displacements=found)
