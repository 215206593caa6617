"""Batches: order kept, every line answered or refused, each as the single question would be."""

import csv
import io
import random
import re
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from rows import every_row
from shop_tables import in_names

from api.app import create_app
from api.batch.column_names import STAMP
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
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


IN_A_ROW = [calculation for calculation in CALCULATIONS if not calculation.body_only]
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


@pytest.mark.parametrize("count", [200, pytest.param(10_000, marks=pytest.mark.evidence)])
def test_lines_with_random_faults_equal_the_single_questions(client: FlaskClient, count: int) -> None:
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
        for n in range(count)
    ]
    answer = client.post(PATH, json={"lines": lines, "group_by": "order"}).get_json()
    assert [each["line_number"] for each in answer["lines"]] == list(range(1, count + 1))
    assert [each["carried"]["order"] for each in answer["lines"]] == list(range(count))
    summary = answer["summary"]
    assert summary["answered"] + summary["refused"] == summary["lines"] == count
    assert len(summary["groups"]) == count
    for line, got in zip(lines, answer["lines"], strict=True):
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


@pytest.mark.parametrize("calculation", IN_A_ROW, ids=lambda calculation: calculation.name)
def test_batch_json_and_csv_agree_with_the_single_question(
    client: FlaskClient, calculation: Calculation
) -> None:
    path = f"/v1/{calculation.name}"
    example = {**calculation.example, **(calculation.query_example or {})}
    single = client.post(path, json=example).get_json()
    answer = client.post(f"{path}/batch", json={"lines": [example]}).get_json()
    assert answer["lines"][0]["result"] == single
    row_asked = in_names(example)
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(row_asked))
    writer.writeheader()
    writer.writerow(row_asked)
    (row,) = rows(client.post(f"{path}/batch", data=out.getvalue(), content_type="text/csv"))
    for name, value in leaves(single):
        if isinstance(value, dict):
            assert (float(row[f"result.{name}"]), row[f"result.{name}.unit"]) == (
                value["value"],
                value["unit"],
            )
        elif value is None:
            of_it = [cell for head, cell in row.items() if f"{head}.".startswith(f"result.{name}.")]
            assert of_it, name
            assert not any(of_it), name
        else:
            cell = row[name if name in STAMP else f"result.{name}"]
            assert cell == str(value) or float(cell) == value


def leaves(answer: Any, path: str = "") -> Any:
    """Every value of an answer that a table can hold, with its dotted name."""
    for name, value in answer.items():
        if f"{path}{name}" in ("inputs", "asked") or isinstance(value, list):
            continue
        if name == "reasons":
            yield name, "; ".join(f"{member}: {reason}" for member, reason in value.items())
            continue
        if isinstance(value, dict) and set(value) != {"value", "unit"}:
            yield from leaves(value, f"{path}{name}.")
        elif value is not None or f"{path}{name}" in ("break_out_torque",):
            yield f"{path}{name}", value


def test_units_stand_in_the_header_or_in_the_cell(client: FlaskClient) -> None:
    text = f"{HEADER}\nW-1,NC50,drill_collar,6 1/2,2-13/16,north-bay-2\nW-2,NC50,drill_collar,165.1 mm,71.4375 mm,north-bay-2\n"
    first, second = rows(table(client, text))
    assert first["result.pressure"] == second["result.pressure"] == "737.1616135"
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


@every_row(
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
        (f"{HEADER},line_status", "text/csv", 422, "reserved_column"),
        (f"{HEADER},result.pressure", "text/csv", 422, "reserved_column"),
        (",".join(f"c{n}" for n in range(501)), "text/csv", 422, "too_many_columns"),
        (f"{HEADER},{'n' * 101}", "text/csv", 422, "not_text"),
        (HEADER, "text/csv; header=absent", 422, "empty_table"),
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


INJECTIONS = [
    "＝1+1",
    "＋1",
    "－1+cmd",
    "＠SUM(1)",
    "\n=1+1",
    " =1+1",
    "\u00a0=1",
    "\u200b=1",
    "\u0001=1",
    "\ufe0f=1",
    "\u3164=1",
    "\u22121+1",
    "+1-1/2",
    "=1+1",
    "+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    '=HYPERLINK("http://x")',
    "-",
]
HARMLESS = [
    "",
    "W-17",
    "5",
    "-5",
    "+5.5",
    "1e3",
    "12-03",
    "²",
    "a=b",
    "日本",
    "'",
    '"',
    "a\nb",
    "<script>",
    "\ud7ff",
]


@every_row("text", INJECTIONS + HARMLESS, ids=repr)
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
    def bug(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("api.answers.machines.setting.chosen_mark", bug)
    answer = client.post(PATH, json={"lines": [{**COLLAR, **JOB}]})
    assert (answer.status_code, answer.get_json()["code"]) == (500, "internal_error")


NEARLY_FIELDS = [
    "Compound Friction Factor",
    "COMPOUND_FRICTION_FACTOR",
    "CompoundFrictionFactor",
    "compound_friction_factor []",
    "friction_factor",
    "frict. fact.",
    "Pin stress level [psi]",
    "pin_stress_level (psi)",
    "pin_stress_leve[psi]",
    "pin_stress_level [[psi]]",
    "pin_stress_level [psi] worn",
    "[psi] pin_stress_level",
    "pin stress",
    "pin\u200b_stress_level",
    "Basis",
    "As of",
    "AsOf",
    "Break_Out_Ratio",
    "gripped_od",
    "torque tol",
]
NO_FIELDS = [
    "order",
    "Order No.",
    "line",
    "customer",
    "pin_serial",
    "make_up_number",
    "comment",
    "due_date",
    "id",
]


@every_row("name", NEARLY_FIELDS)
def test_a_column_that_could_be_meant_as_a_field_is_never_a_silent_default(
    client: FlaskClient, name: str
) -> None:
    line = {**COLLAR, **JOB, name: "1.2"}
    assert client.post(PATH, json={"lines": [line]}).get_json()["code"] == "column_in_doubt"
    assert table(client, f"{HEADER},{name}\n").get_json()["code"] == "column_in_doubt"
    if name.isprintable():  # carry itself takes no invisible text
        assert table(client, f"{HEADER},{name}\n", carry=name).status_code == 200


@pytest.mark.parametrize("name", NO_FIELDS)
def test_columns_of_an_erp_are_carried(client: FlaskClient, name: str) -> None:
    text = "connection,component,box_outside_diameter [in],pin_bore [in],machine," + name
    (row,) = rows(table(client, f"{text}\nNC50,drill_collar,6.5,2,north-bay-2,7\n"))
    assert (row[name], row["line_status"]) == ("7", "answered")


def test_a_unit_in_a_name_is_for_tables_only(client: FlaskClient) -> None:
    line = {**COLLAR, **JOB, "pin_stress_level [psi]": 50000}
    answer = client.post(PATH, json={"lines": [line]}).get_json()
    assert answer["code"] == "column_in_doubt"
    assert "in JSON the unit stands in the value" in answer["errors"][0]["detail"]


@pytest.mark.parametrize("number", ["1e400", "-1e999", '[{"a": 1e400}]'])
def test_a_carried_number_without_end_refuses_its_line_only(client: FlaskClient, number: str) -> None:
    good = client.application.json.dumps({**COLLAR, **JOB})
    data = f'{{"lines": [{{"x": {number}, "order": "A"}}, {good}]}}'
    for form in ("json", "csv"):
        answer = client.post(PATH, data=data, content_type="application/json", query_string={"format": form})
        assert answer.status_code == 200
    first, second = client.post(PATH, data=data, content_type="application/json").get_json()["lines"]
    assert (first["problem_code"], first["carried"]) == ("not_finite", {"order": "A"})
    assert second["line_status"] == "answered"


def test_a_carried_number_of_any_length_comes_back(client: FlaskClient) -> None:
    """As the integer it is: a serial of thirty digits is no float."""
    serial = 10**29 + 7
    line = {**COLLAR, **JOB, "serial": serial, "more": [{"a": -serial}]}
    single = client.post(PATH, json={"lines": [line]})
    lines = client.post(PATH, json={"lines": [line]}, query_string={"format": "jsonl"})
    for text in (single.text, lines.text):
        assert f'"serial":{serial}' in text.replace(": ", ":")
    assert single.get_json()["lines"][0]["carried"] == {"serial": serial, "more": [{"a": -serial}]}
    (row,) = rows(client.post(PATH, json={"lines": [line]}, query_string={"format": "csv"}))
    assert row["serial"] == str(serial)


@pytest.mark.parametrize("line", ['{"x": "\\ud800"}', '{"\\uDC00": 1}'])
def test_half_a_character_is_no_text(client: FlaskClient, line: str) -> None:
    data = f'{{"lines": [{line}]}}'
    answer = client.post(PATH, data=data, content_type="application/json", query_string={"format": "csv"})
    assert (answer.status_code, answer.get_json()["code"]) == (400, "malformed_json")


def test_groups_are_by_the_line_as_given_or_the_default(client: FlaskClient) -> None:
    lines = [{**COLLAR, **JOB}, {**COLLAR, **JOB, "connection": "NC46"}, {**COLLAR, **JOB}]
    body = {"lines": lines, "group_by": "connection"}
    groups = client.post(PATH, json=body).get_json()["summary"]["groups"]
    assert [(group["value"], group["lines"]) for group in groups] == [("NC50", 2), ("NC46", 1)]
    body = {"lines": [COLLAR], "defaults": JOB, "group_by": "operation"}
    groups = client.post(PATH, json=body).get_json()["summary"]["groups"]
    assert [group["value"] for group in groups] == [JOB["operation"]]


@pytest.mark.parametrize(("column", "form"), [("nosuch", "json"), ("connection", "csv")])
def test_groups_that_cannot_be_given_are_refused(client: FlaskClient, column: str, form: str) -> None:
    body = {"lines": [{**COLLAR, **JOB}], "group_by": column}
    answer = client.post(PATH, json=body, query_string={"format": form})
    assert (answer.status_code, answer.get_json()["errors"][0]["pointer"]) == (422, "/group_by")


def test_json_in_and_table_out_keeps_what_was_asked(client: FlaskClient) -> None:
    line = {**COLLAR, **JOB, "order": "A", "ok": True, "n": None, "price": 1.5}
    (row,) = rows(client.post(PATH, json={"lines": [line]}, query_string={"format": "csv"}))
    assert {name: row[name] for name in COLLAR} == COLLAR
    assert (row["order"], row["ok"], row["n"], row["price"]) == ("A", "true", "null", "1.5")


@pytest.mark.parametrize("calculation", IN_A_ROW, ids=lambda calculation: calculation.name)
def test_no_column_of_an_answer_stands_twice(client: FlaskClient, calculation: Calculation) -> None:
    example = {**calculation.example, **(calculation.query_example or {})}
    answer = client.post(
        f"/v1/{calculation.name}/batch", json={"lines": [example]}, query_string={"format": "csv"}
    )
    head = next(csv.reader(io.StringIO(answer.text, newline="")))
    assert len(set(head)) == len(head)


def test_a_choice_of_machines_as_a_table_names_setting_and_reasons(client: FlaskClient) -> None:
    """Every setting and reason of the single answer stands in the cell."""
    line = {name: value for name, value in {**COLLAR, **JOB}.items() if name != "machine"}
    single = client.post("/v1/machine-choice", json=line).get_json()
    answer = client.post("/v1/machine-choice/batch", json={"lines": [line]}, query_string={"format": "csv"})
    (row,) = rows(answer)
    assert single["able"]
    assert single["unable"]
    for each in single["able"]:
        setting = each["gauge_setting"]
        words = f"{each['machine']}: {setting['value']} {setting['unit']} on {each['gauge']}"
        side = f", {each['cylinder_side']} side" if "cylinder_side" in each else ""
        assert f"{words}{side}" in row["result.able"]
        assert all(f"{told['level']}: {told['text']}" in row["result.able"] for told in each["findings"])
    for each in single["unable"]:
        assert each["machine"] in row["result.unable"]
        assert all(reason["text"] in row["result.unable"] for reason in each["reasons"])


@pytest.mark.parametrize("empty", ["compound_friction_factor", "units"])
def test_an_empty_default_is_refused(client: FlaskClient, empty: str) -> None:
    answer = table(client, f"{HEADER}\n", **{empty: " "})
    assert (answer.status_code, answer.get_json()["errors"][0]["parameter"]) == (422, empty)


def test_cells_too_many_are_told(client: FlaskClient) -> None:
    answer = table(client, f"{HEADER}\nW-1,NC50,drill_collar,6.5,2,north-bay-2,LOST\n", format="json")
    (error,) = answer.get_json()["lines"][0]["problem"]["errors"]
    assert "LOST" in str(error["value"])
    assert error["accepted"] == "6 cells"


def test_every_bad_header_is_told_with_what_is_accepted(client: FlaskClient) -> None:
    text = "box_outside_diameter [zoll],pin_bore [psi]\n"
    first, second = table(client, text).get_json()["errors"]
    assert (first["code"], first["value"]) == ("unknown_unit", "zoll")
    assert (second["code"], second["value"]) == ("wrong_kind", "psi")
    assert "mm" in first["accepted"]
    assert "mm" in second["accepted"]


def test_a_line_for_every_machine_counts_for_each(app: Flask) -> None:
    """A choice among the machines of a shop takes as long, and as much room, as that many questions."""
    machines = app.extensions["dialset"].settings.machines
    client = create_app(Settings(machines=machines, most_lines=100)).test_client()
    number = len(app.extensions["dialset"].shop.machines)
    line = {**COLLAR, "operation": "make_up", "thread_hand": "right", "arm_position": "square"}
    for count, status in ((100 // number, 200), (100 // number + 1, 413)):
        given = client.post("/v1/machine-choice/batch", json={"lines": [line] * count})
        assert given.status_code == status
    assert given.get_json()["code"] == "too_many_lines"
    assert f"{number} machines a line" in given.get_json()["detail"]


@pytest.mark.parametrize("start", ["\n", ",,\n", "  ,\n".replace(" ", ""), "\r\n"])
def test_an_empty_first_row_is_no_header(client: FlaskClient, start: str) -> None:
    text = f"{start}order,quantity,to\nW-1,1 in,mm\n"
    refused = client.post("/v1/conversion/batch", data=text, content_type="text/csv")
    assert (refused.status_code, refused.get_json()["code"]) == (422, "empty_table")


def test_no_number_of_a_table_has_exactly_three_decimals(client: FlaskClient) -> None:
    """On a German sheet 12.345 is twelve thousand; 12.3450 stays text there, and is a number elsewhere."""
    text = "quantity,to\n12.345 m,m\n-1.125 degC,degC\n2.5 m,m\n1234.567 m,m\n0.0125 m,m\n"
    given = client.post("/v1/conversion/batch", data=text, content_type="text/csv")
    shown = [row["result.result"] for row in rows(given)]
    assert shown == ["12.3450", "-1.1250", "2.5", "1234.5670", "0.0125"]
    assert not any(re.fullmatch(r"-?[0-9]+\.[0-9]{3}", cell) for row in rows(given) for cell in row.values())


@pytest.mark.parametrize("name", ["foo", "operation"])
def test_a_default_of_the_query_is_told_as_its_parameter(client: FlaskClient, name: str) -> None:
    query = {"foo": "1"} if name == "foo" else {"operation": " "}
    refused = client.post(
        "/v1/pressure/batch", query_string=query, data="connection\nNC50\n", content_type="text/csv"
    )
    (error,) = refused.get_json()["errors"]
    assert error["parameter"] == name
    assert "pointer" not in error
