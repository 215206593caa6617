"""The tables of a shop: their listing, their rows, and the check of a file before it is served."""

from marshmallow import fields

from schemas.core.fields import Choice, Request
from schemas.core.parts import Part, Words
from schemas.core.quantity_fields import SYSTEMS, UnitName
from schemas.finding import FindingPart
from schemas.shop_tables.tabulated import TableRowPart


class TorqueUnits(Request):
    """Units of the torques of an entry."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units."})
    torque_unit = UnitName("torque", metadata={"description": "Unit of every torque."})


class KeyColumnPart(Part):
    """A key column of a table."""

    name = Words()
    unit = Words(allow_none=True, metadata={"description": "Unit of its cells; null for text."})
    linear = fields.Boolean(metadata={"description": "Whether a value may lie between those of two rows."})


class TablePart(Part):
    """A table of the shop."""

    id = Words()
    hash = Words(metadata={"description": "Hash of the file, as every answer from it names it."})
    columns = fields.List(fields.Nested(KeyColumnPart))
    rows = fields.Integer(metadata={"description": "How many."})
    sources = fields.List(fields.String())
    statuses = fields.List(fields.String())
    revisions = fields.List(fields.String())
    rows_compared = fields.Integer(
        metadata={"description": "Rows that could be compared with the formula of a known joint."}
    )
    contradictions = fields.Integer(
        metadata={"description": "Rows that contradict the formula of a known joint."}
    )


class TableEntryPart(Part):
    """A table of the shop with every row."""

    id = Words()
    hash = Words()
    columns = fields.List(fields.Nested(KeyColumnPart))
    rows = fields.List(fields.Nested(TableRowPart))


class TableFaultPart(Part):
    """What is wrong with a table, and where."""

    row = fields.Integer(allow_none=True, metadata={"description": "Line of the file; the header is line 1."})
    column = Words(allow_none=True)
    code = Words()
    detail = Words()
    value = Words(allow_none=True)
    accepted = Words(allow_none=True)


class TableCheckAnswer(Part):
    """Whether a table can be served; every fault, and what is to be known of it."""

    valid = fields.Boolean()
    faults = fields.List(fields.Nested(TableFaultPart), metadata={"description": "The first 1,000."})
    fault_count = fields.Integer()
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "Rows that contradict a known formula."}
    )
    hash = Words(allow_none=True, metadata={"description": "Hash that answers will name."})
    columns = fields.List(fields.Nested(KeyColumnPart))
    rows = fields.Integer(allow_none=True)
    rows_compared = fields.Integer(
        allow_none=True,
        metadata={"description": "Rows that could be compared with the formula of a known joint."},
    )
