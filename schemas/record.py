"""What every answer carries besides its result."""

from marshmallow import fields

from schemas.core.fields import Entry, Part, Words, amount
from schemas.core.quantity_fields import AmountField


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
    profile_id = Words(allow_none=True)
    profile_revision = Words(allow_none=True)
    profile_hash = Words(allow_none=True)
    table_id = Words(allow_none=True, metadata={"description": "The shop's table that gave the torque."})
    table_revision = Words(allow_none=True)
    table_hash = Words(allow_none=True)


class Record(Part):
    """What every answer carries besides its result."""

    status = Words(metadata={"description": "How sure the weakest figure behind the main value is."})
    assumptions = fields.List(fields.Nested(AssumptionPart))
    sources = fields.List(fields.Nested(SourcePart))
    cautions = fields.List(fields.String())
    steps = fields.List(fields.Nested(StepPart), metadata={"description": "With steps=true."})
    inputs = fields.Dict(metadata={"description": "The request as it was understood, as given."})
    version = fields.Nested(VersionPart)
