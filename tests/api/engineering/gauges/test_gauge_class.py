"""Gauge classes against figures worked from the printed classes, and what depends on how a gauge is read."""

from math import nextafter

import pytest
from rows import every_row

from api.engineering.gauges.accuracy_class import (
    GAUGE_CLASSES,
    GaugeAccuracy,
    highest_working_reading,
    stated_accuracy,
    working_range_advice,
)
from api.engineering.gauges.gauge import HowRead, reading_half_width

PERCENT = {
    # class: percent of span in the first quarter, the middle half and the last quarter
    "ASME B40.100 4A": (0.1, 0.1, 0.1),
    "ASME B40.100 3A": (0.25, 0.25, 0.25),
    "ASME B40.100 2A": (0.5, 0.5, 0.5),
    "ASME B40.100 1A": (1, 1, 1),
    "ASME B40.100 A": (2, 1, 2),
    "ASME B40.100 B": (3, 2, 3),
    "ASME B40.100 C": (4, 3, 4),
    "ASME B40.100 D": (5, 5, 5),
    "EN 837-1 0.1": (0.1, 0.1, 0.1),
    "EN 837-1 0.25": (0.25, 0.25, 0.25),
    "EN 837-1 0.6": (0.6, 0.6, 0.6),
    "EN 837-1 1": (1, 1, 1),
    "EN 837-1 1.6": (1.6, 1.6, 1.6),
    "EN 837-1 2.5": (2.5, 2.5, 2.5),
    "EN 837-1 4": (4, 4, 4),
}


def test_the_classes_are_those_of_the_two_standards() -> None:
    assert list(GAUGE_CLASSES) == list(PERCENT)


@pytest.mark.parametrize("name", PERCENT)
def test_percent_of_span_by_quarter(name: str) -> None:
    accuracy = GAUGE_CLASSES[name]
    assert accuracy.name == name
    assert tuple(accuracy.at(reading, 100.0) for reading in (10, 50, 90)) == pytest.approx(PERCENT[name])


@pytest.mark.parametrize(
    ("name", "percent"),
    [
        # Of the reading, at 500, 1000, 2500 and 3750 psi on a dial of 5000 psi; 3750 is the 75 % mark.
        ("1A", (10, 5, 2, 1.3)),
        ("A", (20, 10, 2, 1.3)),
        ("B", (30, 15, 4, 2.7)),
        ("D", (50, 25, 10, 6.7)),
    ],
)
def test_error_as_a_share_of_the_reading(name: str, percent: tuple[float, ...]) -> None:
    accuracy = GAUGE_CLASSES[f"ASME B40.100 {name}"]
    shares = [100 * accuracy.share_of_reading(reading, 5000.0) for reading in (500.0, 1000.0, 2500.0, 3750.0)]
    assert shares == pytest.approx(percent, abs=0.05)


@every_row(
    ("reading", "error"),
    [
        (0, 60), (749.9, 60), (750, 30), (1500, 30), (2250, 30), (2250.1, 60), (3000, 60),
    ],
)  # fmt: skip
@every_row("unit", [1.0, 6894.757293168362, 1e5, 98066.5])
def test_the_boundary_marks_belong_to_the_middle_half_in_every_unit(
    reading: float, error: float, unit: float
) -> None:
    """Grade A on a dial of 3000: 2 % is 60, 1 % is 30."""
    assert GAUGE_CLASSES["ASME B40.100 A"].at(reading * unit, 3000 * unit) / unit == pytest.approx(error)


@pytest.mark.parametrize(("mark", "end"), [(750.0, 0.0), (2250.0, 3000.0)])
def test_a_boundary_mark_missed_by_arithmetic_alone_is_still_that_mark(mark: float, end: float) -> None:
    assert GAUGE_CLASSES["ASME B40.100 A"].at(nextafter(mark, end), 3000.0) == pytest.approx(30)


def test_what_was_read_and_what_is_remembered() -> None:
    read = {name for name, accuracy in GAUGE_CLASSES.items() if accuracy.status == "read"}
    assert read == {"ASME B40.100 A"} | {name for name in PERCENT if name.startswith("EN")}
    assert {accuracy.status for accuracy in GAUGE_CLASSES.values()} == {"read", "from memory"}


@pytest.mark.parametrize(
    "accuracy", [stated_accuracy(1.6), GAUGE_CLASSES["EN 837-1 1.6"]], ids=["stated", "by name"]
)
def test_a_stated_accuracy_holds_all_round_as_that_of_en_837_does(accuracy: GaugeAccuracy) -> None:
    assert [accuracy.at(reading, 10.0) for reading in (0.0, 2.0, 5.0, 10.0)] == pytest.approx([0.16] * 4)


@pytest.mark.parametrize(
    ("reading", "said"),
    [
        (1200, "24 % of its span: below a quarter"),
        (1250, None),
        (3250, None),
        (
            3300,
            "66 % of its span: EN 837-2 (from memory) allows that under steady pressure, and 65 % under",
        ),
        (3750, "75 % of its span: EN 837-2 (from memory) allows that under steady pressure"),
        (3800, "76 % of its span: EN 837-2 (from memory) allows 75 %, under fluctuating pressure 65 %"),
    ],
)
def test_working_range(reading: float, said: str | None) -> None:
    advice = working_range_advice(reading * 6894.757293168362, 5000 * 6894.757293168362)
    assert advice is None if said is None else said in (advice or "")


def test_highest_working_reading() -> None:
    assert highest_working_reading(400.0, "steady") == pytest.approx(300.0)
    assert highest_working_reading(400.0, "fluctuating") == pytest.approx(260.0)


@pytest.mark.parametrize(
    ("how", "half_width"),
    [("set_on_mark", 25.0), ("half_division", 25.0), ("nearest_mark", 50.0), ("digital", 50.0)],
)
def test_how_finely_a_division_of_100_is_read(how: HowRead, half_width: float) -> None:
    assert reading_half_width(100.0, how) == half_width
