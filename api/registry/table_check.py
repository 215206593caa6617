"""Whether a table of a shop can be served, with every fault, before it is put into its folder."""

from typing import Any

from api.answers.shop_tables.table import Table, table_from
from api.registry.file_check import FileCheck
from api.registry.tags import RUN_THE_SERVICE
from api.shop_tables.reader import FaultyTable, KeyColumn
from schemas.core.quantity_fields import Nothing
from schemas.shop_tables.listings import TableCheckAnswer

EXAMPLE = """\
model,box_outside_diameter [in],target [ft-lb],source,revision
twin shoulder A,4 3/4,14500,invented sheet,1
"""
"""An invented table."""


def check_table(data: bytes, _: str) -> dict[str, Any]:
    """What ``/v1/table-check`` finds: every fault by row and column, and what the table holds."""
    try:
        table = table_from("checked", data)
    except FaultyTable as faulty:
        nothing: dict[str, Any] = dict.fromkeys(("hash", "rows", "rows_compared")) | {
            "findings": [],
            "columns": [],
        }
        return {"valid": False, "faults": faulty.faults, "fault_count": faulty.count, **nothing}
    return {
        "valid": True,
        "faults": [],
        "fault_count": 0,
        "findings": [table.finding(number) for number in sorted(table.contradictions)],
        "hash": table.hash,
        "columns": columns_shown(table),
        "rows": len(table.content.rows),
        "rows_compared": table.rows_compared,
    }


def columns_shown(table: Table) -> list[dict[str, Any]]:
    """The key columns of a table."""
    return [_column(each) for each in table.content.columns]


def _column(column: KeyColumn) -> dict[str, Any]:
    unit = column.unit.code if column.unit else None
    return {"name": column.name, "unit": unit, "linear": column.linear}


TABLE_CHECK = FileCheck(
    name="table-check",
    tag=RUN_THE_SERVICE,
    title="Check a table of the shop",
    description="Tells every fault of a table by row and column, before it is put into its folder.",
    operation="checkTable",
    media_type="text/csv",
    body={"type": "string", "minLength": 1},
    query=Nothing(),
    check=check_table,
    response=TableCheckAnswer(),
    example=EXAMPLE,
)
