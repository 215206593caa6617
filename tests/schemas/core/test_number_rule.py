"""What a comma or a point means by each rule of a shop; expectations are read off the spelling by hand."""

from typing import cast

import pytest
from rows import every_row

from schemas.core.fields import Number, Request
from schemas.core.quantity import (
    NUMBER_RULES,
    NotANumber,
    NotAQuantity,
    NumberRule,
    given_quantity,
    number_rule,
    numbers_read,
    plain_number,
    read_quantity,
)

COMMA, POINT, NONE = "decimal_comma", "point_in_doubt", "not_a_number"
SPELLINGS = [
    # text, strict, comma_thousands, comma_decimal: a number, or the code of the refusal
    ("10,000", COMMA, 10000, 10),
    ("30,000", COMMA, 30000, 30),
    ("2,500", COMMA, 2500, 2.5),
    ("1,234,567", 1234567, 1234567, COMMA),
    ("10,000.5", 10000.5, 10000.5, COMMA),
    ("-10,000", COMMA, -10000, -10),
    ("2,5", COMMA, COMMA, 2.5),
    ("0,5", COMMA, COMMA, 0.5),
    ("0,500", COMMA, COMMA, 0.5),
    ("10,00", COMMA, COMMA, 10),
    ("1000,000", COMMA, COMMA, 1000),
    ("1,0000", COMMA, COMMA, 1),
    ("1,5e3", COMMA, COMMA, 1500),
    ("1.234,5", COMMA, COMMA, 1234.5),
    ("10 000,5", NONE, NONE, 10000.5),
    ("1.23,4", COMMA, COMMA, COMMA),
    ("1,2,3", COMMA, COMMA, COMMA),
    ("1,234,56", COMMA, COMMA, COMMA),
    ("10.000", 10, 10, POINT),
    ("2.500", 2.5, 2.5, POINT),
    ("0.500", 0.5, 0.5, 0.5),
    ("10.00", 10, 10, 10),
    ("2.5", 2.5, 2.5, 2.5),
    ("10 000", 10000, 10000, 10000),
    ("10000", 10000, 10000, 10000),
    ("2 1/2", 2.5, 2.5, 2.5),
    (",5", NONE, NONE, NONE),
    ("1.234.567", NONE, NONE, NONE),
]
ROWS = [
    (text, rule, expected)
    for text, *by_rule in SPELLINGS
    for rule, expected in zip(NUMBER_RULES, by_rule, strict=True)
]


@every_row("text, rule, expected", ROWS, ids=[f"{text} {rule}" for text, rule, _ in ROWS])
def test_each_spelling_by_each_rule(text: str, rule: NumberRule, expected: float | str) -> None:
    """Alone, as in a cell, and with its unit."""
    for read in (lambda: plain_number(text, rule), lambda: read_quantity(f"{text} psi", None, rule).value):
        try:
            number = read()
        except (NotANumber, NotAQuantity) as refusal:
            assert refusal.code == expected
        else:
            assert number == expected


def test_what_is_noted_is_each_reading_of_a_comma_once() -> None:
    with numbers_read("comma_thousands") as noted:
        for text in ("10,000 psi", "2 in", "10,000 psi", "1,200.5 ft-lb"):
            given_quantity(text, None)
        assert number_rule() == "comma_thousands"
    assert list(noted) == ["10,000 psi read as 10000 psi", "1,200.5 ft-lb read as 1200.5 lbf.ft"]
    assert number_rule() == "strict"


def test_one_reading_does_not_know_of_the_other() -> None:
    """As the lines of a batch: each has its own list."""
    with numbers_read("comma_decimal") as outer:
        with numbers_read("comma_decimal") as inner:
            given_quantity("2,5 bar", "pressure")
        given_quantity("3,5 bar", "pressure")
    assert list(inner) == ["2,5 bar read as 2.5 bar"]
    assert list(outer) == ["3,5 bar read as 3.5 bar"]


@pytest.mark.parametrize("rule", NUMBER_RULES)
def test_text_of_our_own_is_read_strictly_by_every_shop(rule: NumberRule) -> None:
    """A limit such as ``1.125 in`` may be read when a route is first asked."""
    with numbers_read(rule) as noted:
        assert read_quantity("1.125 in", "length").value == 1.125
    assert list(noted) == []


class Factor(Request):
    """A number without unit."""

    factor = Number(0, 10)


@every_row(
    "rule, given, expected",
    [
        ("strict", "1.5", 1.5),
        ("strict", " 1 1/2 ", 1.5),
        ("strict", "1,5", COMMA),
        ("strict", "1.5 in", NONE),
        ("strict", "", NONE),
        ("strict", "1e999", "not_finite"),
        ("strict", 10**400, "not_finite"),
        ("strict", "1" + "0" * 64, NONE),
        ("strict", True, NONE),
        ("strict", "11", "out_of_range"),
        ("comma_thousands", "1,5", COMMA),
        ("comma_thousands", "1,500", "out_of_range"),
        ("comma_decimal", "1,5", 1.5),
        ("comma_decimal", "1.5", 1.5),
        ("comma_decimal", "1.500", POINT),
        ("comma_decimal", 1.5, 1.5),
    ],
)
def test_a_field_without_unit(rule: str, given: object, expected: object) -> None:
    with numbers_read(cast(NumberRule, rule)):
        errors = Factor().validate({"factor": given})
        if isinstance(expected, str):
            assert [each.code for each in errors["factor"]] == [expected]
        else:
            assert errors == {}
            assert Factor().load({"factor": given}) == {"factor": expected}
