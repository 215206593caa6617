"""Every way in which a table may be wrong: all of it told, each fault at its place."""

import pytest
from rows import every_row

from api.shop_tables.reader import FaultyTable, TableFault, read_shop_table

Found = list[tuple[int | None, str | None, str]]


def faults_of(data: bytes) -> tuple[TableFault, ...]:
    with pytest.raises(FaultyTable) as refusal:
        read_shop_table(data)
    assert refusal.value.count >= len(refusal.value.faults)
    return refusal.value.faults


def places(data: bytes) -> Found:
    return [(fault.row, fault.column, fault.code) for fault in faults_of(data)]


GOOD = b"model,target [N.m],source,revision\nA,1,s,1\n"

FILES: list[tuple[str, bytes, Found]] = [
    ("nothing", b"", [(None, None, "empty_table")]),
    ("a mark only", b"\xef\xbb\xbf", [(None, None, "empty_table")]),
    ("blanks only", b" \r\n,,,\r\n\r\n", [(None, None, "empty_table")]),
    ("no header", b"\nmodel,target [N.m],source,revision\nA,1,s,1\n", [(None, None, "empty_table")]),
    ("no rows", b"model,target [N.m],source,revision\n,,,\n", [(None, None, "empty_table")]),
    ("UTF-16", GOOD.decode().encode("utf-16"), [(None, None, "not_utf8")]),
    ("UTF-16 without a mark", GOOD.decode().encode("utf-16-le"), [(None, None, "malformed_table")]),
    ("Latin-1", GOOD + "é,1,s,1".encode("latin-1"), [(None, None, "not_utf8")]),
    ("a surrogate", GOOD + b"\xed\xa0\x80,1,s,1", [(None, None, "not_utf8")]),
    ("NUL", GOOD + b"A\0,1,s,1", [(None, None, "malformed_table")]),
    ("quotes unbalanced", GOOD + b'"B,1,s,1\nC,1,s,1\n', [(None, None, "malformed_table")]),
    ("text after quotes", GOOD + b'"B"x,1,s,1\n', [(None, None, "malformed_table")]),
    ("a huge cell", GOOD + b"x" * 140_000 + b",1,s,1\n", [(None, None, "malformed_table")]),
    ("too large", GOOD + b"\n" * 2_097_152, [(None, None, "table_too_large")]),
    ("20,001 rows", GOOD + b"A,1,s,1\n" * 20_000, [(None, None, "too_many_rows")]),
    (
        "a million empty rows before one",
        GOOD + b"\n" * 1_000_000 + b"B,1,s,1",
        [(None, None, "too_many_rows")],
    ),
    ("61 columns", b",".join([b"a"] * 61) + b"\n1\n", [(None, None, "too_many_columns")]),
    ("semicolons", GOOD.replace(b",", b";"), [(None, None, "wrong_separator")]),
    ("tabs", GOOD.replace(b",", b"\t"), [(None, None, "wrong_separator")]),
    ("a workbook", b"PK\x03\x04\x14\x00\x06\x00", [(None, None, "not_utf8")]),
]


@every_row(("data", "found"), [row[1:] for row in FILES], ids=[row[0] for row in FILES])
def test_files(data: bytes, found: Found) -> None:
    assert places(data) == found


def test_files_at_their_limits_are_read() -> None:
    rows = b"".join(b"A%d,1,s,1\n" % number for number in range(19_999))
    assert len(read_shop_table(GOOD + rows).rows) == 20_000
    names = ",".join(f"k{number}" for number in range(57))
    wide = f"{names},target [N.m],source,revision\n{'x,' * 57}1,s,1\n"
    assert len(read_shop_table(wide.encode()).columns) == 57
    assert len(read_shop_table(GOOD + b"\n" * (2_097_152 - len(GOOD))).rows) == 1


HEADERS: list[tuple[str, Found]] = [
    # columns before a sound target, source and revision
    ("model,model", [(1, "model", "duplicate_column")]),
    ("bore [in],bore [mm]", [(1, "bore", "duplicate_column")]),
    ("model,note,note", [(1, "note", "duplicate_column")]),
    ("model,", [(1, None, "malformed_table")]),
    ("model,[in]", [(1, None, "malformed_table")]),
    ("note", [(1, None, "no_key_column")]),
    ("Bore [in]", [(1, "Bore", "bad_column_name")]),
    ("pin bore", [(1, "pin bore", "bad_column_name")]),
    ("1st", [(1, "1st", "bad_column_name")]),
    ("größe", [(1, "größe", "bad_column_name")]),
    ("a" * 41, [(1, "a" * 41, "bad_column_name")]),
    ("bore (in)", [(1, "bore (in)", "bad_column_name")]),
    ("bore [in", [(1, "bore [in", "bad_column_name")]),
    ("bore [in] [mm]", [(1, "bore [in] [mm]", "bad_column_name")]),
    ("=cmd()", [(1, "=cmd()", "bad_column_name")]),
    ("bo\u200bre", [(1, "bo\u200bre", "bad_column_name")]),
    ("bore [inc]", [(1, "bore", "unknown_unit")]),
    ("bore [ton]", [(1, "bore", "unknown_unit")]),
    ("bore []", [(1, "bore", "unknown_unit")]),
    ("bore [in\u200b]", [(1, "bore", "unknown_unit")]),
    (f"bore [{'n' * 5000}]", [(1, "bore", "unknown_unit")]),
    ("heat [degC]", [(1, "heat", "wrong_kind")]),
    ('"bore [in, cubic]"', [(1, "bore", "not_a_choice")]),
    ('"bore [in, Linear]"', [(1, "bore", "not_a_choice")]),
    ('"bore [in,]"', [(1, "bore", "not_a_choice")]),
    ('"bore [text, linear]"', [(1, "bore", "contradiction")]),
    ('"bore [in, linear]","size [mm, linear]"', [(1, "size", "too_many_linear")]),
    ("model,minimum", [(1, "minimum", "unit_required")]),
    ("model,minimum []", [(1, "minimum", "unit_required")]),
    ("model,minimum [mm]", [(1, "minimum", "wrong_kind")]),
    ("model,minimum [ft-lbz]", [(1, "minimum", "unknown_unit")]),
    ("model,minimum [MN.m]", [(1, "minimum", "unknown_unit")]),
    ('model,"minimum [N.m, linear]"', [(1, "minimum", "unknown_unit")]),
    ("model,note [text]", [(1, "note", "unit_not_applicable")]),
    ("model,effective_to [mm]", [(1, "effective_to", "unit_not_applicable")]),
]


@every_row(("header", "found"), HEADERS, ids=[row[0][:30] for row in HEADERS])
def test_headers(header: str, found: Found) -> None:
    # no row is faulty where every one has another number of cells than its header: only line 1 is looked at
    data = f"{header},target [N.m],source,revision\n".encode()
    assert [place for place in places(data) if place[0] == 1] == found


IN_DOUBT = [
    ("targets [N.m]", "target"),
    ("Target [N.m]", "target"),
    ("TARGET", "target"),
    ("target\u200b [N.m]", "target"),
    ("target (N.m)", "target"),
    ("target_torque [N.m]", "target"),
    ("TargetTorque [N.m]", "target"),
    ("targettorque", "target"),
    ("tgt", "target"),
    ("torque [N.m]", "target"),
    ("make_up_torque [N.m]", "target"),
    ("optimum [N.m]", "target"),
    ("min [N.m]", "minimum"),
    ("min. torque", "minimum"),
    ("minimum_torque [N.m]", "minimum"),
    ("minimun [N.m]", "minimum"),
    ("max", "maximum"),
    ("Max Torque", "maximum"),
    ("torsional yield", "torsional_yield"),
    ("torsional_yeild", "torsional_yield"),
    ("yield [N.m]", "torsional_yield"),
    ("yield_torque [N.m]", "torsional_yield"),
    ("revison", "revision"),
    ("rev", "revision"),
    ("Source", "source"),
    ("soruce", "source"),
    ("Status", "status"),
    ("effective from", "effective_from"),
    ("effective_form", "effective_from"),
    ("EffectiveTo", "effective_to"),
    ("valid_until", "effective_to"),
    ("notes", "note"),
    ("ｎｏｔｅ", "note"),
]


@every_row(("header", "near"), IN_DOUBT, ids=[row[0] for row in IN_DOUBT])
def test_names_in_doubt(header: str, near: str) -> None:
    (fault,) = faults_of(f"model,{header},target [N.m],source,revision\nA,1,1,s,1\n".encode())
    assert (fault.row, fault.code) == (1, "column_in_doubt")
    assert fault.accepted is not None
    assert fault.accepted.split()[0] == near


def test_a_column_in_doubt_is_not_missing_too() -> None:
    assert places(b"model,targets [N.m],source\nA,1,s\n") == [
        (1, "targets", "column_in_doubt"),
        (1, "revision", "missing_field"),
    ]


def test_a_near_unit_is_named() -> None:
    (fault,) = faults_of(b"model,target [ft-lbz],source,revision\nA,1,s,1\n")
    assert "lbf.ft" in fault.detail


COLUMNS = (
    "model,bore [in],minimum [ft-lb],target [ft-lb],maximum [ft-lb],torsional_yield [ft-lb],"
    "source,revision,status,effective_from,effective_to,note\n"
)

ROWS: list[tuple[str, str, Found]] = [
    # one row, or more, below COLUMNS
    ("too few cells", "A,6", [(2, None, "wrong_cell_count")]),
    ("too many cells", "A,6,,1,,,s,1,,,,,", [(2, None, "wrong_cell_count")]),
    ("a decimal comma makes another cell", "A,6,,1,5,,,s,1,,,,", [(2, None, "wrong_cell_count")]),
    ("empty in the middle", ",,,,,,,,,,,\n\n \nA,6,,1,,,s,1,,,,",
     [(2, None, "empty_row"), (3, None, "empty_row"), (4, None, "empty_row")]),
    ("nothing required given", ",,,,,,,,,,,n",
     [(2, name, "missing_cell") for name in ("model", "bore", "target", "source", "revision")]),
    ("blanks are nothing", "A, ,,\u00a0,,,s,1,,,,",
     [(2, "bore", "missing_cell"), (2, "target", "missing_cell")]),
    # numbers
    ("decimal comma", 'A,"6,5",,"1,5",,,s,1,,,,',
     [(2, "bore", "decimal_comma"), (2, "target", "decimal_comma")]),
    ("one comma of thousands", 'A,6,,"20,000",,,s,1,,,,', [(2, "target", "decimal_comma")]),
    ("nan, inf", "A,inf,nan,-inf,,,s,1,,,,",
     [(2, name, "not_a_number") for name in ("bore", "minimum", "target")]),
    ("words", "A,six,,about 5,5 approx,,s,1,,,,",
     [(2, "bore", "not_a_number"), (2, "target", "not_a_number"), (2, "maximum", "not_a_number")]),
    ("a fraction that lost its space", "A,27/8,,1,,,s,1,,,,", [(2, "bore", "not_a_number")]),
    ("a thousand as a letter", "A,6,,15k,,,s,1,,,,", [(2, "target", "not_a_number")]),
    ("two numbers", "A,6 7,,1-2,,,s,1,,,,", [(2, "bore", "not_a_number"), (2, "target", "not_a_number")]),
    ("a long blank", f"A,1{' ' * 100_000}x,,1,,,s,1,,,,", [(2, "bore", "not_a_number")]),
    ("other digits", "A,６,,१,,,s,1,,,,", [(2, "bore", "not_a_number"), (2, "target", "not_a_number")]),
    ("units in cells", 'A,6 mm,,1 ft-lb,,,s,1,,,,',
     [(2, "bore", "unit_not_expected"), (2, "target", "unit_not_expected")]),
    ("an inch sign", 'A,"6 1/2""",,1,,,s,1,,,,', [(2, "bore", "unit_not_expected")]),
    ("negative", "A,-6,-1,-1,,,s,1,,,,",
     [(2, name, "out_of_range") for name in ("bore", "minimum", "target")]),
    ("zero", "A,0,0,0,0,0,s,1,,,,",
     [(2, name, "out_of_range") for name in ("bore", "minimum", "target", "maximum", "torsional_yield")]),
    ("slips of the keyboard", "A,6500,,1000000000,,,s,1,,,,",
     [(2, "bore", "out_of_range"), (2, "target", "out_of_range")]),
    # text
    ("formulas", "=A1,=6,@1,+1,,,=s,+1,@x,-,=,-n",
     [(2, name, "formula_text") for name in ("model", "bore", "minimum", "target", "source", "revision",
                                             "status", "effective_from", "effective_to", "note")]),
    ("formulas of other width", "＝A1,6,,1,,,＠s,−1,,,,",
     [(2, name, "formula_text") for name in ("model", "source", "revision")]),
    ("a formula behind blanks", "A,6,,1,,,\" \t=s\",1,,,,", [(2, "source", "formula_text")]),
    ("spreadsheet errors", "#REF!,#N/A,#VALUE!,#DIV/0!,#NAME?,#NULL!,#NUM!,####,,,,#n/a",
     [(2, name, "error_cell") for name in ("model", "bore", "minimum", "target", "maximum", "torsional_yield",
                                           "source", "revision", "note")]),
    ("errors in other languages", "#BEZUG!,#ДЕЛ/0!,,#¡VALOR!,,,#NV,Err:502,,,,",
     [(2, name, "error_cell") for name in ("model", "bore", "target", "source", "revision")]),
    ("right to left", "A\u202eB,6,,1,,,s,1,,,,", [(2, "model", "not_text")]),
    ("unseen", "A\u200b,6\u200b,,1\ufeff,,,s\u3164,1\u00ad,,,,\ue000",
     [(2, name, "not_text") for name in ("model", "bore", "target", "source", "revision", "note")]),
    ("unseen marks", "A\u034f,6,,1,,,s\ufe0f,\u115f,,,,\U000e0101",
     [(2, name, "not_text") for name in ("model", "source", "revision", "note")]),
    ("separators and controls", "A\u2028,6,,1,,,s\u2029,1\x07,,,,\x85n",
     [(2, name, "not_text") for name in ("model", "source", "revision", "note")]),
    ("a blank that does not break", "A\u00a0B,6,,1,,,s,1,,,,", [(2, "model", "not_text")]),
    ("line breaks", '"A\nB",6,,1,,,"s\r\n",1,,,,\nB,6,,x,,,s,1,,,,',
     [(2, "model", "not_text"), (2, "source", "not_text"), (5, "target", "not_a_number")]),
    ("too long", f"{'A' * 101},6,,1,,,{'s' * 201},{'1' * 41},,,,{'n' * 301}",
     [(2, name, "not_text") for name in ("model", "source", "revision", "note")]),
    ("another status", "A,6,,1,,,s,1,Read,,,", [(2, "status", "not_a_choice")]),
    # days
    ("days that are none", "A,6,,1,,,s,1,,2026-02-29,2026-13-01,",
     [(2, "effective_from", "not_a_date"), (2, "effective_to", "not_a_date")]),
    ("days in other orders", "A,6,,1,,,s,1,,01/02/2026,20260101,",
     [(2, "effective_from", "not_a_date"), (2, "effective_to", "not_a_date")]),
    ("a day with an hour", "A,6,,1,,,s,1,,2026-01-01T00:00,,", [(2, "effective_from", "not_a_date")]),
    ("ends before it begins", "A,6,,1,,,s,1,,2026-01-02,2026-01-01,", [(2, "effective_to", "contradiction")]),
    # between the cells
    ("minimum above", "A,6,2,1,,,s,1,,,,", [(2, "minimum", "window_out_of_order")]),
    ("maximum below", "A,6,,2,1,,s,1,,,,", [(2, "maximum", "window_out_of_order")]),
    ("both", "A,6,3,2,1,,s,1,,,,",
     [(2, "minimum", "window_out_of_order"), (2, "maximum", "window_out_of_order")]),
    ("without a target", "A,6,3,x,1,,s,1,,,,",
     [(2, "target", "not_a_number"), (2, "minimum", "window_out_of_order")]),
    ("yields at the target", "A,6,,2,,2,s,1,,,,", [(2, "target", "torsional_yield_exceeded")]),
    ("yields at the maximum", "A,6,,2,3,3,s,1,,,,", [(2, "maximum", "torsional_yield_exceeded")]),
    ("several in one row", "=A,6 in,5,4,#REF!,3,,1,sure,2026-02-30,,a\u200b",
     [(2, "model", "formula_text"), (2, "bore", "unit_not_expected"), (2, "maximum", "error_cell"),
      (2, "source", "missing_cell"), (2, "status", "not_a_choice"), (2, "effective_from", "not_a_date"),
      (2, "note", "not_text"), (2, "minimum", "window_out_of_order"),
      (2, "target", "torsional_yield_exceeded")]),
    # between the rows
    ("twice", "A,6,,1,,,s,1,,,,\nA,6,,2,,,s,2,,,,", [(2, None, "duplicate_row"), (3, None, "duplicate_row")]),
    ("but for capitals and blanks", "Taper A,6,,1,,,s,1,,,,\n taper   a,6,,1,,,s,1,,,,",
     [(2, None, "duplicate_row"), (3, None, "duplicate_row")]),
    ("6.5 and 6 1/2", "A,6.5,,1,,,s,1,,,,\nA,6 1/2,,1,,,s,1,,,,",
     [(2, None, "duplicate_row"), (3, None, "duplicate_row")]),
    ("6.5 and 6.500000001", "A,6.5,,1,,,s,1,,,,\nA,6.500000001,,1,,,s,1,,,,",
     [(2, None, "duplicate_row"), (3, None, "duplicate_row")]),
    ("dated and undated", "A,6,,1,,,s,1,,,,\nA,6,,1,,,s,2,,2026-01-01,2026-01-31,",
     [(2, None, "duplicate_row"), (3, None, "duplicate_row")]),
    ("on the day both touch", "A,6,,1,,,s,1,,,2026-06-30,\nA,6,,1,,,s,2,,2026-06-30,,",
     [(2, None, "duplicate_row"), (3, None, "duplicate_row")]),
    ("a row with another fault is still twice", "A,6,,1,,,s,1,,,,\nA,6,,x,,,s,2,,,,",
     [(2, None, "duplicate_row"), (3, "target", "not_a_number"), (3, None, "duplicate_row")]),
]  # fmt: skip


@every_row(("rows", "found"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_rows(rows: str, found: Found) -> None:
    assert places((COLUMNS + rows).encode()) == found


SOUND = [
    ("revisions in turn", "A,6,,1,,,s,1,,,2026-06-30,\nA,6,,1,,,s,2,,2026-07-01,,"),
    ("other models", "A,6,,1,,,s,1,,,,\nB,6,,1,,,s,1,,,,"),
    ("6.5 and 6.50001", "A,6.5,,1,,,s,1,,,,\nA,6.50001,,1,,,s,1,,,,"),
    ("a window without width", "A,6,1,1,1,,s,1,,,,"),
    ("a leap day", "A,6,,1,,,s,1,,2028-02-29,2028-02-29,"),
    ("a number sign that is no error", "#7,6,,1,,,#A,No. 7-B,,,,5 - 6"),
]


@pytest.mark.parametrize("rows", [row[1] for row in SOUND], ids=[row[0] for row in SOUND])
def test_rows_that_are_sound(rows: str) -> None:
    assert len(read_shop_table((COLUMNS + rows).encode()).rows) == len(rows.splitlines())


def test_165_1_mm_is_6_and_a_half_inches_only_in_its_own_unit() -> None:
    header = "bore [mm],target [N.m],source,revision\n"
    assert places(f"{header}165.1,1,s,1\n165.10000000001,2,s,2\n".encode()) == [
        (2, None, "duplicate_row"),
        (3, None, "duplicate_row"),
    ]


def test_each_of_three_revisions_names_the_others_it_meets() -> None:
    # line 2 holds all year, 3 and 4 half of it each, in no order; 5 holds the year after
    days = ["2026-01-01,2026-12-31", "2026-07-01,2026-12-31", "2026-01-01,2026-06-30", "2027-01-01,"]
    rows = "".join(f"A,6,,1,,,s,{number},,{span},\n" for number, span in enumerate(days))
    found = {fault.row: fault.detail for fault in faults_of((COLUMNS + rows).encode())}
    assert found == {
        2: "holds on some of the days of lines 4, 3, with the same keys",
        3: "holds on some of the days of line 2, with the same keys",
        4: "holds on some of the days of line 2, with the same keys",
    }


def test_a_fault_says_what_it_compares() -> None:
    header = "model,minimum [kN.m],target [ft-lb],torsional_yield [N.m],source,revision\n"
    low, high = faults_of(f"{header}A,30,20 000,27000,s,1\n".encode())  # 20,000 ft-lb are 27,116 N.m
    assert (low.column, low.value, low.detail) == ("minimum", "30", "above the target of 20 000 lbf.ft")
    assert (high.column, high.value) == ("target", "20 000")
    assert high.detail == "not below the torsional yield of 27000 N.m"


def test_a_header_fault_does_not_hide_those_of_the_rows() -> None:
    data = b"model,bore [foo],minimum,target [mm],source,revision\n,6,1,1,,1\nA,B\n"
    assert places(data) == [
        (1, "bore", "unknown_unit"),
        (1, "minimum", "unit_required"),
        (1, "target", "wrong_kind"),
        (2, "model", "missing_cell"),
        (2, "source", "missing_cell"),
        (3, None, "wrong_cell_count"),
    ]


@pytest.mark.parametrize(
    "header", ["a" + " " * 100_000 + "b", "[" * 100_000, "target" * 20_000, "(" * 100_000]
)
def test_a_long_header_is_told_short(header: str) -> None:
    (fault,) = faults_of(f"{header},model,target [N.m],source,revision\nx,A,1,s,1\n".encode())
    assert fault.code in ("bad_column_name", "column_in_doubt")
    assert len(fault.column or "") <= 100


@pytest.mark.parametrize("count", [1000, pytest.param(20_000, marks=pytest.mark.evidence)])
def test_many_columns_of_one_name_are_told(count: int) -> None:
    rows = ("A,1,s,1" + ",x" * 45 + "\n") * count
    found = places(f"model,target [N.m],source,revision{',status' * 45}\n{rows}".encode())
    assert found[:2] == [(1, "status", "duplicate_column"), (2, "status", "not_a_choice")]
    assert len(found) == 1000
