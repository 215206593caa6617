"""Batches: order kept, every line answered or refused, each as the single question would be."""

import csv
import io
import random
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED, profile

from api.app import create_app
from api.calculation import Calculation
from api.calculations import CALCULATIONS
from api.settings import Settings

COLLAR = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
    "machine": "north-bay-2",
}
PATH = "/v1/pressure/batch"
QUERY = {"family": "rotary_shouldered", **JOB}
HEADER = "order,connection,component,box_outside_diameter [in],pin_bore [in],machine"


def table(client: FlaskClient, text: str | bytes, kind: str = "text/csv", **query: str) -> Any:
    return client.post(PATH, data=text, content_type=kind, query_string={**QUERY, **query})


def rows(answer: Any) -> list[dict[str, str]]:
    assert answer.status_code == 200, answer.text
    return list(csv.DictReader(io.StringIO(answer.text, newline="")))


FAULTS: list[dict[str, Any]] = [
    {},
    {"connection": "NC51"},
    {"connection": "NC50 DS"},
    {"box_outside_diameter": "5 in"},
    {"pin_bore": "4.6 in"},
    {"pin_bore": 2.8},
    {"pin_bore": "2,8 in"},
    {"pin_bore": "27/8 in"},
    {"machine": "north-bay-9"},
    {"machine": "north-bay-1"},
    {"operation": "break_out"},
    {"component": "pipe"},
    {"compound_friction_factor": 0.08},
    {"edition": "1998"},
    {"arm_position": "39 in"},
    {"thread_hand": "left"},
    {"torque_tolerance": 0.05},
    {"family": "bolted"},
    {"family": None},
    {"units": "si"},
    {"steps": True},
]


def test_ten_thousand_lines_with_random_faults_equal_the_single_questions(client: FlaskClient) -> None:
    """Leaf for leaf, in order; the seed stands here."""
    draw = random.Random(11)
    lines = [
        {
            **COLLAR,
            **JOB,
            "box_outside_diameter": f"{draw.uniform(6, 7.5):.3f} in",
            **draw.choice(FAULTS),
            "order": n,
        }
        for n in range(10_000)
    ]
    answer = client.post(PATH, json={"lines": lines, "group_by": "order"}).get_json()
    assert [each["line"] for each in answer["lines"]] == list(range(1, 10_001))
    assert [each["carried"]["order"] for each in answer["lines"]] == list(range(10_000))
    summary = answer["summary"]
    assert summary["answered"] + summary["refused"] == summary["lines"] == 10_000
    assert len(summary["groups"]) == 10_000
    for line, got in list(zip(lines, answer["lines"], strict=True))[::7]:
        single = client.post(
            "/v1/pressure", json={name: value for name, value in line.items() if name != "order"}
        )
        if single.status_code == 200:
            assert (got["line_status"], got["problem_code"]) == ("answered", None)
            assert got["result"] == single.get_json()
        else:
            assert got["line_status"] == "refused"
            assert got["problem"] == single.get_json()
            assert got["problem_code"] == single.get_json()["code"]


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda calculation: calculation.name)
def test_batch_json_and_csv_agree_with_the_single_question(
    client: FlaskClient, calculation: Calculation
) -> None:
    path = f"/v1/{calculation.name}"
    example = {**calculation.example, **(calculation.query_example or {})}
    single = client.post(path, json=example).get_json()
    answer = client.post(f"{path}/batch", json={"lines": [example]}).get_json()
    assert answer["lines"][0]["result"] == single
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(example))
    writer.writeheader()
    writer.writerow(example)
    (row,) = rows(client.post(f"{path}/batch", data=out.getvalue(), content_type="text/csv"))
    for name, value in leaves(single):
        if isinstance(value, dict):
            assert (float(row[name]), row[f"{name}.unit"]) == (value["value"], value["unit"])
        elif value is None:
            assert row[name] == ""
        else:
            assert row[name] == str(value) or float(row[name]) == value


def leaves(answer: Any, path: str = "") -> Any:
    """Every value of an answer that a table can hold, with its dotted name."""
    for name, value in answer.items():
        if f"{path}{name}" == "inputs" or isinstance(value, list):
            continue
        if isinstance(value, dict) and set(value) != {"value", "unit"}:
            yield from leaves(value, f"{path}{name}.")
        elif value is not None or f"{path}{name}" in ("break_out_torque",):
            yield f"{path}{name}", value


def test_units_stand_in_the_header_or_in_the_cell(client: FlaskClient) -> None:
    text = f"{HEADER}\nW-1,NC50,drill_collar,6 1/2,2-13/16,north-bay-2\nW-2,NC50,drill_collar,165.1 mm,71.4375 mm,north-bay-2\n"
    first, second = rows(table(client, text))
    assert first["pressure"] == second["pressure"] == "737.1616135"
    assert first["pin_bore [in]"] == "2-13/16"


def test_a_line_outranks_a_default(client: FlaskClient) -> None:
    lines = [{**COLLAR, "machine": profile()}, {**COLLAR, "machine": profile(), "thread_hand": "left"}]
    answer = client.post(PATH, json={"lines": lines, "defaults": {**JOB, "units": "si"}}).get_json()
    assert [each["result"]["cylinder_side"] for each in answer["lines"]] == ["cap", "rod"]
    assert answer["lines"][0]["result"]["pressure"]["unit"] == "Pa"


def test_an_empty_cell_is_not_given_and_never_zero(client: FlaskClient) -> None:
    text = f"{HEADER}\nW-1,NC50,drill_collar,6.5,,north-bay-2\nW-2,,,,,\n,,,,,\n\n"
    first, second = rows(table(client, text))
    assert (first["problem_code"], second["line_status"]) == ("missing_field", "refused")


def test_an_empty_row_in_the_middle_is_a_line_that_is_refused(client: FlaskClient) -> None:
    text = f"{HEADER}\nW-1,NC50,drill_collar,6.5,2.8125,north-bay-2\n\nW-3,NC50,drill_collar,6.5,2.8125,north-bay-2\n"
    assert [row["line_status"] for row in rows(table(client, text))] == ["answered", "refused", "answered"]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ("W-1,NC50,drill_collar,6.5,2.8125", "wrong_cell_count"),
        ("W-1,NC50,drill_collar,6.5,2.8125,north-bay-2,more", "wrong_cell_count"),
        ('W-1,NC50,drill_collar,"6,5",2.8125,north-bay-2', "decimal_comma"),
        ("W-1,NC50,drill_collar,6.5 psi,2.8125,north-bay-2", "wrong_kind"),
        ("W-1,NC50,drill_collar,nan,2.8125,north-bay-2", "not_a_number"),
        ("W-1,NC51,drill_collar,6.5,2.8125,north-bay-2", "unknown_connection"),
        ("W-1,NC50,drill_collar,6.5,2.8125,north-bay-9", "unknown_machine"),
        ("W-1,NC50,drill_collar,6.5,2.8125,north-bay-1", "several_faults"),
    ],
)
def test_a_refused_row_does_not_touch_the_others(client: FlaskClient, row: str, code: str) -> None:
    good = "W-2,NC50,drill_collar,6.5,2.8125,north-bay-2"
    first, second = rows(table(client, f"{HEADER}\n{row}\n{good}\n"))
    assert (first["line_status"], first["problem_code"]) == ("refused", code)
    assert first["problem_detail"]
    assert second["line_status"] == "answered"


@pytest.mark.parametrize(
    ("text", "kind", "status", "code"),
    [
        ("\n\n", "text/csv", 422, "empty_table"),
        (HEADER.replace(",", ";"), "text/csv", 422, "wrong_separator"),
        (HEADER.replace(",", "\t"), "text/csv", 422, "wrong_separator"),
        (HEADER, "text/tab-separated-values", 422, "wrong_separator"),
        (f"{HEADER},order\n", "text/csv", 422, "duplicate_column"),
        (f"{HEADER},pin_bore [mm]\n", "text/csv", 422, "duplicate_column"),
        (f"{HEADER},\n", "text/csv", 422, "malformed_table"),
        (f'{HEADER}\n"open quote\n', "text/csv", 422, "malformed_table"),
        (f"{HEADER}\nW\0,\n", "text/csv", 422, "malformed_table"),
        (HEADER.replace("[in]", "[psi]"), "text/csv", 422, "wrong_kind"),
        (HEADER.replace("[in]", "[cubit]"), "text/csv", 422, "unknown_unit"),
        (f"{HEADER},compound_friction_factor [in]", "text/csv", 422, "unit_not_applicable"),
        (f"{HEADER},compound_friction_facter", "text/csv", 422, "column_in_doubt"),
        (f"{HEADER},Pin_bore", "text/csv", 422, "column_in_doubt"),
        (f"{HEADER},torque_tolerence [%]", "text/csv", 422, "column_in_doubt"),
        (b"order\n\xff\n", "text/csv", 400, "not_utf8"),
        (HEADER, "text/plain", 415, "unsupported_media_type"),
    ],
)
def test_a_doubtful_table_is_refused_whole(
    client: FlaskClient, text: str | bytes, kind: str, status: int, code: str
) -> None:
    answer = table(client, text, kind)
    assert (answer.status_code, answer.get_json()["code"]) == (status, code)


def test_a_name_that_is_nearly_a_field_is_carried_where_the_caller_says_so(client: FlaskClient) -> None:
    text = "connection,component,box_outside_diameter,pin_bore,machine,connections\nNC50,drill_collar,6.5 in,2 in,north-bay-2,7\n"
    assert table(client, text).get_json()["code"] == "column_in_doubt"
    (row,) = rows(table(client, text, carry="connections"))
    assert (row["connections"], row["line_status"]) == ("7", "answered")
    lines = [{**COLLAR, **JOB, "connections": 7}]
    assert client.post(PATH, json={"lines": lines}).get_json()["code"] == "column_in_doubt"
    assert client.post(PATH, json={"lines": lines, "carry": ["connections"]}).status_code == 200


INJECTIONS = ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("http://x")', "-"]
HARMLESS = ["", "W-17", "5", "-5", "+5.5", "1e3", "a=b", "日本", "'", '"', "a\nb", "<script>", "\ud7ff"]


@pytest.mark.parametrize("text", INJECTIONS + HARMLESS, ids=repr)
def test_carried_text_is_untouched_in_json_and_harmless_in_a_table(client: FlaskClient, text: str) -> None:
    line = {**COLLAR, **JOB, "note": text}
    carried = client.post(PATH, json={"lines": [line]}).get_json()["lines"][0]["carried"]
    assert carried == {"note": text}
    (row,) = rows(client.post(PATH, json={"lines": [line]}, query_string={"format": "csv"}))
    assert row["note"] == (f"'{text}" if text in INJECTIONS else text)
    assert not row["note"].startswith(("=", "@", "\t", "\r"))


def test_bom_and_line_ends_of_spreadsheets(client: FlaskClient) -> None:
    text = f"\ufeff{HEADER}\r\nW-1,NC50,drill_collar,6.5,2.8125,north-bay-2\r\n"
    (row,) = rows(table(client, text.encode()))
    assert (row["order"], row["line_status"]) == ("W-1", "answered")


def test_tab_separated(client: FlaskClient) -> None:
    text = HEADER.replace(",", "\t") + "\nW-1\tNC50\tdrill_collar\t6.5\t2.8125\tnorth-bay-2\n"
    answer = table(client, text, "text/tab-separated-values")
    assert answer.content_type.startswith("text/tab-separated-values")
    assert "answered" in answer.text.splitlines()[1].split("\t")


@pytest.mark.parametrize(
    ("kind", "accept", "form", "expected"),
    [
        ("text/csv", None, None, "text/csv"),
        ("text/csv", "*/*", None, "text/csv"),
        ("text/csv", "application/json", None, "application/json"),
        ("text/csv", None, "json", "application/json"),
        ("text/csv", None, "tsv", "text/tab-separated-values"),
    ],
)
def test_form_of_the_answer(
    client: FlaskClient, kind: str, accept: str | None, form: str | None, expected: str
) -> None:
    options = {"headers": {"Accept": accept}} if accept else {}
    query = {**QUERY, **({"format": form} if form else {})}
    answer = client.post(PATH, data=f"{HEADER}\n", content_type=kind, query_string=query, **options)
    assert answer.mimetype == expected


def test_columns_are_the_same_whatever_the_lines_hold(client: FlaskClient) -> None:
    good = f"{HEADER}\nW-1,NC50,drill_collar,6.5,2.8125,north-bay-2\n"
    bad = f"{HEADER}\nW-1,NC51,drill_collar,6.5,2.8125,north-bay-2\n"
    heads = {table(client, text).text.splitlines()[0] for text in (good, bad)}
    heads.add(table(client, good, break_out_ratio="1.2").text.splitlines()[0])
    assert len(heads) == 1


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ({"lines": []}, "not_a_list"),
        ({"lines": {}}, "not_a_list"),
        ({}, "missing_field"),
        ({"lines": [{}], "defaults": {"x": 1}}, "unknown_field"),
        ({"lines": [{}], "default": {}}, "unknown_field"),
        ([], "not_an_object"),
    ],
)
def test_bad_envelope(client: FlaskClient, body: Any, code: str) -> None:
    answer = client.post(PATH, json=body)
    assert (answer.status_code, answer.get_json()["code"]) == (422, code)


def test_a_line_that_is_no_object_is_a_refused_line(client: FlaskClient) -> None:
    answer = client.post(PATH, json={"lines": [None, 1, [], {**COLLAR, **JOB}]}).get_json()
    assert [each["line_status"] for each in answer["lines"]] == ["refused"] * 3 + ["answered"]
    assert {each["problem_code"] for each in answer["lines"][:3]} == {"not_an_object"}


@pytest.mark.parametrize(("lines", "status"), [(5, 200), (6, 413)])
def test_lines_are_limited(lines: int, status: int) -> None:
    client = create_app(Settings(most_lines=5)).test_client()
    line = {**STATED, **JOB, "machine": profile()}
    answer = client.post(PATH, json={"lines": [line] * lines})
    assert answer.status_code == status
    text = "quantity,to\n" + "1 in,mm\n" * lines
    assert client.post("/v1/conversion/batch", data=text, content_type="text/csv").status_code == status


def test_a_bug_is_not_hidden_in_a_line(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def bug(*_: Any) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("api.answers.setting.marks_in_window", bug)
    answer = client.post(PATH, json={"lines": [{**COLLAR, **JOB}]})
    assert (answer.status_code, answer.get_json()["code"]) == (500, "internal_error")
