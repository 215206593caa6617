"""An answer as lines that a person reads."""

from collections.abc import Iterator, Mapping
from typing import Any


def lines_of(answer: Mapping[str, Any], indent: str = "") -> Iterator[str]:
    """Every member on a line of its own, parts indented below their name."""
    for name, value in answer.items():
        yield from _member(name, value, indent)


def _member(name: str, value: Any, indent: str) -> Iterator[str]:
    if isinstance(value, Mapping) and set(value) != {"value", "unit"}:
        yield f"{indent}{name}:"
        yield from lines_of(value, indent + "  ")
    elif isinstance(value, list) and value:
        yield f"{indent}{name}:"
        for entry in value:
            yield from _entry(entry, indent + "  ")
    else:
        yield f"{indent}{name}: {shown(value)}"


def _entry(entry: Any, indent: str) -> Iterator[str]:
    if not isinstance(entry, Mapping):
        yield f"{indent}- {shown(entry)}"
        return
    for number, line in enumerate(lines_of(entry, indent + "  ")):
        yield f"{indent}- {line.lstrip()}" if number == 0 else line


def shown(value: Any) -> str:
    """A value as a person reads it."""
    if isinstance(value, Mapping):
        return f"{shown(value['value'])} {value['unit']}"
    if value is None or value == []:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)
