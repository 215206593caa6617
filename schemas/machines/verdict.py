"""What is told of a make-up that is done, and the two judgements of it, as answered."""

from marshmallow import fields

from schemas.core.fields import Choice, Flag, Number, WholeNumber
from schemas.core.parts import Count, Entry, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import DialReading, EitherDial, Quantity
from schemas.finding import FaultText
from schemas.machines.answer import (
    CHECKS,
    Capability,
    CheckPart,
    CylinderSide,
    MotorPort,
    SecondCylinderSide,
)
from schemas.machines.request import MachineJob
from schemas.machines.uncertainty import UncertaintyPart
from schemas.torque_window import TorqueWindowPart
from schemas.words import (
    ACTIONS,
    DECISION_RULES,
    REASON_CODES,
    SEEN,
    TORQUE_VERDICTS,
    TREND_PER,
    WINDOW_ENDS,
    WORK,
)

JUDGEMENTS = tuple(dict.fromkeys((*WORK, *TORQUE_VERDICTS)))
DIALS = ("pressure", "force")


class WorkDone(MachineJob):
    """What was read and seen as a joint was made up; what is left out was not told, and is never assumed."""

    gauge_reading = EitherDial(
        DIALS,
        required=True,
        metadata={
            "description": "Highest reading of the last stroke, in the unit of the dial.",
            "example": "860 psi",
        },
    )
    ordered_setting = EitherDial(
        DIALS,
        metadata={
            "description": "The mark that the sheet orders. Left out, it is the one that /v1/pressure sets.",
            "example": "860 psi",
        },
    )
    gauge_zero = EitherDial(
        DIALS,
        zero=True,
        metadata={
            "description": "Reading of the gauge at rest. Where it is off by more than half a division, on a "
            "display by more than its error, nobody can tell.",
            "example": "0 psi",
        },
    )
    marks_moved = Choice(
        SEEN,
        metadata={
            "description": "Whether the marks across the joint moved as it was made up.",
            "example": "yes",
        },
    )
    moved_in_last_stroke = Choice(
        SEEN,
        metadata={
            "description": "Whether the joint still turned in the last stroke. A reading in which nothing "
            "moved proves nothing of the torque beyond a static check.",
            "example": "yes",
        },
    )
    slips = WholeNumber(
        0, 1000, metadata={"description": "How often the grip slipped. It is told, not judged.", "example": 0}
    )
    held = Quantity(
        "time",
        zero=True,
        metadata={
            "description": "How long the reading was held, for the record. It is not judged.",
            "example": "5 s",
        },
    )
    limit_proved = Flag(
        metadata={
            "description": "Whether the make-up limit was proved with open grips. If not, it is told.",
            "example": True,
        }
    )


class VerdictReasonPart(Part):
    """One reason of a judgement."""

    code = OneOf(REASON_CODES, metadata={"description": "Stable, for programs."})
    says = OneOf(JUDGEMENTS, metadata={"description": "The judgement that it speaks for."})
    field = Words(
        allow_none=True,
        metadata={
            "description": "Field of the request that it is of, or that is missing; null where it is of none."
        },
    )
    text = FaultText(metadata={"description": "The reason in words."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['code']}: {entry['text']}"


class VerdictAnswer(Part):
    """Two judgements of one make-up: whether it was done as ordered, and whether its torque passes."""

    only_full = frozenset(
        {
            "delivered_torque",
            "torque_lower_bound",
            "torque_upper_bound",
            "uncertainty",
            "gauge_error_share",
            "checks",
        }
    )
    may_lack = frozenset({"cylinder_side", "second_cylinder_side", "motor_port"})

    work = OneOf(
        WORK,
        metadata={
            "description": "Whether it was done as ordered. What speaks against it outranks what nobody can "
            "tell."
        },
    )
    work_reasons = fields.List(
        fields.Nested(VerdictReasonPart),
        metadata={"description": "Every reason why it was not, or nobody can tell; empty where it was."},
    )
    torque_verdict = OneOf(
        TORQUE_VERDICTS,
        metadata={"description": "Whether the torque passes by the decision rule, at the ends judged."},
    )
    torque_reasons = fields.List(
        fields.Nested(VerdictReasonPart),
        metadata={"description": "Why the torque has this verdict, and what that depends on."},
    )
    judged_ends = fields.List(
        OneOf(WINDOW_ENDS),
        metadata={"description": "Ends of the window that the joint has, by which its torque is judged."},
    )
    decision_rule = OneOf(
        DECISION_RULES,
        metadata={
            "description": "Rule of the policy. simple: what lies in the window passes. guarded: it passes "
            "1.645 standard uncertainties inside each end."
        },
    )
    next_step = Words(metadata={"description": "What to do next, in one line."})
    next_action = OneOf(
        ACTIONS,
        metadata={
            "description": "The same as a word. redo: break out and make up again; repeat: once more from "
            "below; ask: whoever planned the joint; tell: what is missing."
        },
    )
    ordered_setting = knowable(
        DialReading(metadata={"description": "The mark that was ordered, in the unit of the dial."})
    )
    gauge_reading = DialReading(metadata={"description": "What was read, in the unit of the dial."})
    reading_less_mark = knowable(
        DialReading(
            metadata={
                "description": "Reading less ordered mark, as both stand on the dial: nothing is corrected."
            }
        )
    )
    gauge = Words(metadata={"description": "Serial of the gauge."})
    cylinder_side = CylinderSide()
    second_cylinder_side = SecondCylinderSide()
    motor_port = MotorPort()
    judged_torque = Quantity(
        "torque",
        metadata={
            "description": "Torque that is judged: the best estimate at the reading, which the probabilities "
            "are of."
        },
    )
    standard_uncertainty = Quantity(
        "torque",
        metadata={"description": "Combined standard uncertainty of it, with half a division of reading."},
    )
    accepted_from = knowable(
        Quantity("torque", metadata={"description": "Least torque that passes by the decision rule."})
    )
    accepted_to = knowable(
        Quantity("torque", metadata={"description": "Most torque that passes by the decision rule."})
    )
    probability_in_window = knowable(
        Number(
            metadata={
                "description": "Probability that the torque lies within the window: normal, with the "
                "standard uncertainty."
            }
        )
    )
    probability_below_minimum = knowable(
        Number(metadata={"description": "Probability of a torque below the minimum."})
    )
    probability_above_maximum = knowable(
        Number(metadata={"description": "Probability of a torque above the maximum."})
    )
    capability = knowable(Capability())
    torque = fields.Nested(TorqueWindowPart, metadata={"description": "Make-up torque window of the joint."})
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
    uncertainty = knowable(
        fields.Nested(UncertaintyPart, metadata={"description": "Uncertainty of the torque at the reading."})
    )
    gauge_error_share = Number(
        metadata={"description": "Largest error of the gauge as a share of the reading."}
    )
    checks = fields.List(fields.Nested(CheckPart), metadata={"description": CHECKS})


class DriftPart(Part):
    """What the readings of one machine are off their ordered marks by, in the unit of its dial."""

    may_lack = frozenset({"trend", "trend_per"})

    machine = Words(metadata={"description": "Id of the machine."})
    lines = Count(metadata={"description": "Answered lines of this machine whose ordered mark is known."})
    mean = DialReading(metadata={"description": "Mean of reading less ordered mark."})
    trend = DialReading(
        metadata={
            "description": "Least squares slope of reading less ordered mark, for each day or line; absent "
            "where there is none."
        }
    )
    trend_per = OneOf(
        TREND_PER,
        metadata={
            "description": "day: by as_of, where every line has one and not all are of the same; else line."
        },
    )


class VerdictLogPart(Part):
    """What a log of verdicts comes to."""

    work = fields.Dict(
        keys=fields.String(),
        values=Count(metadata={"description": "Lines with this judgement."}),
        metadata={"description": "How many lines have each judgement of the work."},
    )
    torque_verdict = fields.Dict(
        keys=fields.String(),
        values=Count(metadata={"description": "Lines with this verdict."}),
        metadata={"description": "How many lines have each verdict on the torque."},
    )
    drift = fields.List(
        fields.Nested(DriftPart),
        metadata={"description": "How the readings of each machine drift from the ordered marks."},
    )
