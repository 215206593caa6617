"""A chart as one drawing: for each operation a sheet with its diagram, one below the other."""

from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup

from api.http.charting import words
from api.http.charting.diagram import diagram
from api.http.charting.plot import DIAGRAM, WIDTH
from api.http.charting.svg import FONT, element, line, text, width_of

MARGIN = 10.0
HEAD = 46.0
SMALL, PITCH = 2.6, 3.4
"""Font size of the foot, and from line to line."""
LONGEST = 50
"""Signs of a word that surely fit into a line."""
TOLD, TOLD_PITCH = 3.4, 4.2
"""Those of the findings."""

Shown = Mapping[str, Any]


def drawing(whole: Shown) -> str:
    """The drawing of a chart, which can stand alone."""
    sheets, below = [], MARGIN
    for chart in whole["charts"]:
        told, foot = list(_told(whole, chart)), list(_foot(whole))
        top = HEAD + TOLD_PITCH * len(told)
        height = top + DIAGRAM + PITCH * len(foot)
        parts = (
            *_void(words.banner(whole), height),
            *_head(whole, chart),
            *_lines(told, HEAD, TOLD, TOLD_PITCH),
            *_lines(foot, top + DIAGRAM, SMALL, PITCH),
        )
        drawn = element("g", diagram(chart), transform=f"translate(0 {top:g})")
        sheets.append(element("g", *parts, drawn, transform=f"translate({MARGIN:g} {below:.4g})"))
        below += height + MARGIN
    width = WIDTH + 2 * MARGIN
    paper = element("rect", width=width, height=below, fill="#fff")
    return element(
        "svg", element("title", f"Torque chart {whole['machine']}"), paper, *sheets,
        xmlns="http://www.w3.org/2000/svg", width=f"{width:g}mm", height=f"{below:.4g}mm",
        viewBox=f"0 0 {width:g} {below:.4g}", font_family=FONT,
    )  # fmt: skip


def _head(whole: Shown, chart: Shown) -> Iterator[Markup]:
    yield text(0.0, 16.0, words.OPERATIONS[chart["operation"]], 9.5, room=70.0, font_weight="bold")
    yield text(WIDTH, 16.0, whole["machine"], 9.5, "end", 110.0, font_weight="bold")
    turned = ", ".join(filter(None, (words.driven(chart), words.HANDS[whole["thread_hand"]])))
    yield text(0.0, 25.0, turned, 6.5, room=WIDTH, font_weight="bold")
    yield text(0.0, 32.5, words.conditions(whole, chart), 4.4, room=WIDTH)
    yield text(0.0, 38.5, words.gauge(chart), 4.4, room=WIDTH)
    yield line(0.0, 41.5, WIDTH, 41.5, 0.6)


def _void(banner: str, height: float) -> Iterator[Markup]:
    """The words drawn over a sheet that is not to be used."""
    if not banner:
        return
    for x in (0.0, WIDTH):
        yield line(x, 0.0, WIDTH - x, height, 0.4, stroke_dasharray="3 3")
    yield element("rect", width=WIDTH, height=7.0, fill="none", stroke="#000", stroke_width=1.2)
    yield text(2.0, 5.1, "NOT FOR USE", 4.4, font_weight="bold")
    yield text(WIDTH - 2.0, 5.1, banner, 4.4, "end", WIDTH - 42.0)


def _lines(lines: list[str], below: float, size: float, pitch: float) -> Iterator[Markup]:
    for number, words_of_line in enumerate(lines, 1):
        yield text(0.0, below + pitch * number - pitch / 4, words_of_line, size)


def _told(whole: Shown, chart: Shown) -> Iterator[str]:
    for level, finding in words.findings(whole, chart):
        yield from _wrapped(f"{level}: {finding}", TOLD)


def _foot(whole: Shown) -> Iterator[str]:
    for note in (*words.provenance(whole), words.notices(whole)):
        yield from _wrapped(note, SMALL)


def _wrapped(note: str, size: float) -> Iterator[str]:
    """A note in lines; a word without end is cut."""
    found = ""
    for word in note.split(" "):
        longer = f"{found} {word}".strip()
        if found and width_of(longer, size) > WIDTH:
            yield found
            longer = word
        while width_of(longer, size) > WIDTH:
            yield longer[:LONGEST]
            longer = longer[LONGEST:]
        found = longer
    yield found
