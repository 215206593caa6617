"""The gauge setting against a brute-force search over all marks."""

from collections.abc import Callable
from math import isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.gauges.accuracy_class import stated_accuracy
from api.engineering.gauges.gauge import Gauge, Mark, inside, marks_around, marks_in_window, working_range

dials = st.builds(
    lambda division, marks, pascals: Gauge(
        "G", "psi", division * marks, division, pascals, stated_accuracy(1), "work_port"
    ),
    st.sampled_from([0.1, 0.2, 0.5, 1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0]),
    st.integers(4, 120),
    st.sampled_from([1.0, 6894.757293168362, 1e5, 98066.5]),
)


Machine = Callable[[float], float]


def brute_force(
    gauge: Gauge, target: float, low: float | None, high: float | None, machine: Machine
) -> float | None:
    """The reading nearest the target whose torque lies in the window, by looking at every mark."""
    torques = [(machine(gauge.at(number)), number) for number in range(1, gauge.last + 1)]
    within = [
        (abs(torque - target), number)
        for torque, number in torques
        if torque > 0 and inside(torque, low, high)
    ]
    return gauge.reading(min(within)[1]).value if within else None


@settings(max_examples=30 * settings.default.max_examples)  # each of them is all marks of one dial
@given(
    dials,
    st.floats(0.001, 1.0),
    st.one_of(st.none(), st.floats(0.9, 1.0)),
    st.one_of(st.none(), st.floats(1.0, 1.1)),
    st.floats(0.01, 100.0),
    st.floats(0.0, 0.3),
)
def test_setting_is_that_of_a_search_over_all_marks(
    gauge: Gauge, share: float, low: float | None, high: float | None, slope: float, lost: float
) -> None:
    """``lost`` is the share of the span that breakaway and return pressure take."""
    span = gauge.span * gauge.unit_in_si
    offset = lost * span
    pressure = min(offset + share * (span - offset), span)

    def machine(at: float) -> float:
        return (at - offset) * slope

    target = machine(pressure)
    minimum, maximum = (None if end is None else end * target for end in (low, high))
    expected = brute_force(gauge, target, minimum, maximum, machine)
    try:
        found = marks_in_window(gauge, pressure, target, minimum, maximum, machine)
    except NoAnswer as refusal:
        assert [fault.code for fault in refusal.faults] == ["no_mark_in_window"]
        assert expected is None
        return
    assert found[0].reading.value == expected
    assert all(mark.torque > 0 and inside(mark.torque, minimum, maximum) for mark in found)
    assert len(found) <= 2
    for neighbour in marks_around(gauge, pressure, machine):
        assert neighbour is None or neighbour.torque >= 0


DIAL = Gauge("G-1", "psi", 3000.0, 50.0, 1.0, stated_accuracy(1), "work_port")


def setting(target: float, low: float | None, high: float | None) -> Mark:
    return marks_in_window(DIAL, target, target, low, high, lambda pressure: pressure)[0]


@pytest.mark.parametrize(
    ("target", "low", "high", "reading"),
    [
        # torque equals pressure here, so every case is read off the dial: marks at 50, 100, 150, ...
        (1510.0, None, None, 1500.0),  # the nearest
        (1510.0, 1510.0, 1661.0, 1550.0),  # never below a minimum
        (1540.0, 1400.0, 1540.0, 1500.0),  # never above a maximum
        (1525.0, None, None, 1500.0),  # half way: the lower
        (1500.0, 1500.0, 1500.0, 1500.0),  # on the mark, with no room at all
        (3000.0, 3000.0, None, 3000.0),  # the last mark
        (10.0, None, None, 50.0),  # zero is no setting
    ],
)
def test_setting(target: float, low: float | None, high: float | None, reading: float) -> None:
    assert setting(target, low, high).reading.value == reading


def test_too_coarse_a_gauge_names_both_neighbours() -> None:
    with pytest.raises(NoAnswer) as refusal:
        setting(1510.0, 1505.0, 1520.0)
    (fault,) = refusal.value.faults
    assert fault.code == "no_mark_in_window"
    assert "1500 psi" in fault.text
    assert "1550 psi" in fault.text
    assert {name: amount.value for name, amount in fault.amounts.items()} == {
        "below": 1500.0,
        "above": 1550.0,
    }


@pytest.mark.parametrize("target", [3000.1, 1e9])
def test_beyond_the_dial_is_refused(target: float) -> None:
    with pytest.raises(NoAnswer) as refusal:
        setting(target, None, None)
    assert refusal.value.faults[0].code == "above_gauge"


def test_marks_around_a_mark_are_it_and_the_next() -> None:
    below, above = marks_around(DIAL, 1500.0, lambda pressure: pressure)
    assert below is not None
    assert above is not None
    assert (below.reading.value, above.reading.value) == (1500.0, 1550.0)


def test_reading_has_no_noise() -> None:
    dial = Gauge("G", "bar", 6.0, 0.2, 1e5, stated_accuracy(1), "work_port")
    assert [dial.reading(number).value for number in (3, 7, 29)] == [0.6, 1.4, 5.8]


def test_working_range_is_a_quarter_to_three_quarters() -> None:
    assert working_range(DIAL) == (750.0, 2250.0)
    assert isclose(working_range(DIAL)[1], 0.75 * 3000)
