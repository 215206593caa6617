"""Conversion of a quantity."""

from typing import Any

from marshmallow import fields

from schemas.core.faults import fault
from schemas.core.fields import Request, ten_digits
from schemas.core.parts import Part, Words
from schemas.core.quantity import NotAQuantity, given_quantity
from schemas.core.quantity import Quantity as ReadQuantity
from schemas.core.quantity_fields import UnitName


class AnyQuantity(fields.Field[ReadQuantity]):
    """A quantity of any kind."""

    accepted = 'a number and a unit, such as "20000 ft-lb"; all units are listed at /v1/units'

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> ReadQuantity:
        try:
            return given_quantity(value, None)
        except NotAQuantity as error:
            raise fault(error.code, str(error), self.accepted) from None


class ConvertedQuantity(fields.Field[Any]):
    """A value in the unit asked for, which no system of units overrides."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return {"value": ten_digits(value[0]), "unit": value[1]}


class ConversionRequest(Request):
    """What to convert, and into what."""

    quantity = AnyQuantity(
        required=True, metadata={"description": "Value and unit.", "example": "20000 ft-lb"}
    )
    to = UnitName(required=True, metadata={"description": "Unit wanted.", "example": "kN.m"})


class ConversionAnswer(Part):
    """The same quantity in the other unit."""

    result = ConvertedQuantity()
    kind = Words(metadata={"description": "Kind of quantity."})
