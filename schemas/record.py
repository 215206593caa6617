"""What every answer carries besides its result."""

from typing import Any

from marshmallow import fields

from schemas.core.parts import DETAILS, Entry, OneOf, Part, Reasons, Words, amount
from schemas.core.quantity_fields import PRESENTATION, SYSTEMS, AmountField, output_units
from schemas.finding import FindingPart
from schemas.provenance import MEANING, SourceText, Status


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

    what = Words(metadata={"description": "What rests on it."})
    status = Status()
    source = SourceText()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['what']} ({entry['status']}): {entry['source']}"


class AssumptionPart(Part):
    """A value that was not given."""

    field = Words(metadata={"description": "Field of the request, or rule of the policy, that it is of."})
    value = Words(metadata={"description": "What was taken."})
    reason = Words(metadata={"description": "Why it was taken."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['field']} {entry['value']} ({entry['reason']})"


class StepPart(Part):
    """One step of the working."""

    symbol = Words(metadata={"description": "Its symbol, as the equations have it."})
    name = Words(metadata={"description": "What it is, in words."})
    equation = Words(metadata={"description": "How it follows from those before it."})
    value = AmountField(metadata={"description": "Its value here."})
    source = SourceText()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['symbol']} = {amount(entry['value'])}, {entry['equation']}"


class VersionPart(Part):
    """What computed the answer, enough to compute it again."""

    program = Words(metadata={"description": "Version of the program."})
    program_hash = Words(
        metadata={"description": "Hash of its files: it changes between two releases, the version does not."}
    )
    data = Words(metadata={"description": "Hash of all published tables."})
    policy_revision = Words(allow_none=True, metadata={"description": "The shop's policy; null without."})
    policy_hash = Words(allow_none=True, metadata={"description": "Hash of that policy."})
    profile_id = Words(
        allow_none=True, metadata={"description": "The machine profile that entered; null without one."}
    )
    profile_revision = Words(allow_none=True, metadata={"description": "Revision of that profile."})
    profile_hash = Words(allow_none=True, metadata={"description": "Hash of that profile."})
    table_id = Words(allow_none=True, metadata={"description": "The shop's table that gave the torque."})
    table_revision = Words(allow_none=True, metadata={"description": "Revision of the row of that table."})
    table_hash = Words(allow_none=True, metadata={"description": "Hash of the file of that table."})


def _unit(kind: str) -> Words:
    return Words(metadata={"description": f"Unit that was asked for every {kind}; else absent."})


class AskedPart(Part):
    """Where was asked, for how much of an answer and in which form: with inputs, enough to ask it again."""

    may_lack = frozenset({"detail", "answers", *PRESENTATION.fields})

    path = Words(metadata={"description": "Path of the question; of a line of a batch that of one question."})
    detail = OneOf(DETAILS, metadata={"description": "How much was asked for; absent with answers."})
    answers = Words(metadata={"description": "The members that were asked for, by comma; else absent."})
    units = OneOf(SYSTEMS, metadata={"description": "System of units of the answer; absent from a refusal."})
    torque_unit = _unit("torque")
    pressure_unit = _unit("pressure")
    length_unit = _unit("length")
    force_unit = _unit("force")
    stress_unit = _unit("stress")
    area_unit = _unit("area")
    angle_unit = _unit("angle")
    steps = fields.Boolean(metadata={"description": "true where the working was asked for; else absent."})
    self_contained = fields.Boolean(
        metadata={"description": "true where inputs hold profiles and rows too; else absent."}
    )


class Record(Part):
    """What every answer carries besides its result."""

    only_full = frozenset({"sources", "inputs", "version"})
    may_lack = frozenset({"steps", "seal"})

    status = Status(
        metadata={"description": f"How sure the weakest figure behind the main value is. {MEANING}; stated."}
    )
    reasons = ReasonsField()
    assumptions = fields.List(
        fields.Nested(AssumptionPart),
        metadata={"description": "Values that entered without having been given, and rules of the policy."},
    )
    sources = fields.List(
        fields.Nested(SourcePart), metadata={"description": "Everything that the answer rests on."}
    )
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "From stop over look to note."}
    )
    steps = fields.List(fields.Nested(StepPart), metadata={"description": "The working, with steps=true."})
    inputs = fields.Dict(
        metadata={
            "description": "The request as it was understood, as given; with self_contained=true, in an "
            "answer of any detail, also the profiles and rows that it names."
        }
    )
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
    fingerprint = Words(
        metadata={
            "description": "SHA-256 in hex over the canonical JSON (RFC 8785) of the answer without "
            "fingerprint and seal. /v1/receipt-check judges a stored answer by it."
        }
    )
    seal = Words(
        metadata={
            "description": "HMAC-SHA-256 in hex of the fingerprint, by the key of the shop; absent where the "
            "service has none. Nobody without that key can make it."
        }
    )
