"""What a shop's own torque table is made of, and what may be wrong with one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from schemas.core.units import Unit

MOST_FAULTS = 1000
"""Faults of a table that are told; the rest are counted."""
LONGEST_SHOWN = 100
"""Characters of a cell that a fault repeats."""
MEMBER = "table_key"
"""The member of a request that holds the key of a row."""


@dataclass(frozen=True)
class KeyColumn:
    """A column by which rows are found.

    Args:
        name: lower-case letters, digits and underscores.
        unit: the unit of its cells; None for text.
        kind: the kind of that unit. A unit of both pressure and stress is one of stress here: a joint is
            told from another by a strength, seldom by a pressure.
        linear: whether a value between those of two rows may be interpolated.
    """

    name: str
    unit: Unit | None
    kind: str | None
    linear: bool


@dataclass(frozen=True)
class TableRow:
    """One row: torques in N.m, text as written, key quantities in SI.

    Args:
        number: the line of the file on which the row begins, the header being line 1.
    """

    number: int
    key: Mapping[str, str | float]
    minimum: float | None
    target: float
    maximum: float | None
    torsional_yield: float | None
    source: str
    revision: str
    status: str
    effective_from: date | None
    effective_to: date | None
    note: str | None

    @property
    def dated(self) -> bool:
        """Whether the row holds for certain days only."""
        return self.effective_from is not None or self.effective_to is not None

    def in_force(self, day: date | None) -> bool:
        """Whether the row holds on a day; a dated row never holds where no day is given."""
        if not self.dated:
            return True
        if day is None:
            return False
        return (self.effective_from or date.min) <= day <= (self.effective_to or date.max)


@dataclass(frozen=True)
class ShopTable:
    """A table that was read without a fault."""

    columns: tuple[KeyColumn, ...]
    rows: tuple[TableRow, ...]


@dataclass(frozen=True)
class TableFault:
    """A fault and its place.

    Args:
        row: the line on which the row begins; 1 is the header, None the file as a whole.
        column: the name of the column without its unit, or the whole header where no name is read from it.
    """

    row: int | None
    column: str | None
    code: str
    detail: str
    value: str | None
    accepted: str | None


class FaultyTable(ValueError):
    """Raised with the faults of a table, in the order of its lines: at most the first 1000 of ``count``."""

    def __init__(self, faults: Sequence[TableFault], count: int | None = None) -> None:
        self.faults = tuple(faults)
        self.count = len(self.faults) if count is None else count
        told = "; ".join(map(_told, self.faults[:3]))
        more = f"; and {self.count - 3} more" if self.count > 3 else ""
        super().__init__("".join(sign if sign.isprintable() else "?" for sign in told + more))


def _told(fault: TableFault) -> str:
    places = [f"line {fault.row}" if fault.row else "", fault.column or ""]
    place = ", ".join(filter(None, places)) or "table"
    return f"{place}: {fault.code} ({fault.detail})"


class Faults:
    """Faults as they are found: all are counted, the first are kept."""

    def __init__(self) -> None:
        self.kept: list[TableFault] = []
        self.count = 0

    def add(
        self,
        row: int | None,
        column: str | None,
        code: str,
        detail: str,
        value: str | None = None,
        accepted: str | None = None,
    ) -> None:
        """Count a fault, and keep it if it is among the first."""
        self.count += 1
        if len(self.kept) < MOST_FAULTS:
            self.kept.append(TableFault(row, _cut(column), code, detail, _cut(value), accepted))

    def refuse(self) -> None:
        """Raise `FaultyTable` if any fault was found."""
        if self.count:
            raise FaultyTable(sorted(self.kept, key=lambda fault: fault.row or 0), self.count)


def _cut(text: str | None) -> str | None:
    return text if text is None or len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"
