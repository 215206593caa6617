"""SVG, element by element, lengths in mm; whatever is text is escaped."""

from typing import Literal

from markupsafe import Markup, escape

FONT = "Arial, 'Liberation Sans', Helvetica, 'DejaVu Sans', sans-serif"
SHARES = ((" \u202f", 0.33), (".,:;'|!()[]/fijlrt-", 0.43), ("mwMW@%", 1.02))
"""Width of signs as a share of the font size, in the widest of these fonts."""
SMALL, LARGE, WIDEST, BOLD = 0.64, 0.8, 1.05, 1.12
"""That of other letters and digits, of capitals, of signs such as Chinese, and how much bold is wider."""
Anchor = Literal["start", "middle", "end"]


def element(tag: str, *content: str, **attributes: object) -> Markup:
    """An element; ``_`` in a name stands for a hyphen, and text that is no markup is escaped.

    >>> element("text", "a < b", font_size=2)
    Markup('<text font-size="2">a &lt; b</text>')
    """
    shown = "".join(
        f' {name.strip("_").replace("_", "-")}="{escape(_short(value))}"'
        for name, value in attributes.items()
        if value is not None
    )
    return Markup(f"<{tag}{shown}>{''.join(escape(part) for part in content)}</{tag}>")


def _short(value: object) -> object:
    return f"{value:.2f}".rstrip("0").rstrip(".") if isinstance(value, float) else value


def width_of(words: str, size: float) -> float:
    """The most room, roughly, that words take in the widest of these fonts, mm."""
    return sum(map(_share, words)) * size


def _share(sign: str) -> float:
    for signs, share in SHARES:
        if sign in signs:
            return share
    if ord(sign) > 0x2E7F:
        return WIDEST
    return LARGE if sign.isupper() else SMALL


def text(
    x: float, y: float, words: str, size: float, anchor: Anchor = "start", room: float | None = None,
    **attributes: object,
) -> Markup:  # fmt: skip
    """Words on a baseline, smaller where they could need more than ``room``."""
    if room is not None:
        needed = width_of(words, size) * (BOLD if "font_weight" in attributes else 1.0)
        size = min(size, size * room / (needed or size))
    anchored = None if anchor == "start" else anchor
    return element("text", words, x=x, y=y, font_size=size, text_anchor=anchored, **attributes)


def line(x1: float, y1: float, x2: float, y2: float, width: float, **attributes: object) -> Markup:
    """A straight black line."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke="#000", stroke_width=width, **attributes)


def points(found: list[tuple[float, float]]) -> str:
    """Points of a polyline or polygon."""
    return " ".join(f"{x:.2f},{y:.2f}" for x, y in found)
