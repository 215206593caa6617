"""A value between two rows of a table."""


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
