"""A batch of questions: its lines, what holds for all of them, and how they are summed up."""

from typing import Any

from marshmallow import fields

from schemas.core.faults import fault
from schemas.core.fields import Number, Request, Text
from schemas.core.parts import Part, Words


class Lines(fields.Field[list[Any]]):
    """The lines of a batch, each an object; what is wrong with one is its own affair."""

    accepted = "a list of objects"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[Any]:
        if not isinstance(value, list) or not value:
            raise fault("not_a_list", "not a list with at least one line", self.accepted)
        return value


class Defaults(fields.Field[dict[str, Any]]):
    """Fields that hold for every line which does not give them."""

    accepted = "an object with fields of the question"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> dict[str, Any]:
        if not isinstance(value, dict):
            raise fault("not_an_object", "not an object", self.accepted)
        return value


class BatchOptions(Request):
    """What is done with columns that are no fields."""

    group_by = Text(
        100, metadata={"description": "Name of a field or column; the summary is also given by its values."}
    )
    carry = fields.List(
        Text(100),
        metadata={"description": "Names that are carried along even if they are nearly those of fields."},
    )


class BatchRequest(BatchOptions):
    """Many questions at once."""

    lines = Lines(
        required=True, metadata={"description": "Questions; members that are no fields are carried along."}
    )
    defaults = Defaults(metadata={"description": "Fields that hold for every line which does not give them."})


class BatchLinePart(Part):
    """One line: its result or its problem, and what it carries along."""

    line_number = Number(metadata={"description": "Counted from 1, without the header."})
    line_status = Words(
        metadata={"description": "answered, refused, or stop: answered, but settle its stop first."}
    )
    problem_code = Words(allow_none=True, metadata={"description": "Stable code of a refusal."})
    carried = fields.Dict(metadata={"description": "Members that are no fields; text is untouched."})
    result = fields.Dict(metadata={"description": "The answer to the line, as to a single question."})
    problem = fields.Dict(metadata={"description": "The problem of the line, as of a single question."})


class BatchSummaryPart(Part):
    """How many lines were answered and refused, and why."""

    lines = Number()
    answered = Number()
    stop = Number(metadata={"description": "Answered lines with a stop among their findings."})
    refused = Number()
    problem_codes = fields.Dict(metadata={"description": "How often each code."})
    groups = fields.List(fields.Dict(), metadata={"description": "The same for each value of group_by."})


class BatchAnswer(Part):
    """A batch: every line, in order, and their summary."""

    lines = fields.List(fields.Nested(BatchLinePart))
    summary = fields.Nested(BatchSummaryPart)
