"""Answers of the service as people of the trade read them."""

import re
from typing import Any


def shown(quantity: dict[str, Any] | None) -> str:
    """A quantity, as in ``29,679 ft-lb``."""
    return (
        "none"
        if quantity is None
        else f"{quantity['value']:,.0f} {quantity['unit'].replace('lbf.ft', 'ft-lb')}"
    )


def mark(reading: dict[str, Any]) -> str:
    """A mark of a dial, as it is printed there."""
    return f"{reading['value']:g} {reading['unit']}"


def in_words(text: str) -> str:
    """A sentence with its torques written likewise, and pressures from 100 psi without decimals."""
    text = re.sub(r"([0-9]{3,}\.[0-9]+) psi", lambda found: f"{float(found[1]):.0f} psi", text)
    return re.sub(r"([0-9.]+) lbf\.ft", lambda found: f"{float(found[1]):,.0f} ft-lb", text)
