"""What answers, and by which rules: the edition of a service."""

from marshmallow import fields

from schemas.core.parts import Part, Words

HASH = {"description": "Short hash of what it holds."}


class ProgramPart(Part):
    """The program; between two releases its hash changes and its revision does not."""

    revision = Words()
    hash = Words(metadata=HASH)


class DataPart(Part):
    """All published tables."""

    hash = Words(metadata=HASH)


class PolicyPart(Part):
    """The policy of the shop."""

    revision = Words()
    hash = Words(metadata=HASH)


class MachineEditionPart(Part):
    """A machine of the shop."""

    id = Words()
    revision = Words()
    hash = Words(metadata=HASH)


class TableEditionPart(Part):
    """A table of the shop; each of its rows has a revision of its own."""

    id = Words()
    hash = Words(metadata=HASH)


class EditionAnswer(Part):
    """The edition of this service, which every answer and refusal names, and all that decides it."""

    service_edition = Words(metadata={"description": "Hash over all the others."})
    program = fields.Nested(ProgramPart)
    data = fields.Nested(DataPart)
    policy = fields.Nested(PolicyPart, allow_none=True, metadata={"description": "null without one."})
    machines = fields.List(fields.Nested(MachineEditionPart))
    tables = fields.List(fields.Nested(TableEditionPart))
