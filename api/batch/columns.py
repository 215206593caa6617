"""The columns of a table of answers, and the cells that one answer makes."""

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from marshmallow import fields

from api.batch.cells import in_words, reasons_in_words
from api.batch.column_names import SEAL, STAMP
from api.registry.calculation import Calculation
from schemas.conversion import ConvertedQuantity
from schemas.core.parts import Part, Pick, part_of, pick_of
from schemas.core.quantity_fields import AmountField, DialReading, Quantity
from schemas.record import ReasonsField, Record

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with where a spreadsheet would take it for a formula (CWE-1236)."""
CONTROLS = "".join(map(chr, (*range(32), 127)))
THREE_DECIMALS = re.compile(r"-?[0-9]+\.[0-9]{3}")
INVISIBLE = {"\u115f", "\u1160", "\u3164", "\uffa0"}
"""Letters that show nothing; what else shows nothing is known by its category."""
NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")

RECORD = Record(exclude=("inputs", "steps", "asked", *STAMP, SEAL))
WITH_UNIT = (Quantity, DialReading, AmountField, ConvertedQuantity)
"""Fields that are written as value and unit."""
Fill = Callable[[Any], list[Any]]
"""The cells of a value as it was written."""


@dataclass(frozen=True)
class Column:
    """One member of an answer in a table: the names of its columns, and its cells."""

    member: str
    names: tuple[str, ...]
    fill: Fill


@dataclass(frozen=True)
class Columns:
    """The columns of a part of an answer, the same whatever it holds; a quantity has one for its unit."""

    columns: tuple[Column, ...]

    @cached_property
    def names(self) -> list[str]:
        """Their names, in order."""
        return [name for column in self.columns for name in column.names]

    def cells(self, written: Mapping[str, Any] | None) -> list[Any]:
        """The cells of an answer as written; empty ones where it is None, or has no such member."""
        row: list[Any] = []
        for column in self.columns:
            value = None if written is None else written.get(column.member)
            row += [""] * len(column.names) if value is None else column.fill(value)
        return row


def columns_of_answer(calculation: Calculation, pick: Pick) -> Columns:
    """The columns of the answers of a calculation, those that are picked by name in the order of the pick."""
    columns = (*_columns(calculation.response, pick, ""), *_columns(RECORD, pick, ""))
    if isinstance(pick, str):
        return Columns(columns)
    order = list(pick)
    return Columns(tuple(sorted(columns, key=lambda column: order.index(column.member))))


def _columns(part: Part, pick: Pick, path: str) -> Iterator[Column]:
    for name, field in part.members(pick).items():
        full = f"{path}{name}"
        held = None if isinstance(field, fields.List) else part_of(field)
        if held is not None:
            inner = Columns(tuple(_columns(held, pick_of(pick, name), f"{full}.")))
            yield Column(name, tuple(inner.names), inner.cells)
        elif isinstance(field, WITH_UNIT):
            yield Column(name, (full, f"{full}.unit"), _quantity)
        elif isinstance(field, ReasonsField):
            yield Column(name, (full,), _reasons)
        elif isinstance(field, fields.List):
            yield Column(name, (full,), _in_words(field))
        else:
            yield Column(name, (full,), _plain)


def _quantity(value: Mapping[str, Any]) -> list[Any]:
    return [number_in_table(value["value"]), value["unit"]]


def _reasons(value: Mapping[str, str]) -> list[Any]:
    return [harmless("; ".join(reasons_in_words(value)))]


def _in_words(field: "fields.Field[Any]") -> Fill:
    return lambda entries: [harmless(in_words(entries, field))]


def _plain(value: Any) -> list[Any]:
    if isinstance(value, str):
        return [harmless(value)]
    return [number_in_table(value) if isinstance(value, float) else value]


def number_in_table(value: float) -> str:
    """A number as a table has it, never with exactly three decimals.

    Where the comma is the decimal sign a spreadsheet would take the point for one of thousands, and 12.345
    for twelve thousand; 12.3450 it leaves as text.

    >>> number_in_table(12.345), number_in_table(750.0), number_in_table(29679.37092)
    ('12.3450', '750.0', '29679.37092')
    """
    text = repr(value)
    return text + "0" if THREE_DECIMALS.fullmatch(text) else text


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
