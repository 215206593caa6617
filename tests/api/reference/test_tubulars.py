"""The tables of round-thread casing and tubing and of pipe grades."""

from collections import Counter

import pytest
from rows import every_row

from api.engineering.provenance import STATUSES
from api.engineering.rotary.sizes import INCH
from api.reference.nominal_size import size_key
from api.reference.pipe_grades import (
    PIPE_GRADES,
    PipeGrade,
    find_pipe_grade,
    near_pipe_grades,
    pipe_grade_entries,
    pipe_grade_names,
)
from api.reference.table import read_table
from api.reference.tubulars import TUBULARS, Tubular, near_sizes, of_weight, tubulars_of

PSI, LB_FT = 6894.757293168362, 0.45359237 / 0.3048
every_pipe = every_row("row", TUBULARS, ids=lambda row: row.name)


@pytest.mark.parametrize("name", ["tubulars.csv", "pipe_grades.csv"])
def test_every_row_names_its_source_and_status(name: str) -> None:
    for row in read_table(name):
        assert row.text["source"].strip(), row
        assert row.text["status"] in STATUSES, row


def test_154_rows_of_five_thread_types() -> None:
    assert Counter(row.thread_type for row in TUBULARS) == {
        "STC": 66,
        "LTC": 44,
        "NUE": 21,
        "EUE": 17,
        "IJ": 6,
    }


@every_pipe
def test_pipe(row: Tubular) -> None:
    """Outside diameter less two walls is the inside diameter, but for the pin upset of integral joints."""
    bore = row.outside_diameter - 2 * row.wall_thickness
    if row.thread_type == "IJ":
        assert 0 < bore - row.inside_diameter < 0.13 * INCH
    else:
        assert row.inside_diameter == pytest.approx(bore, abs=0.0006 * INCH)
    # The nominal size is the outside diameter of the pipe: 2.063 in is 2-1/16.
    assert size_key(f"{row.outside_diameter / INCH:.4f}") == row.size_key


@every_pipe
def test_nominal_weight_is_that_of_the_pipe_but_for_its_ends(row: Tubular) -> None:
    """Plain-end weight 10.69 (D - t) t lb/ft (API 5CT) is within 8 % of the nominal one, upsets included."""
    D, t = row.outside_diameter / INCH, row.wall_thickness / INCH
    assert row.weight / LB_FT == pytest.approx(10.69 * (D - t) * t, rel=0.08)


M = {
    (8, "casing"): 0.704,
    (8, "large casing"): 0.709,
    (10, "tubing"): 0.446,
    (8, "tubing"): 0.534,
}


@every_pipe
def test_thread(row: Tubular) -> None:
    """API 5B: L = L4 - M, L1 = L less the standoff A in turns; height of 8 and 10 threads per inch."""
    kind = row.product if row.outside_diameter < 7.5 * INCH or row.product == "tubing" else "large casing"
    engaged = row.thread_length / INCH - M[row.threads_per_inch, kind]
    assert row.engaged_length / INCH == pytest.approx(engaged, abs=1e-9)
    standoff = row.hand_tight_standoff_turns / row.threads_per_inch
    assert row.hand_tight_length / INCH == pytest.approx(engaged - standoff, abs=0.00051)
    assert row.thread_height / INCH == pytest.approx({8: 0.07125, 10: 0.0556}[int(row.threads_per_inch)])
    upset = row.thread_type == "EUE" or row.size == "2.063"
    assert (row.thread_outside_diameter > row.outside_diameter) == upset
    assert row.hand_tight_standoff_turns == {"tubing": 2, "casing": 3, "large casing": 3.5}[kind]


def test_no_weight_stands_twice() -> None:
    keys = Counter((row.size_key, row.thread_type, round(row.weight, 2)) for row in TUBULARS)
    assert max(keys.values()) == 1


@every_pipe
def test_a_row_is_found_by_its_weight_in_either_print(row: Tubular) -> None:
    """17 lb/ft is printed as 25.30 kg/m: to two decimals, as all are."""
    among = tubulars_of(row.size_key, row.thread_type)
    assert of_weight(among, float(row.printed_weight) * LB_FT) is row
    assert of_weight(among, round(row.weight, 2)) is row
    assert of_weight(among, row.weight + 0.0051) is None
    assert of_weight(among, row.weight - 0.0051) is None


def test_near_sizes_exist() -> None:
    assert near_sizes("6", "STC") == ["5", "5-1/2", "6-5/8", "7"]
    assert near_sizes("6", "LTC", 2) == ["5-1/2", "6-5/8"]
    assert near_sizes("100") == ["13-3/8", "16", "18-5/8", "20"]
    assert near_sizes("1/2", "IJ", 1) == ["1.315"]


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("J55", "J55"),
        ("j-55", "J55"),
        ("J 55", "J55"),
        ("p–110", "P110"),
        ("N80Q", None),
        ("J5", None),
        ("55", None),
        ("", None),
    ],
)
def test_grade_names(written: str, name: str | None) -> None:
    found = find_pipe_grade(written)
    assert (found.name if found else None) == name


def test_near_grades_are_of_the_product() -> None:
    assert near_pipe_grades("N80Q")[0] == "N80"
    assert near_pipe_grades("J56") == ["J55"]
    assert near_pipe_grades("?") == pipe_grade_names()
    assert "K55" in near_pipe_grades("K56", "casing")
    assert "K55" not in near_pipe_grades("K56", "tubing")


@pytest.mark.parametrize("grade", PIPE_GRADES, ids=lambda grade: grade.name)
def test_the_number_of_a_grade_is_its_yield_strength(grade: PipeGrade) -> None:
    assert grade.yield_strength == pytest.approx(int(grade.name[1:]) * 1000 * PSI)
    assert grade.yield_strength < grade.tensile_strength <= 1.75 * grade.yield_strength
    assert "casing" in grade.products


def test_grades_as_they_are_listed() -> None:
    entries = pipe_grade_entries()
    assert len(entries) == 13
    assert {entry["product"] for entry in entries} == {"pipe"}
    assert all(entry["status"] in STATUSES and entry["source"] for entry in entries)
    for_tubing = [entry["name"] for entry in entries if "tubing" in entry["used_for"]]
    assert for_tubing == ["H40", "J55", "C75", "L80", "N80", "C90", "T95", "R95", "P110"]
