"""The service with a bug of its own: a conversion of 13 of anything fails, as no input may make it fail."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from flask import Flask

from api.answers.answer import Answer
from api.answers.conversion import conversion_answer
from api.answers.shop import Shop
from api.app import create_app as whole
from api.http import routes
from api.registry.units import UNIT_CALCULATIONS


def _compute(values: Mapping[str, Any], shop: Shop) -> Answer:
    if values["quantity"].value == 13:
        raise ZeroDivisionError("the bug")
    return conversion_answer(values, shop)


(_CONVERSION,) = UNIT_CALCULATIONS
BREAKING = replace(_CONVERSION, compute=_compute)


def create_app() -> Flask:
    """As ``api.app.create_app``, for a process of its own."""
    routes.CALCULATIONS["conversion"] = lambda: [BREAKING]
    return whole()
