"""What a running service says of itself."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import Count, OneOf, Part, Words
from schemas.shop_tables.listings import TableFaultPart


class HealthPart(Part):
    """That the service is up; it touches nothing to say so."""

    status = OneOf(("up",), metadata={"description": "That it answers."})


class RefusedProfilePart(Part):
    """A file of a machine that is not served."""

    file = Words(metadata={"description": "Name of the file."})
    reason = Words(metadata={"description": "Why it is not served."})


class RefusedTablePart(Part):
    """A file of a table that is not served."""

    file = Words(metadata={"description": "Name of the file."})
    fault_count = Count(metadata={"description": "How many faults it has, told or not."})
    faults = fields.List(fields.Nested(TableFaultPart), metadata={"description": "The first of them."})


class ReadinessPart(Part):
    """That the published figures come out right, and which files of the shop are served."""

    status = OneOf(("ready",), metadata={"description": "That it is right; else the answer is a problem."})
    compared = Count(metadata={"description": "Published rows that were computed again."})
    worst_difference = Number(metadata={"description": "The largest relative difference from one."})
    missed = fields.List(fields.String(), metadata={"description": "Rows that were missed; none here."})
    machines = Count(metadata={"description": "Machines that are served."})
    refused_profiles = fields.List(
        fields.Nested(RefusedProfilePart), metadata={"description": "Files of machines that are not."}
    )
    tables = Count(metadata={"description": "Tables that are served."})
    refused_tables = fields.List(
        fields.Nested(RefusedTablePart), metadata={"description": "Files of tables that are not."}
    )
