"""Reading the published tables: CSV files whose headers carry the unit of each column."""

import csv
import hashlib
from dataclasses import dataclass
from importlib.resources import files

from schemas.core.units import unit_named

TABLES = files("api.reference")


@dataclass(frozen=True)
class Row:
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
    header = [column.removesuffix("]").partition(" [") for column in next(reader)]
    return [_row(header, cells) for cells in reader]


def _row(header: list[tuple[str, str, str]], cells: list[str]) -> Row:
    text, si = {}, {}
    for (name, _, unit), cell in zip(header, cells, strict=True):
        text[name] = cell
        if unit:
            si[name] = unit_named(unit).to_si(float(cell)) if cell else None
    return Row(text, si)


def data_edition() -> str:
    """A short hash of all tables, which changes when any published number or source does."""
    digest = hashlib.sha256()
    for table in sorted(TABLES.iterdir(), key=lambda entry: entry.name):
        if table.name.endswith(".csv"):
            digest.update(table.name.encode() + b"\0" + table.read_bytes())
    return digest.hexdigest()[:12]
