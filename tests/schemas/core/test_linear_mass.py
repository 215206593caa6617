"""The weight of a pipe per length: a mass, in the spellings of the trade, and never a force or a torque."""

from fractions import Fraction

import pytest

from schemas.core.quantity import NotAQuantity, read_quantity
from schemas.core.units import UNITS, UnknownUnit, unit_named

LB_FT = float(Fraction(45359237, 10**8) / Fraction(3048, 10**4))


def test_a_pound_per_foot_is_correctly_rounded() -> None:
    """By hand from 1 lb = 0.45359237 kg and 1 ft = 0.3048 m; NIST SP 811 prints 1.488164."""
    assert UNITS["lb/ft"].factor == LB_FT
    assert round(UNITS["lb/ft"].factor, 6) == 1.488164
    assert UNITS["kg/m"].factor == 1


@pytest.mark.parametrize(
    ("given", "si"),
    [
        ("17 lb/ft", 17 * LB_FT),
        ("17.00 lb/ft", 17 * LB_FT),
        ("17lb/ft", 17 * LB_FT),
        ("17 LB/FT", 17 * LB_FT),
        ("17 lbs/ft", 17 * LB_FT),
        ("17 Lbs./Ft.", 17 * LB_FT),
        ("17 lbm/ft", 17 * LB_FT),
        ("17 #/ft", 17 * LB_FT),
        ("17 ppf", 17 * LB_FT),
        ("17 PPF", 17 * LB_FT),
        ("17 lb / ft", 17 * LB_FT),
        ("17 lb per ft", 17 * LB_FT),
        ("17 pounds per foot", 17 * LB_FT),
        ("15 1/2 lb/ft", 15.5 * LB_FT),
        ("25.30 kg/m", 25.30),
        ("25.30 kg/M", 25.30),
        ({"value": 25.3, "unit": "kg/m"}, 25.3),
    ],
)
def test_understood(given: object, si: float) -> None:
    assert read_quantity(given, "linear_mass").si == pytest.approx(si, rel=1e-15)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ("17", "bare_number"),
        ("17 lb", "wrong_kind"),
        ("17 #", "wrong_kind"),
        ("17 kg", "wrong_kind"),
        ("17 lb-ft", "wrong_kind"),
        ("17 lb.ft", "wrong_kind"),
        ("17 lb ft", "wrong_kind"),
        ("17 kg.m", "wrong_kind"),
        ("17 lb/ft2", "wrong_kind"),
        ("17 lbf/ft", "unknown_unit"),
        ("17 lbf/foot", "unknown_unit"),
        ("17 plf", "unknown_unit"),
        ("17 kgf/m", "unknown_unit"),
        ("17 N/m", "unknown_unit"),
        ("17 kN/m", "unknown_unit"),
        ("17 ft/lb", "unknown_unit"),
        ("17 lb/in", "unknown_unit"),
        ("17 kg/ft", "unknown_unit"),
        ("17 g/m", "unknown_unit"),
    ],
)
def test_refused(given: object, code: str) -> None:
    with pytest.raises(NotAQuantity) as refusal:
        read_quantity(given, "linear_mass")
    assert refusal.value.code == code


@pytest.mark.parametrize("kind", ["torque", "force", "pressure", "length"])
def test_it_is_nothing_else(kind: str) -> None:
    with pytest.raises(NotAQuantity, match="unit of linear_mass"):
        read_quantity("17 lb/ft", kind)


def test_a_force_per_length_is_refused_by_name() -> None:
    with pytest.raises(UnknownUnit, match=r"is refused: .*lb/ft or kg/m"):
        unit_named("lbf/ft")
