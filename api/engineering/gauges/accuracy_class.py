"""How far a gauge may be off: grades of ASME B40.100 and classes of EN 837-1 by name, or a stated share.

A class from memory still sets bounds where a shop accepts no figure from memory: without it they would be
narrower.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from api.engineering.checks import NOISE

HIGHEST_SHARE_OF_SPAN: Mapping[Literal["steady", "fluctuating"], float] = {
    "steady": 0.75,
    "fluctuating": 0.65,
}
"""Highest working pressure as a share of full scale by how it comes (EN 837-2, from memory)."""


@dataclass(frozen=True)
class GaugeAccuracy:
    """Largest error of a gauge, in percent of span, by quarter of the dial.

    Attributes:
        name: as standards and catalogues write it.
        first_quarter, middle_half, last_quarter: percent of span, > 0.
        status: how sure the figures are, see `api.engineering.provenance`.
        source: where they stand.
    """

    name: str
    first_quarter: float
    middle_half: float
    last_quarter: float
    status: str
    source: str

    def at(self, reading: float, span: float) -> float:
        """Largest error at a reading, in its unit; the marks at 25 % and 75 % belong to the middle half.

        Args:
            reading: on the dial, 0 to span.
            span: from the first mark to the last, in the same unit, > 0.

        A 0 to 100 psi gauge of grade A at 20 and at 50 psi (a published note on the grades):

        >>> grade = GAUGE_CLASSES["ASME B40.100 A"]
        >>> grade.at(20.0, 100.0), grade.at(50.0, 100.0)
        (2.0, 1.0)
        """
        if reading < 0.25 * span * (1 - NOISE):
            percent = self.first_quarter
        elif reading <= 0.75 * span * (1 + NOISE):
            percent = self.middle_half
        else:
            percent = self.last_quarter
        return percent / 100 * span

    @property
    def uniform(self) -> bool:
        """Whether the error is the same all over the dial.

        >>> stated_accuracy(1.0).uniform, GAUGE_CLASSES["ASME B40.100 A"].uniform
        (True, False)
        """
        return self.first_quarter == self.middle_half == self.last_quarter

    def share_of_reading(self, reading: float, span: float) -> float:
        """Largest error as a share of a reading, > 0, which is what a torque inherits.

        Grade 1A means 10 % of a reading of 500 psi on a dial of 5000 psi:

        >>> GAUGE_CLASSES["ASME B40.100 1A"].share_of_reading(500.0, 5000.0)
        0.1
        """
        return self.at(reading, span) / reading


def stated_accuracy(percent_of_span: float) -> GaugeAccuracy:
    """An accuracy that a maker or certificate states for the whole dial.

    >>> stated_accuracy(1.0).at(100.0, 300.0)
    3.0
    """
    share = percent_of_span
    return GaugeAccuracy(f"{share:g} % of span", share, share, share, "stated", "as stated for this gauge")


def _asme(grade: str, first: float, middle: float, last: float, status: str) -> GaugeAccuracy:
    return GaugeAccuracy(
        f"ASME B40.100 {grade}", first, middle, last, status, "ASME B40.100, accuracy grades"
    )


def _en(percent: float) -> GaugeAccuracy:
    return GaugeAccuracy(
        f"EN 837-1 {percent:g}", percent, percent, percent, "read", "EN 837-1, table 11: accuracy classes"
    )


GAUGE_CLASSES: Mapping[str, GaugeAccuracy] = {
    accuracy.name: accuracy
    for accuracy in (
        _asme("4A", 0.1, 0.1, 0.1, "from memory"),
        _asme("3A", 0.25, 0.25, 0.25, "from memory"),
        _asme("2A", 0.5, 0.5, 0.5, "from memory"),
        _asme("1A", 1.0, 1.0, 1.0, "from memory"),
        _asme("A", 2.0, 1.0, 2.0, "read"),
        _asme("B", 3.0, 2.0, 3.0, "from memory"),
        _asme("C", 4.0, 3.0, 4.0, "from memory"),
        _asme("D", 5.0, 5.0, 5.0, "from memory"),
        *(_en(percent) for percent in (0.1, 0.25, 0.6, 1.0, 1.6, 2.5, 4.0)),
    )
}
"""Every class by its name.

The older ASA grades have the letters A and B too and mean other figures (A: 1 % in the middle half and 1.5 %
elsewhere; B: 2 % and 3 %), so they are not here: such a gauge states its percent of span.
"""


def highest_working_reading(span: float, load: Literal["steady", "fluctuating"]) -> float:
    """Highest reading at which a gauge should work, in the unit of its span (EN 837-2, from memory).

    >>> highest_working_reading(5000.0, "steady"), highest_working_reading(5000.0, "fluctuating")
    (3750.0, 3250.0)
    """
    return HIGHEST_SHARE_OF_SPAN[load] * span


def working_range_advice(reading: float, span: float) -> str | None:
    """Advice for a gauge that works at a reading; None where there is none to give.

    >>> working_range_advice(2500.0, 5000.0) is None
    True
    """
    at = f"The gauge works at {100 * reading / span:.3g} % of its span: "
    if reading > highest_working_reading(span, "steady") * (1 + NOISE):
        return (
            f"{at}EN 837-2 (from memory) allows 75 %, under fluctuating pressure 65 %. Take a larger range."
        )
    if reading > highest_working_reading(span, "fluctuating") * (1 + NOISE):
        return f"{at}EN 837-2 (from memory) allows that under steady pressure, and 65 % under fluctuating."
    if reading < 0.25 * span * (1 - NOISE):
        return f"{at}below a quarter its error is a large share of the reading. Take a smaller range."
    return None
