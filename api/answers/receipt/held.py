"""What a self-contained answer holds besides its request, and the shop that this makes.

Quantities are held in SI, with their unit, so that the very floats come back.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.machines.profile import Profile, ProfileFolder, profile_from
from api.answers.shop import Shop
from api.answers.shop_tables.table import Table, TableFolder, table_of
from api.answers.shop_tables.tabulated import tabulated
from api.engineering.provenance import STATUSES
from api.shop_tables.parts import KeyColumn, ShopTable, TableRow
from schemas.core.faults import InputFault, InvalidInput, load
from schemas.core.quantity import NotAQuantity, given_quantity
from schemas.core.quantity_fields import SYSTEMS
from schemas.machines.profile import load_profile
from schemas.receipt import Held

HELD_SCHEMA = Held()
_ALWAYS = ("target", "source", "revision", "status")
_NOT_ALWAYS = ("minimum", "maximum", "torsional_yield", "effective_from", "effective_to", "note")
TORQUES = ("minimum", "target", "maximum", "torsional_yield")


def held_by(
    values: Mapping[str, Any], answer: Answer, shop: Shop, *, of_every_machine: bool
) -> dict[str, Any]:
    """The profiles and rows that entered an answer and that its request only names.

    Args:
        values: the request, loaded.
        answer: what was computed from it.
        shop: whose machines and tables these are.
        of_every_machine: whether every machine of a site entered.
    """
    site = values.get("site")
    named = values["machine"] if isinstance(values.get("machine"), str) else None
    if of_every_machine:
        machines = [each.given for each in shop.machines.values() if site in (None, each.given.get("site"))]
    else:
        entered = {named, *_named_by(answer, shop)}
        machines = [each.given for each in shop.machines.values() if each.version.id in entered]
    tables = [_table(values, shop)] if answer.table else []
    return {"machines": machines, "tables": tables}


def _named_by(answer: Answer, shop: Shop) -> Iterator[str]:
    """The machines that findings name as surer: without them the remedy would be another one."""
    for finding in answer.findings:
        yield from (name for name in shop.machines if name in (finding.remedy or ""))


def _table(values: Mapping[str, Any], shop: Shop) -> dict[str, Any]:
    found = tabulated(values, shop)
    columns = found.table.content.columns
    return {
        "id": found.table.id,
        "hash": found.table.hash,
        "columns": [dict(_column(each)) for each in columns],
        "rows": [dict(_row(each, columns)) for each in found.found.rows],
    }


def _column(column: KeyColumn) -> Iterator[tuple[str, Any]]:
    yield "column", column.name
    if column.unit is not None:
        yield "unit", column.unit.code
        yield "kind", column.kind
    yield "linear", column.linear


def _row(row: TableRow, columns: tuple[KeyColumn, ...]) -> Iterator[tuple[str, Any]]:
    yield "row", row.number
    yield "key", {each.name: _in_si(row.key[each.name], each.kind) for each in columns}
    for name in TORQUES:
        if (torque := getattr(row, name)) is not None:
            yield name, _in_si(torque, "torque")
    yield from (("source", row.source), ("revision", row.revision), ("status", row.status))
    for name in ("effective_from", "effective_to"):
        if (day := getattr(row, name)) is not None:
            yield name, day.isoformat()
    if row.note is not None:
        yield "note", row.note


def _in_si(value: str | float, kind: str | None) -> Any:
    return value if kind is None else {"value": value, "unit": SYSTEMS["si"][kind]}


def shop_of(held: Any, shop: Shop) -> Shop:
    """The shop with the held machines and tables alone, and its own policy.

    Raises:
        InvalidInput: for what no answer of ours holds.
    """
    given = load(HELD_SCHEMA, held)
    profiles: dict[str, Profile] = {}
    for each in given["machines"]:
        profile = profile_from(each, load_profile(each))
        profiles[profile.version.id] = profile
    tables = {each["id"]: _table_of(each) for each in given["tables"]}
    return Shop(ProfileFolder(profiles, {}), TableFolder(tables, {}), shop.policy)


def _table_of(given: Mapping[str, Any]) -> Table:
    columns = tuple(
        KeyColumn(each["column"], each.get("unit"), each.get("kind"), each["linear"])
        for each in given["columns"]
    )
    if not columns or not given["rows"]:
        raise _no_table("it has no key column or no row")
    rows = tuple(_row_of(each, columns) for each in given["rows"])
    return table_of(given["id"], given["hash"], ShopTable(columns, rows))


def _row_of(given: Mapping[str, Any], columns: tuple[KeyColumn, ...]) -> TableRow:
    if given["status"] not in (*STATUSES, "stated"):
        raise _no_table("the status of a row is none")
    if set(given["key"]) != {each.name for each in columns}:
        raise _no_table("a row has not the key of its columns")
    key = {each.name: _key(given["key"][each.name], each) for each in columns}
    told: dict[str, Any] = {name: given.get(name) for name in _NOT_ALWAYS}
    return TableRow(**told, **{name: given[name] for name in _ALWAYS}, number=given["row"], key=key)


def _key(value: Any, column: KeyColumn) -> str | float:
    if (column.unit is None) is not (column.kind is None):
        raise _no_table("a column has a unit without its kind, or a kind without a unit")
    if column.kind is None:
        if isinstance(value, str) and not column.linear:
            return value
        raise _no_table("a key of text is none, or is on a straight line")
    try:
        return given_quantity(value, column.kind).si
    except NotAQuantity as error:
        raise _no_table(str(error)) from None


def _no_table(detail: str) -> InvalidInput:
    return InvalidInput([InputFault(("self_contained", "tables"), "invalid", detail)])
