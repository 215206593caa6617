"""The policy of a shop: the rules that it has set for itself, in one approved and dated file."""

from typing import Any

from marshmallow import fields, validates_schema

from schemas.core.faults import FieldFault, contradictions, fault
from schemas.core.fields import Choice, Day, Number, Request, Text
from schemas.core.parts import AsGiven, OneOf, Part, Words
from schemas.core.quantity import NUMBER_RULES
from schemas.finding import FindingPart
from schemas.machines.profile import rising
from schemas.machines.request import Ratios
from schemas.rotary.joint import COMPONENTS
from schemas.words import APPROVALS, DECISION_RULES, STATUSES

UNFIT_PROFILES = ("refuse", "tell")
"""What is done with a profile that is a draft, not in force or not calibrated on the day of the job."""
RULES = (
    "accepted_statuses",
    "unfit_profiles",
    "break_out_ratio",
    "torque_tolerance",
    "largest_distance_without_window",
    "wrong_torque_probability",
    "relief_margin",
    "decision_rule",
    "numbers",
)
"""The rules that a policy may state; a shop is free to state none of them."""


class AcceptedStatuses(fields.List[str]):
    """One or more statuses of published figures."""

    accepted = f"a list of one or more of: {', '.join(STATUSES)}; each once"

    def __init__(self, **options: Any) -> None:
        super().__init__(Choice(STATUSES), **options)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[str | None]:
        statuses = super()._deserialize(value, attr, data, **kwargs)
        if not statuses:
            raise fault("missing_field", "a shop that accepts no status gets no answer", self.accepted)
        if len(set(statuses)) < len(statuses):
            raise fault("duplicate_member", "a status stands twice", self.accepted)
        return statuses


WINDOW_OF_STANDARD = FieldFault(
    "tolerance_not_needed",
    "at its usual stress level this part has a minimum and a maximum, so that a tolerance of the shop would "
    "never enter",
    "tool_joint alone; a torque_tolerance in the request of a joint that has no window",
)


class ToleranceByComponent(Request):
    """A torque tolerance for each component without a window of its standard; one left out has none."""

    not_applicable = {name: WINDOW_OF_STANDARD for name in COMPONENTS if name != "tool_joint"}

    tool_joint = Number(
        0,
        0.25,
        exclude_low=True,
        metadata={"description": "Torque tolerance of this part: 0.05 is plus and minus 5 %."},
    )


class ShopPolicy(Request):
    """The rules of a shop, approved and dated; a rule that is left out is not set."""

    revision = Text(
        20, required=True, metadata={"description": "Revision of the policy; every answer names it."}
    )
    status = Choice(
        APPROVALS,
        required=True,
        metadata={"description": "A draft enters answers too, but puts a stop into each."},
    )
    approved_by = Text(100, metadata={"description": "Who approved it. An approval needs the day too."})
    approved_on = Day(metadata={"description": "Day of the approval; it holds from then at the earliest."})
    effective_from = Day(metadata={"description": "First day on which it holds; the approval if left out."})
    effective_to = Day(
        allow_none=True, metadata={"description": "Last day on which it holds; no end if null or left out."}
    )
    accepted_statuses = AcceptedStatuses(
        metadata={
            "description": "Statuses of figures that may decide an answer; all if left out. What a caller "
            "states is always accepted."
        }
    )
    unfit_profiles = Choice(
        UNFIT_PROFILES,
        metadata={
            "description": "What is done with a profile that is a draft, not in force or not calibrated on "
            "the day of the job: refuse it, or answer and tell; tell if left out."
        },
    )
    break_out_ratio = Ratios(
        0.1,
        5,
        metadata={
            "description": "Break-out over make-up torque where a request states none: a number, or lowest, "
            "likely and highest, as in 1.0/1.3/1.6."
        },
    )
    torque_tolerance = fields.Nested(
        ToleranceByComponent,
        metadata={
            "description": "By component: share of the target to either side, for a joint without minimum "
            "and maximum whose request states no torque_tolerance."
        },
    )
    largest_distance_without_window = Number(
        0,
        0.1,
        exclude_low=True,
        metadata={"description": "Share of the target by which a mark may miss it without a window."},
    )
    wrong_torque_probability = Number(
        0,
        0.1,
        exclude_low=True,
        metadata={"description": "Above it, a torque beyond an end of the window is a finding."},
    )
    relief_margin = Number(
        0,
        0.5,
        metadata={"description": "Share by which relief cracks above the highest pressure needed."},
    )
    decision_rule = Choice(
        DECISION_RULES,
        metadata={"description": "How a verdict compares a torque with its window."},
    )
    numbers = Choice(
        NUMBER_RULES,
        metadata={
            "description": "How a comma in a number is read: refused where in doubt (strict, also if left "
            "out), parting thousands, or the decimal sign."
        },
    )

    @validates_schema(skip_on_field_errors=False)
    def _dates(self, data: dict[str, Any], **_: Any) -> None:
        if not rising(data, "effective_from", "effective_to"):
            contradictions({"effective_to": "the policy ends before it begins"})


POLICY = ShopPolicy()


class PolicyCheckAnswer(Part):
    """Whether a policy can be served; every fault, and what it says."""

    valid = fields.Boolean(metadata={"description": "Whether a service starts with it."})
    faults = fields.List(AsGiven("ProblemError"), metadata={"description": "Everything wrong with it."})
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "What answers by this policy will say of it."}
    )
    hash = Words(allow_none=True, metadata={"description": "Hash that answers will name."})
    rules = fields.List(OneOf(RULES), metadata={"description": "The rules that it states."})
    silent = fields.List(OneOf(RULES), metadata={"description": "The rules that it leaves unset."})
