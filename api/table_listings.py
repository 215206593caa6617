"""The listing of the shop's own tables."""

from difflib import get_close_matches
from typing import Any

from api.answers.shop import Shop
from api.answers.shop_tables import Table
from api.answers.tabulated import row_shown
from api.listing import NO_FILTERS, Filters, Listing, written
from api.table_check import columns_shown
from schemas.table_catalogue import TableEntryPart, TablePart, TorqueUnits


def _tables(filters: Filters, shop: Shop, system: str) -> list[Any]:
    tables = [_listed(table) for table in shop.table_folder.tables.values()]
    return list(written(TablePart(), tables, filters, system))


def _listed(table: Table) -> dict[str, Any]:
    rows = table.content.rows
    return {
        "id": table.id,
        "hash": table.hash,
        "columns": columns_shown(table),
        "rows": len(rows),
        "sources": list(dict.fromkeys(row.source for row in rows)),
        "statuses": list(dict.fromkeys(row.status for row in rows)),
        "revisions": list(dict.fromkeys(row.revision for row in rows)),
        "rows_compared": table.rows_compared,
        "contradictions": len(table.contradictions),
    }


def _table(table_id: str, filters: Filters, shop: Shop, system: str) -> Any:
    if table_id not in {**shop.table_folder.tables, **shop.table_folder.refused_ids}:
        return None
    table = shop.table(table_id)
    rows = [row_shown(table, row) for row in table.content.rows]
    entry = {"id": table.id, "hash": table.hash, "columns": columns_shown(table), "rows": rows}
    return written(TableEntryPart(), entry, filters, system, many=False)


TABLES = Listing(
    "tables",
    "The shop's own torque tables",
    NO_FILTERS,
    TablePart(),
    _tables,
    TorqueUnits(),
    _table,
    "double-shoulder",
    TableEntryPart(),
    near=lambda name, shop: get_close_matches(name, shop.table_folder.tables, 3, 0.4),
)
