"""The spans of usual dials, of which one may suit a reading better than the dial at hand."""

from collections.abc import Iterator
from math import floor, log10

from api.engineering.checks import NOISE
from api.engineering.gauges.gauge import Gauge

ROUND_SPANS = (6, 5, 4, 3, 2.5, 2, 1.6, 1.5, 1)
"""First digits of the spans of usual dials (bar: EN 837-1, from memory; psi: common practice, no source)."""
DECADES = 3
"""Powers of ten that are looked through; a dial of a hundredth of the span suits no machine."""


def smaller_spans(gauge: Gauge, least: float) -> Iterator[float]:
    """Round spans below that of a gauge, in its unit, the greatest first.

    Args:
        gauge: the dial at hand.
        least: the most that the smaller one must bear, SI, > 0.

    >>> from api.engineering.gauges.accuracy_class import stated_accuracy
    >>> dial = Gauge("G", "psi", 3000, 50, 1.0, stated_accuracy(1), "work_port")
    >>> list(smaller_spans(dial, 950.0))
    [2500.0, 2000.0, 1600.0, 1500.0, 1000.0]
    """
    highest = floor(log10(gauge.span))
    for exponent in range(highest, highest - DECADES, -1):
        for digits in ROUND_SPANS:
            span = float(f"{digits}e{exponent}")
            if least * (1 - NOISE) <= span * gauge.unit_in_si and span < gauge.span * (1 - NOISE):
                yield span
