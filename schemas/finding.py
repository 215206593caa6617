"""What is told of a question besides its result, as answered: checks, faults and findings, in asked units."""

from typing import Any

from marshmallow import fields

from schemas.core.parts import Entry, Part, Words
from schemas.core.quantity_fields import FEW, AmountField, output_units


class FindingText(fields.Field[str]):
    """What a finding says, its amounts in the asked units: what was found, then what to do."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        return output_units.get().fill(f"{obj.text} {obj.remedy}".rstrip(), obj.named_amounts, FEW)


class RemedyText(fields.Field[str]):
    """What a finding says to do, its amounts in the asked units."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        return output_units.get().fill(value, obj.named_amounts, FEW)


class CheckText(fields.Field[str]):
    """The sentence of a check, its amounts in the asked units."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        return output_units.get().fill(value, {"value": obj.value, "limit": obj.limit})


class FaultText(fields.Field[str]):
    """The sentence of a fault, its amounts in the asked units."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        return output_units.get().fill(value, obj.amounts)


class FindingPart(Part):
    """One thing that makes this job differ from any other."""

    level = Words(
        metadata={
            "description": "stop: do not pull the lever until it is settled; look: this job differs "
            "from the last; note: why a figure is what it is."
        }
    )
    code = Words(metadata={"description": "Stable, for programs."})
    text = FindingText(metadata={"description": "What was found, with its numbers, and what to do."})
    value = AmountField(allow_none=True)
    limit = AmountField(allow_none=True)
    remedy = RemedyText(metadata={"description": "What to do, alone; empty where a note asks for nothing."})
    step = Words(metadata={"description": "The stage of the work at which it matters."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it: the level first."""
        return f"{entry['level']}: {entry['text']}"
