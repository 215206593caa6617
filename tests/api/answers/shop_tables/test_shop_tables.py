"""The folder of a shop's tables: which files are served, and what is said of the others."""

from hashlib import sha256
from pathlib import Path

import pytest

from api.answers.shop_tables.table import Table, read_tables
from api.shop_tables.reader import FaultyTable

GOOD = "model,target [ft-lb],source,revision\nA,100,s,1\n"
BAD = "model,target [ft-lb],source,revision\nA,100,s,1\nB,,s,1\nC,300,,1\n"


def folder_of(path: Path, **files: str) -> Path:
    for name, text in files.items():
        (path / name.replace("_dot_", ".")).write_text(text, "utf-8")
    return path


def faults(path: Path) -> dict[str, list[tuple[int | None, str | None, str]]]:
    return {
        name: [(fault.row, fault.column, fault.code) for fault in faulty.faults]
        for name, faulty in read_tables(path).faults.items()
    }


def test_no_folder_has_no_tables() -> None:
    assert read_tables(None).tables == read_tables(None).faults == {}


def test_a_file_is_a_table_by_the_name_of_its_file_and_the_hash_of_its_bytes(tmp_path: Path) -> None:
    found = read_tables(folder_of(tmp_path, own_dot_csv=GOOD))
    assert not found.faults
    assert {name: table.hash for name, table in found.tables.items()} == {
        "own": sha256(GOOD.encode()).hexdigest()[:12]
    }


def test_another_byte_is_another_hash(tmp_path: Path) -> None:
    read = read_tables(folder_of(tmp_path, a_dot_csv=GOOD, b_dot_csv=GOOD.replace("100", "101"))).tables
    assert read["a"].hash != read["b"].hash


def test_a_table_with_a_fault_is_not_served_and_the_others_are(tmp_path: Path) -> None:
    folder_of(tmp_path, good_dot_csv=GOOD, bad_dot_csv=BAD)
    assert list(read_tables(tmp_path).tables) == ["good"]
    assert faults(tmp_path) == {
        "bad.csv": [(3, "target", "missing_cell"), (4, "source", "missing_cell")],
    }
    assert read_tables(tmp_path).refused_ids == {"bad": "bad.csv"}


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("Own.csv", "bad_table_name"),
        ("own table.csv", "bad_table_name"),
        ("_own.csv", "bad_table_name"),
        (f"{'o' * 61}.csv", "bad_table_name"),
        ("own.CSV", "malformed_table"),
        ("own.xlsx", "malformed_table"),
        ("own.XLS", "malformed_table"),
        ("own.ods", "malformed_table"),
        ("own.tsv", "malformed_table"),
        ("own.csv.txt", "malformed_table"),
    ],
)
def test_a_file_that_looks_like_a_table_is_told(tmp_path: Path, name: str, code: str) -> None:
    (tmp_path / name).write_text(GOOD, "utf-8")
    assert faults(tmp_path) == {name: [(None, None, code)]}
    assert read_tables(tmp_path).tables == {}


@pytest.mark.parametrize("name", ["README.md", "own.json", ".own.csv", "~$own.xlsx", "own.csv.bak", "csv"])
def test_other_files_are_none_of_its_business(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("anything", "utf-8")
    assert read_tables(tmp_path).tables == read_tables(tmp_path).faults == {}


def test_a_link_a_folder_and_a_huge_file_are_no_tables(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    folder_of(tmp_path / "real", own_dot_csv=GOOD)
    shown = tmp_path / "shown"
    shown.mkdir()
    (shown / "link.csv").symlink_to(tmp_path / "real" / "own.csv")
    (shown / "folder.csv").mkdir()
    (shown / "huge.csv").write_bytes(GOOD.encode() + b"\n" * 2 * 1024 * 1024)
    assert {name: code for name, [(_, _, code)] in faults(shown).items()} == {
        "link.csv": "malformed_table",
        "folder.csv": "malformed_table",
        "huge.csv": "table_too_large",
    }


def test_a_log_line_names_file_row_and_column(tmp_path: Path) -> None:
    faulty = read_tables(folder_of(tmp_path, bad_dot_csv=BAD)).faults["bad.csv"]
    assert isinstance(faulty, FaultyTable)
    assert "line 3, target" in str(faulty)
    assert "\n" not in str(faulty)


def test_tables_are_not_changed_by_being_asked(tmp_path: Path) -> None:
    """Two tables of one text are one in all but their names, whatever was looked up before."""
    one, other = (read_tables(folder_of(tmp_path, own_dot_csv=GOOD)).tables["own"] for _ in range(2))
    assert isinstance(one, Table)
    one.index.group({"model": "A"})
    assert one == other
