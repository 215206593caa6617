"""The shares of a target torque, pass by pass, as the trade writes them: 30/60/100."""

import re
from itertools import pairwise
from typing import Any

from marshmallow import ValidationError, fields

from schemas.faults import fault

MOST_PASSES = 6
LEAST_SHARE = 5
"""Per cent of the target; less is no pass (own judgement)."""


class PassShares(fields.Field[Any]):
    """Shares of a target torque in per cent, separated by slashes; loads to shares, the last of them 1."""

    pattern = r"^[0-9]{1,3}(\.[0-9]{1,4})?(/[0-9]{1,3}(\.[0-9]{1,4})?)*$"
    longest = 60
    accepted = (
        f"1 to {MOST_PASSES} shares of the target torque in per cent with slashes between them, each at "
        f"least {LEAST_SHARE} and above the one before, the last 100, such as 30/60/100"
    )

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> tuple[float, ...]:
        if not isinstance(value, str) or len(value) > self.longest or not re.fullmatch(self.pattern, value):
            raise self._refused("not shares with slashes between them")
        percents = [float(percent) for percent in value.split("/")]
        if len(percents) > MOST_PASSES:
            raise self._refused(f"{len(percents)} passes are more than are taken")
        if percents[0] < LEAST_SHARE:
            raise self._refused("the first share is no pass")
        if not all(left < right for left, right in pairwise(percents)):
            raise self._refused("a share is not above the one before")
        if percents[-1] != 100:
            raise self._refused("the last share is not 100: the bolts would not reach their target")
        return tuple(percent / 100 for percent in percents)

    def _refused(self, detail: str) -> ValidationError:
        return fault("not_pass_shares", detail, self.accepted)
