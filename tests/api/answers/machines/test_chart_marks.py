"""Which of many marks a chart shows: few enough to be read, round ones, and the ends of what can be set."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.answers.machines.chart_marks import readable
from api.engineering.gauges.accuracy_class import stated_accuracy
from api.engineering.gauges.gauge import Gauge


def dial(division: float, count: int = 1000) -> Gauge:
    return Gauge("G", "psi", count * division, division, 6894.757, stated_accuracy(1.0), "work_port")


@pytest.mark.parametrize(
    ("division", "first", "last", "shown"),
    [
        (50, 150, 1150, [*range(150, 1151, 50)]),  # 21 marks: all of them
        (50, 150, 1200, [150, *range(200, 1201, 100)]),
        (20, 500, 2440, [*range(500, 2401, 100), 2440]),
        (20, 100, 2460, [100, *range(200, 2401, 200), 2460]),
        (25, 150, 1450, [150, *range(200, 1401, 100), 1450]),  # by 100, not by 125
        (20, 100, 600, [100, *range(120, 600, 40), 600]),  # by 100 there would be 6
        (30, 90, 2670, [90, *range(150, 2651, 150), 2670]),  # no multiple of 30 is round
        (0.5, 1, 15, [1, *range(2, 15, 1), 15]),
        (500, 500, 1000, [500, 1000]),
    ],
)
def test_marks_by_hand(division: float, first: float, last: float, shown: list[float]) -> None:
    marks = range(round(first / division), round(last / division) + 1)
    gauge = dial(division)
    assert [gauge.reading(number).value for number in readable(marks, gauge, 21)] == shown


@given(
    division=st.sampled_from([0.1, 0.2, 0.5, 1, 2, 2.5, 5, 7, 10, 20, 25, 30, 40, 50, 100, 200, 500]),
    first=st.integers(1, 900_000),
    count=st.integers(1, 1_000_000),
    most=st.sampled_from([21, 1000]),
)
def test_marks_at_random(division: float, first: int, count: int, most: int) -> None:
    marks = range(first, first + count)
    rows = readable(marks, dial(division, 2_000_000), most)
    assert rows == sorted(set(rows))
    assert (rows[0], rows[-1]) == (marks[0], marks[-1])
    assert min(count, 5) <= len(rows) <= most
    steps = {after - before for before, after in pairwise(rows[1:-1])}
    assert len(steps) <= 1
    assert all(number % step == 0 for step in steps for number in rows[1:-1])
