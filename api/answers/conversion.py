"""A quantity in another unit."""

from collections.abc import Mapping
from math import isfinite
from typing import Any

from api.answers.answer import Answer
from api.engineering.checks import refuse
from api.engineering.provenance import Source
from schemas.core.units import codes_of

UNITS = Source(
    "conversion factor",
    "read",
    "exact definitions: SI, international yard and pound (1959), g_n; NIST SP 811",
)


def conversion_answer(values: Mapping[str, Any], _: object = None) -> Answer:
    """The answer of ``/v1/conversion``.

    Raises:
        NoAnswer: ``wrong_kind`` if the two units measure different kinds of quantity.
    """
    quantity, unit = values["quantity"], values["to"]
    shared = [kind for kind in quantity.unit.kinds if kind in unit.kinds]
    if not shared:
        kind = quantity.unit.kinds[0]
        raise refuse(
            "wrong_kind",
            f"{unit.code} measures {unit.kinds[0]}, the quantity is a {kind}; units of {kind}: "
            + ", ".join(codes_of(kind)),
            "to",
        )
    value = unit.from_si(quantity.si)
    if not isfinite(float(f"{value:.10g}")):  # rounded up, the largest number is none
        raise refuse("not_finite", f"the value is too large to be shown in {unit.code}", "quantity")
    result = {"result": (value, unit.code), "kind": shared[0]}
    return Answer(result=result, sources=(UNITS,), status="read")
