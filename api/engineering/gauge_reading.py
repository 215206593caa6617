"""How finely a gauge is read."""

from collections.abc import Mapping
from typing import Literal

HowRead = Literal["set_on_mark", "half_division", "nearest_mark", "digital"]
"""A pointer set on a mark, read to half a division or to the nearest mark; or the digits of a display."""

SHARE_OF_DIVISION: Mapping[HowRead, float] = {
    "set_on_mark": 1 / 4,
    "half_division": 1 / 4,
    "nearest_mark": 1 / 2,
    "digital": 1 / 2,
}


def reading_half_width(division: float, how: HowRead) -> float:
    """How far a reading may be from where the pointer stands, in the unit of the division (ISO 7500-1).

    Half a division is what the eye usually tells apart, hence a quarter to either side. A pointer that is
    *set* on a mark is given the same quarter: no source has a figure for it, and a wide pointer seen a little
    from the side is no better. (Worst-case bounds take it as standing on its mark.) A reading written down as
    the nearest mark, and the last digit of a display, may be off by half.

    Args:
        division: from mark to mark; of a display, one step of its last digit, > 0.
        how: how it was read.

    >>> reading_half_width(50.0, "set_on_mark"), reading_half_width(50.0, "nearest_mark")
    (12.5, 25.0)
    """
    return SHARE_OF_DIVISION[how] * division
