"""The units Dialset understands: one table of spellings, one meaning each.

Text of a user never reaches pint. pint only computes, once at start and in exact fractions, the factor
of each unit of the table, from the definitions of `unit_definitions.txt` alone: to read the thousand units
of its own file took a quarter of the service's start.
"""

import csv
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pint

SI_UNITS = {
    "torque": "N*m",
    "pressure": "Pa",
    "stress": "Pa",
    "force": "N",
    "length": "m",
    "area": "m**2",
    "volume": "m**3",
    "displacement": "m**3/radian",
    "flow": "m**3/s",
    "kinematic_viscosity": "m**2/s",
    "dynamic_viscosity": "Pa*s",
    "angle": "radian",
    "temperature": "kelvin",
    "linear_mass": "kg/m",
    "time": "s",
}
"""Kinds of quantity and the SI unit of each. Kinds, not dimensions, decide: a torque is no energy."""


@dataclass(frozen=True)
class Unit:
    """A unit by its code: ``si = value * factor + offset``."""

    code: str
    kinds: tuple[str, ...]
    factor: float
    offset: float
    spellings: tuple[str, ...]

    def to_si(self, value: float) -> float:
        """The SI value of a value in this unit."""
        return value * self.factor + self.offset

    def from_si(self, si: float) -> float:
        """The value in this unit of an SI value."""
        return (si - self.offset) / self.factor


class UnknownUnit(ValueError):
    """A spelling that is in no table, or is refused by name; the message says why and what is near."""


_JOINERS = str.maketrans(dict.fromkeys(" .·⋅∙•*-‑–_^()\xa0\u2009\u202f"))
_POWERS = str.maketrans("²³", "23")


def _joined(spelling: str) -> str:
    """A spelling without joiners and brackets."""
    return spelling.translate(_JOINERS).translate(_POWERS)


def fold(spelling: str) -> str:
    """A spelling without case, joiners and brackets: ``Ft.-Lbs.``, ``ft·lbs`` and ``FT LBS`` are one."""
    return _joined(spelling).casefold()


def _lines(name: str) -> list[str]:
    return files("schemas.core").joinpath(name).read_text("utf-8").splitlines()


def _read(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(_lines(name)))


def _load_units() -> dict[str, Unit]:
    registry: Any = pint.UnitRegistry(_lines("unit_definitions.txt"), non_int_type=Fraction)
    si = {kind: registry.get_root_units(unit) for kind, unit in SI_UNITS.items()}
    units = {}
    for row in _read("units.csv"):
        kinds = tuple(row["kinds"].split("|"))
        factor, root = registry.get_root_units(row["pint"], check_nonmult=False)
        if si[kinds[0]] != (1, root):
            raise ValueError(f"{row['code']} is no unit of {kinds[0]}, or the definitions do not end at SI")
        offset = registry.convert(Fraction(0), row["pint"], root) if "temperature" in kinds else 0
        spellings = tuple(spelling for spelling in row["spellings"].split("|") if spelling)
        units[row["code"]] = Unit(row["code"], kinds, float(factor), float(offset), spellings)
    return units


def _load_spellings(units: dict[str, Unit]) -> dict[str, Unit]:
    spellings: dict[str, Unit] = {}
    for unit in units.values():
        for spelling in {fold(text) for text in (unit.code, *unit.spellings)}:
            if spelling in spellings:
                raise ValueError(f"{spelling!r} spells both {spellings[spelling].code} and {unit.code}")
            spellings[spelling] = unit
    return spellings


UNITS = _load_units()
_SPELLINGS = _load_spellings(UNITS)
_REFUSED = {_joined(row["spelling"]): row["reason"] for row in _read("refused_units.csv")}
_REFUSED_FOLDED = {fold(text): reason for text, reason in _REFUSED.items() if fold(text) not in _SPELLINGS}


def unit_named(spelling: str) -> Unit:
    """The unit that a spelling stands for.

    Raises:
        UnknownUnit: if it is in no table or refused by name.

    >>> unit_named("Ft.-Lbs.").code, unit_named("kg/cm²").code, unit_named('"').code
    ('lbf.ft', 'kgf/cm2', 'in')
    """
    joined = _joined(spelling)
    if joined in _REFUSED:
        raise UnknownUnit(f"{spelling!r} is refused: {_REFUSED[joined]}")
    folded = joined.casefold()
    if folded in _SPELLINGS:
        return _SPELLINGS[folded]
    if folded in _REFUSED_FOLDED:
        raise UnknownUnit(f"{spelling!r} is refused: {_REFUSED_FOLDED[folded]}")
    near = dict.fromkeys(_SPELLINGS[match].code for match in get_close_matches(folded, _SPELLINGS, 3))
    hint = f"; near it: {', '.join(near)}" if near else ""
    raise UnknownUnit(f"{spelling!r} is not a unit known here{hint}")


def codes_of(kind: str) -> tuple[str, ...]:
    """The codes of all units of a kind, in the order of the table."""
    return tuple(code for code, unit in UNITS.items() if kind in unit.kinds)
