"""The table of buttress casing against what else is known of its thread."""

from fractions import Fraction

import pytest

from api.engineering.provenance import STATUSES
from api.reference.buttress import BUTTRESS, near_buttress_sizes
from api.reference.nominal_size import size_key
from api.reference.table import read_table

INCH = 0.0254
WITH_BASE = [each for each in BUTTRESS.values() if each.triangle_base.value is not None]
IN_DOUBT = [each for each in BUTTRESS.values() if each.triangle_base.reason is not None]

# in; API 5B (from memory): triangle base as printed, and the length L7 of perfect threads
PRINTED = [
    ("4-1/2", "3-15/16", 1.6535),
    ("5", "4-1/16", 1.7785),
    ("5-1/2", "4-1/8", 1.8410),
    ("6-5/8", "4-5/16", 2.0285),
    ("7", "4-1/2", 2.2160),
    ("7-5/8", "4-11/16", 2.4035),
    ("8-5/8", "4-13/16", 2.5285),
    ("9-5/8", "4-13/16", 2.5285),
    ("10-3/4", "4-13/16", 2.5285),
    ("11-3/4", "4-13/16", 2.5285),
    ("13-3/8", "4-13/16", 2.5285),
]


def inches(printed: str) -> Fraction:
    return sum((Fraction(part) for part in printed.split("-")), Fraction(0))


@pytest.mark.parametrize("size, printed, perfect_threads", PRINTED)
def test_printed_triangle_base(size: str, printed: str, perfect_threads: float) -> None:
    """To 1/16 in; and A1 less L7 is the same 2.284 in in every size, though L7 comes from another column."""
    row = BUTTRESS[size]
    assert row.triangle_base.value is not None
    assert row.triangle_base_printed == printed
    assert row.triangle_base.value / INCH == pytest.approx(float(inches(printed)), rel=1e-12)
    assert (16 * inches(printed)).denominator == 1
    assert float(inches(printed)) - perfect_threads == pytest.approx(2.284, abs=1e-9)


def test_these_are_all_that_have_one() -> None:
    assert [each.size for each in WITH_BASE] == [size for size, *_ in PRINTED]


@pytest.mark.parametrize(
    "row", [each for each in WITH_BASE if each.coupling_length], ids=lambda row: row.size
)
def test_the_base_is_half_an_inch_short_of_the_middle_of_the_coupling(row) -> None:  # type: ignore[no-untyped-def]
    assert row.triangle_base.value == pytest.approx(row.coupling_length / 2 - 0.0127, rel=1e-12)


def test_every_known_base_has_its_coupling() -> None:
    assert all(each.coupling_length for each in WITH_BASE)


def test_16_to_20_are_in_doubt_and_say_so() -> None:
    assert [each.size for each in IN_DOUBT] == ["16", "18-5/8", "20"]
    for each in IN_DOUBT:
        assert each.triangle_base.reason
        assert each.coupling_length is None
        assert each.triangle_base_printed is None
        assert each.source.status == "read"


def test_what_is_known_is_from_memory() -> None:
    assert {each.source.status for each in WITH_BASE} == {"from memory"}


def test_every_row_names_its_source_and_status() -> None:
    for row in read_table("buttress.csv"):
        assert row.text["source"].strip()
        assert row.text["status"] in STATUSES


def test_keys_are_the_printed_sizes() -> None:
    assert all(key == each.size == size_key(each.size) for key, each in BUTTRESS.items())


def test_near_sizes() -> None:
    assert near_buttress_sizes("9-7/8") == ["8-5/8", "9-5/8", "10-3/4"]
    assert near_buttress_sizes("2-3/8") == ["4-1/2", "5", "5-1/2"]


def test_only_the_large_sizes_must_reach_the_base() -> None:
    assert [each.size for each in BUTTRESS.values() if each.to_base] == ["16", "18-5/8", "20"]
