"""What a listing is: what it lists, by which filters, and how one entry is found."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema

from api.answers.shop import Shop
from api.registry.tags import LOOK_UP, Tag
from schemas.core.quantity_fields import units_of, written_in
from schemas.listings import NoFilters

Filters = Mapping[str, Any]
NO_FILTERS = NoFilters()


@dataclass(frozen=True)
class Listing:
    """A listing below ``/v1/`` and, where entries have a path of their own, how to find one.

    ``beside`` says what else to ask; it is empty where there is nothing.
    """

    name: str
    title: str
    filters: Schema
    item: Schema
    items: Callable[[Filters, Shop, str], list[Any]]
    entry_filters: Schema = NO_FILTERS
    entry: Callable[[str, Filters, Shop, str], Any] | None = None
    example_entry: str | None = None
    entry_item: Schema | None = None
    tag: Tag = LOOK_UP
    near: Callable[[str, Shop], list[str]] = lambda name, shop: []
    beside: str = ""


def written(schema: Schema, objects: Any, filters: Filters, system: str, many: bool = True) -> Any:
    """Objects as a listing shows them, in the units that its filters ask for."""
    with written_in(units_of(filters, system)):
        return schema.dump(objects, many=many)
