"""Whether a table of a shop can be served, with every fault, before it is put into its folder."""

from typing import Any

from api.answers.shop_tables.table import Table, table_from
from api.shop_tables.reader import FaultyTable, KeyColumn
from schemas.shop_tables.listings import TableCheckAnswer

ANSWER = TableCheckAnswer()
EXAMPLE = """\
model,box_outside_diameter [in],target [ft-lb],source,revision
twin shoulder A,4 3/4,14500,invented sheet,1
"""
"""An invented table."""


def check_table(data: bytes) -> dict[str, Any]:
    """The answer of ``/v1/table-check``."""
    checked: dict[str, Any] = ANSWER.dump(_checked(data))
    return checked


def _checked(data: bytes) -> dict[str, Any]:
    try:
        table = table_from("checked", data)
    except FaultyTable as faulty:
        nothing: dict[str, Any] = dict.fromkeys(("hash", "rows", "rows_compared")) | {
            "cautions": [],
            "columns": [],
        }
        return {"valid": False, "faults": faulty.faults, "fault_count": faulty.count, **nothing}
    return {
        "valid": True,
        "faults": [],
        "fault_count": 0,
        "cautions": [table.contradictions[number] for number in sorted(table.contradictions)],
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
