"""What a check of a file is: declared once, it tells every fault of a file before it is put into service."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema

from api.registry.tags import Tag
from schemas.core.quantity import numbers_read
from schemas.core.quantity_fields import OutputUnits, written_in

ANYTHING: Mapping[str, Any] = {"description": "Anything else, which is answered with its faults."}


@dataclass(frozen=True, kw_only=True)
class FileCheck:
    """A check of a file of the shop; a file with faults is an answer, not a failure.

    Attributes:
        name: its path below ``/v1/``.
        tag: the subject of the document that it belongs to.
        title: what is checked.
        description: what a reader of the API must know.
        operation: its name in the OpenAPI document.
        media_type: of the body: ``application/json`` is read strictly, anything else is taken as bytes.
        body: OpenAPI schema of the body.
        query: what its query may say.
        check: the body, and the system of units of sentences, to the result.
        response: schema of the result.
        example: a body.
    """

    name: str
    tag: Tag
    title: str
    description: str
    operation: str
    media_type: str
    body: Mapping[str, Any]
    query: Schema
    check: Callable[[Any, str], Mapping[str, Any]]
    response: Schema
    example: Any

    def answer(self, body: Any, system: str) -> dict[str, Any]:
        """The whole answer, ready to be written."""
        # a file is read strictly at start, whatever the shop lets a request write
        with written_in(OutputUnits(system)), numbers_read("strict"):
            checked: dict[str, Any] = self.response.dump(self.check(body, system))
        return checked
