"""A batch as a table that is safe to open in a spreadsheet."""

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterator, Sequence
from typing import Any

from marshmallow import Schema, fields

from api.batch.cells import flat
from api.batch.column_names import RESULT, STAMP, STATUS_COLUMNS
from api.batch.lines import LineAnswer
from api.refusals.errors import in_words
from api.registry.calculation import Calculation
from schemas.conversion import ConvertedQuantity
from schemas.core.quantity_fields import AmountField, DialReading, Quantity
from schemas.record import Record

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with where a spreadsheet would take it for a formula (CWE-1236)."""
CONTROLS = "".join(map(chr, (*range(32), 127)))
THREE_DECIMALS = re.compile(r"-?[0-9]+\.[0-9]{3}")
INVISIBLE = {"\u115f", "\u1160", "\u3164", "\uffa0"}
"""Letters that show nothing; what else shows nothing is known by its category."""
NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")

RECORD = Record(exclude=("inputs", "steps", "asked", *STAMP))
WITH_UNIT = (Quantity, DialReading, AmountField, ConvertedQuantity)
"""Fields that are written as value and unit."""


def result_columns(calculation: Calculation) -> list[str]:
    """The columns of a result, the same whatever the lines hold; a quantity has one for its unit."""
    return [*_schema_columns(calculation.response, ""), *_schema_columns(RECORD, "")]


def _schema_columns(schema: Schema, path: str) -> Iterator[str]:
    for name, field in schema.fields.items():
        if isinstance(field, fields.Nested) and not field.many:
            yield from _schema_columns(field.schema, f"{path}{name}.")
            continue
        yield f"{path}{name}"
        if isinstance(field, WITH_UNIT):
            yield f"{path}{name}.unit"


def write_table(
    header: Sequence[str], answers: Sequence[LineAnswer], calculation: Calculation, separator: str
) -> str:
    """The table of a batch: the columns given, the status of the line, then its result (RFC 4180)."""
    names = result_columns(calculation)
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    own = [RESULT + name for name in names]
    writer.writerow([harmless(name) for name in header] + [*STATUS_COLUMNS, *own])
    for answer in answers:
        row = flat(answer.result, calculation.members) if answer.result else {}
        given = [harmless(as_text(answer.line.given.get(name, ""))) for name in header]
        reasons = harmless(in_words(answer.errors))
        stamped = [answer.stamped[name] for name in STAMP]
        status = [answer.number, answer.status, answer.code or "", reasons, *stamped]
        writer.writerow(given + status + [_cell(row.get(name)) for name in names])
    return out.getvalue()


def _cell(value: Any) -> Any:
    if value is None:
        return ""
    if isinstance(value, float):
        return number_in_table(value)
    return harmless(value) if isinstance(value, str) else value


def number_in_table(value: float) -> str:
    """A number as a table has it, never with exactly three decimals.

    Where the comma is the decimal sign a spreadsheet would take the point for one of thousands, and 12.345
    for twelve thousand; 12.3450 it leaves as text.

    >>> number_in_table(12.345), number_in_table(750.0), number_in_table(29679.37092)
    ('12.3450', '750.0', '29679.37092')
    """
    text = repr(value)
    return text + "0" if THREE_DECIMALS.fullmatch(text) else text


def as_text(value: Any) -> str:
    """What a line gave, as text: text as it is, anything else as the JSON it was."""
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula; a plain number stays as it is.

    Signs of other widths and what is invisible before a sign count as the sign itself.
    """
    if NUMBER.fullmatch(text):
        return text
    seen = text.lstrip(CONTROLS) if text.isascii() else _visible(text)
    return "'" + text if text.startswith(FORMULA) or seen.lstrip().startswith(FORMULA) else text


def _visible(text: str) -> str:
    plain = unicodedata.normalize("NFKC", text).replace("\u2212", "-")
    shown = (sign for sign in plain if sign not in INVISIBLE)
    return "".join(sign for sign in shown if unicodedata.category(sign) not in ("Cf", "Cc", "Mn"))
