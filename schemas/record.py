"""What every answer carries besides its result."""

from typing import Any

from marshmallow import fields

from schemas.core.parts import Entry, Part, Reasons, Words, amount
from schemas.core.quantity_fields import AmountField, output_units
from schemas.finding import FindingPart


class ReasonsField(fields.Dict):
    """Why members are null, by their dotted names."""

    def __init__(self) -> None:
        text = "For every value that is not known, by its dotted name, why; such a value is null."
        super().__init__(values=fields.String(), metadata={"description": text})


class Reasoned(Part):
    """An entry of a list with members that may not be known: it has its own ``reasons``."""

    aside = frozenset({"reasons"})

    reasons = ReasonsField()

    def dump(self, obj: Any, *, many: bool | None = None) -> Any:
        """The entry with its reasons."""
        if many:
            return super().dump(obj, many=True)
        reasons: Reasons = {}
        written = self.written(obj, reasons, "")
        return {**written, "reasons": output_units.get().reasons(reasons)}


class SourcePart(Part):
    """One thing an answer rests on."""

    what = Words()
    status = Words(metadata={"description": "read, reprint, fitted, from memory or stated."})
    source = Words()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['what']} ({entry['status']}): {entry['source']}"


class AssumptionPart(Part):
    """A value that was not given."""

    field = Words()
    value = Words()
    reason = Words()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['field']} {entry['value']} ({entry['reason']})"


class StepPart(Part):
    """One step of the working."""

    symbol = Words()
    name = Words()
    equation = Words()
    value = AmountField()
    source = Words()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['symbol']} = {amount(entry['value'])}, {entry['equation']}"


class VersionPart(Part):
    """What computed the answer, enough to compute it again."""

    program = Words()
    data = Words(metadata={"description": "Hash of all published tables."})
    policy_revision = Words(allow_none=True, metadata={"description": "The shop's policy; null without."})
    policy_hash = Words(allow_none=True)
    profile_id = Words(allow_none=True)
    profile_revision = Words(allow_none=True)
    profile_hash = Words(allow_none=True)
    table_id = Words(allow_none=True, metadata={"description": "The shop's table that gave the torque."})
    table_revision = Words(allow_none=True)
    table_hash = Words(allow_none=True)


class AskedPart(Part):
    """Where was asked, and for how much of an answer: the detail, or the members by name."""

    may_lack = frozenset({"detail", "answers"})

    path = Words(metadata={"description": "Path of the question; of a line of a batch that of one question."})
    detail = Words(metadata={"description": "short or full."})
    answers = Words(metadata={"description": "The members that were asked for, by comma."})


class Record(Part):
    """What every answer carries besides its result."""

    only_full = frozenset({"sources", "inputs", "version"})
    may_lack = frozenset({"steps"})

    status = Words(metadata={"description": "How sure the weakest figure behind the main value is."})
    reasons = ReasonsField()
    assumptions = fields.List(fields.Nested(AssumptionPart))
    sources = fields.List(fields.Nested(SourcePart))
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "From stop over look to note."}
    )
    steps = fields.List(fields.Nested(StepPart), metadata={"description": "The working, with steps=true."})
    inputs = fields.Dict(metadata={"description": "The request as it was understood, as given."})
    version = fields.Nested(VersionPart)
    service_edition = Words(
        metadata={
            "description": "Hash over program, data, policy, machines and tables of this service: see "
            "/v1/edition."
        }
    )
    asked = fields.Nested(AskedPart)
    question = Words(
        metadata={
            "description": "Hash of the question as it was understood: quantities in SI to 12 significant "
            "digits, names as the tables have them, fields left out as what they then mean. Units and form "
            "of the answer are no part of it, a machine or table of the shop only by its id."
        }
    )
