"""The key by which a request asks for a row of a shop's own table."""

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from marshmallow import ValidationError

from schemas.faults import InputFault, InvalidInput
from schemas.shop_table_columns import LONGEST_KEY, quantity_field
from schemas.shop_table_parts import MEMBER, KeyColumn
from schemas.shop_table_text import KeyText, found_in


def read_table_key(columns: Sequence[KeyColumn], given: Mapping[str, Any]) -> dict[str, str | float]:
    """The key a request gives: text as given, quantities in SI.

    Args:
        columns: the key columns of the table.
        given: one member for each column: text, ``"6 1/2 in"`` or ``{"value": 6.5, "unit": "in"}``.

    Raises:
        InvalidInput: with every fault below ``table_key``: ``not_an_object``, ``missing_field``,
            ``unknown_field``, ``not_null``, ``not_text``, and those of a quantity.
    """
    if not isinstance(given, Mapping):
        raise InvalidInput([InputFault((MEMBER,), "not_an_object", "a JSON object is expected", given)])
    key: dict[str, str | float] = {}
    faults: list[InputFault] = []
    for column in columns:
        field = KeyText(LONGEST_KEY) if column.kind is None else quantity_field(column.kind)
        path = (MEMBER, column.name)
        if column.name not in given:
            faults.append(InputFault(path, "missing_field", "this field is required", None, field.accepted))
            continue
        try:
            key[column.name] = field.deserialize(given[column.name])
        except ValidationError as error:
            found = found_in(error)
            accepted = found.accepted or field.accepted
            faults.append(InputFault(path, found.code, found.detail, given[column.name], accepted))
    faults += _unknown(columns, given)
    if faults:
        raise InvalidInput(faults)
    return key


def _unknown(columns: Sequence[KeyColumn], given: Mapping[str, Any]) -> Iterator[InputFault]:
    names = [column.name for column in columns]
    for name, value in given.items():
        if name not in names:
            near = get_close_matches(name[:40], names, 3)
            accepted = f"did you mean {' or '.join(near)}?" if near else f"columns: {', '.join(names)}"
            detail = "the table has no such key column"
            yield InputFault((MEMBER, name), "unknown_field", detail, value, accepted)
