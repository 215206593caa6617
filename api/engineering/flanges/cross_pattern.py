"""The order in which the bolts of a circle are tightened. Bolts are numbered clockwise from 1."""

from dataclasses import dataclass
from itertools import chain


@dataclass(frozen=True)
class CrossPattern:
    """A cross-pattern order, in groups as it is printed.

    The first, third, … bolt of a group is followed by the one opposite, so that the flange is pulled evenly
    after every second bolt. An order that is not so is no cross pattern, and must never be served.

    Raises:
        ValueError: unless every bolt stands in it once and the pairs of each group lie opposite.
    """

    groups: tuple[tuple[int, ...], ...]

    def __post_init__(self) -> None:
        if sorted(self.bolts) != list(range(1, self.count + 1)):
            raise ValueError(f"not every bolt once: {self.text}")
        if not all(_in_opposite_pairs(group, self.count) for group in self.groups):
            raise ValueError(f"not in opposite pairs: {self.text}")

    @property
    def bolts(self) -> tuple[int, ...]:
        """Every bolt in its turn."""
        return tuple(chain.from_iterable(self.groups))

    @property
    def count(self) -> int:
        """Number of bolts in the circle."""
        return sum(map(len, self.groups))

    @property
    def text(self) -> str:
        """The order as it is printed.

        >>> CrossPattern(((1, 5, 3, 7), (2, 6, 4, 8))).text
        '1-5-3-7, 2-6-4-8'
        """
        return ", ".join(in_order(group) for group in self.groups)


def _in_opposite_pairs(group: tuple[int, ...], count: int) -> bool:
    if len(group) % 2:
        return False
    return all(2 * abs(one - other) == count for one, other in zip(group[::2], group[1::2], strict=True))


def pattern_from_text(text: str) -> CrossPattern:
    """A pattern as tables write it.

    >>> pattern_from_text("1-3-2-4").groups
    ((1, 3, 2, 4),)
    """
    return CrossPattern(tuple(tuple(map(int, group.split("-"))) for group in text.split("|")))


def clockwise(count: int, first: int = 1, step: int = 1) -> tuple[int, ...]:
    """The bolts clockwise from the first, each or only every ``step``-th.

    >>> clockwise(4), clockwise(8, first=2, step=2)
    ((1, 2, 3, 4), (2, 4, 6, 8))
    """
    return tuple(range(first, count + 1, step))


def in_order(bolts: tuple[int, ...]) -> str:
    """Bolts as an order is written.

    >>> in_order((1, 3, 2, 4))
    '1-3-2-4'
    """
    return "-".join(map(str, bolts))
