"""A joint for a random machine: its window, and the question that is asked."""

from random import Random
from typing import Any

from random_machines import Drawn
from safest_mark import Window


def window_of(draw: Random, machine: Drawn, form: str) -> Window:
    """A window somewhere on the dial, of a width that its uncertainty makes worth a thought."""
    first, last = machine.numbers[0], machine.numbers[-1]
    share = draw.choice([0.25, 0.75, draw.uniform(0.05, 0.95)])  # often where the class of a gauge changes
    target = machine.torque((first + share * (last - first)) * machine.division)
    width = draw.choice([0.03, 0.1, 0.2])
    low = target if form == "target at minimum" else target * (1 - draw.uniform(0.1, 1) * width)
    high = target if form == "target at maximum" else target * (1 + draw.uniform(0.3, 1) * width)
    return Window(
        target,
        low if form not in ("maximum", "none") else None,
        high if form not in ("minimum", "none") else None,
    )


def question(machine: Drawn, window: Window) -> dict[str, Any]:
    ends = {"target": window.target, "minimum": window.minimum, "maximum": window.maximum}
    torques = {f"torque_{name}": f"{end!r} ft-lb" for name, end in ends.items() if end is not None}
    asked = {"family": "stated", "torque_source": "random", "operation": "make_up", **torques}
    return {**asked, "machine": machine.given, **machine.asked}
