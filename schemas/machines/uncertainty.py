"""The uncertainty of a torque, term by term, as answered."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import Entry, OneOf, Part, Words, amount
from schemas.core.quantity_fields import AmountField, Quantity

DISTRIBUTIONS = ("rectangular", "triangular", "normal")


class UncertaintyTermPart(Part):
    """One line of an uncertainty budget."""

    name = Words(metadata={"description": "What is in doubt, such as gauge, reading or bore."})
    half_width = AmountField(
        metadata={"description": "How far it may be off, + or -; a share has the unit 1."}
    )
    distribution = OneOf(
        DISTRIBUTIONS,
        metadata={
            "description": "How likely each value between is; with normal, the half-width is an expanded "
            "uncertainty."
        },
    )
    standard_uncertainty_share = Number(
        metadata={"description": "Standard uncertainty of the torque from this alone, as a share of it."}
    )
    shift_share = Number(
        metadata={"description": "Mean less nominal torque, as a share: not 0 where the doubt is one-sided."}
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        share = f"{100 * entry['standard_uncertainty_share']:.3g} %"
        return f"{entry['name']} {amount(entry['half_width'])}: {share}"


class LeftOutPart(Part):
    """What an uncertainty budget does not hold, and why."""

    name = Words(metadata={"description": "What is left out."})
    reason = Words(metadata={"description": "Why it is left out."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['name']}: {entry['reason']}"


class UncertaintyPart(Part):
    """The uncertainty of the torque by JCGM 100 (the GUM); no worst case, which the bounds are."""

    best_estimate = Quantity(
        "torque",
        metadata={"description": "Torque with every one-sided doubt at its mean. Shares are of this torque."},
    )
    expanded = Quantity("torque", metadata={"description": "Expanded uncertainty, about 95 %."})
    expanded_share = Number(metadata={"description": "Expanded uncertainty as a share of best_estimate."})
    coverage_factor = Number(
        metadata={"description": "Expanded over combined standard uncertainty, k of the GUM."}
    )
    combined_share = Number(metadata={"description": "Combined standard uncertainty, as a share."})
    terms = fields.List(
        fields.Nested(UncertaintyTermPart), metadata={"description": "Everything in doubt that is counted."}
    )
    left_out = fields.List(
        fields.Nested(LeftOutPart), metadata={"description": "What may be in doubt and is not counted."}
    )
