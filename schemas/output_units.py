"""The units an answer is written in: one of three systems, or chosen kind by kind."""

import re
from collections.abc import Mapping
from typing import Any

from schemas.units import UNITS, Unit

SYSTEMS = {
    "us": {
        "torque": "lbf.ft", "pressure": "psi", "stress": "psi", "force": "lbf", "length": "in", "area": "in2",
        "volume": "in3", "displacement": "in3/rev", "flow": "US gal/min", "kinematic_viscosity": "cSt",
        "dynamic_viscosity": "cP", "angle": "deg", "temperature": "degF", "linear_mass": "lb/ft",
    },
    "si": {
        "torque": "N.m", "pressure": "Pa", "stress": "Pa", "force": "N", "length": "m", "area": "m2",
        "volume": "m3", "displacement": "m3/rad", "flow": "m3/s", "kinematic_viscosity": "m2/s",
        "dynamic_viscosity": "Pa.s", "angle": "rad", "temperature": "K", "linear_mass": "kg/m",
    },
    "metric": {
        "torque": "kN.m", "pressure": "bar", "stress": "MPa", "force": "kN", "length": "mm", "area": "mm2",
        "volume": "cm3", "displacement": "cm3/rev", "flow": "L/min", "kinematic_viscosity": "cSt",
        "dynamic_viscosity": "cP", "angle": "deg", "temperature": "degC", "linear_mass": "kg/m",
    },
}  # fmt: skip


class OutputUnits:
    """A unit for every kind of quantity."""

    def __init__(self, system: str, chosen: Mapping[str, Unit] | None = None) -> None:
        self.units = {kind: UNITS[code] for kind, code in SYSTEMS[system].items()} | dict(chosen or {})

    def with_units(self, chosen: Mapping[str, Unit]) -> "OutputUnits":
        """The same with other units for some kinds."""
        changed = OutputUnits.__new__(OutputUnits)
        changed.units = self.units | dict(chosen)
        return changed

    def show(self, kind: str, si: float) -> dict[str, float | str]:
        """``{"value", "unit"}`` with 10 significant digits; a ``number`` has the unit 1."""
        if kind == "number":
            return {"value": float(f"{si:.10g}") + 0.0, "unit": "1"}
        unit = self.units[kind]
        return {"value": float(f"{unit.from_si(si):.10g}") + 0.0, "unit": unit.code}

    def fill(self, sentence: str, amounts: Mapping[str, Any]) -> str:
        """A sentence with ``{name}`` replaced by the amounts of that name, each with a kind and an SI value.

        Nothing else in braces is touched: a sentence may hold text of a user, which must never be a format.
        """

        def shown(match: re.Match[str]) -> str:
            amount = amounts.get(match[1])
            return match[0] if amount is None else self.text(amount.kind, amount.value)

        return re.sub(r"\{([a-z_0-9]+)\}", shown, sentence)

    def text(self, kind: str, si: float) -> str:
        """A quantity inside a sentence, 7 significant digits: ``5.3125 in``."""
        unit = self.units[kind]
        return f"{unit.from_si(si):.7g} {unit.code}"
