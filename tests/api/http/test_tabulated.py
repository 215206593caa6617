"""Joints of the shop's own tables over HTTP: asked every way, on every machine, refused with every reason.

The tables are those of the demonstration, all invented. Expected torques are worked by hand from their cells.
"""

import csv
import io
from typing import Any

import pytest
from flask.testing import FlaskClient
from shop_tables import shop_of

from api.answers.shop import Policy
from api.engineering.checks import NoAnswer
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS

PATH = "/v1/torque/tabulated"
TABULATED: Calculation = next(each for each in CALCULATIONS if f"/v1/{each.name}" == PATH)
JOINT_40 = {"connection": "bay joint 40", "box_outside_diameter": "5 1/4 in", "pin_bore": "2-11/16 in"}
JOINT_40_MM = {**JOINT_40, "box_outside_diameter": "133.35 mm"}
JOINT_40_BETWEEN = {**JOINT_40, "box_outside_diameter": "5.3 in"}
JOINT_46 = {"connection": "bay joint 46", "box_outside_diameter": "6 1/4 in", "pin_bore": "3 1/4 in"}
STATOR = {"motor": "bay motor 171", "joint": "stator to adjustable housing", "bore": "95.25 mm"}
SHAFT = {"motor": "bay motor 171", "joint": "flow diverter to shaft", "bore": "57.15 mm"}
COLLAR = {
    "connection": "NC46",
    "component": "drill collar",
    "box_outside_diameter": "6 1/4 in",
    "pin_bore": "2 13/16 in",
}
TURN = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}


def ask(client: FlaskClient, table: str, key: dict[str, Any], **more: Any) -> dict[str, Any]:
    response = client.post(PATH, json={"table": table, "table_key": key, **more})
    assert response.status_code == 200, response.text
    answer: dict[str, Any] = response.get_json()
    return answer


def errors(client: FlaskClient, **body: Any) -> list[tuple[str, str]]:
    response = client.post(PATH, json=body)
    assert response.status_code == 422, response.text
    return [(each["pointer"], each["code"]) for each in response.get_json()["errors"]]


FT_LB, N_M = ("lbf.ft", 1.0), ("N.m", 1 / 1.3558179483314004)  # NIST SP 811


@pytest.mark.parametrize(
    ("table", "key", "more", "unit", "window"),
    [
        ("double-shoulder", JOINT_40, {}, FT_LB, (15_200, 16_900, 18_600, 27_400)),
        ("double-shoulder", JOINT_40_MM, {}, FT_LB, (15_200, 16_900, 18_600, 27_400)),
        # 4 tenths of the way from 5.25 to 5.375 in: 15,200 + 0.4 x 1,200, 16,900 + 0.4 x 1,300 and so on
        ("double-shoulder", JOINT_40_BETWEEN, {}, FT_LB, (15_680, 17_420, 19_160, 28_240)),
        # half-way from 6.625 to 7 in, which stand the other way round in the file
        (
            "double-shoulder",
            {"connection": "bay 54 DS", "box_outside_diameter": "6 13/16 in", "pin_bore": "3.5 in"},
            {}, FT_LB, (36_150, 40_150, 44_150, 65_250),
        ),
        ("double-shoulder", JOINT_46, {"as_of": "2026-06-30"}, FT_LB, (24_100, 26_800, 29_500, 43_600)),
        ("double-shoulder", JOINT_46, {"as_of": "2026-07-01"}, FT_LB, (22_700, 25_200, 27_700, 43_600)),
        ("motor-joints", STATOR, {}, N_M, (40_000, 43_000, 46_000, None)),
        ("motor-joints", SHAFT, {}, N_M, (None, 24_500, None, None)),
        ("motor-joints", SHAFT, {"torque_tolerance": 0.04}, N_M, (23_520, 24_500, 25_480, None)),
        ("customer-collars", COLLAR, {"as_of": "2026-11-24"}, FT_LB, (24_200, 24_200, 26_600, None)),
    ],
)  # fmt: skip
def test_the_window_of_the_row(
    client: FlaskClient, table: str, key: dict[str, Any], more: dict[str, Any], unit: Any, window: Any
) -> None:
    answer = ask(client, table, key, **more)
    found = [answer["torque"][end] for end in ("minimum", "target", "maximum")] + [answer["torsional_yield"]]
    for shown, expected in zip(found, window, strict=True):
        assert (shown is None) == (expected is None)
        if shown is not None:
            assert shown == {"value": pytest.approx(expected * unit[1], rel=1e-9), "unit": "lbf.ft"}
    assert answer["version"]["table_id"] == answer["table"] == table


def told(answer: dict[str, Any]) -> list[tuple[str, str]]:
    return [(each["level"], each["code"]) for each in answer["findings"]]


def test_an_answer_names_row_source_revision_and_hash(client: FlaskClient) -> None:
    answer = ask(client, "motor-joints", SHAFT)
    assert answer["status"] == answer["torque"]["target_status"] == "from memory"
    assert answer["sources"] == [
        {
            "what": "row 7 of the shop's table motor-joints",
            "status": "from memory",
            "source": "shop trial of May 2026",
        }
    ]
    listed = {each["id"]: each for each in client.get("/v1/tables").get_json()["items"]}
    assert answer["version"]["table_revision"] == "1"
    assert answer["version"]["table_hash"] == listed["motor-joints"]["hash"]
    assert answer["reasons"]["torque.minimum"] == "row 7 of the shop's table motor-joints gives no minimum"
    (note,) = answer["findings"]
    assert (note["level"], note["code"]) == ("note", "row_note")
    assert "the manual gives one value and no window" in note["text"]


def test_interpolation_is_told_with_both_rows(client: FlaskClient) -> None:
    answer = ask(client, "double-shoulder", {**JOINT_40, "box_outside_diameter": "5.3 in"})
    assert answer["interpolated_in"] == "box_outside_diameter"
    assert [row["row"] for row in answer["rows"]] == [2, 3]
    assert ("look", "between_table_rows") in told(answer)
    exact = ask(client, "double-shoulder", JOINT_40)
    assert exact["interpolated_in"] is None
    assert ("look", "between_table_rows") not in told(exact)


def test_a_row_that_contradicts_a_known_formula_is_served_with_that_warning(client: FlaskClient) -> None:
    """API Spec 7 prints 22,426 ft-lb for an NC46 collar, 6-1/4 x 2-13/16 in; the file has 24,200."""
    answer = ask(client, "customer-collars", COLLAR, as_of="2026-11-24")
    (warning,) = [each["text"] for each in answer["findings"] if each["code"] == "row_contradicts_formula"]
    assert "7.91 % above" in warning  # 24,200 / 22,426 - 1
    other = {**COLLAR, "connection": "NC50", "box_outside_diameter": "6 1/2 in"}
    sound = ask(client, "customer-collars", other, as_of="2026-11-24")
    assert ("look", "row_contradicts_formula") not in told(sound)


@pytest.mark.parametrize("form", ["table_key.{}", "table_key[{}]"])
def test_get_post_and_text_agree(client: FlaskClient, form: str) -> None:
    query = {"table": "double-shoulder", **{form.format(name): value for name, value in JOINT_40.items()}}
    assert client.get(PATH, query_string=query).get_json() == ask(client, "double-shoulder", JOINT_40)
    text = {"format": "text", "answer": "torque.target", "unit": "ft-lb"}
    assert client.get(PATH, query_string={**query, **text}).text == "16900"


def test_a_batch_has_a_column_for_every_member(client: FlaskClient) -> None:
    """The same joints as rows: units in the header, in the cell, and a member for all lines in the query."""
    table = (
        "order,table_key.connection,table_key.box_outside_diameter [in],table_key.pin_bore\n"
        "W-1,bay joint 40,5 1/4,2 11/16 in\nW-2,bay joint 40,5.3,2.6875 in\nW-3,bay joint 40,5.3,\n"
        "W-4,bay joint 40,5.9,2 7/16 in\n"
    )
    response = client.post(
        f"{PATH}/batch", data=table, content_type="text/csv", query_string={"table": "double-shoulder"}
    )
    lines = list(csv.DictReader(io.StringIO(response.text, newline="")))
    assert [line["order"] for line in lines] == ["W-1", "W-2", "W-3", "W-4"]
    assert [line["result.torque.target"] for line in lines] == ["16900.0", "17420.0", "", ""]
    assert [line["problem_code"] for line in lines] == ["", "", "missing_field", "outside_table"]
    assert lines[0]["result.rows"].startswith("row 2: connection bay joint 40; box_outside_diameter 5.25 in")
    for more, code in (
        ("2-11/16 in", ["", "", "", "outside_table"]),
        ("9 in", ["", "", "no_such_row", "outside_table"]),
    ):
        query = {"table": "double-shoulder", "table_key.pin_bore": more}
        response = client.post(f"{PATH}/batch", data=table, content_type="text/csv", query_string=query)
        lines = list(csv.DictReader(io.StringIO(response.text, newline="")))
        assert [line["problem_code"] for line in lines] == code


def test_a_member_of_a_line_outranks_that_of_the_defaults(client: FlaskClient) -> None:
    lines = [{"table_key": {"box_outside_diameter": "5 3/8 in"}}, {}]
    body = {"lines": lines, "defaults": {"table": "double-shoulder", "table_key": JOINT_40}}
    answered = client.post(f"{PATH}/batch", json=body).get_json()["lines"]
    assert [line["result"]["torque"]["target"]["value"] for line in answered] == [18_200, 16_900]


@pytest.mark.parametrize(
    "header",
    ["table_key_connection", "table key.connection", "Table_Key.connection", "table_key.connection [zz]"],
)
def test_a_column_that_is_nearly_a_member_is_never_carried_along(client: FlaskClient, header: str) -> None:
    response = client.post(
        f"{PATH}/batch",
        data=f"{header}\nbay joint 40\n",
        content_type="text/csv",
        query_string={"table": "motor-joints"},
    )
    assert response.status_code == 422
    assert {each["code"] for each in response.get_json()["errors"]} <= {"column_in_doubt", "unknown_unit"}


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ({}, [("/table", "missing_field"), ("/table_key", "missing_field")]),
        ({"table": "double-sholder", "table_key": JOINT_40}, [("/table", "unknown_table")]),
        ({"table": "Double-Shoulder", "table_key": JOINT_40}, [("/table", "not_text")]),
        ({"table": "../etc", "table_key": JOINT_40}, [("/table", "not_text")]),
        ({"table": "double-shoulder", "table_key": "bay joint 40"}, [("/table_key", "not_an_object")]),
        ({"table": "double-shoulder", "table_key": []}, [("/table_key", "not_an_object")]),
        (
            {"table": "double-shoulder", "table_key": {}},
            [(f"/table_key/{name}", "missing_field") for name in JOINT_40],
        ),
        (
            {"table": "double-shoulder", "table_key": {**JOINT_40, "a.b": "x", "a/b": "x"}},
            [("/table_key/a.b", "unknown_field"), ("/table_key/a~1b", "unknown_field")],
        ),
        ({"table": "double-shoulder", "table_key": None}, [("/table_key", "not_null")]),
        (
            {"table": "double-shoulder", "table_key": {"connection": "bay", "bore": "2 in", "pin_bore": 2.5}},
            [
                ("/table_key/box_outside_diameter", "missing_field"),
                ("/table_key/pin_bore", "bare_number"),
                ("/table_key/bore", "unknown_field"),
            ],
        ),
        (
            {"table": "double-shoulder", "table_key": {**JOINT_40, "connection": 40, "pin_bore": "70 psi"}},
            [("/table_key/connection", "not_text"), ("/table_key/pin_bore", "wrong_kind")],
        ),
        (
            {
                "table": "double-shoulder",
                "table_key": {**JOINT_40, "pin_bore": {"value": 1e300, "unit": "in"}},
            },
            [("/table_key/pin_bore", "out_of_range")],
        ),
        ({"table": "double-shoulder", "table_key": JOINT_46}, [("/as_of", "as_of_required")]),
        (
            {"table": "customer-collars", "table_key": COLLAR, "as_of": "2025-12-31"},
            [("/as_of", "row_not_in_force")],
        ),
        (
            {"table": "double-shoulder", "table_key": JOINT_40, "torque_tolerance": 0.05},
            [("/torque_tolerance", "tolerance_not_needed")],
        ),
        (
            {"table": "double-shoulder", "table_key": JOINT_40, "torque_tolerance": 0.3},
            [("/torque_tolerance", "out_of_range")],
        ),
    ],
)  # fmt: skip
def test_a_bad_question_is_told_by_place_and_code(
    client: FlaskClient, body: dict[str, Any], told: list[tuple[str, str]]
) -> None:
    assert errors(client, **body) == told


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ({"table_key.connection": "bay joint 41"}, [("table_key.connection", "no_such_row", "bay joint 41")]),
        ({"table_key[pin_bore]": "2,5 in"}, [("table_key.pin_bore", "decimal_comma", "2,5 in")]),
        ({"table_key.pin_bore": "2.5"}, [("table_key.pin_bore", "bare_number", "2.5")]),
        (
            {"table_key.connection": "bay joint 40", "table_key[connection]": "bay joint 46"},
            [("table_key[connection]", "unknown_field", "bay joint 46")],
        ),
        ({"table_key": "bay joint 40"}, [("table_key", "not_an_object", "bay joint 40")]),
        ({"table_key.a.b": "x"}, [("table_key.a.b", "unknown_field", "x")]),
        ({"table_key.a/b~": "x"}, [("table_key.a/b~", "unknown_field", "x")]),
    ],
)
def test_a_bad_query_names_the_member_as_a_query_has_it(
    client: FlaskClient, query: dict[str, str], told: list[Any]
) -> None:
    rest = {f"table_key.{name}": value for name, value in JOINT_40.items()}
    given = {each.replace("[", ".").rstrip("]") for each in query}
    kept = {name: value for name, value in rest.items() if name not in given and "table_key" not in query}
    response = client.get(PATH, query_string={"table": "double-shoulder", **kept, **query})
    assert response.status_code == 422
    found = [(each["parameter"], each["code"], each.get("value")) for each in response.get_json()["errors"]]
    assert found == told


def test_a_statuses_policy_holds_for_rows_of_tables() -> None:
    """A shop that accepts only what was read is not told a row that it remembers; what it states it is."""
    text = "model,target [N.m],source,revision,status\nA,1,s,1,from memory\nB,1,s,1,\nC,1,s,1,read\n"
    shop = shop_of(text, policy=Policy(accepted_statuses=frozenset({"read", "stated"})))
    with pytest.raises(NoAnswer, match="status_not_accepted"):
        TABULATED.answer({"table": "own", "table_key": {"model": "A"}}, shop, "us")
    for model, status in (("B", "stated"), ("C", "read")):
        assert (
            TABULATED.answer({"table": "own", "table_key": {"model": model}}, shop, "us")["status"] == status
        )


def test_where_one_row_gives_an_end_and_the_other_does_not_none_is_made_up() -> None:
    text = (
        '"od [mm, linear]",minimum [N.m],target [N.m],maximum [N.m],torsional_yield [N.m],source,revision\n'
        "100,90,100,,300,s,1\n200,,200,250,,s,2\n"
    )
    answer = TABULATED.answer({"table": "own", "table_key": {"od": "125 mm"}}, shop_of(text), "si")
    assert answer["torque"]["target"] == {"value": 125.0, "unit": "N.m"}
    assert answer["torque"]["minimum"] is answer["torque"]["maximum"] is answer["torsional_yield"] is None
    assert "row 3" in answer["reasons"]["torque.minimum"]
    assert "row 2" in answer["reasons"]["torque.maximum"]
    assert "row 3" in answer["reasons"]["torsional_yield"]
    assert answer["version"]["table_revision"] == "1 and 2"
    for name, row in (("minimum", 2), ("maximum", 3), ("torsional yield", 2)):
        said = f"Row {row} gives a {name} and the other row none"
        assert any(said in each["text"] for each in answer["findings"])


@pytest.mark.parametrize(
    ("statuses", "status"),
    [
        (("read", "read"), "read"),
        (("read", ""), "stated"),
        (("", ""), "stated"),
        (("", "from memory"), "from memory"),
        (("reprint", "read"), "reprint"),
        (("fitted", ""), "fitted"),
    ],
)
def test_between_two_rows_the_less_sure_counts(statuses: tuple[str, str], status: str) -> None:
    for one, other in (statuses, statuses[::-1]):
        text = f'"od [mm, linear]",target [N.m],source,revision,status\n1,1,s,1,{one}\n2,2,s,1,{other}\n'
        answer = TABULATED.answer({"table": "own", "table_key": {"od": "1.5 mm"}}, shop_of(text), "si")
        assert answer["status"] == answer["torque"]["target_status"] == status


@pytest.mark.parametrize("operation", ["make_up", "break_out"])
def test_on_every_machine_the_window_is_that_of_its_own_question(client: FlaskClient, operation: str) -> None:
    turn = {**TURN, "operation": operation, "break_out_ratio": 1.2, "gripped_outside_diameter": "5 1/4 in"}
    joint = {"table": "double-shoulder", "table_key": JOINT_40}
    own = ask(client, "double-shoulder", JOINT_40)
    choice = client.post("/v1/machine-choice", json={"family": "tabulated", **joint, **turn}).get_json()
    assert choice["torque"] == own["torque"]
    assert choice["version"]["table_hash"] == own["version"]["table_hash"]
    assert choice["able"]
    for machine in choice["able"]:
        single = client.post(
            "/v1/pressure", json={"family": "tabulated", **joint, **turn, "machine": machine["machine"]}
        ).get_json()
        assert single["torque"] == own["torque"]
        assert single.get("gauge_setting") == machine.get("gauge_setting")
        assert ("gauge_setting" in single) == (operation == "make_up")
        assert single["version"]["table_id"] == "double-shoulder"
        if operation == "make_up":
            low, high = (own["torque"][end]["value"] for end in ("minimum", "maximum"))
            assert low <= single["torque_at_gauge_setting"]["value"] <= high


def test_a_torsional_yield_of_the_table_limits_the_machine() -> None:
    """A joint that yields 0.3 % above its target: 380 psi is the mark of its window, 20,204 ft-lb at most."""
    table = "model,minimum [ft-lb],target [ft-lb],torsional_yield [ft-lb],source,revision\n"
    shop = shop_of(f"{table}A,19500,20000,20050,s,1\n")
    pressure = next(each for each in CALCULATIONS if each.name == "pressure")
    asked = {"family": "tabulated", "table": "own", "table_key": {"model": "A"}, **TURN}
    with pytest.raises(NoAnswer, match="torsional_yield_exceeded"):
        pressure.answer({**asked, "machine": pressure.example["machine"]}, shop, "us")
