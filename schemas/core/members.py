"""An object of free members, each of which may have a name of its own, as it must in a query or a table."""

import re
from collections.abc import Mapping
from typing import Any

from marshmallow import fields

from schemas.core.faults import fault


class Members(fields.Field[Mapping[str, Any]]):
    """An object whose members are named by something that this schema does not know, such as a shop's table.

    Each may also stand alone, as ``name.member``, as it must in a query and in the header of a table: see
    `gathered`.
    """

    accepted = "an object; in a query or a table each member stands under a name with a dot"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Mapping[str, Any]:
        if not isinstance(value, Mapping):
            raise fault("not_an_object", "a JSON object is expected", self.accepted)
        return value


MEMBER = re.compile(r"(?P<outer>[^.\[\]]+)(?:\.(?P<dotted>.+)|\[(?P<bracketed>[^\[\]]+)\])")
"""A member as a name of its own: ``table_key.bore``, or as OpenAPI's deepObject ``table_key[bore]``."""


def field_named(known: Mapping[str, Any], name: str) -> Any:
    """The field that a name stands for, by itself or as that of its member; None if there is none."""
    if name in known:
        return known[name]
    match = MEMBER.fullmatch(name)
    field = known.get(match["outer"]) if match else None
    return field if isinstance(field, Members) else None


def gathered(known: Mapping[str, Any], raw: Any) -> Any:
    """A request with members that stand alone gathered into their object; anything else as it is.

    Never into one that is also given whole, and never twice: such a name is left over, and is no field.
    """
    if not isinstance(raw, Mapping) or not any("." in name or "[" in name for name in raw):
        return raw
    values: dict[str, Any] = {}
    for name, value in raw.items():
        match = MEMBER.fullmatch(name)
        if match and isinstance(known.get(match["outer"]), Members) and match["outer"] not in raw:
            members = values.setdefault(match["outer"], {})
            member = match["dotted"] or match["bracketed"]
            if member not in members:
                members[member] = value
                continue
        values[name] = value
    return values
