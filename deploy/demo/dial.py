"""Draws the dial of the README: the gauge of an invented machine with its pointer at the mark to set.

``python deploy/demo/dial.py`` writes ``dial.svg`` anew from the answer of the service.
"""

import os
from collections.abc import Iterator
from math import cos, pi, sin
from typing import Any

from dialset_client import Dialset
from in_words import mark, shown
from shop import SETTINGS, TOP

PICTURE = TOP / "deploy" / "demo" / "dial.svg"
QUESTION = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 3/4 in",
    "pin_bore": "2-13/16 in",
    "machine": "south-bay-9",
    "operation": "make_up",
    "thread_hand": "right",
    "arm_position": "square",
    "as_of": "2026-11-24",
    "answers": "gauge_setting,gauge,cylinder_side,torque,torque_at_gauge_setting,torque_lower_bound,"
    "torque_upper_bound",
}
SWEEP, START = 1.5 * pi, 0.75 * pi
"""Angle from the first mark to the last, and where the first stands, clockwise from the right."""
MIDDLE, RADIUS = (170, 165), 140
LONG = 10
"""Every so many marks one is long and has its figure."""


def on_dial(share: float, radius: float) -> str:
    """A place on the dial, by its share of the span."""
    angle = START + share * SWEEP
    return f"{MIDDLE[0] + radius * cos(angle):.1f},{MIDDLE[1] + radius * sin(angle):.1f}"


def line(share: float, inner: float, outer: float, width: float) -> str:
    """A line towards the rim of the dial."""
    return f'<path d="M{on_dial(share, inner)} L{on_dial(share, outer)}" stroke-width="{width}"/>'


def marks(span: int, division: int) -> Iterator[str]:
    """Every mark of the dial, with the figures of the long ones."""
    last = span // division
    for number in range(last + 1):
        is_long = number % LONG == 0
        yield line(number / last, RADIUS - (18 if is_long else 9), RADIUS, 2 if is_long else 1)
        if is_long:
            x, y = on_dial(number / last, RADIUS - 40).split(",")
            yield f'<text x="{x}" y="{float(y) + 5:.1f}">{number * division}</text>'


def dial(answer: dict[str, Any], gauge: dict[str, Any]) -> str:
    """The picture as SVG: the dial, and beside it what an answer says.

    Args:
        answer: of ``/v1/pressure``.
        gauge: as the profile of the machine describes it, span and division in the unit of the dial.
    """
    span, division = (int(gauge[name].split()[0]) for name in ("span", "division"))
    setting, unit = answer["gauge_setting"]["value"], answer["gauge_setting"]["unit"]
    low, high = shown(answer["torque_lower_bound"]), shown(answer["torque_upper_bound"])
    window = f"{shown(answer['torque']['minimum'])} to {shown(answer['torque']['maximum'])}"
    joint = "{connection} drill collar {box_outside_diameter} x {pin_bore}".format(**QUESTION)
    words = (
        (f"SET {mark(answer['gauge_setting'])}", 26),
        (f"gauge {answer['gauge']}, {answer['cylinder_side']} side", 18),
        ("", 10),
        (f"gives {shown(answer['torque_at_gauge_setting'])}", 16),
        (f"worst case {low} to {high}", 13),
        ("", 10),
        (joint, 13),
        (f"wants {window}", 13),
        (f"machine {QUESTION['machine']}, an invented one", 13),
    )
    heights = [80 + 25 * number for number in range(len(words))]
    texts = [
        f'<text x="350" y="{height}" text-anchor="start" font-size="{size}">{text}</text>'
        for (text, size), height in zip(words, heights, strict=True)
        if text
    ]
    return "\n".join(
        (
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 680 330" font-family="sans-serif" '
            'font-size="14" text-anchor="middle">',
            '<rect width="680" height="330" fill="white"/>',
            '<g stroke="black" stroke-linecap="round">',
            f'<circle cx="{MIDDLE[0]}" cy="{MIDDLE[1]}" r="{RADIUS + 8}" fill="none" stroke-width="3"/>',
            *(part for part in marks(span, division) if part.startswith("<path")),
            line(setting / span, -25, RADIUS - 20, 4),
            f'<circle cx="{MIDDLE[0]}" cy="{MIDDLE[1]}" r="7"/>',
            "</g>",
            *(part for part in marks(span, division) if part.startswith("<text")),
            f'<text x="{MIDDLE[0]}" y="{MIDDLE[1] + 75}">{unit}</text>',
            *texts,
            "</svg>\n",
        )
    )


def main() -> None:
    """Ask the service, and write the picture."""
    os.environ.update(SETTINGS)
    shop = Dialset.in_process()
    profile = shop.machine(QUESTION["machine"])["profile"]
    PICTURE.write_text(dial(shop.pressure(**QUESTION), profile["gauges"][QUESTION["operation"]]), "utf-8")


if __name__ == "__main__":
    main()
