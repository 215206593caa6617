"""The straight line through measured points, with its uncertainty: least squares of y on x."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from api.engineering.checks import NOISE, refuse


@dataclass(frozen=True)
class Line:
    """A fitted line ``y = a + b x``, held as ``y = y_centre + b (x - x_centre)``, which loses no digits.

    The variance of a fitted y is ``u^2 (share + (x - x_centre)^2 / spread)``: with an offset the centre is
    the mean of the points, ``share = 1/n`` and ``spread = Sxx``; through zero the centre is zero,
    ``share = 0`` and ``spread`` the sum of x squared. All uncertainties follow from that one expression.

    Attributes:
        b: slope.
        x_centre, y_centre: the point that the line turns about.
        share, spread: as above.
        ssr: sum of the squared residuals.
        degrees_of_freedom: points less fitted parameters.
        u_y: standard uncertainty of every y where it was known beforehand, else None.
    """

    b: float
    x_centre: float
    y_centre: float
    share: float
    spread: float
    ssr: float
    degrees_of_freedom: int
    u_y: float | None = None

    @property
    def a(self) -> float:
        """Offset, y at x = 0."""
        return self.at(0.0)

    @property
    def s(self) -> float:
        """Standard deviation of the residuals, ``sqrt(SSR / (n - 2))``, through zero ``n - 1``."""
        return sqrt(self.ssr / self.degrees_of_freedom)

    @property
    def u(self) -> float:
        """Standard uncertainty of one y: the one known beforehand, else s."""
        return self.s if self.u_y is None else self.u_y

    @property
    def u_a(self) -> float:
        """Standard uncertainty of a; 0 for a line through zero."""
        return self.mean_uncertainty(0.0)

    @property
    def u_b(self) -> float:
        """Standard uncertainty of b."""
        return self.u / sqrt(self.spread)

    @property
    def covariance(self) -> float:
        """Covariance of a and b, ``-xbar u^2 / Sxx``."""
        return -self.x_centre * self.u_b**2

    @property
    def r(self) -> float:
        """Correlation coefficient of a and b, which does not depend on u; 0 for a line through zero."""
        if self.share == 0:
            return 0.0
        return -self.x_centre / sqrt(self.share * self.spread + self.x_centre**2)

    @property
    def chi_squared(self) -> float | None:
        """``SSR / u_y^2``, to be compared with the degrees of freedom; None where u_y was not known."""
        return None if self.u_y is None else self.ssr / self.u_y**2

    def at(self, x: float) -> float:
        """The fitted y at x."""
        return self.y_centre + self.b * (x - self.x_centre)

    def _leverage(self, x: float) -> float:
        return self.share + (x - self.x_centre) ** 2 / self.spread

    def mean_uncertainty(self, x: float) -> float:
        """Standard uncertainty of the fitted y: of the mean of very many more at x."""
        return self.u * sqrt(self._leverage(x))

    def next_uncertainty(self, x: float) -> float:
        """Standard uncertainty of the next single y at x, which scatters about the line as the others did."""
        return self.u * sqrt(1 + self._leverage(x))

    def x_from_y(self, y: float) -> float:
        """The x at which the line reaches y: ``(y - a) / b``."""
        return self.x_centre + (y - self.y_centre) / self.b

    def x_uncertainty(self, y: float, readings: int = 1) -> float:
        """Standard uncertainty of `x_from_y` for a y that is the mean of so many readings.

        ``(u/|b|) sqrt(1/m + 1/n + (x - xbar)^2 / Sxx)``. It is the inverse of this line, and not a fit of x
        on y: the two lines differ wherever the points scatter.
        """
        return self.u / abs(self.b) * sqrt(1 / readings + self._leverage(self.x_from_y(y)))

    def offset_is_significant(self) -> bool:
        """Whether a lies more than two of its standard uncertainties from zero, and beyond rounding."""
        rounding = NOISE * (abs(self.y_centre) + abs(self.b * self.x_centre))
        return abs(self.a) > max(2 * self.u_a, rounding)


def line_with_offset(x: Sequence[float], y: Sequence[float], u_y: float | None = None) -> Line:
    """``b = Sxy/Sxx``, ``a = ybar - b xbar``, ``s^2 = SSR/(n - 2)`` (JCGM 100:2008 H.3; ISO/TS 28037 6.3).

    Args:
        x: where the points stand; at least 2 different.
        y: their values; at least 3.
        u_y: standard uncertainty of every y where it is known beforehand, > 0; then it, not the scatter of
            the points, gives the uncertainties.

    Raises:
        NoAnswer: ``too_few_points``.

    Correction of a thermometer, in degrees Celsius, about 20 (JCGM 100:2008 H.3):

    >>> read = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
    >>> off = [-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160]
    >>> line = line_with_offset([t - 20 for t in read], off)
    >>> round(line.a, 4), round(line.u_a, 4), round(line.b, 5), round(line.u_b, 5), round(line.r, 3)
    (-0.1712, 0.0029, 0.00218, 0.00067, -0.93)
    >>> round(line.at(30 - 20), 4), round(line.mean_uncertainty(30 - 20), 4)
    (-0.1494, 0.0041)
    """
    n = len(x)
    x_mean, y_mean = fsum(x) / n if n else 0.0, fsum(y) / n if n else 0.0
    spread = fsum((at - x_mean) ** 2 for at in x)
    _enough(n, 2, spread, x)
    b = fsum((at - x_mean) * (value - y_mean) for at, value in zip(x, y, strict=True)) / spread
    return _line(x, y, b, (x_mean, y_mean), 1 / n, spread, n - 2, u_y)


def line_through_zero(x: Sequence[float], y: Sequence[float], u_y: float | None = None) -> Line:
    """``b = sum xy / sum x^2``, ``s^2 = SSR/(n - 1)``: right only where physics has no offset.

    Args:
        x: where the points stand; at least one not at zero.
        y: their values; at least 2.
        u_y: as in `line_with_offset`.

    Raises:
        NoAnswer: ``too_few_points``.

    >>> line_through_zero([1.0, 2.0, 3.0], [2.0, 4.0, 6.0]).b
    2.0
    """
    spread = fsum(at * at for at in x)
    _enough(len(x), 1, spread, x)
    b = fsum(at * value for at, value in zip(x, y, strict=True)) / spread
    return _line(x, y, b, (0.0, 0.0), 0.0, spread, len(x) - 1, u_y)


def _enough(points: int, parameters: int, spread: float, x: Sequence[float]) -> None:
    if not points > parameters or spread <= (NOISE * max(map(abs, x))) ** 2:
        raise refuse(
            "too_few_points",
            f"{points} points are too few or too close for a line: more than {parameters} are needed, "
            "at different places",
        )


def _line(
    x: Sequence[float],
    y: Sequence[float],
    b: float,
    centre: tuple[float, float],
    share: float,
    spread: float,
    degrees_of_freedom: int,
    u_y: float | None,
) -> Line:
    x_centre, y_centre = centre
    residuals = [value - y_centre - b * (at - x_centre) for at, value in zip(x, y, strict=True)]
    ssr = fsum(residual**2 for residual in residuals)
    return Line(b, x_centre, y_centre, share, spread, ssr, degrees_of_freedom, u_y)
