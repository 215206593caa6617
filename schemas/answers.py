"""What goes out: one schema an answer, and what every answer carries."""

from typing import Any

from marshmallow import fields

from schemas.base import Part
from schemas.fields import DialReading, Number, Quantity, Words, output_units


class TorqueWindowPart(Part):
    """Minimum, target and maximum torque, each with its reason and how sure it is."""

    minimum = Quantity("torque", attribute="minimum.torque", allow_none=True)
    minimum_reason = Words(attribute="minimum.reason")
    minimum_status = Words(attribute="minimum.status")
    target = Quantity("torque", attribute="target.torque")
    target_reason = Words(attribute="target.reason")
    target_status = Words(attribute="target.status")
    maximum = Quantity("torque", attribute="maximum.torque", allow_none=True)
    maximum_reason = Words(attribute="maximum.reason")
    maximum_status = Words(attribute="maximum.status")


class BendingStrengthRatioPart(Part):
    """Bending strength ratio and the range accepted at this diameter."""

    value = Number()
    accepted_minimum = Number()
    accepted_maximum = Number()


class TabulatedPart(Part):
    """The published row for exactly this joint."""

    torque = Quantity("torque", metadata={"description": "Printed value times the compound friction factor."})
    row = Words()
    status = Words()
    source = Words()
    resolution = Quantity("torque", metadata={"description": "The step to which the table is rounded."})
    difference = Number(metadata={"description": "Formula over row, less 1."})
    doubt = Words(allow_none=True, metadata={"description": "Why the row must not be used, if so."})


class RotaryShoulderedAnswer(Part):
    """Make-up torque of a rotary shouldered joint."""

    torque = fields.Nested(TorqueWindowPart)
    weaker_member = Words(metadata={"description": "pin or box."})
    preload = Quantity("force", metadata={"description": "Axial force in the joint at the formula's torque."})
    torsional_yield = Quantity("torque", allow_none=True)
    torsional_yield_reason = Words()
    torsional_yield_friction_factor = Number(
        allow_none=True, metadata={"description": "Compound friction factor that torsional_yield is for."}
    )
    bending_strength_ratio = fields.Nested(BendingStrengthRatioPart, allow_none=True)
    tabulated = fields.Nested(TabulatedPart, allow_none=True)
    connection = Words()
    pin_stress_level = Quantity("stress")
    box_stress_level = Quantity("stress")
    pin_area = Quantity("area")
    box_area = Quantity("area")


class AmountField(fields.Field[Any]):
    """A number whose kind comes with it."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else output_units.get().show(value.kind, value.value)


class CheckText(fields.Field[str]):
    """The sentence of a check, its amounts in the asked units."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        shown = {"value": obj.value, "limit": obj.limit}
        units = output_units.get()
        return str(value).format(
            **{name: units.text(at.kind, at.value) for name, at in shown.items() if at is not None}
        )


class CheckPart(Part):
    """One limit of the machine or the joint."""

    name = Words()
    verdict = Words(metadata={"description": "pass, caution or not_checked; a fail is a refusal."})
    value = AmountField(allow_none=True)
    limit = AmountField(allow_none=True)
    text = CheckText(metadata={"description": "What was compared with what."})


class MarkPart(Part):
    """A mark of the gauge."""

    reading = DialReading(metadata={"description": "In the unit of the dial."})
    torque = Quantity("torque")


class NeighboursPart(Part):
    """The marks on either side of the exact pressure."""

    below = fields.Nested(MarkPart, allow_none=True)
    above = fields.Nested(MarkPart, allow_none=True)


class PressureAnswer(Part):
    """What to set on the gauge."""

    cylinder_side = Words(metadata={"description": "Side of the cylinder under pressure: cap or rod."})
    pressure = Quantity("pressure", metadata={"description": "Exact pressure of the target torque."})
    gauge_setting = DialReading(
        metadata={"description": "The mark to set, in the unit of the dial whatever units are asked."}
    )
    torque_at_gauge_setting = Quantity("torque")
    neighbouring_marks = fields.Nested(NeighboursPart)
    gauge = Words(metadata={"description": "Serial of the gauge."})
    torque = fields.Nested(TorqueWindowPart, metadata={"description": "Make-up torque window of the joint."})
    break_out_torque = Quantity("torque", allow_none=True)
    moment_arm = Quantity("length")
    checks = fields.List(fields.Nested(CheckPart))


class SourcePart(Part):
    """One thing an answer rests on."""

    what = Words()
    status = Words(metadata={"description": "read, reprint, fitted, from memory or stated."})
    source = Words()


class AssumptionPart(Part):
    """A value that was not given."""

    field = Words()
    value = Words()
    reason = Words()


class StepPart(Part):
    """One step of the working."""

    symbol = Words()
    name = Words()
    equation = Words()
    value = AmountField()
    source = Words()


class VersionPart(Part):
    """What computed the answer, enough to compute it again."""

    program = Words()
    data = Words(metadata={"description": "Hash of all published tables."})
    profile_id = Words(allow_none=True)
    profile_revision = Words(allow_none=True)
    profile_hash = Words(allow_none=True)


class Record(Part):
    """What every answer carries besides its result."""

    status = Words(metadata={"description": "How sure the weakest figure behind the main value is."})
    assumptions = fields.List(fields.Nested(AssumptionPart))
    sources = fields.List(fields.Nested(SourcePart))
    cautions = fields.List(fields.String())
    steps = fields.List(fields.Nested(StepPart), metadata={"description": "With steps=true."})
    inputs = fields.Dict(metadata={"description": "The request as it was understood, as given."})
    version = fields.Nested(VersionPart)
