"""Settings, readings and checks of machines, as answered."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import AsGiven, Basis, Entry, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import AmountField, DialReading, Quantity
from schemas.finding import CheckText, FaultText, FindingPart, ProblemCode
from schemas.machines.relief import ReliefPart
from schemas.machines.uncertainty import UncertaintyPart
from schemas.torque_window import TorqueWindowPart
from schemas.words import CYLINDER_SIDES, MOTOR_PORTS, VERDICTS

SIDE_LOAD = (
    "Force across the pipe that backup and supports must take, at nominal efficiency; of a line, its pull as "
    "read. Take more than this one value as what they must hold."
)


BENDING = (
    "Bending across the joint: side load times grip_spacing. It stands at the backup; between the grips it "
    "is less."
)
BENDING_ALLOWED = (
    "Bending that opens the shoulder of the joint at its target, by beam theory with the shoulder ring alone."
)


CHECKS = "Every limit that was looked at, and what came of it."


class CylinderSide(OneOf):
    """The side of a cylinder under pressure."""

    def __init__(self) -> None:
        text = "Side of the cylinder under pressure. Absent on a machine without one."
        super().__init__(CYLINDER_SIDES, metadata={"description": text})


class SecondCylinderSide(OneOf):
    """The side of the second of two cylinders under pressure."""

    def __init__(self) -> None:
        text = "Side of the second cylinder under pressure. Absent on a machine without a second one."
        super().__init__(CYLINDER_SIDES, metadata={"description": text})


class MotorPort(OneOf):
    """The port of a motor under pressure."""

    def __init__(self) -> None:
        text = "Port of the motor under pressure. Absent on a machine without one."
        super().__init__(MOTOR_PORTS, metadata={"description": text})


class Capability(Number):
    """How well a machine and its gauge can prove a window."""

    def __init__(self) -> None:
        text = (
            "Width of the window over twice the expanded uncertainty (k = 2) of the torque, as a verdict has "
            "it: the mark is read to half a division. Below 1 the guarded rule passes hardly anything, below "
            "0.8225 nothing."
        )
        super().__init__(metadata={"description": text})


class CheckPart(Part):
    """One limit of the machine or the joint."""

    name = Words(metadata={"description": "What is checked, such as torque_rating; stable, for programs."})
    verdict = OneOf(
        VERDICTS,
        metadata={"description": "caution: also told as a finding. One that fails is a refusal instead."},
    )
    value = AmountField(
        allow_none=True, metadata={"description": "The amount that was checked; null where none was."}
    )
    limit = AmountField(
        allow_none=True, metadata={"description": "What it was compared with; null where nothing was."}
    )
    text = CheckText(metadata={"description": "What was compared with what."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['name']} {entry['verdict']}"


class MarkPart(Part):
    """A mark of the gauge."""

    reading = DialReading(metadata={"description": "Reading in the unit of the dial."})
    torque = Quantity("torque", metadata={"description": "Torque there, at nominal efficiency."})


class NeighboursPart(Part):
    """The marks on either side of the exact pressure."""

    below = fields.Nested(
        MarkPart,
        allow_none=True,
        metadata={"description": "The mark there or next below; null where its torque is unknown."},
    )
    above = fields.Nested(
        MarkPart,
        allow_none=True,
        metadata={"description": "The mark next above; null beyond the dial, or of unknown torque."},
    )


class AimPart(Part):
    """What a make-up aims at."""

    torque = Quantity("torque", metadata={"description": "The target, or the torque of the safest mark."})
    reason = Words(metadata={"description": "Why this mark is set."})


class TorqueRangePart(Part):
    """Torque to be expected."""

    low = Quantity("torque", metadata={"description": "By the lowest ratio."})
    likely = Quantity("torque", metadata={"description": "By the likely ratio."})
    high = Quantity("torque", metadata={"description": "By the highest ratio."})


class ExpectedPart(Part):
    """Readings of the dial to be expected, in its unit whatever units are asked."""

    low = DialReading(metadata={"description": "By the lowest ratio, rounded down to a mark."})
    likely = DialReading(metadata={"description": "By the likely ratio, the nearest mark."})
    high = DialReading(metadata={"description": "By the highest ratio, rounded up to a mark."})


class SettingPart(Part):
    """What to set on the gauge of a machine, or what to expect of it."""

    only_full = frozenset(
        {
            "pressure",
            "line_pull",
            "torque_lower_bound",
            "torque_upper_bound",
            "neighbouring_marks",
            "uncertainty",
            "capability",
            "gauge_error_share",
            "moment_arm",
            "side_load",
            "bending_at_joint",
            "bending_allowed",
            "checks",
        }
    )
    may_lack = frozenset(
        {
            "cylinder_side",
            "second_cylinder_side",
            "motor_port",
            "pressure",
            "line_pull",
            "gauge_setting",
            "torque_at_gauge_setting",
            "aim",
            "probability_in_window",
            "probability_below_minimum",
            "probability_above_maximum",
            "torque_lower_bound",
            "torque_upper_bound",
            "neighbouring_marks",
            "uncertainty",
            "capability",
            "expected",
            "do_not_exceed",
            "do_not_exceed_basis",
            "if_it_does_not_move",
            "relief",
            "moment_arm",
        }
    )

    gauge_setting = DialReading(
        metadata={
            "description": "The mark to set to make up, in the unit of the dial whatever units are asked."
        }
    )
    gauge = Words(metadata={"description": "Serial of the gauge."})
    cylinder_side = CylinderSide()
    second_cylinder_side = SecondCylinderSide()
    motor_port = MotorPort()
    torque_at_gauge_setting = Quantity(
        "torque", metadata={"description": "Torque at the mark, at nominal efficiency."}
    )
    aim = fields.Nested(AimPart, metadata={"description": "What a make-up aims at, and why."})
    probability_in_window = knowable(
        Number(
            metadata={
                "description": "Probability that the torque lies within the window: normal, with the "
                "combined standard uncertainty of the budget."
            }
        )
    )
    probability_below_minimum = knowable(
        Number(metadata={"description": "Probability of a torque below the minimum."})
    )
    probability_above_maximum = knowable(
        Number(metadata={"description": "Probability of a torque above the maximum."})
    )
    expected = fields.Nested(
        ExpectedPart, metadata={"description": "Readings to be expected of a break-out."}
    )
    do_not_exceed = DialReading(
        metadata={"description": "The mark at which a break-out stops, in the unit of the dial."}
    )
    do_not_exceed_basis = Basis(allow_none=False)
    if_it_does_not_move = Words(
        metadata={"description": "What to do if a break-out does not move the joint."}
    )
    relief = fields.Nested(
        ReliefPart, metadata={"description": "How the relief valve must stand for this job."}
    )
    break_out_torque = knowable(
        fields.Nested(
            TorqueRangePart, metadata={"description": "Torque of the break-out, by the ratio known."}
        )
    )
    pressure = Quantity(
        "pressure",
        metadata={
            "description": "Exact pressure of the target torque or of the likely break-out torque. Absent "
            "on a pull gauge."
        },
    )
    line_pull = Quantity(
        "force",
        metadata={"description": "The same as a line pull, on a machine with a pull gauge."},
    )
    torque_lower_bound = Quantity(
        "torque",
        metadata={
            "description": "Worst case over gauge accuracy, efficiency, stated tolerances and, if "
            "unknown, the arm position."
        },
    )
    torque_upper_bound = Quantity(
        "torque", metadata={"description": "Highest torque in the same worst case."}
    )
    neighbouring_marks = fields.Nested(
        NeighboursPart, metadata={"description": "The marks on either side of the exact pressure."}
    )
    uncertainty = knowable(
        fields.Nested(
            UncertaintyPart, metadata={"description": "Uncertainty of the torque at the gauge setting."}
        )
    )
    capability = knowable(Capability())
    gauge_error_share = Number(
        metadata={
            "description": "Largest error of the gauge as a share of the setting or of the likely reading."
        }
    )
    moment_arm = Quantity("length", metadata={"description": "Moment arm of the driving force."})
    side_load = knowable(Quantity("force", metadata={"description": SIDE_LOAD}))
    bending_at_joint = knowable(Quantity("torque", metadata={"description": BENDING}))
    bending_allowed = knowable(Quantity("torque", metadata={"description": BENDING_ALLOWED}))
    checks = fields.List(fields.Nested(CheckPart), metadata={"description": CHECKS})


class PressureAnswer(SettingPart):
    """What to set on the gauge of a machine to make up a joint, or what to expect as it is broken out."""

    torque = fields.Nested(TorqueWindowPart, metadata={"description": "Make-up torque window of the joint."})


class DeliveredTorqueAnswer(Part):
    """The torque behind a reading."""

    only_full = frozenset(
        {
            "pressure",
            "line_pull",
            "uncertainty",
            "gauge_error_share",
            "moment_arm",
            "side_load",
            "bending_at_joint",
            "bending_allowed",
            "checks",
        }
    )
    may_lack = frozenset(
        {"cylinder_side", "second_cylinder_side", "motor_port", "pressure", "line_pull", "moment_arm"}
    )

    delivered_torque = Quantity(
        "torque", metadata={"description": "Torque at the reading, at nominal efficiency."}
    )
    torque_lower_bound = Quantity(
        "torque",
        metadata={
            "description": "Worst case over gauge accuracy, half a division of reading, efficiency, stated "
            "tolerances and, if unknown, the arm position."
        },
    )
    torque_upper_bound = Quantity(
        "torque", metadata={"description": "Highest torque in the same worst case."}
    )
    cylinder_side = CylinderSide()
    second_cylinder_side = SecondCylinderSide()
    motor_port = MotorPort()
    pressure = Quantity("pressure", metadata={"description": "Exact reading."})
    line_pull = Quantity("force", metadata={"description": "The same of a line."})
    uncertainty = knowable(
        fields.Nested(UncertaintyPart, metadata={"description": "Uncertainty of the delivered torque."})
    )
    gauge_error_share = Number(
        metadata={"description": "Largest error of the gauge as a share of the reading."}
    )
    gauge = Words(metadata={"description": "Serial of the gauge read."})
    moment_arm = Quantity("length", metadata={"description": "Moment arm of the driving force."})
    side_load = knowable(Quantity("force", metadata={"description": SIDE_LOAD}))
    bending_at_joint = knowable(Quantity("torque", metadata={"description": BENDING}))
    bending_allowed = knowable(Quantity("torque", metadata={"description": BENDING_ALLOWED}))
    checks = fields.List(fields.Nested(CheckPart), metadata={"description": CHECKS})


class ReasonPart(Part):
    """One reason why a machine cannot do a joint."""

    code = ProblemCode(metadata={"description": "Stable code, as of a refusal; listed at /v1/problems."})
    text = FaultText(metadata={"description": "The reason in words."})
    accepted = Words(
        allow_none=True,
        metadata={"description": "What to do, or what would be taken; null where the reason says it."},
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['code']}: {entry['text']}"


class ProfileCheckAnswer(Part):
    """Whether a profile can be served; every fault, and what it says of the cylinder."""

    valid = fields.Boolean(metadata={"description": "Whether a service serves it."})
    faults = fields.List(AsGiven("ProblemError"), metadata={"description": "Everything wrong with it."})
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "What to know of it before it is served."}
    )
    hash = Words(allow_none=True, metadata={"description": "Hash that answers will name."})
    cap_area = Quantity(
        "area",
        allow_none=True,
        metadata={"description": "Area of the cap side of its cylinder; null without one."},
    )
    rod_side_area = Quantity(
        "area",
        allow_none=True,
        metadata={"description": "Area of the rod side of its cylinder; null without one."},
    )
    area_ratio = Number(
        allow_none=True, metadata={"description": "Area of the cap side over that of the rod side."}
    )
