"""Bolt grades: their ranges of sizes at each end, and their names."""

import re
from itertools import pairwise

import pytest
from rows import every_row

from api.engineering.checks import NoAnswer
from api.engineering.provenance import STATUSES
from api.reference.bolt_grades import GRADES, GradeRange, find_grade, grades_named, near_grades, strength_of
from api.reference.bolt_threads import find_thread

KSI, MPA = 6894757.293168361, 1e6


@every_row("each", GRADES, ids=lambda each: f"{each.name} {each.sizes}")
def test_a_grade_row(each: GradeRange) -> None:
    assert (each.over is None) or (each.start is None)
    assert each.proof is None or 0.6 * each.yield_strength < each.proof < each.yield_strength
    assert 0.35 * each.tensile < each.yield_strength < each.tensile
    assert (each.proof is None) == (each.standard in ("ASTM A193", "ASTM A320"))
    assert each.source.status in STATUSES
    assert not re.search(r"0001|99", each.sizes)


def test_the_ranges_of_a_grade_meet_without_gap_or_overlap() -> None:
    names = dict.fromkeys(each.name for each in GRADES)
    for name in names:
        ranges = [each for each in GRADES if each.name == name]
        for lower, upper in pairwise(ranges):
            assert lower.through == upper.over, name
            assert upper.start is None
            assert lower.covers(lower.through or 0)
            assert not upper.covers(lower.through or 0)


@every_row(
    ("grade", "thread", "proof", "yield_strength"),
    [
        # the boundary sizes and the ones beyond, as the standards print them
        ("8.8", "M16", 580 * MPA, 640 * MPA),
        ("8.8", "M16x1.5", 580 * MPA, 640 * MPA),
        ("8.8", "M18", 600 * MPA, 660 * MPA),
        ("8.8", "M5", 580 * MPA, 640 * MPA),
        ("8.8", "M39", 600 * MPA, 660 * MPA),
        ("4.8", "M16", 310 * MPA, 340 * MPA),
        ("5.8", "M24", 380 * MPA, 420 * MPA),
        ("10.9", "M39", 830 * MPA, 940 * MPA),
        ("12.9", "M39x3", 970 * MPA, 1100 * MPA),
        ("SAE 2", "3/4-10 UNC", 55 * KSI, 57 * KSI),
        ("SAE 2", "7/8-9 UNC", 33 * KSI, 36 * KSI),
        ("SAE 2", "1/4-20 UNC", 55 * KSI, 57 * KSI),
        ("SAE 5", "1-8 UNC", 85 * KSI, 92 * KSI),
        ("SAE 5", "1-1/8-7 UNC", 74 * KSI, 81 * KSI),
        ("SAE 5", "1-1/2-6 UNC", 74 * KSI, 81 * KSI),
        ("SAE 8", "1-1/2-12 UNF", 120 * KSI, 130 * KSI),
        ("B7", "2-1/2-8 UN", None, 105 * KSI),
        ("B7", "2-5/8-8 UN", None, 95 * KSI),
        ("B7", "4-8 UN", None, 95 * KSI),
        ("B7M", "4-8 UN", None, 80 * KSI),
        ("B8 class 2", "3/4-10 UNC", None, 100 * KSI),
        ("B8 class 2", "7/8-9 UNC", None, 80 * KSI),
        ("B8 class 2", "1-8 UN", None, 80 * KSI),
        ("B8 class 2", "1-1/8-8 UN", None, 65 * KSI),
        ("B8 class 2", "1-1/4-8 UN", None, 65 * KSI),
        ("B8 class 2", "1-3/8-8 UN", None, 50 * KSI),
        ("B8 class 2", "1-1/2-8 UN", None, 50 * KSI),
        ("B8 class 1", "4-8 UN", None, 30 * KSI),
        ("BD", "2-1/2-8 UN", 120 * KSI, 130 * KSI),
        ("BD", "2-5/8-8 UN", 105 * KSI, 115 * KSI),
        ("A574", "1/2-13 UNC", 140 * KSI, 153 * KSI),
        ("A574", "9/16-12 UNC", 135 * KSI, 153 * KSI),
    ],
)
def test_strength_at_the_ends_of_each_range(
    grade: str, thread: str, proof: float | None, yield_strength: float
) -> None:
    found = strength_of(grade, find_thread(thread))
    assert found.yield_strength == pytest.approx(yield_strength, rel=1e-12)
    assert found.proof == (None if proof is None else pytest.approx(proof, rel=1e-12))


@pytest.mark.parametrize(
    ("grade", "thread", "told"),
    [
        ("8.8", "M42", "from M5 through M16, or over M16 through M39"),
        ("4.8", "M18", "from M1.6 through M16"),
        ("5.8", "M27", "from M5 through M24"),
        ("SAE 5", "1-3/4-5 UNC", "from 1/4 in through 1 in, or over 1 in through 1-1/2 in"),
        ("SAE 5.2", "1-1/8-7 UNC", "from 1/4 in through 1 in"),
        ("L7", "2-5/8-8 UN", "through 2-1/2 in"),
        ("B8M class 2", "1-5/8-8 UN", "over 1-1/4 in through 1-1/2 in"),
    ],
)
def test_a_size_outside_every_range(grade: str, thread: str, told: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        strength_of(grade, find_thread(thread))
    (fault,) = refusal.value.faults
    assert fault.code == "grade_not_for_size"
    assert told in (fault.accepted or "")


@pytest.mark.parametrize(
    ("grade", "thread"), [("8.8", "3/4-10 UNC"), ("SAE 5", "M20"), ("B7", "M20"), ("A574", "M20")]
)
def test_a_grade_is_for_threads_of_its_own_system(grade: str, thread: str) -> None:
    with pytest.raises(NoAnswer, match="grade_not_for_thread"):
        strength_of(grade, find_thread(thread))


@every_row(
    ("written", "names"),
    [
        ("8.8", ["ISO 898-1 8.8"]),
        ("class 10.9", ["ISO 898-1 10.9"]),
        ("ISO 898-1 12.9", ["ISO 898-1 12.9"]),
        ("property class 4.6", ["ISO 898-1 4.6"]),
        ("SAE 5", ["SAE J429 5"]),
        ("sae j429 grade 8", ["SAE J429 8"]),
        ("Gr. 5", ["SAE J429 5"]),
        ("B7", ["ASTM A193 B7"]),
        ("ASTM A193 Grade B7", ["ASTM A193 B7"]),
        ("SA-193-B7M", ["ASTM A193 B7M"]),
        ("a320 l7", ["ASTM A320 L7"]),
        ("B8 cl. 2", ["ASTM A193 B8 class 2"]),
        ("B8M Class 1", ["ASTM A193 B8M class 1"]),
        ("BD", ["ASTM A354 BD"]),
        ("ASTM A574", ["ASTM A574"]),
        ("B8", ["ASTM A193 B8 class 1", "ASTM A193 B8 class 2"]),
        ("5", ["ISO 898-1 5.6", "ISO 898-1 5.8", "SAE J429 5", "SAE J429 5.2"]),
        ("8", ["ISO 898-1 8.8", "SAE J429 8", "SAE J429 8.2"]),
        ("12", ["ISO 898-1 12.9"]),
        ("B9", []),
        ("9.9", []),
        ("A193", []),
        ("10,9", []),
        ("", []),
    ],
)
def test_names_of_grades(written: str, names: list[str]) -> None:
    assert list(grades_named(written)) == names


@pytest.mark.parametrize(
    ("written", "code", "told"),
    [
        ("B8", "ambiguous_bolt_grade", "ASTM A193 B8 class 1, ASTM A193 B8 class 2"),
        ("5", "ambiguous_bolt_grade", "SAE J429 5"),
        ("12", "ambiguous_bolt_grade", "ISO 898-1 12.9"),
        ("5.2", "ambiguous_bolt_grade", "SAE J429 5.2"),
        ("10,9", "unknown_bolt_grade", "ISO 898-1 10.9"),
        ("B7X", "unknown_bolt_grade", "ASTM A193 B7"),
        ("", "unknown_bolt_grade", "/v1/grades"),
    ],
)
def test_a_grade_that_is_refused_names_the_choices(written: str, code: str, told: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        find_grade(written)
    (fault,) = refusal.value.faults
    assert (fault.code, fault.field) == (code, "bolt_grade")
    assert told in (fault.accepted or "")
    assert near_grades(written)


@every_row("each", GRADES, ids=lambda each: each.name)
def test_every_grade_is_found_by_its_whole_name(each: GradeRange) -> None:
    assert grades_named(each.name) == (each.name,)
