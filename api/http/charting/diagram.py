"""The diagram of a chart: the plot with its title and key."""

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import Any

from markupsafe import Markup

from api.http.charting.figures import dial, torque, unit_text
from api.http.charting.plot import BELOW, BOX, FIGURES, HEAD, ROW, WIDTH, WORDS, Plot, TorqueScale
from api.http.charting.svg import Anchor, element, line, points, text, width_of

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
        (46.0, 60.0, "expanded uncertainty (k = 2)", _band_swatch(plot, 46.0, y)),
        (138.0, 152.0, "worst case", line(138.0, y - 1.4, 150.0, y - 1.4, 0.3, stroke_dasharray="1.6 1")),
    )
    for _, at, words, sample in samples:
        yield sample
        yield text(at, y, words, WORDS)
    yield element("circle", cx=10.0, cy=y - 1.4, r=0.9)


def _band_swatch(plot: Plot, x: float, y: float) -> Markup:
    fill = f"url(#hatch-{plot.chart['operation']})"
    return element("rect", x=x, y=y - 3.4, width=12.0, height=4.0, fill=fill, stroke="#000", stroke_width=0.2)


def key(plot: Plot) -> Iterator[Markup]:
    """The key: for every limit its letter, words, and value in the unit of the dial and the other system."""
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


FINEST = 1.6
"""mm between lines of the grid, at least."""
APART = [digit * 10**power for power in range(7) for digit in (1, 2, 5)]
"""Divisions from line to line."""
DASHES = "4 1 1 1"


def diagram(chart: Mapping[str, Any]) -> Markup:
    """The diagram and its key as a group, `WIDTH` wide and `DIAGRAM` high, mm."""
    plot = Plot(chart)
    parts = (_hatch, _grid, _band, _curves, _frame, _ranges, _limits, _figures, legend, key)
    return element("g", *(each for part in parts for each in part(plot)))


def _name_of_hatch(plot: Plot) -> str:
    return f"hatch-{plot.chart['operation']}"


def _hatch(plot: Plot) -> Iterator[Markup]:
    stroke = line(0, 0, 0, 1.4, 0.25)
    yield element(
        "pattern", stroke, id=_name_of_hatch(plot), width=1.4, height=1.4, patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )  # fmt: skip


def _grid(plot: Plot) -> Iterator[Markup]:
    """Lines where marks can be set, none where there is nothing to read; those with a figure are bold."""
    first, last = (plot.x.at(plot.marks[end]["gauge_setting"]["value"]) for end in (0, -1))
    across = [value for value, _ in plot.scales[0].ticks]
    for width, values in (
        (0.1, _multiples(across[1] / 10, plot.y.top, plot.bottom - plot.y.end, FINEST)),
        (0.3, across),
    ):
        yield from (line(first, plot.y.at(value), last, plot.y.at(value), width) for value in values)
    for width, values in ((0.1, _marks_apart(plot, FINEST)), (0.3, _marks_with_figures(plot))):
        for value in values:
            at = plot.x.at(value)
            if first - 0.01 <= at <= last + 0.01:
                yield line(at, plot.y.end, at, plot.bottom, width)


def _multiples(division: float, top: float, length: float, least: float) -> list[float]:
    """Multiples of a division, or of a round number of them, up to ``top`` and ``least`` mm or more apart."""
    apart = next(each for each in APART if each * division / top * length >= least) * division
    return [float(f"{number * apart:.12g}") for number in range(int(top / apart + 1e-9) + 1)]


def _marks_apart(plot: Plot, least: float) -> list[float]:
    division = plot.chart["gauge_division"]["value"]
    return _multiples(division, plot.x.top, plot.x.end - plot.x.zero, least)


def _marks_with_figures(plot: Plot) -> list[float]:
    """Marks that get a figure below the plot, as many as there is room for."""
    return _marks_apart(plot, width_of(dial(plot.x.top), FIGURES) + 2.0)


def _band(plot: Plot) -> Iterator[Markup]:
    """Best estimate less and plus expanded uncertainty, where there is a budget."""
    own = plot.systems[0]
    for known, found in groupby(plot.marks, lambda mark: mark["uncertainty"] is not None):
        if not known:
            continue
        low, high = [], []
        for mark in found:
            doubt = mark["uncertainty"]
            middle, half = doubt["best_estimate"][own]["value"], doubt["expanded"][own]["value"]
            low.append(plot.place(mark, max(0.0, middle - half)))
            high.append(plot.place(mark, middle + half))
        fill = f"url(#{_name_of_hatch(plot)})"
        yield element(
            "polygon", points=points([*low, *reversed(high)]), fill=fill, stroke="#000", stroke_width=0.2
        )


def _curves(plot: Plot) -> Iterator[Markup]:
    own = plot.systems[0]
    for name in ("torque_lower_bound", "torque_upper_bound"):
        yield _polyline(plot, name, own, stroke_width=0.3, stroke_dasharray="1.6 1")
    yield _polyline(plot, "torque_at_gauge_setting", own, stroke_width=0.7)
    for mark in plot.marks:
        x, y = plot.place(mark, mark["torque_at_gauge_setting"][own]["value"])
        yield element("circle", cx=x, cy=y, r=0.9)


def _polyline(plot: Plot, name: str, own: str, **attributes: object) -> Markup:
    found = [plot.place(mark, mark[name][own]["value"]) for mark in plot.marks]
    return element("polyline", points=points(found), fill="none", stroke="#000", **attributes)


def _frame(plot: Plot) -> Iterator[Markup]:
    """The axes, and a break in each that goes on beyond its scale."""
    left, right = plot.sides
    yield line(left, plot.bottom, right, plot.bottom, 0.5)
    yield line(left, plot.bottom, left, plot.top, 0.5)
    yield line(right, plot.bottom, right, plot.top, 0.5)
    if plot.x.beyond:
        yield _break(plot.x.end + 2.0, plot.bottom, 0.0)
    if plot.y.beyond:
        yield from (_break(side, plot.y.end - 2.0, 90.0) for side in plot.sides)


def _break(x: float, y: float, turned: float) -> Markup:
    gap = element("rect", x=-0.6, y=-1.0, width=1.2, height=2.0, fill="#fff")
    strokes = [line(at - 0.6, 2.0, at + 0.6, -2.0, 0.4) for at in (-0.6, 0.6)]
    return element("g", gap, *strokes, transform=f"translate({x:.2f} {y:.2f}) rotate({turned:g})")


def _ranges(plot: Plot) -> Iterator[Markup]:
    """Bars on the axis of readings, one above the other, as far as there are marks."""
    shown = [limit for limit in plot.limits if limit.until is not None and limit.reading < plot.x.top]
    for number, limit in enumerate(shown):
        assert limit.until is not None
        y = plot.bottom - 2.0 - 7.2 * number
        start, end = plot.x.at(limit.reading), plot.x.at(min(limit.until["reading"]["value"], plot.x.top))
        yield line(start, y, end, y, 1.6)
        yield letter(limit.letter, (start + end) / 2, y - BOX / 2 + 0.8)


def _limits(plot: Plot) -> Iterator[Markup]:
    """Lines across the plot, each with its letter; limits of one reading share a line."""
    left, right = plot.sides
    lines = sorted((each for each in plot.limits if each.is_line), key=lambda each: each.reading)
    for reading, limits in groupby(lines, lambda each: each.reading):
        x = plot.x.at(reading)
        yield line(x, HEAD - 2.0, x, plot.bottom, 0.45, stroke_dasharray=DASHES)
        yield letter("".join(each.letter for each in limits), x, HEAD - 2.0 - BOX / 2)
    torques = [each for each in plot.limits if each.of_torque]
    for number, limit in enumerate(torques):
        y = plot.y.at(limit.torque(plot.systems[0]))
        yield line(left, y, right, y, 0.45, stroke_dasharray=DASHES)
        yield letter(limit.letter, left + 0.3 * (plot.x.end - left) + 8.0 * number, y)


def _figures(plot: Plot) -> Iterator[Markup]:
    left, right = plot.sides
    yield from _torque_figures(plot, plot.scales[0], left, -1.0, "end")
    yield from _torque_figures(plot, plot.scales[1], right, 1.0, "start")
    yield text(0.0, 5.0, torque_unit(plot.scales[0]), 5.0)
    yield text(WIDTH, 5.0, torque_unit(plot.scales[1]), 5.0, "end")
    for value in _marks_with_figures(plot):
        x = plot.x.at(value)
        yield line(x, plot.bottom, x, plot.bottom + 1.2, 0.3)
        yield text(x, plot.bottom + 8.2, dial(value), FIGURES, "middle")
    title = f"mark to set on gauge {plot.chart['gauge']}, {unit_text(plot.dial_unit)}"
    yield text((left + right) / 2, plot.bottom + 15.0, title, 5.0, "middle", right - left)


def _torque_figures(
    plot: Plot, scale: TorqueScale, side: float, out: float, anchor: Anchor
) -> Iterator[Markup]:
    for value, words in scale.ticks:
        y = plot.y.at(value)
        yield line(side, y, side + 1.2 * out, y, 0.3)
        yield text(side + 2.8 * out, y + 0.36 * FIGURES, words, FIGURES, anchor)
