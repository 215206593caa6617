"""Quantities as people type them: read one way, or refused with a reason."""

import pytest
from rows import every_row

from schemas.core.quantity import NotAQuantity, read_quantity
from schemas.core.quantity_fields import Quantity

INCH, PSI, BAR, LBF_FT = 0.0254, 6894.757293168362, 1e5, 1.3558179483314004

UNDERSTOOD = [
    # the whole strings of the published list of spellings that are read as meant
    ("4 1/2 in", 4.5 * INCH),
    ("4-1/2 in", 4.5 * INCH),
    ('4-1/2"', 4.5 * INCH),
    ("3½ in", 3.5 * INCH),
    ("½ in", 0.5 * INCH),
    ('5"', 5 * INCH),
    ('9 5/8"', 9.625 * INCH),
    ("10 000 psi", 10000 * PSI),
    ("10\u00a0000 psi", 10000 * PSI),
    ("1.5e4 lbf*ft", 15000 * LBF_FT),
    ("15k ft*lbf", 15000 * LBF_FT),
    ("2500psi", 2500 * PSI),
    ("500 cc/revolution", 500e-6 / 6.283185307179586),
    ("90°", 1.5707963267948966),
    ("40 degC", 313.15),
    ("-5 psi", -5 * PSI),
    # more of the trade's ways
    ("2-13/16 in", 2.8125 * INCH),
    ("2\u201313/16 in", 2.8125 * INCH),
    ("2 13/16in", 2.8125 * INCH),
    ("6⅝ in", 6.625 * INCH),
    ("6-⅝ in", 6.625 * INCH),
    ("6 1\u20442 in", 6.5 * INCH),
    ("13/16 in", 0.8125 * INCH),
    (".5 in", 0.5 * INCH),
    ("5. in", 5 * INCH),
    ("+5 in", 5 * INCH),
    ("  6.5   in  ", 6.5 * INCH),
    ("1,234,567 psi", 1234567 * PSI),
    ("10,000.5 psi", 10000.5 * PSI),
    ("1 234 567 psi", 1234567 * PSI),
    ("20000 ft·lbf", 20000 * LBF_FT),
    ("20000 Ft.-Lbs.", 20000 * LBF_FT),
    ("2.5 kN·m", 2500.0),
    ("200 kgf/cm²", 200 * 98066.5),
    ({"value": 6.5, "unit": "in"}, 6.5 * INCH),
    ({"value": 6, "unit": '"'}, 6 * INCH),
    ({"value": "6 1/2", "unit": "in"}, 6.5 * INCH),
]

REFUSED = [
    # the whole strings of the published list that are refused
    ("5'6\"", "unknown_unit"),
    ("10,000 psi", "decimal_comma"),
    ("10.000,5 psi", "decimal_comma"),
    ("2,5 bar", "decimal_comma"),
    ("2500 psi @ 36 in", "unknown_unit"),
    ("200 bar * 500 cc/revolution", "unknown_unit"),
    ("nan psi", "not_a_number"),
    ("1e400 psi", "not_finite"),
    ("psi", "not_a_number"),
    ("100", "bare_number"),
    # what else could be read two ways, or not at all
    (6.5, "bare_number"),
    ("4 1/2", "bare_number"),
    ("1_000 psi", "not_a_number"),
    ("10 00 psi", "not_a_number"),
    ("1000 000 psi", "not_a_number"),
    ("0 125 in", "not_a_number"),
    ("1 234 5/8 in", "not_a_number"),
    ("4 5/2 in", "not_a_number"),
    ("27/8 in", "not_a_number"),  # 2 7/8 that lost its space, or 3.375
    ("61/2 in", "not_a_number"),
    ("8/8 in", "not_a_number"),
    ("10 000/2 psi", "not_a_number"),
    ("2 500/1000 in", "not_a_number"),
    ("1/3 in", "not_a_number"),
    ("2 7/8/2 in", "not_a_number"),
    ("0 0/8 in", "not_a_number"),
    ("10 MBar", "unknown_unit"),
    ("10 M bar", "unknown_unit"),
    ("10 Mbarg", "unknown_unit"),
    ("5 m Pa", "unknown_unit"),
    ("5 m-Pa", "unknown_unit"),
    ("5 mPA", "unknown_unit"),
    ("1/0 in", "not_a_number"),
    ("1.2.3 in", "not_a_number"),
    ("--5 in", "not_a_number"),
    ("5-in", "not_a_number"),
    ("٣ in", "not_a_number"),
    ("３ in", "not_a_number"),
    ("NaN in", "not_a_number"),
    ("Infinity psi", "not_a_number"),
    ("-inf psi", "not_a_number"),
    ("0x10 in", "unknown_unit"),
    ("9**9**9 in", "unknown_unit"),
    ("6.5 in in", "unknown_unit"),
    ("6.5 furlong", "unknown_unit"),
    ("1" * 41 + " in", "not_a_number"),
    ("6.5 " + "in" * 40, "not_a_quantity"),
    ("", "not_a_number"),
    (None, "not_a_quantity"),
    (True, "not_a_quantity"),
    ([6.5, "in"], "not_a_quantity"),
    ({"value": 6.5}, "not_a_quantity"),
    ({"value": 6.5, "unit": "in", "note": ""}, "not_a_quantity"),
    ({"value": "6,5", "unit": "in"}, "decimal_comma"),
    ({"value": "6.5 in", "unit": "in"}, "not_a_number"),
    ({"value": "", "unit": "in"}, "not_a_number"),
    ({"value": True, "unit": "in"}, "not_a_number"),
    ({"value": float("nan"), "unit": "in"}, "not_finite"),
    ({"value": float("inf"), "unit": "in"}, "not_finite"),
    ({"value": 10**400, "unit": "in"}, "not_finite"),
    ({"value": 1e308, "unit": "kN.m"}, "not_finite"),
    ({"value": 6.5, "unit": ""}, "bare_number"),
    ({"value": 6.5, "unit": None}, "unknown_unit"),
    ({"value": 6.5, "unit": "9**9**9"}, "unknown_unit"),
]


@every_row(("given", "si"), UNDERSTOOD, ids=[repr(given) for given, _ in UNDERSTOOD])
def test_understood(given: object, si: float) -> None:
    assert read_quantity(given, None).si == pytest.approx(si, rel=1e-15)


@every_row(("given", "code"), REFUSED, ids=[repr(given)[:40] for given, _ in REFUSED])
def test_refused(given: object, code: str) -> None:
    with pytest.raises(NotAQuantity) as refusal:
        read_quantity(given, None)
    assert refusal.value.code == code


def test_comma_refusal_names_the_decimal_point() -> None:
    with pytest.raises(NotAQuantity, match="Write the decimal point"):
        read_quantity("2,5 bar", "pressure")


@pytest.mark.parametrize(
    ("given", "kind", "named"),
    [
        ("5 bar", "torque", "pressure"),
        ("5 in", "pressure", "length"),
        ("5 lb", "torque", "force"),
        ("5 ft-lb", "force", "torque"),
    ],
)
def test_another_kind_is_refused_by_its_kind(given: str, kind: str, named: str) -> None:
    with pytest.raises(NotAQuantity, match=f"unit of {named}, not of {kind}") as refusal:
        read_quantity(given, kind)
    assert refusal.value.code == "wrong_kind"


def test_a_field_of_a_kind_without_limits_says_where_they_go() -> None:
    with pytest.raises(ValueError, match="'temperature' is no kind with a row in REASONABLE: add one, or"):
        Quantity("temperature")
    assert Quantity("temperature", limits=("-50 degC", "200 degC")).low == pytest.approx(223.15)
