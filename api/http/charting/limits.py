"""The limits of a chart as its diagram and its key show them: each with a letter, equal ratings together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from typing import Any

RANGES = {"working_range": "best part of the dial", "calibrated": "calibrated"}
"""Pairs of limits, ``_from`` and ``_to``, that are drawn as one bar."""
Shown = Mapping[str, Any]


@dataclass(frozen=True)
class Limit:
    """A limit with its letter.

    Attributes:
        letter: in the diagram and in the key.
        text: what it is.
        shown: the limit as the chart has it.
        until: the other end, of a range.
    """

    letter: str
    text: str
    shown: Shown
    until: Shown | None = None

    @property
    def of_torque(self) -> bool:
        """Whether it limits the torque, not the reading."""
        return self.shown["reading"] is None

    @property
    def is_line(self) -> bool:
        """Whether it is one reading, not a range."""
        return not self.of_torque and self.until is None

    @property
    def reading(self) -> float:
        """In the unit of the dial."""
        return float(self.shown["reading"]["value"])

    def torque(self, system: str) -> float:
        """In a system of units."""
        return float(self.shown["amount"][system]["value"])


def limits_of(chart: Shown) -> list[Limit]:
    """The limits of an operation: readings rising, then torques; a range stands at its lower end."""
    ends = {limit["name"]: limit for limit in chart["limits"]}
    found: list[tuple[str, Shown, Shown | None]] = []
    for shown, text in _ratings_together(chart["limits"]):
        base, _, end = shown["name"].rpartition("_")
        if base not in RANGES:
            found.append((text, shown, None))
        elif end == "from":
            found.append((RANGES[base], shown, ends[f"{base}_to"]))
    found.sort(key=lambda each: _place(each[1]))
    return [Limit(letter, *each) for letter, each in zip(ascii_uppercase, found, strict=False)]


def _place(shown: Shown) -> tuple[bool, float]:
    reading = shown["reading"]
    return reading is None, reading["value"] if reading else shown["amount"]["us"]["value"]


def _ratings_together(limits: Sequence[Shown]) -> list[tuple[Shown, str]]:
    """Limits with their texts, the ratings of equal reading as one."""
    found: dict[Any, tuple[Shown, list[str]]] = {}
    for limit in limits:
        part = limit["name"].removeprefix("rated_")
        rated = part != limit["name"]
        key = limit["reading"]["value"] if rated else limit["name"]
        found.setdefault(key, (limit, []))[1].append(part if rated else limit["text"])
    return [
        (shown, f"rating of {' and '.join(texts)}" if shown["name"].startswith("rated_") else texts[0])
        for shown, texts in found.values()
    ]
