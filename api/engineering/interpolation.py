"""Straight lines between known points, and never beyond them."""

from bisect import bisect_left
from collections.abc import Sequence


def between(low: float, high: float, share: float) -> float:
    """The value on the straight line between two rows.

    Args:
        low: value of the lower row, any unit.
        high: value of the higher row, in the same unit.
        share: of the way from the lower to the higher row, 0 to 1; outside of it would be extrapolation.

    Raises:
        ValueError: for a share outside 0 to 1.

    Halfway from 12,000 to 16,000 ft-lb:

    >>> between(12_000.0, 16_000.0, 0.5)
    14000.0
    """
    if not 0 <= share <= 1:
        raise ValueError(f"a share of {share} lies outside the two rows")
    return low + share * (high - low)


Point = tuple[float, float]
"""A measured y at an x."""


def slope_between(left: Point, right: Point) -> float:
    """``(y2 - y1) / (x2 - x1)``.

    A pressure sensor reads 0 and 2.041 at the ends of its range, 0 and 20 (Measurement 45 (2012) 1661):

    >>> round(slope_between((0.0, 0.0), (2.041, 20.0)), 6)
    9.799118
    """
    return (right[1] - left[1]) / (right[0] - left[0])


def value_at(points: Sequence[Point], x: float) -> float:
    """The y on the straight piece that x lies on; beyond an end, on the last piece drawn on.

    Whoever asks decides whether x may lie beyond an end.

    Args:
        points: at least 2, x rising.
        x: where.

    >>> value_at([(0.0, 0.0), (10.0, 5.0), (20.0, 30.0)], 15.0)
    17.5
    """
    right = min(max(bisect_left(points, x, key=lambda point: point[0]), 1), len(points) - 1)
    start, end = points[right - 1], points[right]
    return start[1] + slope_between(start, end) * (x - start[0])
