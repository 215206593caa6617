"""A shop with tables of its own, for tests; everything in them is invented."""

from collections.abc import Mapping
from typing import Any

from api.answers.shop import Shop
from api.answers.shop_tables.table import Table, TableFolder, table_from


def table_of(text: str, table_id: str = "own") -> Table:
    """A table of CSV text."""
    return table_from(table_id, text.encode())


def shop_of(text: str, **policy: Any) -> Shop:
    """A shop with one table, called ``own``."""
    return Shop(table_folder=TableFolder({"own": table_of(text)}, {}), **policy)


def in_names(request: Mapping[str, Any]) -> dict[str, Any]:
    """A request as a query or a row has it: every member of a table's key under a name of its own."""
    rest = {name: value for name, value in request.items() if name != "table_key"}
    return rest | {f"table_key.{name}": value for name, value in request.get("table_key", {}).items()}
