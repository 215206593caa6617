"""Where two answers differ, leaf by leaf: compared exactly, never with a tolerance."""

from collections.abc import Iterator, Mapping
from itertools import zip_longest
from typing import Any, NamedTuple

ABSENT: Any = object()
"""What stands for a value where there is none."""
Place = tuple[str | int, ...]


class Difference(NamedTuple):
    """A place with two values, of which one may be `ABSENT`."""

    place: Place
    stored: Any
    now: Any


def differences(stored: Any, now: Any, place: Place = ()) -> Iterator[Difference]:
    """Every difference between a stored value and that of now, in the order of the stored one.

    >>> [each.place for each in differences({"a": [1, {"b": 2.0}]}, {"a": [1.0, {"b": 2.5}], "c": None})]
    [('a', 1, 'b'), ('c',)]
    """
    if isinstance(stored, Mapping) and isinstance(now, Mapping):
        for name in {**stored, **now}:
            yield from differences(stored.get(name, ABSENT), now.get(name, ABSENT), (*place, name))
    elif isinstance(stored, list) and isinstance(now, list):
        for number, (one, other) in enumerate(zip_longest(stored, now, fillvalue=ABSENT)):
            yield from differences(one, other, (*place, number))
    elif not _same(stored, now):
        yield Difference(place, stored, now)


def _same(one: Any, other: Any) -> bool:
    """Whether two leaves are one: 750 and 750.0 are, true and 1 are not."""
    return isinstance(one, bool) is isinstance(other, bool) and bool(one == other)
