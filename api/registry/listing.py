"""What a listing is: what it lists, by which filters, and how one entry is found."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema

from api.answers.shop import Shop
from schemas.core.quantity_fields import OutputUnits, output_units
from schemas.listings import NoFilters

Filters = Mapping[str, Any]
NO_FILTERS = NoFilters()


@dataclass(frozen=True)
class Listing:
    """A listing below ``/v1/`` and, where entries have a path of their own, how to find one."""

    name: str
    title: str
    filters: Schema
    item: Schema
    items: Callable[[Filters, Shop, str], list[Any]]
    entry_filters: Schema = NO_FILTERS
    entry: Callable[[str, Filters, Shop, str], Any] | None = None
    example_entry: str | None = None
    entry_item: Schema | None = None
    near: Callable[[str, Shop], list[str]] = lambda name, shop: []


def written(schema: Schema, objects: Any, filters: Filters, system: str, many: bool = True) -> Any:
    """Objects as a listing shows them, in the units that its filters ask for."""
    ending = "_unit"
    chosen = {name.removesuffix(ending): unit for name, unit in filters.items() if name.endswith(ending)}
    token = output_units.set(OutputUnits(filters.get("units", system), chosen))
    try:
        return schema.dump(objects, many=many)
    finally:
        output_units.reset(token)
