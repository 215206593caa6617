"""The listings of bolt threads, of grades and of nut factors."""

from typing import Any

import pytest

from api.answers.bolts.listings import grades_listed, threads_listed
from api.engineering.checks import NoAnswer
from api.engineering.provenance import STATUSES
from api.reference.bolt_friction import NUT_FACTORS
from schemas.bolts.listings import GradePart, NutFactorPart, ThreadPart
from schemas.core.quantity_fields import OutputUnits, written_in


@pytest.fixture(autouse=True)
def _in_us_units() -> Any:
    with written_in(OutputUnits("us")):
        yield


@pytest.mark.parametrize(
    ("filters", "count"),
    [
        ({}, 112),
        ({"system": "metric"}, 49),
        ({"system": "unified"}, 63),
        ({"series": "coarse"}, 24),
        ({"series": "8UN"}, 25),
        ({"series": "8UN", "status": "read"}, 25),
        ({"system": "metric", "series": "UNC"}, 0),
    ],
)
def test_threads(filters: dict[str, str], count: int) -> None:
    listed = ThreadPart().dump(threads_listed(filters), many=True)
    assert len(listed) == count
    assert all(each["status"] in STATUSES and each["source"] and each["note"] for each in listed)


def test_one_thread() -> None:
    """1-1/2-8: ASME B1.1 prints 1.4188 in and 1.492 in2."""
    (thread,) = (each for each in threads_listed({"series": "8UN"}) if each["designation"] == "1-1/2-8 8UN")
    shown = ThreadPart().dump(thread)
    assert shown["pitch_diameter"]["value"] == pytest.approx(1.4188, abs=5e-5)
    assert shown["stress_area"]["value"] == pytest.approx(1.492, abs=5e-4)
    assert shown["published_stress_area"]["value"] == pytest.approx(1.492, abs=1e-9)
    assert shown["threads_per_inch"] == 8


@pytest.mark.parametrize(
    ("filters", "products", "count"),
    [
        ({"product": "bolt"}, {"bolt"}, 46),
        ({"product": "pipe"}, {"pipe"}, None),
        ({}, {"bolt", "pipe"}, None),
        ({"standard": "SAE J429"}, {"bolt"}, 9),
        ({"standard": "ASTM A193", "status": "reprint"}, {"bolt"}, 8),
        ({"standard": "ASTM A193", "product": "pipe"}, set(), 0),
    ],
)
def test_grades(filters: dict[str, str], products: set[str], count: int | None) -> None:
    listed = GradePart().dump(grades_listed(filters), many=True)
    assert {each["product"] for each in listed} == products
    assert count is None or len(listed) == count
    assert all(each["status"] in STATUSES and each["source"] for each in listed)
    assert all(each["yield_strength"]["value"] < each["tensile_strength"]["value"] for each in listed)


def test_the_sizes_of_a_grade() -> None:
    small, large = (each for each in grades_listed({"standard": "SAE J429"}) if each["name"] == "5")
    assert (small["sizes"], large["sizes"]) == ("from 1/4 in through 1 in", "over 1 in through 1-1/2 in")
    assert GradePart().dump(large)["size_over"] == {"value": 1.0, "unit": "in"}
    assert small["size_over"] is large["size_from"] is None


def test_a_standard_that_names_no_grade() -> None:
    with pytest.raises(NoAnswer) as refusal:
        grades_listed({"standard": "ASTM A307"})
    (fault,) = refusal.value.faults
    assert (fault.code, fault.field) == ("not_a_choice", "standard")
    assert "ASTM A193" in (fault.accepted or "")


def test_nut_factors() -> None:
    listed = NutFactorPart().dump(NUT_FACTORS, many=True)
    # Shigley, Table 8-15
    assert {"condition": "zinc plated", "low": 0.2, "high": 0.2}.items() <= next(
        each.items() for each in listed if each["condition"] == "zinc plated"
    )
    assert all(each["status"] in STATUSES and each["source"] for each in listed)
