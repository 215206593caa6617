"""Figures of merit of a calibration against the limits of classes: a yardstick, and no claim to conform."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from api.engineering.checks import NOISE

INDISPENSABLE = ("relative_error", "repeatability")
"""Figures without which no class is named: a single run says nothing of how torque repeats."""


@dataclass(frozen=True)
class AccuracyClass:
    """A class and the largest magnitude it allows of each figure of merit, percent."""

    name: str
    limits: Mapping[str, float]


@dataclass(frozen=True)
class Measured:
    """A figure of merit, percent, and the best class that allows it; None where none does."""

    figure: str
    percent: float
    best_class: str | None


@dataclass(frozen=True)
class Yardstick:
    """The verdict of the class limits on a calibration.

    Attributes:
        best_class: the best class whose limits hold for every figure measured; None where no class does, or
            where an indispensable figure is not measured.
        measured: figure by figure.
        not_measured: figures that the classes limit and the calibration does not have.
    """

    best_class: str | None
    measured: tuple[Measured, ...]
    not_measured: tuple[str, ...]


def against_classes(figures: Mapping[str, float | None], classes: Sequence[AccuracyClass]) -> Yardstick:
    """The figures of a calibration against classes, the best class first; a limit itself is within.

    >>> one = AccuracyClass("1", {"relative_error": 1.0, "repeatability": 1.0})
    >>> two = AccuracyClass("2", {"relative_error": 2.0, "repeatability": 2.0})
    >>> against_classes({"relative_error": -1.5, "repeatability": 0.4}, [one, two]).best_class
    '2'
    """
    known = {figure: value for figure, value in figures.items() if value is not None}
    measured = tuple(
        Measured(figure, value, _best({figure: value}, classes)) for figure, value in known.items()
    )
    judged = all(figure in known for figure in INDISPENSABLE)
    missing = tuple(figure for figure in figures if figure not in known)
    return Yardstick(_best(known, classes) if judged else None, measured, missing)


def _best(figures: Mapping[str, float], classes: Sequence[AccuracyClass]) -> str | None:
    for each in classes:
        if all(abs(value) <= each.limits[figure] * (1 + NOISE) for figure, value in figures.items()):
            return each.name
    return None
