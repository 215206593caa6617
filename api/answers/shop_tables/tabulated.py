"""Make-up torque from a table of the shop: the window, the rows it comes from, the record."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.shop import Shop
from api.answers.shop_tables.index import Key
from api.answers.shop_tables.lookup import Found, find_row, in_words
from api.answers.shop_tables.table import Table
from api.answers.standing_notices import COMPUTED, SHOPS_OWN_TABLE
from api.engineering.checks import Fault, Finding, NoAnswer
from api.engineering.interpolation import between
from api.engineering.provenance import Known, NotKnown, Source, TableVersion, weakest_status
from api.engineering.torque_window import End, TorqueWindow, widened
from api.shop_tables.reader import TableRow, read_table_key
from schemas.core.faults import InvalidInput

TABULATED_NOTICES = (COMPUTED, SHOPS_OWN_TABLE)
"""What holds for every torque from a table of the shop."""


@dataclass(frozen=True)
class Tabulated:
    """The torque that a table has for a joint."""

    table: Table
    key: Key
    found: Found
    window: TorqueWindow


def tabulated_window(values: Mapping[str, Any], shop: Shop) -> TorqueWindow:
    """The torque window of a joint from a table of the shop."""
    return tabulated(values, shop).window


def tabulated_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/torque/tabulated``."""
    computed = tabulated(values, shop)
    table, found, window = computed.table, computed.found, shop.confirmed(computed.window)
    limit = _side(table, found, "torsional_yield", window.target)
    result = {
        "torque": window,
        "torsional_yield": limit.torque,
        "table": table.id,
        "table_key": key_shown(table, computed.key),
        "interpolated_in": found.column and found.column.name,
        "rows": [row_shown(table, row) for row in found.rows],
    }
    return Answer(
        result=result,
        sources=window.sources,
        status=window.target.status,
        findings=window.findings,
        table=window.table,
    )


def tabulated(values: Mapping[str, Any], shop: Shop) -> Tabulated:
    """Finds the row or rows of a joint.

    Raises:
        NoAnswer: ``unknown_table``, ``table_not_served``, the faults of the key, those of
            `api.answers.shop_tables.lookup.find_row`, and ``tolerance_not_needed``.
    """
    table = shop.table(values["table"])
    key = _key(table, values["table_key"])
    found = find_row(table.index, key, values.get("as_of"))
    window = widened(_window(table, found), values.get("torque_tolerance"))
    return Tabulated(table, key, found, window)


def _key(table: Table, given: Mapping[str, Any]) -> Mapping[str, str | float]:
    try:
        return read_table_key(table.content.columns, given)
    except InvalidInput as refusal:
        raise NoAnswer(
            [
                Fault(each.code, each.detail, ".".join(map(str, each.path)), accepted=each.accepted)
                for each in refusal.faults
            ]
        ) from None


def _window(table: Table, found: Found) -> TorqueWindow:
    rows = found.rows
    sources = tuple(
        Source(f"row {row.number} of the shop's table {table.id}", row.status, row.source) for row in rows
    )
    torque = between(rows[0].target, rows[-1].target, found.share)
    target = End(Known(torque, _in_words(found, table)), _status(sources))
    return TorqueWindow(
        _side(table, found, "minimum", target),
        target,
        _side(table, found, "maximum", target),
        sources,
        torsional_yield=_value(found, "torsional_yield"),
        findings=tuple(_findings(table, found)),
        table=TableVersion(table.id, " and ".join(dict.fromkeys(row.revision for row in rows)), table.hash),
    )


def _status(sources: Sequence[Source]) -> str:
    """How sure a torque of these rows is; what is half the shop's own word was read nowhere."""
    weakest = weakest_status(sources)
    stated = any(source.status == "stated" for source in sources)
    return "stated" if stated and weakest == "read" else weakest


def _in_words(found: Found, table: Table) -> str:
    if found.column is None:
        return f"row {found.rows[0].number} of the shop's table {table.id}"
    low, high = (row.number for row in found.rows)
    return (
        f"straight line in {found.column.name} between rows {low} and {high} of the shop's table {table.id}"
    )


def _value(found: Found, name: str) -> float | None:
    """A value of the row, or between the rows; None unless every row has it."""
    low, high = getattr(found.rows[0], name), getattr(found.rows[-1], name)
    return None if low is None or high is None else between(low, high, found.share)


def _side(table: Table, found: Found, name: str, end: End) -> End:
    """An end of the window as sure as its target, or why there is none."""
    value = _value(found, name)
    if value is None:
        missing = [str(row.number) for row in found.rows if getattr(row, name) is None]
        what = name.replace("_", " ")
        return End(NotKnown(f"row {' and '.join(missing)} of the shop's table {table.id} gives no {what}"))
    return End(Known(value, end.torque.basis), end.status)


def _findings(table: Table, found: Found) -> Iterator[Finding]:
    if found.column is not None:
        low, high = (in_words(found.column, row.key[found.column.name]) for row in found.rows)
        yield Finding(
            level="look",
            code="between_table_rows",
            text=f"No row is for exactly this joint. The torque is on a straight line in {found.column.name} "
            f"from {low} to {high}.",
            step="identify",
            remedy="Measure the joint again. Ask its maker where you doubt it.",
        )
    for row in found.rows:
        if finding := table.finding(row.number):
            yield finding
    for name in ("minimum", "maximum", "torsional_yield"):
        having = [row.number for row in found.rows if getattr(row, name) is not None]
        if len(having) == 1 < len(found.rows):
            yield Finding(
                level="note",
                code="end_of_one_row",
                text=f"Row {having[0]} gives a {name.replace('_', ' ')} and the other row none. Between them "
                "none is known, and no setting is checked against it.",
                step="make_up",
            )
    for row in found.rows:
        if row.note:
            yield Finding(
                level="note", code="row_note", text=f"Note of row {row.number}: {row.note}", step="identify"
            )


def key_shown(table: Table, key: Key) -> list[dict[str, str]]:
    """A key, column by column, quantities in the units of the table."""
    return [{"column": each.name, "value": in_words(each, key[each.name])} for each in table.content.columns]


def row_shown(table: Table, row: TableRow) -> dict[str, Any]:
    """A row as answers and listings show it."""
    return {
        "row": row.number,
        "key": key_shown(table, row.key),
        **{name: getattr(row, name) for name in ("minimum", "target", "maximum", "torsional_yield")},
        **{name: getattr(row, name) for name in ("source", "status", "revision", "note")},
        "effective_from": row.effective_from and row.effective_from.isoformat(),
        "effective_to": row.effective_to and row.effective_to.isoformat(),
        "contradiction": table.contradictions.get(row.number),
    }
