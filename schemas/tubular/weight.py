"""The nominal weight of casing and tubing: a quantity or, since pipe is called by it, a bare label."""

import re
from typing import Any

from schemas.core.quantity_fields import Quantity

_LABEL = re.compile(r"\s*[0-9]{1,9}(\.[0-9]{0,9})?\s*#?\s*")
"""``26``, ``26#``, ``9.3 #``: never a fraction, a sign or an exponent."""


class PipeWeight(float):
    """A nominal weight, kg/m, that came as a label without a unit."""

    pounds_per_foot: float


class WeightLabel(Quantity):
    """A weight per length; a bare number, or one with ``#`` behind it, is in pounds per foot."""

    def __init__(self, **options: Any) -> None:
        super().__init__("linear_mass", **options)
        self.accepted += "; or the label alone, as in 26 or 26#, which is lb/ft"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        label = _label(value)
        if label is None:
            return super()._deserialize(value, attr, data, **kwargs)
        read = self.read({"value": label, "unit": "lb/ft"})
        weight = PipeWeight(read.si)
        weight.pounds_per_foot = read.value
        return weight


def _label(value: Any) -> float | None:
    """The number of a label; None for anything else."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and _LABEL.fullmatch(value):
        return float(value.strip().removesuffix("#"))
    return None
