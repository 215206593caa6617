"""Text of a query or of a table as the JSON values it stands for."""

import re
from collections.abc import Mapping
from typing import Any

from marshmallow import Schema

from schemas.fields import Flag, Members, Number
from schemas.numbers import NotANumber, plain_number

MEMBER = re.compile(r"(?P<outer>[^.\[\]]+)(?:\.(?P<dotted>.+)|\[(?P<bracketed>[^\[\]]+)\])")
"""A member as a name of its own: ``table_key.bore``, or as OpenAPI's deepObject ``table_key[bore]``."""


def field_named(fields: Mapping[str, Any], name: str) -> Any:
    """The field that a name stands for, by itself or as that of its member; None if there is none."""
    if name in fields:
        return fields[name]
    match = MEMBER.fullmatch(name)
    field = fields.get(match["outer"]) if match else None
    return field if isinstance(field, Members) else None


def from_text(schema: Schema, raw: Mapping[str, str]) -> dict[str, Any]:
    """Text as JSON values; what cannot be is left as it is, for the field to refuse.

    Members are gathered into their object, but never into one that is also given whole, and never twice: such
    a name is left over, and is no field.
    """
    values: dict[str, Any] = {}
    for name, text in raw.items():
        match, field = MEMBER.fullmatch(name), field_named(schema.fields, name)
        if match and isinstance(field, Members) and match["outer"] not in raw:
            members = values.setdefault(match["outer"], {})
            member = match["dotted"] or match["bracketed"]
            if member not in members:
                members[member] = text
                continue
        values[name] = _value(field, text)
    return values


def _value(field: Any, text: str) -> Any:
    if isinstance(field, Number):
        try:
            return plain_number(text)
        except NotANumber:
            return text
    return Flag.words.get(text, text) if isinstance(field, Flag) else text
