"""A batch of questions: its lines, what holds for all of them, and how they are summed up."""

from typing import Any

from marshmallow import fields

from schemas.core.faults import fault
from schemas.core.fields import Request, Text
from schemas.core.parts import AsGiven, Count, OneOf, Part, Words
from schemas.finding import ProblemCode

LINE_STATUSES = ("answered", "refused", "stop")


class Lines(fields.Field[list[Any]]):
    """The lines of a batch, each an object; what is wrong with one is its own affair."""

    accepted = "a list of objects"

    def __init__(self, question: str | None = None, **options: Any) -> None:
        """``question`` is what the contract calls an entry."""
        super().__init__(**options)
        self.question = question

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[Any]:
        if not isinstance(value, list) or not value:
            raise fault("not_a_list", "not a list with at least one line", self.accepted)
        return value


class Defaults(fields.Field[dict[str, Any]]):
    """Fields that hold for every line which does not give them."""

    accepted = "an object with fields of the question"

    def __init__(self, question: str | None = None, **options: Any) -> None:
        """``question`` is what the contract calls the object."""
        super().__init__(**options)
        self.question = question

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


LINES = "Questions; members that are no fields are carried along."
RESULT = "The answer to the line, as to a single question; absent where it is refused."
DEFAULTS = "Fields that hold for every line which does not give them."


class BatchRequest(BatchOptions):
    """Many questions at once."""

    lines = Lines(required=True, metadata={"description": LINES})
    defaults = Defaults(metadata={"description": DEFAULTS})


class BatchLinePart(Part):
    """One line: its result or its problem, and what it carries along."""

    may_lack = frozenset({"result", "problem"})

    line_number = Count(metadata={"description": "Counted from 1, without the header."})
    line_status = OneOf(
        LINE_STATUSES, metadata={"description": "stop: answered, but settle what it says first."}
    )
    problem_code = ProblemCode(
        allow_none=True, metadata={"description": "Stable code of a refusal; null where there is none."}
    )
    carried = fields.Dict(metadata={"description": "Members that are no fields; text is untouched."})
    result = fields.Dict(metadata={"description": RESULT})
    problem = AsGiven("Problem", metadata={"description": "Why the line is refused; absent where it is not."})


class BatchCountsPart(Part):
    """How many lines were answered and refused, and why."""

    lines = Count(metadata={"description": "How many lines."})
    answered = Count(metadata={"description": "Lines with a result."})
    stop = Count(metadata={"description": "Answered lines with a stop among their findings."})
    refused = Count(metadata={"description": "Lines with a problem."})
    problem_codes = fields.Dict(
        values=Count(metadata={"description": "Refused lines with this code."}),
        metadata={"description": "How often each code of a refusal, the most frequent first."},
    )


class BatchGroupPart(BatchCountsPart):
    """The same of the lines with one value of ``group_by``."""

    value = Words(metadata={"description": "The value, as text."})


class BatchSummaryPart(BatchCountsPart):
    """How many lines were answered and refused, and why; in all, and by group."""

    may_lack = frozenset({"groups"})

    groups = fields.List(
        fields.Nested(BatchGroupPart),
        metadata={"description": "The same for each value of group_by; absent without it."},
    )


class BatchAnswer(Part):
    """A batch: every line in order, and its summary."""

    lines = fields.List(
        fields.Nested(BatchLinePart), metadata={"description": "A line for each that was sent, in order."}
    )
    summary = fields.Nested(BatchSummaryPart)
