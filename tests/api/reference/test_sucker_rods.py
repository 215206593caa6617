"""The tables of sucker rods, and their listing."""

from fractions import Fraction

import pytest

from api.answers.tubular.sucker_rod import rods_listed
from api.engineering.provenance import STATUSES
from api.reference.nominal_size import size_key
from api.reference.sucker_rods import SUCKER_RODS
from api.reference.table import read_table
from schemas.core.quantity_fields import OutputUnits, written_in
from schemas.tubular.sucker_rod import SuckerRodPart

INCH = 0.0254

# API RP 11BR table 4 (displacements, from memory) and API 11B (diameters, a public reprint); in
PRINTED = [
    ("5/8", "15/16", 1.250, 1.500, "8/32", "9/32", "6/32", "8/32"),
    ("3/4", "1-1/16", 1.500, 1.625, "9/32", "11/32", "7/32", "17/64"),
    ("7/8", "1-3/16", 1.625, 1.812, "11/32", "12/32", "9/32", "23/64"),
    ("1", "1-3/8", 2.000, 2.188, "14/32", "16/32", "12/32", "14/32"),
    ("1-1/8", "1-9/16", 2.250, 2.375, "18/32", "21/32", "16/32", "19/32"),
]


def inches(printed: str) -> float:
    return float(sum((Fraction(part) for part in printed.split("-")), Fraction(0)))


@pytest.mark.parametrize("size, pin, shoulder, coupling, first_low, first_high, low, high", PRINTED)
def test_printed_rows(
    size: str,
    pin: str,
    shoulder: float,
    coupling: float,
    first_low: str,
    first_high: str,
    low: str,
    high: str,
) -> None:
    rod = SUCKER_RODS[size]
    assert (rod.pin_size, rod.threads_per_inch) == (pin, 10)
    for value, printed in (
        (rod.pin_diameter, inches(pin)),
        (rod.shoulder_outside_diameter, shoulder),
        (rod.coupling_outside_diameter, coupling),
    ):
        assert value / INCH == pytest.approx(printed, rel=1e-12)
    runs = {"first": (first_low, first_high, ("D",)), "rerun": (low, high, ("C", "D", "K"))}
    assert [each.run for each in rod.displacements] == list(runs)
    for each in rod.displacements:
        assert (each.minimum_printed, each.maximum_printed, each.grades) == runs[each.run]
        assert each.minimum / INCH == pytest.approx(inches(each.minimum_printed), rel=1e-12)
        assert each.maximum / INCH == pytest.approx(inches(each.maximum_printed), rel=1e-12)


def test_these_are_all() -> None:
    assert list(SUCKER_RODS) == [size for size, *_ in PRINTED]
    assert all(key == size_key(rod.size) for key, rod in SUCKER_RODS.items())


@pytest.mark.parametrize("rod", SUCKER_RODS.values(), ids=lambda rod: rod.size)
def test_what_a_joint_can_be(rod) -> None:  # type: ignore[no-untyped-def]
    """Pin within shoulder within coupling; a rerun turns less than a first run."""
    assert rod.pin_diameter < rod.shoulder_outside_diameter < rod.coupling_outside_diameter
    first, rerun = rod.displacements
    assert first.minimum < first.maximum
    assert rerun.minimum < rerun.maximum
    assert rerun.minimum < first.minimum
    assert rerun.maximum < first.maximum


def test_larger_rods_turn_farther() -> None:
    for run in (0, 1):
        minima = [rod.displacements[run].minimum for rod in SUCKER_RODS.values()]
        assert minima == sorted(set(minima))


@pytest.mark.parametrize("name", ["sucker_rods.csv", "sucker_rod_displacements.csv"])
def test_every_row_names_its_source_and_status(name: str) -> None:
    status = {"sucker_rods.csv": "reprint", "sucker_rod_displacements.csv": "from memory"}[name]
    for row in read_table(name):
        assert row.text["source"].strip()
        assert row.text["status"] in STATUSES
        assert row.text["status"] == status


@pytest.mark.parametrize(
    ("filters", "runs"),
    [
        ({}, {"first", "rerun"}),
        ({"run": "first"}, {"first"}),
        ({"rod_grade": "K"}, {"rerun"}),
        ({"rod_grade": "D"}, {"first", "rerun"}),
        ({"run": "rerun", "rod_grade": "C"}, {"rerun"}),
        ({"run": "first", "rod_grade": "C"}, set()),
    ],
)
def test_filters_of_the_listing(filters: dict[str, str], runs: set[str]) -> None:
    listed = rods_listed(filters)
    assert len(listed) == (5 if runs else 0)
    assert {each.run for rod in listed for each in rod.displacements} == runs


@pytest.mark.parametrize(
    ("system", "diameter", "unit", "minimum"),
    [("us", 1.5, "in", 0.25), ("metric", 38.1, "mm", 6.35), ("si", 0.0381, "m", 0.00635)],
)
def test_the_listing_as_written(system: str, diameter: float, unit: str, minimum: float) -> None:
    with written_in(OutputUnits(system)):
        first, *_ = SuckerRodPart().dump(rods_listed({}), many=True)
    assert (first["size"], first["pin_size"], first["threads_per_inch"]) == ("5/8", "15/16", 10)
    assert first["coupling_outside_diameter"] == {"value": pytest.approx(diameter), "unit": unit}
    assert first["status"] == "reprint"
    assert "API 11B" in first["source"]
    row, other = first["displacements"]
    assert row["minimum"] == {"value": pytest.approx(minimum), "unit": unit}
    assert (row["minimum_printed"], row["maximum_printed"]) == ("8/32", "9/32")
    assert (row["grades"], other["grades"]) == (["D"], ["C", "D", "K"])
    assert row["status"] == "from memory"
    assert "RP 11BR" in row["source"]
