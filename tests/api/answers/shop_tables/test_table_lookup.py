"""Finding a row: exactly, or between two rows; and what is said where there is none. Tables are invented."""

from datetime import date
from math import nextafter
from typing import Any

import pytest
from shop_tables import table_of

from api.answers.shop_tables.lookup import find_row
from api.engineering.checks import NoAnswer
from api.shop_tables.reader import read_table_key

PLAIN = table_of("""\
model,bore [in],target [ft-lb],source,revision
A 1,2 1/2,1000,s,1
A 1,2 3/4,1100,s,1
B 2,2 1/2,2000,s,1
""")
LINEAR = table_of("""\
model,"od [in, linear]",bore [in],target [ft-lb],source,revision
A,7,3,300,s,1
A,5,3,100,s,1
A,6,3,150,s,1
A,6,2,900,s,1
B,5,3,700,s,1
""")
DATED = table_of("""\
model,target [ft-lb],source,revision,effective_from,effective_to
A,100,s,1,,2026-06-30
A,200,s,2,2026-07-01,2026-12-31
A,300,s,3,2027-02-01,
B,900,s,1,,
""")
LINEAR_DATED = table_of("""\
"od [in, linear]",target [ft-lb],source,revision,effective_from,effective_to
5,100,s,1,,2026-06-30
5,120,s,2,2026-07-01,
6,200,s,1,,2026-06-30
7,300,s,1,,
""")


def found(table: Any, as_of: str | None = None, **given: Any) -> Any:
    key = read_table_key(table.content.columns, given)
    return find_row(table.index, key, None if as_of is None else date.fromisoformat(as_of))


def numbers(table: Any, as_of: str | None = None, **given: Any) -> list[int]:
    return [row.number for row in found(table, as_of, **given).rows]


def refusal(table: Any, as_of: str | None = None, **given: Any) -> list[tuple[str, str | None, str | None]]:
    with pytest.raises(NoAnswer) as refused:
        found(table, as_of, **given)
    return [(fault.code, fault.field, fault.accepted) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("given", "row"),
    [
        ({"model": "A 1", "bore": "2 1/2 in"}, 2),
        ({"model": "A 1", "bore": "2.75 in"}, 3),
        ({"model": "B 2", "bore": "63.5 mm"}, 4),
        ({"model": "a  1", "bore": {"value": 2.5, "unit": "in"}}, 2),
        ({"model": " A   1 ", "bore": "2-1/2 in"}, 2),
        ({"model": "Ａ １", "bore": "2.5 in"}, 2),
        ({"model": "A 1", "bore": f"{2.5 * (1 + 1e-10)!r} in"}, 2),
    ],
)
def test_a_row_is_found_exactly(given: dict[str, Any], row: int) -> None:
    assert numbers(PLAIN, **given) == [row]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (
            {"model": "A 1", "bore": "2.6 in"},
            [("no_such_row", "table_key.bore", "near it: 2.5 in, 2.75 in")],
        ),
        # not a share of a per mille away: a table is never read beside its rows
        (
            {"model": "A 1", "bore": "2.500001 in"},
            [("no_such_row", "table_key.bore", "near it: 2.5 in, 2.75 in")],
        ),
        ({"model": "A 1 LH", "bore": "2.5 in"}, [("no_such_row", "table_key.model", "near it: A 1")]),
        (
            {"model": "A1", "bore": "9 in"},
            [
                ("no_such_row", "table_key.model", "near it: A 1"),
                ("no_such_row", "table_key.bore", "near it: 2.75 in, 2.5 in"),
            ],
        ),
        # each value stands in the table, but no row has both
        (
            {"model": "B 2", "bore": "2.75 in"},
            [("no_such_row", "table_key", "near it: row 4: model B 2, bore 2.5 in")],
        ),
    ],
)
def test_a_miss_names_what_is_near_and_never_gives_it(given: dict[str, Any], told: list[Any]) -> None:
    assert refusal(PLAIN, **given) == told


@pytest.mark.parametrize(
    ("given", "rows", "share"),
    [
        ({"od": "5 in"}, [3], 0.0),
        ({"od": "6 in"}, [4], 0.0),
        ({"od": "5.25 in"}, [3, 4], 0.25),
        ({"od": "6.5 in"}, [4, 2], 0.5),
        ({"od": "5.999 in"}, [3, 4], 0.999),
        ({"od": f"{nextafter(5, 6)!r} in"}, [3], 0.0),
    ],
)
def test_between_two_rows_where_the_table_allows_it(
    given: dict[str, Any], rows: list[int], share: float
) -> None:
    there = found(LINEAR, model="A", bore="3 in", **given)
    assert [row.number for row in there.rows] == rows
    assert there.share == pytest.approx(share, abs=1e-12)
    assert (there.column is None) == (len(rows) == 1)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        # never beyond the ends, never across another key
        ({"model": "A", "bore": "3 in", "od": "4.9 in"}, ("outside_table", "table_key.od", "5 in to 7 in")),
        ({"model": "A", "bore": "3 in", "od": "7.1 in"}, ("outside_table", "table_key.od", "5 in to 7 in")),
        ({"model": "A", "bore": "2 in", "od": "6.1 in"}, ("outside_table", "table_key.od", "6 in")),
        ({"model": "B", "bore": "3 in", "od": "6 in"}, ("outside_table", "table_key.od", "5 in")),
        # what is not linear is exact
        (
            {"model": "A", "bore": "2.5 in", "od": "6 in"},
            ("no_such_row", "table_key.bore", "near it: 3 in, 2 in"),
        ),
        (
            {"model": "B", "bore": "2 in", "od": "5 in"},
            ("no_such_row", "table_key", "near it: row 6: model B, od 5 in, bore 3 in"),
        ),
    ],
)
def test_never_beyond_the_rows(given: dict[str, Any], told: Any) -> None:
    assert refusal(LINEAR, **given) == [told]


@pytest.mark.parametrize(
    ("day", "row"),
    [("1999-01-01", 2), ("2026-06-30", 2), ("2026-07-01", 3), ("2026-12-31", 3), ("2027-02-01", 4)],
)
def test_the_revision_in_force_on_the_day_both_ends_included(day: str, row: int) -> None:
    assert numbers(DATED, day, model="A") == [row]


def test_an_undated_row_needs_no_day() -> None:
    assert numbers(DATED, None, model="B") == numbers(DATED, "2030-01-01", model="B") == [5]


def test_a_dated_row_needs_the_day_of_the_job() -> None:
    assert refusal(DATED, None, model="A") == [("as_of_required", "as_of", "a day such as 2026-11-24")]


@pytest.mark.parametrize("day", ["2027-01-01", "2027-01-31"])
def test_no_row_in_force_is_a_refusal_that_names_the_periods(day: str) -> None:
    with pytest.raises(NoAnswer) as refused:
        found(DATED, day, model="A")
    (fault,) = refused.value.faults
    assert fault.code == "row_not_in_force"
    assert "row 2 to 2026-06-30; row 3 from 2026-07-01 to 2026-12-31; row 4 from 2027-02-01" in fault.text


@pytest.mark.parametrize(
    ("day", "od", "rows"),
    [
        ("2026-06-30", "5.5 in", [2, 4]),
        ("2026-06-30", "6.5 in", [4, 5]),
        ("2026-07-01", "5 in", [3]),
        ("2026-07-01", "7 in", [5]),
    ],
)
def test_only_rows_in_force_are_interpolated_between(day: str, od: str, rows: list[int]) -> None:
    assert numbers(LINEAR_DATED, day, od=od) == rows


def test_a_withdrawn_row_is_not_replaced_by_its_neighbours() -> None:
    """The shop withdrew the value for exactly this joint: a line through the others would bring it back."""
    assert [code for code, _, _ in refusal(LINEAR_DATED, "2026-07-01", od="6 in")] == ["row_not_in_force"]


@pytest.mark.parametrize("od", ["5.000001 in", "5.5 in", "5.999999 in", "6.000001 in", "6.5 in"])
def test_nor_beside_its_own_joint(od: str) -> None:
    """120 ft-lb at 5 in and 300 at 7 in would give 210 at 6 in, where the shop withdrew 200."""
    with pytest.raises(NoAnswer) as refused:
        found(LINEAR_DATED, "2026-07-01", od=od)
    (fault,) = refused.value.faults
    assert (fault.code, fault.field) == ("row_not_in_force", "as_of")
    assert "row 4 to 2026-06-30" in fault.text


def test_beyond_the_rows_in_force_says_which_are_not() -> None:
    table = table_of(
        '"od [in, linear]",target [N.m],source,revision,effective_from\n5,1,s,1,\n6,2,s,1,2026-07-01\n'
    )
    with pytest.raises(NoAnswer) as refused:
        found(table, "2026-01-01", od="5.5 in")
    (fault,) = refused.value.faults
    assert (fault.code, fault.accepted) == ("outside_table", "5 in")
    assert "not in force on 2026-01-01: row 3 from 2026-07-01" in fault.text


def test_interpolation_over_dated_rows_needs_the_day() -> None:
    assert [code for code, _, _ in refusal(LINEAR_DATED, None, od="5.5 in")] == ["as_of_required"]


def test_values_that_differ_by_the_rounding_between_units_are_one() -> None:
    """The same bore typed in another unit, and back, is the same; a row beside it is not."""
    table = table_of("bore [mm],od [mm],target [N.m],source,revision\n63.5,1,1,s,1\n63.500001,1,2,s,1\n")
    assert numbers(table, bore="2.5 in", od="1 mm") == [2]
    assert numbers(table, bore=f"{63.5 * (1 + 9e-10)!r} mm", od="1 mm") == [2]
    assert numbers(table, bore="63.500001 mm", od="1 mm") == [3]


def test_nothing_in_force_on_the_day() -> None:
    table = table_of('"od [in, linear]",target [N.m],source,revision,effective_from\n5,1,s,1,2027-01-01\n')
    assert [code for code, _, _ in refusal(table, "2026-01-01", od="6 in")] == ["row_not_in_force"]
