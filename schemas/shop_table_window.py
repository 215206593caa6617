"""The torques of a row of a shop's own table: their order, and whether one is out of all proportion."""

from collections.abc import Mapping
from typing import Any

from schemas.shop_table_columns import Column
from schemas.shop_table_names import TORQUES
from schemas.shop_table_parts import Faults
from schemas.shop_table_revisions import SAME

LOWEST_MINIMUM, HIGHEST_MAXIMUM, HIGHEST_TORSIONAL_YIELD = 0.5, 2.0, 5.0
"""Multiples of the target beyond which a torque of its row is rather a digit lost or doubled (own judgement).

A slip of one digit is often a factor of ten, and windows are usually within a tenth of the target (*common
practice, no source*). A row cannot state that a torque beyond them is meant: it can only leave its cell
empty.
"""
_PROPORTIONS = {
    "minimum": (LOWEST_MINIMUM, "at least half"),
    "maximum": (HIGHEST_MAXIMUM, "at most twice"),
    "torsional_yield": (HIGHEST_TORSIONAL_YIELD, "at most five times"),
}

Given = Mapping[str, tuple[str, Column]]
"""The text of each cell with a unit, and its column."""


def check_window(number: int, values: Mapping[str, Any], given: Given, faults: Faults) -> None:
    """Minimum, target and maximum in this order, the last of them below the torsional yield, none far off.

    Faults: ``window_out_of_order``, ``torsional_yield_exceeded``, ``out_of_proportion``.

    Args:
        number: the line of the row.
        values: torques in N.m, those that were read.
        given: the cells as written.
        faults: what the faults are added to.
    """

    def tell(name: str, code: str, relation: str, other: str) -> None:
        detail = f"{relation} the {other.replace('_', ' ')} of {_written(*given[other])}"
        faults.add(number, name, code, detail, given[name][0])

    low, target, high, yields = (values.get(name) for name in TORQUES)
    if low is not None and target is not None and low > target:
        tell("minimum", "window_out_of_order", "above", "target")
    if high is not None and target is not None and high < target:
        tell("maximum", "window_out_of_order", "below", "target")
    if low is not None and high is not None and target is None and low > high:
        tell("minimum", "window_out_of_order", "above", "maximum")
    for name, torque in (("target", target), ("maximum", high)):
        if yields is not None and torque is not None and torque >= yields:
            tell(name, "torsional_yield_exceeded", "not below", "torsional_yield")
    if target is not None:
        _check_proportions(number, values, given, faults)


def _check_proportions(number: int, values: Mapping[str, Any], given: Given, faults: Faults) -> None:
    target = values["target"]
    for name, (multiple, words) in _PROPORTIONS.items():
        torque, limit = values.get(name), multiple * target
        if torque is None:
            continue
        if torque < limit * (1 - SAME) if name == "minimum" else torque > limit * (1 + SAME):
            text, column = given[name]
            shown = f", {column.unit.from_si(limit):.10g} {column.unit.code}" if column.unit else ""
            times = f"{torque / target:.3g} times the target of {_written(*given['target'])}"
            detail = f"{times}: rather a slip of a digit"
            accepted = f"{words} the target{shown}; leave the cell empty if the torque is meant"
            faults.add(number, name, "out_of_proportion", detail, text, accepted)


def _written(text: str, column: Column) -> str:
    return f"{text} {column.unit.code}" if column.unit else text
