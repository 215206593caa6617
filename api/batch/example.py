"""The example of a batch that comes as a table."""

import csv
import io
from collections.abc import Iterator, Mapping
from typing import Any

from api.batch.lines import known_fields
from api.batch.writing import as_text
from api.registry.calculation import Calculation
from schemas.core.fields import Members, field_named
from schemas.core.quantity import NotANumber, split_number
from schemas.core.quantity_fields import Quantity
from schemas.core.units import UnknownUnit, unit_named


def example_table(calculation: Calculation, given: Mapping[str, Any], separator: str) -> str:
    """A header and one line: a machine by its id, the unit of a quantity in the header.

    Args:
        calculation: what is asked.
        given: members of the line that are no fields.
        separator: between two cells.
    """
    line = {**given, **calculation.example, **(calculation.query_example or {})}
    cells = dict(_cell(known_fields(calculation), name, value) for name, value in _flat(line))
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator, lineterminator="\n").writerows((cells, cells.values()))
    return out.getvalue()


def _flat(line: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """The fields of a line; a member of an object has a column of its own."""
    for name, value in line.items():
        if isinstance(value, Mapping):
            yield from ((f"{name}.{member}", inner) for member, inner in value.items())
        else:
            yield name, value


def _cell(known: Mapping[str, Any], name: str, value: Any) -> tuple[str, str]:
    """The header and the cell of a field."""
    text = as_text(value)
    if isinstance(field_named(known, name), (Quantity, Members)):
        try:
            _, spelling = split_number(text)
            unit_named(spelling)
        except (NotANumber, UnknownUnit):
            return name, text
        return f"{name} [{spelling}]", text.removesuffix(spelling).rstrip()
    return name, text
