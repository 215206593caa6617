"""Reading the published tables: CSV files whose headers carry the unit of each column.

Rows are named tuples, here and in the modules beside: every start makes their classes, which takes a sixth of
the time that frozen dataclasses take.
"""

import csv
import hashlib
from importlib import import_module
from importlib.resources import files
from pkgutil import iter_modules
from typing import NamedTuple

import api.reference
from api.engineering.provenance import Source
from schemas.core.units import Unit, unit_named

TABLES = files("api.reference")


class Row(NamedTuple):
    """A row of a table: its cells as printed, and in SI those whose header has a unit."""

    text: dict[str, str]
    si: dict[str, float | None]

    def number(self, name: str) -> float:
        """The SI value of a cell that must not be empty."""
        value = self.si[name]
        if value is None:
            raise ValueError(f"empty cell {name!r} in row {self.text}")
        return value


def read_table(name: str) -> list[Row]:
    """All rows of a table; ``pin_bore [in]`` in the header makes ``pin_bore`` a length in inches."""
    reader = csv.reader(TABLES.joinpath(name).read_text("utf-8").splitlines())
    columns = [_column(header) for header in next(reader)]
    return [_row(columns, cells) for cells in reader]


def _column(header: str) -> tuple[str, Unit | None]:
    name, _, unit = header.removesuffix("]").partition(" [")
    return name, unit_named(unit) if unit else None


def _row(columns: list[tuple[str, Unit | None]], cells: list[str]) -> Row:
    text, si = {}, {}
    for (name, unit), cell in zip(columns, cells, strict=True):
        text[name] = cell
        if unit:
            si[name] = unit.to_si(float(cell)) if cell else None
    return Row(text, si)


def read_every_table() -> None:
    """Import every module beside this one: a row that is missing or wrong stops a start, never an answer."""
    for module in iter_modules(api.reference.__path__):
        import_module(f"api.reference.{module.name}")


def sources() -> list[Source]:
    """The source of every row of every table: what the row is, how sure it is, and where it stands."""
    return [
        Source(
            f"{name.removesuffix('.csv').replace('_', ' ')}, {next(iter(row.values()))}", row["status"], text
        )
        for name in table_names()
        for row in csv.DictReader(TABLES.joinpath(name).read_text("utf-8").splitlines())
        for column, text in row.items()
        if column == "source" or column.endswith("_source")
    ]


def table_names() -> list[str]:
    """The files of all tables, in order."""
    return sorted(entry.name for entry in TABLES.iterdir() if entry.name.endswith(".csv"))


def data_edition() -> str:
    """A short hash of all tables, which changes when any published number or source does."""
    digest = hashlib.sha256()
    for name in table_names():
        digest.update(name.encode() + b"\0" + TABLES.joinpath(name).read_bytes())
    return digest.hexdigest()[:12]
