"""An answer as one row: every value under its dotted name, for tables and cells."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from marshmallow import Schema, fields

from schemas.core.parts import Part

Members = Mapping[str, "fields.Field[Any]"]


def flat(result: Mapping[str, Any], members: Members) -> dict[str, Any]:
    """A result as one row: dotted names, a quantity as value and unit, lists as text.

    Args:
        result: the answer, or a part of it, as JSON.
        members: the fields that wrote it; they know the words of a list.
    """
    return dict(_flat(result, members, ""))


def _flat(part: Mapping[str, Any], members: Members, path: str) -> Iterator[tuple[str, Any]]:
    for name, value in part.items():
        if isinstance(value, Mapping) and set(value) == {"value", "unit"}:
            yield f"{path}{name}", value["value"]
            yield f"{path}{name}.unit", value["unit"]
        elif name == "reasons" and isinstance(value, Mapping):
            yield f"{path}{name}", "; ".join(reasons_in_words(value))
        elif isinstance(value, Mapping):
            if path or name != "inputs":
                yield from _flat(value, members_of(members.get(name)), f"{path}{name}.")
        elif isinstance(value, list):
            yield f"{path}{name}", in_words(value, members.get(name))
        else:
            yield f"{path}{name}", value


def reasons_in_words(reasons: Mapping[str, str]) -> Iterator[str]:
    """Why values are not known, each after its name."""
    return (f"{name}: {reason}" for name, reason in reasons.items())


def members_of(field: "fields.Field[Any] | None") -> Members:
    """The fields of the object that a field writes; none where its members are named by something else."""
    return field.schema.fields if isinstance(field, fields.Nested) else {}


def part_of(field: "fields.Field[Any] | None") -> Part | None:
    """The part that writes each entry of a list; None where the entries are plain values."""
    inner = field.inner if isinstance(field, fields.List) else field
    schema: Schema | None = inner.schema if isinstance(inner, fields.Nested) else None
    return schema if isinstance(schema, Part) else None


def in_words(entries: Sequence[Any], field: "fields.Field[Any] | None") -> str:
    """A list as one cell shows it, each entry in the words of its part."""
    part = part_of(field)
    return "; ".join(str(each) if part is None else part.in_a_cell(each) for each in entries)
