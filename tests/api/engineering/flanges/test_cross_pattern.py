"""Cross patterns: the published orders as printed, and what makes an order a cross pattern."""

from cmath import exp
from math import pi

import pytest

from api.engineering.flanges.cross_pattern import CrossPattern, clockwise, in_order, pattern_from_text
from api.engineering.provenance import STATUSES
from api.reference.flanges import CROSS_PATTERNS

PRINTED = {
    # ASME PCC-1, bolts numbered clockwise (from memory)
    4: "1-3-2-4",
    8: "1-5-3-7, 2-6-4-8",
    12: "1-7-4-10, 2-8-5-11, 3-9-6-12",
    16: "1-9-5-13, 3-11-7-15, 2-10-6-14, 4-12-8-16",
    20: "1-11-6-16, 3-13-8-18, 5-15-10-20, 2-12-7-17, 4-14-9-19",
    24: "1-13-7-19, 4-16-10-22, 2-14-8-20, 5-17-11-23, 3-15-9-21, 6-18-12-24",
}
COUNTS = sorted(PRINTED)


def resultant(bolts: tuple[int, ...], count: int, harmonic: int = 1) -> float:
    """Independent: size of the vector sum of equal forces at the bolts; with harmonic 2, of an oval."""
    return abs(sum(exp(2j * pi * harmonic * bolt / count) for bolt in bolts))


def test_orders_are_those_printed() -> None:
    assert {count: each.pattern.text for count, each in CROSS_PATTERNS.items()} == PRINTED


def test_every_order_is_from_memory_and_says_where_from() -> None:
    for each in CROSS_PATTERNS.values():
        assert each.source.status == "from memory"
        assert each.source.status in STATUSES
        assert "PCC-1" in each.source.source


@pytest.mark.parametrize("count", COUNTS)
def test_every_bolt_once(count: int) -> None:
    pattern = CROSS_PATTERNS[count].pattern
    assert pattern.count == count
    assert sorted(pattern.bolts) == list(range(1, count + 1))


@pytest.mark.parametrize("count", COUNTS)
def test_the_flange_is_in_balance_after_every_second_bolt(count: int) -> None:
    bolts = CROSS_PATTERNS[count].pattern.bolts
    for done in range(2, count + 1, 2):
        assert resultant(bolts[:done], count) == pytest.approx(0, abs=1e-12)
        assert resultant(bolts[: done - 1], count) == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize("count", COUNTS)
def test_every_group_is_two_pairs_at_right_angles(count: int) -> None:
    """Four bolts a quarter apart pull neither to a side nor oval."""
    for group in CROSS_PATTERNS[count].pattern.groups:
        assert len(group) == 4
        assert abs(group[0] - group[1]) == abs(group[2] - group[3]) == count // 2
        assert resultant(group, count) == pytest.approx(0, abs=1e-12)
        assert resultant(group, count, 2) == pytest.approx(0, abs=1e-12)
        quarters = sorted((bolt - group[0]) % count for bolt in group)
        assert quarters == [0, count // 4, count // 2, 3 * count // 4]


@pytest.mark.parametrize(
    "text",
    [
        "1-2-3-4",  # neighbours, not opposite
        "1-3-2",  # one left over
        "1-3|2-2",  # a bolt twice, one missing
        "1-5-3-7|2-6-4-9",  # a bolt that is not there
        "1-5-3-7|2-4-6-8",  # two digits changed about
        "1-5-3-6|2-7-4-8",  # every bolt once, two pairs not opposite
        "1-5-3-7",  # half of the bolts
        "0-2-1-3",  # numbered from 0
    ],
)
def test_what_is_no_cross_pattern_is_not_served(text: str) -> None:
    with pytest.raises(ValueError, match=r"not every bolt once|not in opposite pairs"):
        pattern_from_text(text)


def test_groups_of_a_pattern() -> None:
    assert pattern_from_text("1-5-3-7|2-6-4-8") == CrossPattern(((1, 5, 3, 7), (2, 6, 4, 8)))


@pytest.mark.parametrize(
    ("count", "first", "step", "order"),
    [
        (4, 1, 1, "1-2-3-4"),
        (8, 1, 2, "1-3-5-7"),
        (8, 2, 2, "2-4-6-8"),
        (12, 2, 2, "2-4-6-8-10-12"),
    ],
)
def test_clockwise(count: int, first: int, step: int, order: str) -> None:
    assert in_order(clockwise(count, first, step)) == order


@pytest.mark.parametrize("count", [4, 6, 8, 10, 16, 20, 24, 64, 128])
def test_every_second_stud_is_in_balance(count: int) -> None:
    groups = [clockwise(count, first, 2) for first in (1, 2)]
    assert sorted([*groups[0], *groups[1]]) == list(range(1, count + 1))
    for group in groups:
        assert resultant(group, count) == pytest.approx(0, abs=1e-10)
