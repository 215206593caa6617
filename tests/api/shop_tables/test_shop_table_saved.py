"""What spreadsheets make of a table when they save it: told so that a clerk can mend it."""

import pytest
from rows import every_row

from api.shop_tables.reader import FaultyTable, TableFault, read_shop_table

GOOD = "model,bore [in],target [N.m],source,revision\nA,6,1,s,1\n"
SEMICOLONS, TABS = (GOOD.replace(",", mark) for mark in ";\t")


def faults_of(data: bytes | str) -> tuple[TableFault, ...]:
    with pytest.raises(FaultyTable) as refusal:
        read_shop_table(data.encode() if isinstance(data, str) else data)
    return refusal.value.faults


FILES: list[tuple[str, bytes, str, str]] = [
    # the file, its only fault and a part of what is said
    ("a workbook", b"PK\x03\x04\x14\0\x08\0\xff", "not_utf8", "workbook, not a CSV file"),
    ("an old workbook", b"\xd0\xcf\x11\xe0\xa1\xb1", "not_utf8", "workbook, not a CSV file"),
    ("UTF-16", GOOD.encode("utf-16"), "not_utf8", "UTF-16 text"),
    ("UTF-16, the other end first", b"\xfe\xff" + GOOD.encode("utf-16-be"), "not_utf8", "UTF-16 text"),
    ("UTF-16 without a mark", GOOD.encode("utf-16-le"), "malformed_table", "as in UTF-16 text"),
    ("a code page", GOOD.encode() + "Größe,6,1,s,1\n".encode("cp1252"), "not_utf8", "line 3 is not UTF-8"),
    ("semicolons", SEMICOLONS.encode(), "wrong_separator", "semicolon or a tab"),
    ("tabs", TABS.encode(), "wrong_separator", "semicolon or a tab"),
    ("semicolons, linear", SEMICOLONS.replace("in]", "in, linear]").encode(), "wrong_separator", "semicolon"),
    ("tabs, linear", TABS.replace("in]", "in, linear]").encode(), "wrong_separator", "tab"),
    ("semicolons and quotes", b'"bore [in, linear]";"target [N.m]"\n6;1\n', "wrong_separator", "semicolon"),
    ("a semicolon in one name", GOOD.replace("model", "mo;del").encode(), "wrong_separator", "semicolon"),
    ("a mark before it", b"\xef\xbb\xbf" + SEMICOLONS.encode(), "wrong_separator", "semicolon"),
    ("sep=;", b"sep=;\r\n" + SEMICOLONS.encode(), "wrong_separator", "delete the line sep="),
    ("sep=,", b"sep=,\n" + GOOD.encode(), "wrong_separator", "delete the line sep="),
    ("sep= and a tab", b"sep=\t\n" + GOOD.encode(), "wrong_separator", "delete the line sep="),
    ("sep= saved again", b'"SEP=;",,,,\n' + GOOD.encode(), "wrong_separator", "delete the line sep="),
]  # fmt: skip


@pytest.mark.parametrize(("data", "code", "part"), [row[1:] for row in FILES], ids=[row[0] for row in FILES])
def test_files(data: bytes, code: str, part: str) -> None:
    (fault,) = faults_of(data)
    assert (fault.row, fault.column, fault.code) == (None, None, code)
    assert part in fault.detail
    assert fault.accepted is not None
    assert 'save it in the spreadsheet as "CSV UTF-8 (comma separated)"' in fault.accepted
    assert ("decimal point" in fault.accepted) is (code == "wrong_separator")


def test_a_blank_beside_a_comma_is_no_separator() -> None:
    assert len(read_shop_table(GOOD.replace(",bore [in],", "\t, bore [in]\t,").encode()).rows) == 1


def test_an_unquoted_comma_in_a_header_stands_alone() -> None:
    rows = "A,6,1,s,1\n" * 3
    (fault,) = faults_of(f"Model,box_outside_diameter [in, linear],target [N.m],source\n{rows}")
    assert (fault.row, fault.column, fault.code) == (1, "box_outside_diameter", "bad_column_name")
    assert fault.value == "box_outside_diameter [in, linear]"
    assert fault.detail == "the comma inside the brackets splits the header: put it in quotes"
    assert fault.accepted == (
        '"box_outside_diameter [in, linear]" with the quotes, or box_outside_diameter [in linear]'
    )


SPLIT = [
    # header, columns that a comma split
    ("bore [in, linear],pin [mm,linear]", ["bore", "pin"]),
    ("bore [in,linear ]", ["bore"]),
    ("[in, linear]", [None]),
    ("bore [in,size [mm]", []),
    ("bore [in],linear]", []),
    (f"bore [in,{'x' * 100}]", []),
]


@pytest.mark.parametrize(("header", "columns"), SPLIT, ids=[row[0][:20] for row in SPLIT])
def test_headers_that_a_comma_split(header: str, columns: list[str | None]) -> None:
    found = faults_of(f"{header},target [N.m],source,revision\n")
    split = [fault.column for fault in found if "comma inside" in fault.detail]
    assert split == columns
    assert not split or len(found) == len(split)


SUGGESTED = [
    ("Model", "model"),
    ("OD (in)", "od [in]"),
    ("Box OD", "box_od"),
    ("BoxOd", "box_od"),
    ("Grade/Type", "grade_type"),
    ("Bore [mm]", "bore [mm]"),
    ('"Bore [mm, linear]"', "bore [mm linear]"),
    ("bore (in)", "bore [in]"),
    ("bore [in", "bore [in]"),
    ("bore [in] [mm]", "bore [in]"),
    ("Bore (nominal)", "bore"),
    ("Größe", "grosse"),
    ("bo\u200bre", "bore"),
    ("table_key.bore", "bore"),
    ("table_key.bore [in]", "bore [in]"),
    # nothing that would do
    ("1st", None),
    ("直径", None),
    ("a" * 41, None),
    ("table_key.target", None),
]


@pytest.mark.parametrize(("header", "example"), SUGGESTED, ids=[row[0] for row in SUGGESTED])
def test_names_that_would_do(header: str, example: str | None) -> None:
    fault, *others = faults_of(f"{header},target [N.m],source,revision\n1,1,s,1\n")
    assert (fault.code, others) == ("bad_column_name", [])
    assert fault.accepted is not None
    begins = f"for example {example}: a small letter" if example else "a small letter"
    assert fault.accepted.startswith(begins)
    if example:
        assert len(read_shop_table(f"{example},target [N.m],source,revision\n1,1,s,1\n".encode()).rows) == 1


THOUSANDS = [
    # torque, unit, accepted; None where the number is read
    ("20.000", "N.m", "20000 or 20.00"),
    ("20.500", "ft-lb", "20500 or 20.50"),
    ("1.235", "kgf.m", "1235 or 1.2350"),
    ("123.456", "daN.m", "123456 or 123.4560"),
    ("1.234.567", "in-lb", "1234567"),
    ("020.000", "N.m", "020000 or 020.00"),
    ("0020.000", "N.m", "0020000 or 0020.00"),
    ("\u200920.000", "N.m", "20000 or 20.00"),
    ("\u2009+20.000", "N.m", "20000 or 20.00"),
    ("20.00", "N.m", None),
    ("20.0000", "N.m", None),
    ("0.500", "N.m", None),
    ("1234.567", "N.m", None),
    ("20 000.000", "N.m", None),
    ('"20,000.000"', "N.m", None),
    ("12.345", "kN.m", None),
    ("12.345", "klbf.ft", None),
    ("12.345", "short ton-force.ft", None),
]


@every_row("name", ["minimum", "target", "maximum", "torsional_yield"])
@every_row(("text", "unit", "accepted"), THOUSANDS)
def test_a_point_that_could_part_thousands(name: str, text: str, unit: str, accepted: str | None) -> None:
    other = "" if name == "target" else ",target [N.m]"
    data = f"model,source,revision,{name} [{unit}]{other}\nA,s,1,{text}{other and ',x'}\n"
    found = [fault for fault in faults_of(f"{data}B,,,,\n") if (fault.row, fault.column) == (2, name)]
    assert [(fault.code, fault.accepted) for fault in found] == (
        [("thousands_in_doubt", accepted)] if accepted else []
    )


def test_three_decimals_are_usual_in_a_key() -> None:
    table = read_shop_table(b"bore [in],shaft [N.m],target [N.m],source,revision\n2.812,20.125,1,s,1\n")
    # the inch is exact: NIST SP 811, appendix B.8
    assert table.rows[0].key == {"bore": pytest.approx(2.812 * 0.0254, rel=1e-15), "shaft": 20.125}


ROUNDED = "a spreadsheet shows rounded numbers this way: format the column as a number and save again"
DATE = "the spreadsheet made a date of a fraction or a decimal: format the column as text and type it again"
SAVED = [
    *((text, ROUNDED) for text in ("1.52E+04", "1.8e4", "2E-05", "1,52E+04", ".5e1", "1e400", "\u20091e1")),
    *(
        (text, DATE)
        for text in (
            "2-Nov", "02-nov", "2. Nov", "2 Nov", "Nov-02", "nov 26", "2-Nov-26", "02-November-2026",
            "2-févr.", "11/2/2026", "11/2/26", "2026-11-02", "2026/11/2", "02.11.2026", "2.11.26",
            "02-11-2026", "2026-11-02 00:00:00", "11/2/2026 0:00",
        )
    ),
]  # fmt: skip


@every_row(("text", "detail"), SAVED)
def test_numbers_that_a_spreadsheet_changed(text: str, detail: str) -> None:
    found = faults_of(f'model,bore [in],target [N.m],source,revision\nA,"{text}","{text}",s,1\n')
    assert [(fault.column, fault.code, fault.detail) for fault in found] == [
        (name, "not_a_number", detail) for name in ("bore", "target")
    ]
    assert all((fault.accepted or "").startswith("a number without its unit, ") for fault in found)


@pytest.mark.parametrize("text", ["2-13/16", "6-1/2", "6 1/16", "6.5", "2026", "6½", "11.02"])
def test_numbers_that_are_no_dates(text: str) -> None:
    read_shop_table(f"bore [mm],target [N.m],source,revision\n{text},1,s,1\n".encode())


@pytest.mark.parametrize(
    "text", ["1/15/2026", "15.01.2026", "15-Jan-2026", "2026/01/15", "2026-1-15", "15/1/26"]
)
def test_days_in_the_form_of_a_locale(text: str) -> None:
    (fault,) = faults_of(f"model,target [N.m],source,revision,effective_from\nA,1,s,1,{text}\n")
    assert (fault.column, fault.code, fault.accepted) == (
        "effective_from",
        "not_a_date",
        "a day such as 2026-11-24",
    )
    assert fault.detail == (
        "a spreadsheet saves a day in the form of its locale: format the column as text or as YYYY-MM-DD"
    )


@pytest.mark.parametrize(
    ("text", "detail"), [("2026-02-30", "there is no such day"), ("spring", "not written as a day")]
)
def test_other_days(text: str, detail: str) -> None:
    (fault,) = faults_of(f"model,target [N.m],source,revision,effective_to\nA,1,s,1,{text}\n")
    assert (fault.code, fault.detail) == ("not_a_date", detail)
