"""The spelling table: every spelling means one thing, the right one, or is refused by name."""

import csv
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from rows import every_row

from schemas.core import units
from schemas.core.quantity_fields import SYSTEMS
from schemas.core.units import SI_UNITS, UNITS, UnknownUnit, codes_of, unit_named

PUBLISHED = Path(__file__).parents[2] / "published"
SCHEMAS = Path(units.__file__).parent
KINDS = {"vpr": "displacement", "visc": "kinematic_viscosity", "temp": "temperature"}
REFUSED = {"psia", "psid", "bara", "ata", "mPa", "k", "ton", "SUS", "SSU"}
"""Spellings of the published list that could mean more than one thing; each refusal gives its reason."""


def rows(name: str) -> list[dict[str, str]]:
    with (PUBLISHED / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@every_row("row", rows("units_spellings.csv"), ids=lambda row: f"{row['quantity']}:{row['typed']}")
def test_spelling_is_understood_as_meant_or_refused_by_name(row: dict[str, str]) -> None:
    if row["typed"] in REFUSED:
        with pytest.raises(UnknownUnit, match="is refused: "):
            unit_named(row["typed"])
        return
    unit = unit_named(row["typed"])
    assert KINDS.get(row["quantity"], row["quantity"]) in unit.kinds
    if row["factor_to_si_meant"]:
        assert unit.factor == pytest.approx(float(row["factor_to_si_meant"]), rel=1e-15)


@every_row("row", rows("units.csv"), ids=lambda row: f"{row['quantity']}:{row['unit']}")
def test_factor_is_the_exact_definition(row: dict[str, str]) -> None:
    """Source: exact definitions (SI, international yard and pound) and NIST SP 811, as the row says."""
    unit = UNITS[row["unit"]]
    assert unit.factor == pytest.approx(float(row["factor_to_si"]), rel=3e-15)
    printed = row["nist_sp811_printed"].removesuffix(" exact")
    if printed:
        digits = len(printed.partition("E")[0].replace(".", "").rstrip("0"))
        assert unit.factor == pytest.approx(float(printed), rel=0.6 * 10.0 ** (1 - digits))


def test_factors_and_offsets_are_those_of_pint() -> None:
    """Our definitions against those that pint ships, in exact fractions: the same floats, unit by unit."""
    registry = pint.UnitRegistry(non_int_type=Fraction)
    missed = {}
    for row in csv.DictReader((SCHEMAS / "units.csv").read_text("utf-8").splitlines()):
        unit = UNITS[row["code"]]
        zero, one = (registry.Quantity(Fraction(n), row["pint"]).to(SI_UNITS[unit.kinds[0]]) for n in (0, 1))
        theirs = float(one.magnitude - zero.magnitude), float(zero.magnitude)
        if theirs != (unit.factor, unit.offset):
            missed[unit.code] = theirs
    assert not missed


def test_a_unit_of_another_kind_than_its_row_says_stops_a_start(monkeypatch: pytest.MonkeyPatch) -> None:
    row = {"code": "psi", "kinds": "force", "pint": "psi", "spellings": ""}
    monkeypatch.setattr(units, "_read", lambda name: [row])
    with pytest.raises(ValueError, match="psi is no unit of force"):
        units._load_units()


@pytest.mark.parametrize(
    ("code", "exact"),
    [
        # Worked by hand from 1 in = 0.0254 m, 1 lb = 0.45359237 kg, g_n = 9.80665 m/s2, 1 gal = 231 in3.
        ("in", Fraction(254, 10000)),
        ("ft", Fraction(3048, 10000)),
        ("lbf", Fraction(45359237, 10**8) * Fraction(980665, 10**5)),
        ("lbf.ft", Fraction(45359237, 10**8) * Fraction(980665, 10**5) * Fraction(3048, 10000)),
        ("psi", Fraction(45359237, 10**8) * Fraction(980665, 10**5) / Fraction(254, 10000) ** 2),
        ("kgf/cm2", Fraction(980665, 10**5) * 10**4),
        ("US gal", 231 * Fraction(254, 10000) ** 3),
    ],
)
def test_factor_is_correctly_rounded(code: str, exact: Fraction) -> None:
    assert UNITS[code].factor == float(exact)


@pytest.mark.parametrize(
    ("code", "value", "kelvin"),
    [("degC", 40.0, 313.15), ("degF", 212.0, 373.15), ("degF", 32.0, 273.15), ("K", 0.0, 0.0)],
)
def test_temperature_has_an_offset(code: str, value: float, kelvin: float) -> None:
    assert UNITS[code].to_si(value) == pytest.approx(kelvin, abs=1e-9)
    assert UNITS[code].from_si(kelvin) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    "spelling",
    [
        "Mbar",
        "MBAR",
        "ML",
        "mN.m",
        "MN.m",
        "furlong",
        "",
        "ft/lb",
        "in/lb",
        "lb.in2",
        "N/m",
        "kg",
        "9**9",
        "x" * 65,
    ],
)
def test_unclear_spelling_is_never_a_torque(spelling: str) -> None:
    try:
        unit = unit_named(spelling)
    except UnknownUnit:
        return
    assert "torque" not in unit.kinds


def test_refusal_names_near_units() -> None:
    with pytest.raises(UnknownUnit, match=r"near it: .*lbf\.ft"):
        unit_named("ft-lbz")


def test_every_system_has_a_unit_of_every_kind() -> None:
    for system in SYSTEMS.values():
        assert set(system) == set(SI_UNITS)
        assert all(kind in UNITS[code].kinds for kind, code in system.items())


def test_every_kind_has_its_si_unit_or_a_multiple() -> None:
    assert all(codes_of(kind) for kind in SI_UNITS)
