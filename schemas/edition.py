"""What answers, and by which rules: the edition of a service."""

from marshmallow import fields

from schemas.core.parts import OneOf, Part, Words
from schemas.core.quantity_fields import SYSTEMS

HASH = {"description": "Short hash of what it holds."}


class ProgramPart(Part):
    """The program; between two releases its hash changes and its revision does not."""

    revision = Words(metadata={"description": "Version of the program."})
    hash = Words(metadata=HASH)


class DataPart(Part):
    """All published tables."""

    hash = Words(metadata=HASH)


class PolicyPart(Part):
    """The policy of the shop."""

    revision = Words(metadata={"description": "Revision of the policy."})
    hash = Words(metadata=HASH)


class MachineEditionPart(Part):
    """A machine of the shop."""

    id = Words(metadata={"description": "Id of the machine."})
    revision = Words(metadata={"description": "Revision of its profile."})
    hash = Words(metadata=HASH)


class TableEditionPart(Part):
    """A table of the shop; each of its rows has a revision of its own."""

    id = Words(metadata={"description": "Id of the table."})
    hash = Words(metadata=HASH)


class EditionAnswer(Part):
    """The edition of this service, which every answer and refusal names, and all that decides it."""

    service_edition = Words(metadata={"description": "Hash over all the others."})
    program = fields.Nested(ProgramPart)
    data = fields.Nested(DataPart)
    units = OneOf(
        tuple(SYSTEMS), metadata={"description": "System of units of an answer whose question names none."}
    )
    policy = fields.Nested(PolicyPart, allow_none=True, metadata={"description": "null without one."})
    machines = fields.List(
        fields.Nested(MachineEditionPart), metadata={"description": "Every machine that is served."}
    )
    tables = fields.List(
        fields.Nested(TableEditionPart), metadata={"description": "Every table that is served."}
    )
