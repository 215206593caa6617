"""The guide's sheet in a real LibreOffice, English and German, against a real service."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
import requests
from office import NEW, ODS, XLSX, Cells, Office, running_office
from raw_http import HANGS, serving
from rows import every_row

pytestmark = pytest.mark.evidence

GUIDE = (Path(__file__).parents[2] / "clients" / "spreadsheet" / "README.md").read_text("utf-8")
ENGLISH, GERMAN = "en-US", "de-DE"
LOCALES = (ENGLISH, GERMAN)

# what the guide says

FORMULAS = {
    locale: dict(re.findall(r"^(\w+) +(=.*)$", block, re.MULTILINE))
    for locale, block in zip(LOCALES, re.findall(r"```excel\n(.*?)```", GUIDE, re.DOTALL), strict=True)
}
MENDED = dict(zip(LOCALES, re.findall(r"`(=[A-Z]+\(Q6;.*?)`", GUIDE), strict=True))
ONE_FORMULA = dict(re.findall(r"^\| (\w+, \w+) \| `(=.*)` \|$", GUIDE, re.MULTILINE))
TYPED, RESULTS = "ABCDEFGH", "IJKLMNO"
NUMBERS = {"I": "minimum", "J": "target", "K": "maximum"}
FIRST = 6


def cells_of_the_guide() -> dict[str, str]:
    """Every cell that stands in the tables of the guide, by its name."""
    found, columns = {}, []
    for line in GUIDE.splitlines():
        row, *cells = (cell.strip() for cell in line.strip("|").split("|"))
        if cells and not row:
            columns = cells
        elif row.isdigit():
            found.update({f"{column}{row}": cell for column, cell in zip(columns, cells, strict=True)})
    return found


SHOWN = cells_of_the_guide()


@dataclass(frozen=True)
class Joint:
    """A row of the sheet as it is typed, and the code of its refusal."""

    typed: tuple[str, ...]
    refused: str

    @property
    def dial(self) -> str:
        return self.typed[-1]

    @property
    def question(self) -> dict[str, str]:
        """What the row asks, as a POST asks it."""
        names = "connection", "component", "box_outside_diameter", "pin_bore", "thread_hand", "machine"
        return {
            "family": "rotary_shouldered",
            "operation": "make_up",
            "as_of": SHOWN["B2"].removeprefix("'"),
            "arm_position": SHOWN["B3"],
            "torque_unit": "ft-lb",
            **dict(zip(names, self.typed[1:-1], strict=True)),
        }


OF_THE_GUIDE = [
    Joint(tuple(SHOWN[f"{column}{row}"] for column in TYPED), refused)
    for row, refused in enumerate(["", "", "no_mark_in_window"], FIRST)
]
MORE = """
W-20 | NC50      | drill_collar | 6½ in    | 2 13/16 in | right | north-bay-2 | psi |
W-21 | NC46      | drill_collar | 6 1/4 in | 2.25 in    | right | south-bay-4 | psi |
W-22 | NC38      | tool_joint   | 4 3/4 in | 2 11/16 in | right | north-bay-1 | psi |
W-23 | NC26      | tool_joint   | 3 3/8 in | 1.75 in    | left  | north-bay-1 | psi |
W-24 | 6-5/8 REG | drill_collar | 8 in     | 2 13/16 in | right | south-bay-4 | psi |
W-25 | 4-1/2 IF  | drill_collar | 165.1 mm | 71.4375 mm | right | south-bay-1 | bar |
W-26 | NC56      | drill_collar | 7 3/4 in | 71.4 mm    | left  | south-bay-4 | psi |
W-27 | NC44      | drill_collar | 6 in     | 2 1/4 in   | right | north-bay-2 | psi |
W-28 | NC50      | drill_collar | 6 1/2 in | 2-13/16 in | right | north-bay-2 | bar |
W-29 | NC51      | drill_collar | 6 1/2 in | 2-13/16 in | right | north-bay-2 | psi | unknown_connection
W-30 | 7-5/8 REG | drill_collar | 9.5 in   | 3 in       | right | south-bay-4 | psi | low_torque_face_required
W-31 | NC50      | drill_collar | 6 1/2 in | 2-13/16 in | right | south-bay-6 | psi |
W-32 | NC50      | drill_collar | 6,5      | 2-13/16 in | right | north-bay-2 | psi | decimal_comma
W-33 | NC50      | drill_collar | 6.5      | 2-13/16 in | right | north-bay-2 | psi | bare_number
W-34 | R&D 50    | drill_collar | 6 1/2 in | 2-13/16 in | right | north&bay   | psi | several_faults
W-35 | NC50      | drill&collar | 6&7 in   | 2#3 in     | r+l%  | north-bay-2 | psi | several_faults
"""
JOINTS = OF_THE_GUIDE + [
    Joint(tuple(typed), refused)
    for *typed, refused in ([cell.strip() for cell in line.split("|")] for line in MORE.strip().splitlines())
]
"""6,5 is a number on a German sheet and 6.5 on an English one; on the other either is a text."""
LAST = FIRST + len(JOINTS) - 1
WITHOUT_BORE, BLANK = LAST + 1, LAST + 2
AREA = f"I{FIRST}:P{BLANK}"
ROWS = range(FIRST, LAST + 1)


def typed(address: str, locale: str) -> dict[str, str]:
    """What a person types who follows the guide."""
    head = {place: text for place, text in SHOWN.items() if int(place[1:]) < FIRST}
    joints = {
        f"{column}{row}": text
        for row, joint in zip(ROWS, JOINTS, strict=True)
        for column, text in zip(TYPED, joint.typed, strict=True)
    }
    half = {f"{column}{WITHOUT_BORE}": SHOWN[f"{column}{FIRST}"] for column in TYPED if column != "E"}
    return {**head, "B1": address, **joints, **half, **FORMULAS[locale]}


def whole_sheet(office: Office, address: str, saved: Mapping[str, str] = {}) -> Cells:
    """The sheet of the guide with every joint, in a new document; every result and the question."""
    return office.sheet(AREA, opened=NEW, typed=typed(address, office.locale), filled_down=AREA, saved=saved)


def first_row(office: Office, address: str, **changed: str) -> Cells:
    """The sheet with something changed, as far as its first joint."""
    cells = {**typed(address, office.locale), **changed}
    kept = {place: text for place, text in cells.items() if int(place[1:]) <= FIRST}
    return office.sheet(f"D{FIRST}:Q{FIRST}", opened=NEW, typed=kept)


def errors(cells: Cells, rows: Iterable[int] = [FIRST]) -> str:
    """The columns of the results with nothing but errors in these rows."""
    rows = list(rows)
    return "".join(column for column in RESULTS if all(cells[f"{column}{row}"] is None for row in rows))


@pytest.fixture(scope="module", params=LOCALES)
def office(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    with running_office(request.param, tmp_path_factory.mktemp("office")) as running:
        yield running


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with serving() as server:
        yield f"http://127.0.0.1:{server.port}"


@pytest.fixture(scope="module")
def sheet(office: Office, address: str) -> Cells:
    return whole_sheet(office, address)


# the sheet


@every_row("row", ROWS, ids=[joint.typed[0] for joint in JOINTS])
def test_a_row_says_what_the_service_answers(sheet: Cells, address: str, row: int) -> None:
    joint = JOINTS[row - FIRST]
    answer = requests.post(f"{address}/v1/pressure", json=joint.question, timeout=HANGS).json()
    reason = requests.get(f"{sheet[f'P{row}']}refusal", timeout=HANGS).text
    assert sheet[f"N{row}"] == reason
    assert answer.get("code", "") == joint.refused
    if joint.refused:
        assert errors(sheet, [row]) == "IJKLMO"
        assert [error["detail"] for error in answer["errors"] if error["detail"] not in reason] == []
        return
    assert reason == "none"
    assert sheet[f"O{row}"] == "; ".join(f"{each['level']}: {each['text']}" for each in answer["findings"])
    if any(each["level"] == "stop" for each in answer["findings"]):
        assert errors(sheet, [row]) == "IJKLM"
        return
    assert sheet[f"M{row}"] == answer["cylinder_side"]
    setting = answer["gauge_setting"]
    asked = {column: answer["torque"][end] for column, end in NUMBERS.items()}
    asked["L"] = setting if setting["unit"] == joint.dial else None
    for column, quantity in asked.items():
        assert sheet[f"{column}{row}"] == (quantity and quantity["value"])


def test_a_row_with_an_empty_cell_is_all_errors(sheet: Cells) -> None:
    assert errors(sheet, [WITHOUT_BORE, BLANK]) == RESULTS


@pytest.mark.parametrize("row", range(FIRST, FIRST + len(OF_THE_GUIDE)))
def test_the_guide_shows_what_the_sheet_shows(sheet: Cells, row: int) -> None:
    for column in RESULTS:
        told, cell = SHOWN[f"{column}{row}"], sheet[f"{column}{row}"]
        if isinstance(cell, float):
            assert told == f"{cell:.{len(told.partition('.')[2])}f}"
        elif cell is None:
            assert told == "#VALUE!"
        else:
            assert told
            assert cell.startswith(told.removesuffix(" …"))


# what to mind

MISTAKES: dict[str, tuple[dict[str, str], str, str | None]] = {
    "the day is a date": ({"B2": "2026-11-24"}, "IJKLMO", "as_of: not written as a day"),
    "no unit of a torque": ({"I5": ""}, "I", "none"),
    "a pressure as unit of a torque": ({"J5": "psi"}, "J", "none"),
    "another unit than that of the dial": ({"H6": "bar"}, "L", "none"),
    "no hand": ({"F6": "?"}, "IJKLMO", "thread_hand: not one of the words known here"),
    "another address": ({"B1": "http://127.0.0.1:1"}, RESULTS, None),
}


@pytest.mark.parametrize("changed, columns, reason", MISTAKES.values(), ids=MISTAKES)
def test_a_mistake_is_an_error_and_never_a_number(
    office: Office, address: str, changed: dict[str, str], columns: str, reason: str | None
) -> None:
    cells = first_row(office, address, **changed)
    assert errors(cells) == columns
    told = cells[f"N{FIRST}"]
    assert told == reason if reason is None else str(told).startswith(reason)


def test_another_unit_in_the_heading_is_that_of_the_number(office: Office, address: str) -> None:
    """32276.88178 ft-lb, of 0.3048 m by 4.4482216152605 N."""
    cells = first_row(office, address, J5="kN.m")
    assert cells["J6"] == pytest.approx(32276.88178 * 0.3048 * 4.4482216152605e-3, rel=1e-9)


@pytest.mark.parametrize("size", ["6.75", "6,75"])
def test_a_size_that_is_a_number_is_mended(sheet: Cells, office: Office, address: str, size: str) -> None:
    """6 3/4 in of the guide's first joint, as a number where the sheet takes it for one."""
    cells = first_row(office, address, Q6=size, D6=MENDED[office.locale])
    decimal_sign = {ENGLISH: ".", GERMAN: ","}[office.locale]
    assert cells["Q6"] == (6.75 if decimal_sign in size else size)
    assert cells["D6"] == "6.75 in"
    assert [cells[f"{column}6"] for column in RESULTS] == [sheet[f"{column}6"] for column in RESULTS]


FORMS = {
    ENGLISH: {"LibreOffice, English": ("VALUE", 1), "Excel, English": ("VALUE", 1)},
    GERMAN: {"LibreOffice, German": ("WERT", 1000)},
}
"""The forms, the obvious function, and by how much that is wrong. LibreOffice takes commas too."""


def test_the_one_formula_is_right_where_the_obvious_one_is_not(office: Office, address: str) -> None:
    """0.333333 kN.m are 333.333 N.m."""
    query = "quantity=0.333333%20kN.m&to=N.m&format=text&answer=result&unit=N.m"
    for name, (obvious, wrong_by) in FORMS[office.locale].items():
        right = ONE_FORMULA[name].replace("…", f"{address}/v1/conversion?{query}")
        [text] = re.findall(r"\((WEB.*?\))", right)
        cells = office.sheet("A1:A2", opened=NEW, typed={"A1": right, "A2": f"={obvious}({text})"})
        assert cells == {"A1": 333.333, "A2": 333.333 * wrong_by}


KEYS = {
    # in the file of the demonstration, half-way between two rows of it, beyond them, and in none
    ("bay joint 40", "5 1/4 in", "2-11/16 in"): 16_900,
    ("bay joint 40", "5 5/16 in", "68.2625 mm"): 17_550,
    ("bay joint 40", "5 1/2 in", "2-11/16 in"): None,
    ("bay & 40", "5 1/4 in", "2-11/16 in"): None,
}
"""The keys of a table of the shop as they are typed, and the target."""


def test_a_joint_of_a_table_of_the_shop(office: Office, address: str) -> None:
    [formula] = re.findall(r"^`(=NUMBERVALUE.*tabulated.*)`$", GUIDE, re.MULTILINE)
    if office.locale == GERMAN:
        words = (("NUMBERVALUE", "ZAHLWERT"), ("WEBSERVICE", "WEBDIENST"), ("ENCODEURL", "URLCODIEREN"))
        for english, german in words:
            formula = formula.replace(english, german)
    for keys, target in KEYS.items():
        typed_keys = dict(zip(("A2", "B2", "C2"), keys, strict=True))
        cells = office.sheet("D2:D2", opened=NEW, typed={"B1": address, **typed_keys, "D2": formula})
        assert cells["D2"] == target, keys


# a service that stopped


def test_nothing_is_answered_by_a_service_that_stopped(office: Office) -> None:
    kept, elsewhere = (folder / "kept.ods" for folder in (office.allowed, office.folder))
    excel = office.allowed / "kept.xlsx"
    saved = {kept.as_uri(): ODS, elsewhere.as_uri(): ODS, excel.as_uri(): XLSX}
    rows = range(FIRST, BLANK + 1)
    with serving() as server:
        address = f"http://127.0.0.1:{server.port}"
        before = whole_sheet(office, address, saved)
        assert office.sheet(AREA, opened=kept.as_uri(), recalculated=True) == before
    left_open = office.sheet(AREA, recalculated=True)
    assert left_open == before, "the guide says that a sheet left open shows what it was told"
    for document in (kept, elsewhere):
        assert errors(office.sheet(AREA, opened=document.as_uri()), rows) == RESULTS
        assert errors(office.sheet(AREA, recalculated=True), rows) == RESULTS
    stale = office.sheet(AREA, opened=excel.as_uri())
    assert stale["L6"] == before["L6"], "the guide says that an .xlsx shows what it showed when saved"
    assert errors(office.sheet(AREA, recalculated=True), rows) == RESULTS
    assert errors(first_row(office, address)) == RESULTS
