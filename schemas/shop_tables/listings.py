"""The tables of a shop: their listing, their rows, and the check of a file before it is served."""

from marshmallow import fields

from schemas.core.fields import Choice, Request
from schemas.core.parts import Count, OneOf, Part, Words
from schemas.core.quantity_fields import SYSTEMS, UnitName
from schemas.core.units import UNITS
from schemas.finding import FindingPart, ProblemCode
from schemas.provenance import ANY_STATUS
from schemas.shop_tables.tabulated import TableRowPart

COLUMNS = "Columns by whose values a row is found."
TABLE_ID = "Id of the table: the name of its file without the ending."
TABLE_HASH = "Hash of the file, as every answer from it names it."


class TorqueUnits(Request):
    """Units of the torques of an entry."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units."})
    torque_unit = UnitName("torque", metadata={"description": "Unit of every torque."})


class KeyColumnPart(Part):
    """A key column of a table."""

    name = Words(metadata={"description": "Name of the column, and of its member of table_key."})
    unit = OneOf(UNITS, allow_none=True, metadata={"description": "Unit of its cells; null for text."})
    linear = fields.Boolean(metadata={"description": "Whether a value may lie between those of two rows."})


class TablePart(Part):
    """A table of the shop."""

    id = Words(metadata={"description": TABLE_ID})
    hash = Words(metadata={"description": TABLE_HASH})
    columns = fields.List(fields.Nested(KeyColumnPart), metadata={"description": COLUMNS})
    rows = Count(metadata={"description": "How many rows it has."})
    sources = fields.List(fields.String(), metadata={"description": "What its rows come from, each once."})
    statuses = fields.List(
        OneOf(ANY_STATUS), metadata={"description": "How sure the shop is of its rows, each once."}
    )
    revisions = fields.List(fields.String(), metadata={"description": "Revisions of its rows, each once."})
    rows_compared = Count(
        metadata={"description": "Rows that could be compared with the formula of a known joint."}
    )
    contradictions = Count(metadata={"description": "Rows that contradict the formula of a known joint."})


class TableEntryPart(Part):
    """A table of the shop with every row."""

    id = Words(metadata={"description": TABLE_ID})
    hash = Words(metadata={"description": TABLE_HASH})
    columns = fields.List(fields.Nested(KeyColumnPart), metadata={"description": COLUMNS})
    rows = fields.List(fields.Nested(TableRowPart), metadata={"description": "Every row, as in the file."})


class TableFaultPart(Part):
    """What is wrong with a table, and where."""

    row = Count(allow_none=True, metadata={"description": "Line of the file; the header is line 1."})
    column = Words(allow_none=True, metadata={"description": "Name of the column; null for a whole row."})
    code = ProblemCode(metadata={"description": "Stable code; listed at /v1/problems."})
    detail = Words(metadata={"description": "What is wrong, in words."})
    value = Words(allow_none=True, metadata={"description": "What stands there; null where nothing does."})
    accepted = Words(
        allow_none=True, metadata={"description": "What would be accepted; null where the detail says it."}
    )


class TableCheckAnswer(Part):
    """Whether a table can be served; every fault, and what is to be known of it."""

    valid = fields.Boolean(metadata={"description": "Whether a service serves it."})
    faults = fields.List(fields.Nested(TableFaultPart), metadata={"description": "The first 1,000."})
    fault_count = Count(metadata={"description": "How many faults it has, told or not."})
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "Rows that contradict a known formula."}
    )
    hash = Words(allow_none=True, metadata={"description": "Hash that answers will name."})
    columns = fields.List(fields.Nested(KeyColumnPart), metadata={"description": COLUMNS})
    rows = Count(allow_none=True, metadata={"description": "How many rows it has; null where it has faults."})
    rows_compared = Count(
        allow_none=True,
        metadata={"description": "Rows that could be compared with the formula of a known joint."},
    )
