"""The ratio of break-out to make-up torque, of the request or of the shop: it has no published value."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.policy import Policy
from api.engineering.checks import refuse
from api.engineering.provenance import Assumption


@dataclass(frozen=True)
class Range:
    """Lowest, likely and highest of what is to be expected, SI."""

    low: float
    likely: float
    high: float

    def times(self, factor: float) -> "Range":
        """All three times a factor."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)


def ratios_of(values: Mapping[str, Any], policy: Policy) -> tuple[Range | None, tuple[Assumption, ...]]:
    """Break-out over make-up torque: that of the request, else that of the policy, which is then listed."""
    if given := values.get("break_out_ratio"):
        return Range(*given), ()
    if policy.break_out_ratios is None:
        return None, ()
    shown = "/".join(f"{ratio:.10g}" for ratio in policy.break_out_ratios)
    return Range(*policy.break_out_ratios), (policy.assumed("break_out_ratio", shown),)


def check_break_out(values: Mapping[str, Any], policy: Policy) -> None:
    """Refuse a break-out without its ratio.

    Raises:
        NoAnswer: ``break_out_ratio_required``.
    """
    if values["operation"] == "break_out" and ratios_of(values, policy)[0] is None:
        raise refuse(
            "break_out_ratio_required",
            "the ratio of break-out to make-up torque has no published value: state that of your shop, here "
            "or in its policy",
            "break_out_ratio",
        )
