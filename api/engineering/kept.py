"""Values that are worked out once and kept for whoever asks again, at most so many."""

from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Kept(Generic[K, V]):
    """Values by their key, in a young and an old half. Where the young one is full, the old one is dropped.

    What is asked again stays; whoever asks with keys of his own drives out what nobody asks meanwhile, and
    that costs time and nothing else. A value depends on its key alone, so it does no harm that two threads
    work one out at once, or that each keeps one more than the bound.

    >>> squares = Kept[int, int](4)
    >>> [squares.get(number, lambda number: number * number) for number in (3, 3, 4, 5, 6, 7, 8, 9)]
    [9, 9, 16, 25, 36, 49, 64, 81]
    >>> len(squares) <= 4
    True
    """

    def __init__(self, most: int) -> None:
        self._half = most // 2
        self._young: dict[K, V] = {}
        self._old: dict[K, V] = {}

    def __len__(self) -> int:
        return len(self._young) + len(self._old)

    def get(self, key: K, work: Callable[[K], V]) -> V:
        """The value of a key, which ``work`` works out where it is not kept."""
        value = self._young.get(key)
        if value is not None:
            return value
        value = self._old.get(key)
        if value is None:
            value = work(key)
        if len(self._young) >= self._half:
            self._old, self._young = self._young, {}
        self._young[key] = value
        return value
