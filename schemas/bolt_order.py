"""How many bolts a flange has."""

from typing import Any

from schemas.faults import fault
from schemas.fields import Number

FEWEST, MOST = 4, 128
"""Bolts of a flange; fewer or more are taken for a slip (own judgement)."""


class BoltCount(Number):
    """A number of bolts, a whole one."""

    def __init__(self, **options: Any) -> None:
        super().__init__(FEWEST, MOST, **options)
        self.accepted = f"a whole number from {FEWEST} to {MOST}"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        number = super()._deserialize(value, attr, data, **kwargs)
        if not number.is_integer():
            raise fault("not_a_number", "not a whole number", self.accepted)
        return int(number)
