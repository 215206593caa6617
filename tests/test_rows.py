"""A test of many rows tells all that miss, and cannot pass over a table without rows."""

import inspect

import pytest
from rows import every_row


@every_row("left, right", [(1, 1), (2, 3), (4, 4), (5, 6)], ids="abcd")
def two_miss(left: int, right: int) -> None:
    assert left == right, f"expected {right}, found {left}"


@every_row("number", [0, 1])
@every_row("name", ["x", ""])
def three_miss(name: str, number: int) -> None:
    assert 1 / number
    assert name


@every_row("number", [])
def no_rows(number: int) -> None:
    raise NotImplementedError


@every_row("number", [1, 2])
def of_a_fixture(tmp_path: str, number: int) -> None:
    assert tmp_path == "folder"


def test_every_row_that_misses_is_told_with_what_was_expected_and_found() -> None:
    with pytest.raises(pytest.fail.Exception) as told:
        two_miss()
    lines = str(told.value).splitlines()
    assert [line for line in lines if line.startswith(("2 of", "b:", "d:"))] == [
        "2 of 4 rows miss",
        "b: expected 3, found 2",
        "d: expected 6, found 5",
    ]
    assert not any(line.startswith(("a:", "c:")) for line in lines)


def test_rows_of_rows_and_errors_are_told_too() -> None:
    with pytest.raises(pytest.fail.Exception) as told:
        three_miss()
    assert str(told.value).count("division by zero") == 2
    assert str(told.value).count("assert ''") == 1


def test_a_table_without_rows_fails() -> None:
    with pytest.raises(pytest.fail.Exception, match="no row"):
        no_rows()


def test_fixtures_are_asked_for_and_rows_are_not() -> None:
    assert list(inspect.signature(of_a_fixture).parameters) == ["tmp_path"]
    of_a_fixture(tmp_path="folder")
