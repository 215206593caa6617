"""API round threads worked a second time, in US units (in, psi, lbf, ft-lb).

Written from the reference page on tubular make-up alone (its sections 1 to 4), line by line as it prints
them. It shares nothing with the program under test: no code, no units, no table. Dimensions arrive as plain
numbers.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal


@dataclass(frozen=True)
class Joint:
    """A joint in inches and psi; ``D`` is what the thread is cut on, ``two_h`` twice the thread height."""

    D: float
    d: float
    two_h: float
    L: float
    Yp: float
    Up: float

    @property
    def Ajp(self) -> float:
        """in2, section 2."""
        return 0.7854 * ((self.D - self.two_h) ** 2 - self.d**2)

    @property
    def P_frac(self) -> float:
        """lbf, section 2."""
        return 0.95 * self.Ajp * self.Up

    @property
    def P_pull(self) -> float:
        """lbf, section 2."""
        by_tensile = 0.74 * self.D**-0.59 * self.Up / (0.5 * self.L + 0.14 * self.D)
        by_yield = self.Yp / (self.L + 0.14 * self.D)
        return 0.95 * self.Ajp * self.L * (by_tensile + by_yield)

    @property
    def P_joint(self) -> float:
        """lbf, section 2, casing."""
        return min(self.P_frac, self.P_pull)

    @property
    def T_opt(self) -> float:
        """ft-lb, section 1."""
        return 0.01 * self.P_pull

    @property
    def T_min(self) -> float:
        """ft-lb, section 1."""
        return self.T_opt * 3 / 4

    @property
    def T_max(self) -> float:
        """ft-lb, section 1."""
        return self.T_opt * 5 / 4


def strength_of_tubing(joint: Joint, body: float | None = None) -> float:
    """Section 3, lbf: non-upset below the thread, or external upset by the outside diameter of the body."""
    outside = joint.D - joint.two_h if body is None else body
    return joint.Yp * 0.7854 * (outside**2 - joint.d**2)


def as_printed(T_opt: float) -> tuple[int, int, int]:
    """Section 4: optimum, minimum and maximum in ft-lb, in decimal arithmetic."""

    def to_ten(torque: Decimal) -> int:
        return int((torque / 10).to_integral_value(ROUND_HALF_UP)) * 10

    optimum = to_ten(Decimal(T_opt))
    return optimum, to_ten(Decimal(optimum) * Decimal("0.75")), to_ten(Decimal(optimum) * Decimal("1.25"))


def random_joints(count: int, seed: int) -> Iterator[Joint]:
    """Joints that leave metal under the thread, the same ones for the same seed."""
    chance = random.Random(seed)
    for _ in range(count):
        D = round(chance.uniform(1.05, 26.0), 4)
        two_h = round(chance.uniform(0.05, 0.2), 5)
        Yp = round(chance.uniform(25_000, 150_000), 1)
        yield Joint(
            D=D,
            d=round(chance.uniform(0.55, 0.98) * (D - two_h), 4),
            two_h=two_h,
            L=round(chance.uniform(0.3 / D, 0.9) * D, 4) if D < 12 else round(chance.uniform(0.5, 11.0), 4),
            Yp=Yp,
            Up=round(Yp * chance.uniform(1.0, 1.6), 1),
        )
