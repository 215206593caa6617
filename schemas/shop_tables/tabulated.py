"""The torque of a joint from a table of the shop, as asked and as answered."""

from marshmallow import fields

from schemas.core.fields import Day, Members, Request, Slug
from schemas.core.parts import Basis, Count, Entry, Part, Words, amount, knowable
from schemas.core.quantity_fields import Quantity
from schemas.provenance import SourceText, Status
from schemas.torque_window import TorqueWindowPart


class TabulatedJoint(Request):
    """A joint of one of the shop's own tables, by the values in its key columns."""

    table = Slug(
        required=True,
        metadata={"description": "Id of the table, as listed at /v1/tables.", "example": "double-shoulder"},
    )
    table_key = Members(
        required=True,
        metadata={
            "description": "A value for every key column of the table: text as the table has it, a "
            "quantity with its unit. In a query or a table each has a name of its own, "
            "such as table_key.pin_bore.",
        },
    )


class DayOfJob(Request):
    """The day for which rows of the table must hold."""

    as_of = Day(
        metadata={
            "description": "Day of the job, such as 2026-11-24; required where the rows for the joint are "
            "dated. The service has no clock."
        },
    )


class KeyValuePart(Part):
    """The value of a key column."""

    column = Words(metadata={"description": "Name of the column."})
    value = Words(metadata={"description": "Text, or a quantity in the unit of the column."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['column']} {entry['value']}"


class TableRowPart(Part):
    """A row of a table of the shop."""

    row = Count(metadata={"description": "Line of the file; the header is line 1."})
    key = fields.List(fields.Nested(KeyValuePart), metadata={"description": "Its values in the key columns."})
    minimum = Quantity(
        "torque", allow_none=True, metadata={"description": "Lowest torque; null where the cell is empty."}
    )
    target = Quantity("torque", metadata={"description": "Torque to make up to."})
    maximum = Quantity(
        "torque", allow_none=True, metadata={"description": "Highest torque; null where the cell is empty."}
    )
    torsional_yield = Quantity(
        "torque",
        allow_none=True,
        metadata={"description": "Torque at which the joint yields; null where the cell is empty."},
    )
    source = SourceText()
    status = Status()
    revision = Words(metadata={"description": "Revision of the row, by the shop."})
    effective_from = Words(
        allow_none=True, metadata={"description": "The first day on which the row holds; null without one."}
    )
    effective_to = Words(allow_none=True, metadata={"description": "The last day on which the row holds."})
    note = Words(allow_none=True, metadata={"description": "Remark of the shop; null without one."})
    contradiction = Words(
        allow_none=True, metadata={"description": "How the row contradicts a known formula, if it does."}
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        key = "; ".join(map(KeyValuePart().in_a_cell, entry["key"]))
        where = f"{entry['source']}, revision {entry['revision']} ({entry['status']})"
        return f"row {entry['row']}: {key}: {amount(entry['target'])}, {where}"


class TabulatedAnswer(Part):
    """Make-up torque of a joint from a table of the shop."""

    only_full = frozenset({"torsional_yield_basis", "rows"})

    torque = fields.Nested(TorqueWindowPart)
    torsional_yield = knowable(
        Quantity("torque", metadata={"description": "Torque at which the joint yields, by the table."})
    )
    torsional_yield_basis = Basis()
    table = Words(metadata={"description": "Id of the table."})
    table_key = fields.List(
        fields.Nested(KeyValuePart), metadata={"description": "The values that were looked up."}
    )
    interpolated_in = Words(
        allow_none=True, metadata={"description": "Column in which it lies between two rows, if it does."}
    )
    rows = fields.List(
        fields.Nested(TableRowPart),
        metadata={"description": "The row for exactly this joint, or the two between which it lies."},
    )
