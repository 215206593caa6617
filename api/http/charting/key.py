"""What explains a diagram: the letters of its limits, and the kinds of its lines."""

from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup

from api.http.charting.figures import dial, torque, unit_text
from api.http.charting.plot import BELOW, BOX, FIGURES, ROW, WORDS, Plot, TorqueScale
from api.http.charting.svg import element, line, text

VALUES = (127.0, 175.0)
"""Where the figures of the key end: in the unit of the dial, and in the other system."""
TEXT, ROOM = 84.0, 33.0
"""Room for the words and for the figures of a line."""


def torque_unit(scale: TorqueScale) -> str:
    """The unit of an axis of torque."""
    return ("1000 " if scale.thousands else "") + unit_text(scale.unit)


def letter(words: str, x: float, y: float) -> Markup:
    """A letter, or those that share a line, in a box, centred."""
    box = element(
        "rect", x=x - BOX / 2, y=y - BOX / 2, width=BOX, height=BOX, fill="#fff", stroke="#000",
        stroke_width=0.4,
    )  # fmt: skip
    size = 4.8 if len(words) == 1 else 5.0 / len(words) + 1.1
    return element("g", box, text(x, y + 0.35 * size, words, size, "middle", font_weight="bold"))


def legend(plot: Plot) -> Iterator[Markup]:
    """Samples of the lines, with words."""
    y = plot.bottom + 21.4
    samples = (
        (4.0, 18.0, "torque", line(4.0, y - 1.4, 16.0, y - 1.4, 0.7)),
        (46.0, 60.0, "expanded uncertainty (k = 2)", _band(plot, 46.0, y)),
        (138.0, 152.0, "worst case", line(138.0, y - 1.4, 150.0, y - 1.4, 0.3, stroke_dasharray="1.6 1")),
    )
    for _, at, words, sample in samples:
        yield sample
        yield text(at, y, words, WORDS)
    yield element("circle", cx=10.0, cy=y - 1.4, r=0.9)


def _band(plot: Plot, x: float, y: float) -> Markup:
    fill = f"url(#hatch-{plot.chart['operation']})"
    return element("rect", x=x, y=y - 3.4, width=12.0, height=4.0, fill=fill, stroke="#000", stroke_width=0.2)


def key(plot: Plot) -> Iterator[Markup]:
    """For every limit its letter, words, and its value in the unit of the dial and in the other system."""
    y = plot.bottom + BELOW + 6.4
    for limit in plot.limits:
        yield letter(limit.letter, BOX / 2 + 0.3, y - 2.2)
        yield from _line(plot, limit.text if limit.until is None else f"{limit.text}: from", limit.shown, y)
        y += ROW
        if limit.until is not None:
            yield from _line(plot, "to", limit.until, y)
            y += ROW


def _line(plot: Plot, words: str, shown: Mapping[str, Any], y: float) -> Iterator[Markup]:
    yield text(BOX + 3.0, y, words, WORDS, room=TEXT)
    for end, (figures, unit) in zip(VALUES, _values(plot, shown), strict=True):
        yield text(end, y, figures, FIGURES, "end", ROOM)
        yield text(end + 1.2, y, unit, WORDS, room=14.0)


def _values(plot: Plot, shown: Mapping[str, Any]) -> list[tuple[str, str]]:
    own, other = (shown["amount"][system] for system in plot.systems)
    if shown["reading"] is None:
        return [(torque(each["value"]), unit_text(each["unit"])) for each in (own, other)]
    return [(dial(each["value"]), unit_text(each["unit"])) for each in (shown["reading"], other)]
