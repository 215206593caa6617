"""A receipt: a stored answer as it is sent to be checked, and what is found."""

from typing import Any

from marshmallow import fields

from schemas.core.faults import fault
from schemas.core.fields import Choice, Day, Flag, Members, Request, Slug, Text, WholeNumber
from schemas.core.parts import Count, Entry, OneOf, Part, Words
from schemas.core.quantity_fields import SYSTEMS, Portion, Presentation, Quantity, UnitName

STATES = ("unchanged", "other_figures", "altered", "cannot_tell")
PARTS = ("program", "data", "policy", "profile", "table")
"""What decides an answer, and may change."""
SEALS = ("right", "wrong", "none", "cannot_judge")
NEEDED = ("inputs", "machine", "table", "service_edition", "answer")
LONGEST_MARK = 200
"""Characters of a fingerprint or a seal that are read; a right one has 64."""


class AnyObject(fields.Field[dict[str, Any]]):
    """An object that something else judges."""

    accepted = "a JSON object"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> dict[str, Any]:
        if not isinstance(value, dict):
            raise fault("not_an_object", "a JSON object is expected", self.accepted)
        return value


class AskedAgain(Portion, Presentation):
    """The member ``asked`` of an answer, from which it is asked again."""

    path = Text(200, required=True, metadata={"description": "Path of the question."})
    units = Choice(tuple(SYSTEMS), required=True, metadata={"description": "System of units of the answer."})


class ReceiptRow(Request):
    """The marks of an answer as its row in a table has them, what was asked, and in which form."""

    fingerprint = Text(
        LONGEST_MARK, required=True, metadata={"description": "Column fingerprint of the row."}
    )
    seal = Text(LONGEST_MARK, metadata={"description": "Column seal of the row, if there is one."})
    service_edition = Text(
        LONGEST_MARK,
        metadata={
            "description": "Column service_edition of the row. Without it the row of another edition cannot "
            "be judged."
        },
    )
    question = Text(
        LONGEST_MARK, metadata={"description": "Column question of the row; it shows whether inputs are its."}
    )
    asked = AnyObject(
        required=True, metadata={"description": "path, detail or answers, and units: as answers have it."}
    )
    inputs = AnyObject(required=True, metadata={"description": "The fields of the question."})


class AnswerWithInputs(Request):
    """A stored answer that does not hold its inputs, such as a short one, and these."""

    answer = AnyObject(required=True, metadata={"description": "The stored answer, member for member."})
    inputs = AnyObject(required=True, metadata={"description": "The fields of the question."})


class HeldColumn(Request):
    """A key column of a table."""

    column = Text(100, required=True)
    unit = UnitName()
    kind = Choice(tuple(SYSTEMS["si"]))
    linear = Flag(required=True)


class HeldRow(Request):
    """A row of a table."""

    row = WholeNumber(2, 10_000_000, required=True)
    key = Members(required=True)
    minimum = Quantity("torque")
    target = Quantity("torque", required=True)
    maximum = Quantity("torque")
    torsional_yield = Quantity("torque")
    source = Text(1000, required=True)
    revision = Text(1000, required=True)
    status = Text(20, required=True)
    effective_from = Day()
    effective_to = Day()
    note = Text(1000)


class HeldTable(Request):
    """The rows of a table that entered an answer."""

    id = Slug(required=True)
    hash = Text(100, required=True)
    columns = fields.List(fields.Nested(HeldColumn), required=True)
    rows = fields.List(fields.Nested(HeldRow), required=True)


class Held(Request):
    """What a self-contained answer holds besides its request."""

    machines = fields.List(AnyObject(), required=True)
    tables = fields.List(fields.Nested(HeldTable), required=True)


class DifferencePart(Part):
    """A member that this service gives otherwise than it is stored."""

    may_lack = frozenset({"stored", "now"})

    pointer = Words(metadata={"description": "Its place in the answer, a JSON Pointer; empty for the whole."})
    stored = fields.Raw(metadata={"description": "What is stored; absent where it is not there."})
    now = fields.Raw(metadata={"description": "What this service gives; absent where it gives none."})
    reason = fields.List(
        OneOf(PARTS),
        metadata={
            "description": "What changed and may have caused it; one word where that alone changed, none "
            "where nothing did."
        },
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['pointer']}: {entry.get('stored')} stored, {entry.get('now')} now"


class NeedPart(Part):
    """Something without which an answer cannot be computed again here."""

    may_lack = frozenset({"id", "revision", "hash"})

    needed = OneOf(NEEDED, metadata={"description": "What it is."})
    id = Words(metadata={"description": "Id of the machine or table; else absent."})
    revision = Words(metadata={"description": "Its revision then, where the answer tells it; else absent."})
    hash = Words(metadata={"description": "Its hash then, where the answer tells it; else absent."})
    text = Words(metadata={"description": "What to do."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return str(entry["text"])


class ReceiptCheckAnswer(Part):
    """Whether a stored answer is as it was given, and whether this service still gives its figures."""

    state = OneOf(
        STATES,
        metadata={
            "description": "unchanged: as it was given, and the figures are the same today. other_figures: "
            "as it was given, and this service gives other values today. altered: not as it was given. "
            "cannot_tell: something is needed."
        },
    )
    text = Words(metadata={"description": "The state and its cause, as a sentence."})
    fingerprint_fits = fields.Boolean(
        allow_none=True,
        metadata={
            "description": "Whether the fingerprint is that of the stored answer; null where it cannot be "
            "told, as of a row that cannot be computed again."
        },
    )
    seal_state = OneOf(
        SEALS,
        metadata={
            "description": "Whether the seal is by the key of this shop; none: there is no seal. "
            "cannot_judge: there is one, and this service has no key."
        },
    )
    differences = fields.List(
        fields.Nested(DifferencePart),
        metadata={
            "description": "Every value that this service gives otherwise, compared exactly. service_edition "
            "and version are compared in changed."
        },
    )
    differences_left_out = Count(metadata={"description": "How many more there are."})
    changed = fields.List(
        OneOf(PARTS),
        metadata={
            "description": "What changed since, whether or not that made a difference. Of an answer without "
            "version that is from another edition: all that may have changed."
        },
    )
    needs = fields.List(
        fields.Nested(NeedPart), metadata={"description": "What is needed; empty unless it cannot be told."}
    )
    service_edition = Words(metadata={"description": "Edition of this service, which computed it again."})
