"""The ratio of break-out to make-up torque: one number, or a range of them."""

from typing import Any

from marshmallow import fields

from schemas.core.faults import fault
from schemas.core.quantity import NotANumber, plain_number


class BreakOutRatio(fields.Field[tuple[float, float, float]]):
    """Break-out over make-up torque: one number, or lowest, likely and highest as ``1.0/1.3/1.6``.

    Loads to three numbers that rise or are equal; one number is all three.
    """

    low, high = 0.1, 5.0
    accepted = f"a number from {low:g} to {high:g}, or three that rise or are equal, as in 1.0/1.3/1.6"

    def _deserialize(
        self, value: Any, attr: str | None, data: Any, **kwargs: Any
    ) -> tuple[float, float, float]:
        numbers = self._numbers(value)
        for number in numbers:
            if not self.low <= number <= self.high:
                raise fault("out_of_range", f"{number:.10g} is out of range", self.accepted)
        if not numbers == sorted(numbers):
            raise fault("contradiction", "the three ratios do not rise", self.accepted)
        return numbers[0], numbers[len(numbers) // 2], numbers[-1]

    def _numbers(self, value: Any) -> list[float]:
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return [float(value)]
        parts = value.split("/") if isinstance(value, str) and len(value) <= 64 else []
        if len(parts) not in (1, 3):
            raise fault("not_a_number", "neither a number nor three parted by /", self.accepted)
        try:
            return [plain_number(part) for part in parts]
        except NotANumber as error:
            raise fault("not_a_number", str(error), self.accepted) from None
