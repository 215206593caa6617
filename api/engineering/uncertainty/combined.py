"""An uncertainty budget by JCGM 100 (the GUM): terms, combined in quadrature, expanded with k = 2."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum, hypot, inf, prod, sqrt
from typing import Literal, NamedTuple

Distribution = Literal["rectangular", "triangular", "normal"]

COVERAGE_FACTOR = 2.0
"""Standard uncertainties in an expanded one, for about 95 % (JCGM 100, 6.3.3 and G.6.6)."""
DIVISORS: dict[Distribution, float] = {
    "rectangular": sqrt(3),
    "triangular": sqrt(6),
    "normal": COVERAGE_FACTOR,
}
"""Half-width over standard uncertainty; that of a normal distribution is its expanded uncertainty."""
KURTOSIS: dict[Distribution, float] = {"rectangular": 1.8, "triangular": 2.4, "normal": 3.0}


class Doubt(NamedTuple):
    """A quantity that is not known exactly.

    Attributes:
        name: what it is.
        kind: kind of quantity of its half-width, in SI; ``number`` where it has no unit.
        half_width: how far it may be off to either side; > 0.
        distribution: how it is spread; the half-width of a ``normal`` one is its expanded uncertainty, k = 2.
        result_off_by: the result with this quantity off by so much, the others as they are.
        degrees_of_freedom: how well the half-width itself is known.
    """

    name: str
    kind: str
    half_width: float
    distribution: Distribution
    result_off_by: Callable[[float], float]
    degrees_of_freedom: float = inf


class Term(NamedTuple):
    """One line of a budget.

    Attributes:
        name, kind, half_width, distribution, degrees_of_freedom: as in `Doubt`.
        divisor: half-width over standard uncertainty.
        sensitivity: change of the result, as a share of it, for one SI unit of the quantity.
        contribution: standard uncertainty of the result from this quantity alone, as a share of it.
        shift: mean of the result over the nominal result, less 1. Not zero where the doubt is one-sided.
    """

    name: str
    kind: str
    half_width: float
    distribution: Distribution
    divisor: float
    sensitivity: float
    contribution: float
    shift: float = 0.0
    degrees_of_freedom: float = inf


def term_of(doubt: Doubt, nominal: float) -> Term:
    """What one doubt does to a result.

    The result is taken at three values of the quantity: as it is, and ``sqrt(kurtosis)`` standard
    uncertainties to either side, each of these weighted with ``1/(2 kurtosis)`` (quadrature by Gauss). Mean
    and standard deviation are then exact where the result follows the quantity by a straight line or by a
    parabola. A force that stands square to its arm, whose sensitivity is zero, thus has its one-sided loss
    (JCGM 100, note to 5.1.2; three results in place of derivatives: 5.1.3, note 2).

    Args:
        doubt: the quantity.
        nominal: result without doubt, > 0.

    A loss of ``x^2`` for x within +-1 is 1/3 in the mean with a standard deviation of ``sqrt(4/45)`` = 0.298:

    >>> term = term_of(Doubt("x", "number", 1.0, "rectangular", lambda x: 100 - x * x), 100.0)
    >>> round(100 * term.shift, 4), round(100 * term.contribution * (1 + term.shift), 4)
    (-0.3333, 0.2981)
    """
    kurtosis, divisor = KURTOSIS[doubt.distribution], DIVISORS[doubt.distribution]
    step = sqrt(kurtosis) * doubt.half_width / divisor
    middle = doubt.result_off_by(0.0)
    up, down = doubt.result_off_by(step) - middle, doubt.result_off_by(-step) - middle
    weight = 1 / (2 * kurtosis)
    moved = weight * (up + down)
    mean = middle + moved
    return Term(
        doubt.name,
        doubt.kind,
        doubt.half_width,
        doubt.distribution,
        divisor,
        sensitivity=(up - down) / (2 * step) / mean,
        contribution=sqrt(weight * (up**2 + down**2) - moved**2) / mean,
        shift=mean / nominal - 1,
        degrees_of_freedom=doubt.degrees_of_freedom,
    )


def effective_degrees_of_freedom(u: Sequence[float], nu: Sequence[float]) -> float:
    """``u_c^4 / sum(u_i^4 / nu_i)`` (Welch and Satterthwaite; JCGM 100, G.4.1); infinite where all are.

    Args:
        u: standard uncertainties, all in one unit.
        nu: their degrees of freedom.

    An end gauge, nm (JCGM 100, H.1, which truncates to 16):

    >>> int(effective_degrees_of_freedom([25, 16.599, 6.7, 5.8, 3.9, 2.88679], [18, 2, 8, 24, 5, 50]))
    16
    """
    shares = fsum(each**4 / degrees for each, degrees in zip(u, nu, strict=True))
    return hypot(*u) ** 4 / shares if shares else inf


@dataclass(frozen=True)
class LeftOut:
    """A quantity that the budget does not hold, and why."""

    name: str
    reason: str


@dataclass(frozen=True)
class Budget:
    """Every known doubt of a result, independent of each other; all shares are of the best estimate.

    Attributes:
        nominal: result without doubt, > 0.
        terms: line by line.
        left_out: what is not in it.
    """

    nominal: float
    terms: tuple[Term, ...]
    left_out: tuple[LeftOut, ...] = ()

    @property
    def estimate(self) -> float:
        """The best estimate: the nominal result with every one-sided doubt at its mean."""
        return self.nominal * prod(1 + term.shift for term in self.terms)

    @property
    def combined(self) -> float:
        """Combined standard uncertainty, a share (JCGM 100, 5.1.2)."""
        return hypot(*(term.contribution for term in self.terms))

    @property
    def expanded(self) -> float:
        """Expanded uncertainty with k = 2, a share."""
        return COVERAGE_FACTOR * self.combined

    @property
    def expanded_amount(self) -> float:
        """Expanded uncertainty with k = 2, in the unit of the result."""
        return self.expanded * self.estimate

    @property
    def effective_degrees_of_freedom(self) -> float:
        """How well the combined uncertainty is known; far above 10, k = 2 is about 95 %."""
        return effective_degrees_of_freedom(
            [term.contribution for term in self.terms], [term.degrees_of_freedom for term in self.terms]
        )
