"""Stud tensioners for tests, from the invented example: 8 in2, marks every 250 psi, 1 % of 30,000 psi."""

from typing import Any

from api.registry.examples import EXAMPLE_TENSIONER

STUD = {"stress_area": "1.492 in2", "yield_strength": "105000 psi"}
QUESTION = {"preload_target": "78000 lbf", "load_loss_factor": 1.25, **STUD}


def dial(**changed: Any) -> dict[str, Any]:
    """The gauges of the example, alike, with members changed."""
    gauge = {**EXAMPLE_TENSIONER["gauges"]["make_up"], **changed}
    return {"make_up": gauge, "break_out": gauge}


def tensioner(**changed: Any) -> dict[str, Any]:
    """The example with members changed."""
    return {**EXAMPLE_TENSIONER, **changed}


def relief(cracking: int, full_flow: int) -> dict[str, Any]:
    """The example with another relief valve, psi."""
    return tensioner(relief={"cracking": f"{cracking} psi", "full_flow": f"{full_flow} psi"})


def rated(tool: int, hoses: int) -> dict[str, Any]:
    """The example with other ratings, psi."""
    return tensioner(rated_pressure={"tensioner": f"{tool} psi", "hoses": f"{hoses} psi"})
