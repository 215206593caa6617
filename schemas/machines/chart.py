"""The chart of a machine: what it is asked for, and what it holds, in US and metric units side by side."""

from typing import Any

from marshmallow import fields

from schemas.core.fields import LEFT_OUT, Choice, Flag, Number
from schemas.core.parts import Entry, Part, Pick, Reasons, Words, knowable
from schemas.core.quantity_fields import AmountField, DialReading, OutputUnits
from schemas.finding import FindingPart
from schemas.listings import StandingNoticePart
from schemas.machines.answer import CheckPart, ReasonPart
from schemas.machines.request import Turn
from schemas.record import Reasoned, Record


class ChartRequest(Turn):
    """How the machine is to stand. Both operations are charted, each on its own gauge."""

    class Meta(Turn.Meta):
        exclude = ("operation",)

    every = Flag(
        metadata={
            "description": "true: every mark of the gauge, at most 1000 an operation, not a readable choice "
            "of at most 21.",
            LEFT_OUT: False,
        }
    )
    format = Choice(
        ("json", "csv", "svg", "html"),
        metadata={"description": "Form of the answer, html a page to print; as accepted if left out."},
    )


class BothSystemsPart(Part):
    """A quantity in US and in metric units, whatever units are asked."""

    us = AmountField()
    metric = AmountField()

    def written(self, obj: Any, reasons: Reasons, path: str, pick: Pick = "full") -> dict[str, Any]:
        """An amount in either system."""
        return {name: units.show(obj.kind, obj.value) for name, units in _SYSTEMS.items()}


_SYSTEMS = {name: OutputUnits(name) for name in ("us", "metric")}


def _both(text: str, **options: Any) -> fields.Nested:
    return fields.Nested(BothSystemsPart, metadata={"description": text}, **options)


class MarkUncertaintyPart(Part):
    """The expanded uncertainty of the torque at a mark, as of /v1/pressure."""

    best_estimate = _both("With every one-sided doubt at its mean; the share is of it.")
    expanded = _both("Expanded uncertainty, k = 2.")
    expanded_share = Number()


class ChartMarkPart(Reasoned):
    """A mark of the gauge, with the torque of the machine there, as /v1/pressure answers it."""

    gauge_setting = DialReading(metadata={"description": "Mark in the unit of the dial."})
    reading = _both("The same, for information: the dial has one unit only.")
    torque_at_gauge_setting = _both("At nominal efficiency.")
    torque_lower_bound = _both("Worst case over gauge accuracy, efficiency and an unknown arm position.")
    torque_upper_bound = _both("Worst case, likewise.")
    uncertainty = knowable(fields.Nested(MarkUncertaintyPart))
    gauge_error_share = Number(
        metadata={"description": "Largest error of the gauge as a share of the setting."}
    )
    in_working_range = fields.Boolean(
        metadata={"description": "Whether it lies between a quarter and three quarters of the dial."}
    )
    worst_case_within_rating = fields.Boolean(
        metadata={"description": "Whether also the upper bound is within the torque rating."}
    )


class ChartLimitPart(Part):
    """A limit of the machine or its gauge: a reading, or a torque."""

    name = Words()
    text = Words()
    reading = DialReading(
        allow_none=True, metadata={"description": "Reading in the unit of the dial; null for a torque."}
    )
    amount = _both("The reading, or the torque.")


class OperationChartPart(Part):
    """The chart of one operation on its gauge."""

    may_lack = frozenset({"cylinder_side", "second_cylinder_side", "motor_port"})

    operation = Words(metadata={"description": "make_up or break_out."})
    cylinder_side = Words(metadata={"description": "Side of the cylinder under pressure."})
    second_cylinder_side = Words(metadata={"description": "That of the second cylinder."})
    motor_port = Words(metadata={"description": "Port of the motor under pressure."})
    gauge = Words(metadata={"description": "Serial of the gauge."})
    gauge_span = DialReading()
    gauge_division = DialReading()
    gauge_accuracy = Words()
    connected_at = Words()
    limits = fields.List(fields.Nested(ChartLimitPart))
    marks = fields.List(
        fields.Nested(ChartMarkPart),
        metadata={"description": "The first and the last that can be set, and round ones between."},
    )
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "What sets this operation apart."}
    )


class NotChartedPart(Part):
    """An operation that this machine has no chart for."""

    operation = Words()
    reasons = fields.List(fields.Nested(ReasonPart))

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['operation']}: {', '.join(map(ReasonPart().in_a_cell, entry['reasons']))}"


class ChartGovernancePart(Part):
    """The governance of a profile: who answers for it, and until when it holds."""

    status = Words(metadata={"description": "draft or approved."})
    approved_by = Words(allow_none=True)
    approved_on = fields.Date(allow_none=True)
    effective_from = fields.Date(allow_none=True)
    effective_to = fields.Date(allow_none=True)
    certificate = Words(allow_none=True)
    calibration_due = fields.Date(allow_none=True)


class ChartAnswer(Part):
    """Torque against the marks of a machine's gauges."""

    may_lack = frozenset({"arm_position"})

    machine = Words()
    site = Words(allow_none=True)
    kind = Words()
    thread_hand = Words()
    arm_position = Words(
        metadata={"description": "square or unknown; length: as arm_length says. Absent without an arm."},
    )
    arm_length = _both("Pin-to-pin length of the cylinder, where asked for.", allow_none=True)
    gripped_outside_diameter = _both("Outside diameter in the grip, where given.", allow_none=True)
    as_of = fields.Date(allow_none=True)
    governance = fields.Nested(ChartGovernancePart)
    checks = fields.List(fields.Nested(CheckPart))
    charts = fields.List(fields.Nested(OperationChartPart))
    not_charted = fields.List(fields.Nested(NotChartedPart))
    standing_notices = fields.List(
        fields.Nested(StandingNoticePart),
        metadata={"description": "What holds for every chart of this machine."},
    )


class MachineChart(ChartAnswer, Record):
    """Torque against the marks of a machine's gauges, with what every answer carries."""

    only_full = frozenset()  # a view is always whole
    may_lack = ChartAnswer.may_lack | Record.may_lack
