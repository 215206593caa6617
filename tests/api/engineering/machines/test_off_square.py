"""What is lost off square, against right triangles."""

from math import pi, radians, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.machines.arm import SquareArm, loss_off_square


class Arm(SquareArm, called="an arm"):
    """An arm on no machine."""


@pytest.mark.parametrize(
    ("degrees", "loss"),
    [
        (0.0, 0.0),
        (15.0, 1 - (sqrt(6) + sqrt(2)) / 4),  # 3.407 %
        (30.0, 1 - sqrt(3) / 2),
        (45.0, 1 - sqrt(2) / 2),
        (60.0, 0.5),
        # series: x^2/2 - x^4/24 with x = pi/18,000; 1 - cos keeps 8 digits of it
        (0.01, (pi / 18_000) ** 2 / 2 - (pi / 18_000) ** 4 / 24),
    ],
)
def test_loss(degrees: float, loss: float) -> None:
    assert loss_off_square(radians(degrees)) == pytest.approx(loss, rel=1e-12)


@given(st.floats(0.0, 1.5), st.floats(0.01, 10.0))
def test_the_smallest_arm_is_the_largest_less_the_loss(angle: float, radius: float) -> None:
    smallest, largest = Arm(radius, angle).moment_arms("unknown")
    assert largest == radius
    assert smallest == pytest.approx(radius * (1 - loss_off_square(angle)), rel=1e-12)
