"""What a policy does to answers: rules that entered are listed, and numbers are read as it says."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED, profile
from policies import policy, policy_file
from rows import every_row
from ways import in_every_form

from api.app import create_app
from api.registry.examples import EXAMPLE_POLICY
from api.settings import Settings

TOOL_JOINT = {
    "connection": "NC50",
    "component": "tool_joint",
    "box_outside_diameter": "6 5/8 in",
    "pin_bore": "3 1/4 in",
}
TORQUE, PRESSURE = "/v1/torque/rotary-shouldered", "/v1/pressure"
UNSURE = {**TOOL_JOINT, "connection": "4-1/2 REG", "component": "drill_collar", "pin_bore": "2 in"}
"""A connection whose dimensions are from memory."""


def shop(folder: Path | None = None, **rules: Any) -> FlaskClient:
    """A service with this policy."""
    return create_app(Settings(machines=folder, policy=policy_file(**rules))).test_client()


def post(client: FlaskClient, path: str, question: Mapping[str, Any]) -> Any:
    return client.post(path, json=question).get_json()


def by_policy(answer: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The rules of the policy that an answer lists, with what each says."""
    return [
        (each["field"], each["value"])
        for each in answer["assumptions"]
        if each["reason"].startswith("the policy of the shop, revision ")
    ]


# the policy in the record


def test_every_answer_names_the_policy_and_the_edition(client: FlaskClient) -> None:
    ours, theirs = shop(relief_margin=0.1), shop(relief_margin=0.2)
    answers = [post(each, TORQUE, TOOL_JOINT) for each in (client, ours, theirs)]
    assert [each["version"]["policy_revision"] for each in answers] == [None, "1", "1"]
    assert answers[0]["version"]["policy_hash"] is None
    assert len({each["version"]["policy_hash"] for each in answers}) == 3
    assert len({each["service_edition"] for each in answers}) == 3


def test_the_edition_is_of_policy_machines_tables_and_units(tmp_path: Path) -> None:
    def edition(**settings: Any) -> str:
        return str(
            post(create_app(Settings(**settings)).test_client(), TORQUE, TOOL_JOINT)["service_edition"]
        )

    machines, tables = tmp_path / "machines", tmp_path / "tables"
    machines.mkdir()
    tables.mkdir()
    empty = edition()
    assert edition(machines=machines, tables=tables, units="metric") != empty
    (tables / "own.csv").write_text(
        "model,target [ft-lb],source,revision\ntwin shoulder A,14500,invented sheet,1\n"
    )
    with_table = edition(tables=tables)
    (machines / "a.json").write_text(str(profile()).replace("'", '"'))
    with_machine = edition(machines=machines)
    assert len({empty, with_table, with_machine, edition(policy=policy_file())}) == 4
    assert edition(machines=machines) == with_machine


# two shops


def test_two_shops_give_a_tool_joint_two_windows(client: FlaskClient) -> None:
    """The target is the formula's; the ends are its share by hand."""
    bare = post(client, TORQUE, TOOL_JOINT)
    assert (bare["torque"]["minimum"], by_policy(bare)) == (None, [])
    target = bare["torque"]["target"]["value"]
    for share in (0.05, 0.1):
        answer = post(shop(torque_tolerance={"tool_joint": share}), TORQUE, TOOL_JOINT)
        assert answer["torque"]["target"]["value"] == target
        assert answer["torque"]["minimum"]["value"] == pytest.approx((1 - share) * target, rel=1e-9)
        assert answer["torque"]["maximum"]["value"] == pytest.approx((1 + share) * target, rel=1e-9)
        assert by_policy(answer) == [("torque_tolerance", str(share))]
        assert "the policy's torque_tolerance" in answer["torque"]["minimum_basis"]


@every_row(
    "changed",
    [
        {"torque_tolerance": 0.02},  # the request knows better
        # the standard's own window
        {"component": "drill_collar", "box_outside_diameter": "6 1/2 in", "pin_bore": "2-13/16 in"},
    ],
)
def test_a_tolerance_of_the_shop_gives_way(client: FlaskClient, changed: Mapping[str, Any]) -> None:
    ours = shop(torque_tolerance={"tool_joint": 0.05})
    answer, without = (post(each, TORQUE, {**TOOL_JOINT, **changed}) for each in (ours, client))
    assert answer["torque"] == without["torque"]
    assert by_policy(answer) == []


def test_a_tolerance_of_the_shop_never_reaches_the_yield() -> None:
    """Made up to 0.95 of its yield stress, 10 % more would yield; 120,000 psi is the usual yield."""
    question = {**TOOL_JOINT, "pin_stress_level": "114000 psi", "box_stress_level": "114000 psi"}
    answer = shop(torque_tolerance={"tool_joint": 0.1}).post(TORQUE, json=question)
    assert (answer.status_code, answer.get_json()["code"]) == (422, "torsional_yield_exceeded")


WINDOW = {**STATED, **JOB, "torque_minimum": "19000 ft-lb", "torque_maximum": "21000 ft-lb"}
ON_MACHINES = [
    ("pressure", {**WINDOW, "machine": profile()}, ["wrong_torque_probability"]),
    ("machine-choice", WINDOW, ["wrong_torque_probability"]),
    # without a window it decides nothing, nor of a break-out
    ("pressure", {**STATED, **JOB, "machine": profile()}, []),
    ("pressure", {**WINDOW, "machine": profile(), "operation": "break_out", "break_out_ratio": 1.2}, []),
]


@every_row(("name", "asked", "rules"), ON_MACHINES)
def test_by_what_probability_a_wrong_torque_is_told_is_listed_where_it_judges(
    name: str, asked: Mapping[str, Any], rules: list[str], tmp_path: Path
) -> None:
    """And a policy that holds this rule alone, and holds no more on that day, is a stop."""
    (tmp_path / "example-bay-1.json").write_text(json.dumps(profile()))
    expired = shop(tmp_path, wrong_torque_probability=0.05, effective_to="2026-06-30")
    answer = post(expired, f"/v1/{name}", {**asked, "as_of": "2026-11-24"})
    assert [rule for rule, _ in by_policy(answer)] == rules
    told = [each["code"] for each in answer["findings"] if each["level"] == "stop"]
    assert told == ["policy_not_in_force"] * len(rules)


def test_the_tolerance_holds_on_a_machine_too() -> None:
    question = {
        **TOOL_JOINT,
        **JOB,
        "family": "rotary_shouldered",
        "machine": profile(),
        "as_of": "2026-03-01",
    }
    answer = post(shop(torque_tolerance={"tool_joint": 0.08}), PRESSURE, question)
    assert ("torque_tolerance", "0.08") in by_policy(answer)
    assert answer["torque"]["minimum"] is not None


def test_what_a_shop_accepts_is_listed_and_refuses_the_rest(client: FlaskClient) -> None:
    strict, loose = shop(accepted_statuses=["reprint", "read"]), shop(accepted_statuses=["from memory"])
    assert strict.post(TORQUE, json=UNSURE).get_json()["code"] == "status_not_accepted"
    assert by_policy(post(strict, TORQUE, TOOL_JOINT)) == [("accepted_statuses", "read, reprint")]
    assert by_policy(post(loose, TORQUE, UNSURE)) == [("accepted_statuses", "from memory")]
    assert by_policy(post(client, TORQUE, UNSURE)) == []


@pytest.mark.parametrize("word", ["refuse", "tell"])
def test_what_is_done_with_unfit_profiles_is_listed_where_one_is_judged(word: str) -> None:
    ours = shop(unfit_profiles=word)
    answer = post(ours, PRESSURE, {**STATED, **JOB, "machine": profile(), "as_of": "2026-03-01"})
    assert by_policy(answer) == [("unfit_profiles", word)]
    assert by_policy(post(ours, TORQUE, TOOL_JOINT)) == []


def test_the_rule_for_unfit_profiles_is_listed_on_charts_and_choices(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text(str(profile()).replace("'", '"'))
    ours = shop(tmp_path, unfit_profiles="refuse")
    day = {"thread_hand": "right", "arm_position": "square", "as_of": "2026-03-01"}
    chart = ours.get("/v1/machines/example-bay-1/chart", query_string={**day, "format": "json"}).get_json()
    choice = post(ours, "/v1/machine-choice", {**STATED, **JOB, "as_of": "2026-03-01"})
    assert by_policy(chart) == by_policy(choice) == [("unfit_profiles", "refuse")]


# a policy that does not hold


@every_row(
    "changed, as_of, codes",
    [
        ({}, "2026-03-01", []),
        ({}, None, []),
        ({"status": "draft"}, "2026-03-01", ["policy_is_draft"]),
        ({"status": "draft"}, None, ["policy_is_draft"]),
        ({"approved_by": None}, "2026-03-01", ["policy_is_draft"]),
        ({"approved_on": None}, "2026-03-01", ["policy_is_draft"]),
        ({}, "2026-01-09", ["policy_not_in_force"]),
        ({"effective_from": "2026-04-01"}, "2026-03-31", ["policy_not_in_force"]),
        ({"effective_to": "2026-02-28"}, "2026-03-01", ["policy_not_in_force"]),
        ({"status": "draft"}, "2026-01-09", ["policy_is_draft", "policy_not_in_force"]),
    ],
)
def test_a_policy_that_does_not_hold_is_a_stop(
    changed: Mapping[str, Any], as_of: str | None, codes: list[str]
) -> None:
    day = {} if as_of is None else {"as_of": as_of}
    answer = post(
        shop(unfit_profiles="tell", **changed), PRESSURE, {**STATED, **JOB, "machine": profile(), **day}
    )
    told = {each["code"]: each for each in answer["findings"] if each["code"].startswith("policy_")}
    assert list(told) == codes
    assert all(each["level"] == "stop" and "revision 1" in each["text"] for each in told.values())


def test_a_draft_that_entered_no_answer_is_not_told() -> None:
    answer = post(shop(status="draft", relief_margin=0.2), TORQUE, TOOL_JOINT)
    assert (answer["findings"], by_policy(answer)) == ([], [])


# numbers


READINGS = [
    # rule, torque as written, its value in ft-lb and what is listed, or the code of the refusal
    ("strict", "20,000 ft-lb", None, "decimal_comma"),
    ("strict", "20000 ft-lb", 20000, None),
    ("comma_thousands", "20,000 ft-lb", 20000, "20,000 ft-lb read as 20000 lbf.ft"),
    ("comma_thousands", "20,000.5 ft-lb", 20000.5, "20,000.5 ft-lb read as 20000.5 lbf.ft"),
    ("comma_thousands", "2,5 ft-lb", None, "decimal_comma"),
    ("comma_thousands", "20000 ft-lb", 20000, None),
    ("comma_decimal", "20000,5 ft-lb", 20000.5, "20000,5 ft-lb read as 20000.5 lbf.ft"),
    ("comma_decimal", "20 000,5 ft-lb", 20000.5, "20 000,5 ft-lb read as 20000.5 lbf.ft"),
    ("comma_decimal", "20.000 ft-lb", None, "point_in_doubt"),
    ("comma_decimal", "20,000.5 ft-lb", None, "decimal_comma"),
    ("comma_decimal", "20000 ft-lb", 20000, None),
]
SHOPS = {rule: shop(numbers=rule) for rule in ("strict", "comma_thousands", "comma_decimal")}
CONVERSION = "/v1/conversion"


@every_row("rule, text, value, told", READINGS)
def test_body_query_and_table_read_a_number_alike(
    rule: str, text: str, value: float | None, told: str | None
) -> None:
    forms = in_every_form(SHOPS[rule], CONVERSION, {"quantity": text, "to": "ft-lb"})
    for form, answer in forms.items():
        if value is None:
            assert answer["code"] == told, form
            continue
        assert answer["result"]["value"] == value, form
        assert by_policy(answer) == ([("numbers", told)] if told else []), form


@every_row(
    "rule, text, factor",
    [("strict", "1.15", 1.15), ("comma_decimal", "1,15", 1.15), ("comma_thousands", "1.15", 1.15)],
)
def test_a_number_without_a_unit_is_read_alike(rule: str, text: str, factor: float) -> None:
    client = SHOPS[rule]
    question = {**TOOL_JOINT, "compound_friction_factor": text}
    expected = post(client, TORQUE, {**TOOL_JOINT, "compound_friction_factor": factor})["torque"]
    for form, answer in in_every_form(client, TORQUE, question).items():
        assert answer["torque"] == expected, form
        assert by_policy(answer) == ([("numbers", f"{text} read as {factor}")] if "," in text else []), form


RATIOS = [
    # the rule, the ratio as written, the likely torque for 20,000 ft-lb made up, the code of a refusal
    ("comma_decimal", "1,0/1,3/1,6", 26000, None),
    ("comma_decimal", "1.0/1.3/1.6", 26000, None),
    ("comma_decimal", "1,3", 26000, None),
    ("comma_decimal", "1,6/1,3/1,0", None, "out_of_range"),
    ("comma_thousands", "1,0/1,3/1,6", None, "decimal_comma"),
    ("comma_thousands", "1.0/1.3/1.6", 26000, None),
    ("strict", "1,0/1,3/1,6", None, "decimal_comma"),
]


@every_row(("rule", "written", "likely", "code"), RATIOS)
def test_three_ratios_are_read_by_the_rule_each_listed(
    rule: str, written: str, likely: float | None, code: str | None
) -> None:
    job = {**STATED, **JOB, "operation": "break_out", "machine": profile(), "made_up_torque": "20000 ft-lb"}
    answer = post(SHOPS[rule], PRESSURE, {**job, "break_out_ratio": written})
    if code:
        assert [(each["pointer"], each["code"]) for each in answer["errors"]] == [("/break_out_ratio", code)]
        return
    assert answer["break_out_torque"]["likely"]["value"] == pytest.approx(likely)
    commas = [each["value"] for each in answer["assumptions"] if each["field"] == "numbers"]
    read = [part for part in written.split("/") if "," in part]
    assert commas == [f"{part} read as {float(part.replace(',', '.')):g}" for part in read]


def test_a_comma_in_doubt_is_refused_without_a_unit_too() -> None:
    for answer in in_every_form(
        SHOPS["comma_thousands"], TORQUE, {**TOOL_JOINT, "compound_friction_factor": "1,15"}
    ).values():
        assert answer["code"] == "decimal_comma"
        assert "parts thousands" in answer["detail"]


def test_the_unit_of_a_column_holds_for_its_commas() -> None:
    sent = {"content_type": "text/csv", "query_string": {"format": "json"}}
    table = (
        b"connection,component,box_outside_diameter [in],pin_bore [in],pin_stress_level [psi]\n"
        b'NC50,tool_joint,6.625,3.25,"72,000"\n'
    )
    lines = SHOPS["comma_thousands"].post(f"{TORQUE}/batch", **{**sent, "data": table}).get_json()["lines"]
    assert by_policy(lines[0]["result"]) == [("numbers", "72,000 psi read as 72000 psi")]


def test_the_lines_of_a_batch_do_not_mix() -> None:
    quantities = ["1,000 psi", "2000 psi", "3,000 psi", "4,00 psi", "5000 psi"]
    lines = [{"quantity": each, "to": "psi"} for each in quantities]
    answers = post(SHOPS["comma_thousands"], f"{CONVERSION}/batch", {"lines": lines})["lines"]
    told = [by_policy(each["result"]) if "result" in each else each["problem_code"] for each in answers]
    assert told == [
        [("numbers", "1,000 psi read as 1000 psi")],
        [],
        [("numbers", "3,000 psi read as 3000 psi")],
        "decimal_comma",
        [],
    ]


def test_shops_in_one_process_do_not_mix() -> None:
    question = {"quantity": "1,000 psi", "to": "psi"}
    for _ in range(2):
        values = [post(each, CONVERSION, question).get("result", {}).get("value") for each in SHOPS.values()]
        assert values == [None, 1000, 1]


def test_a_stored_request_is_read_as_it_was() -> None:
    """The inputs of an answer, sent again, give the same answer: commas are kept in them."""
    question = {**TOOL_JOINT, "compound_friction_factor": "1,15", "pin_stress_level": "72000,0 psi"}
    first = SHOPS["comma_decimal"].get(TORQUE, query_string=question).get_json()
    assert post(SHOPS["comma_decimal"], TORQUE, first["inputs"]) == first


def test_a_refusal_answers_in_the_unit_of_a_value_with_a_comma() -> None:
    question = {**TOOL_JOINT, "units": "metric", "pin_stress_level": "130,000 psi"}
    answer = SHOPS["comma_thousands"].post(TORQUE, json=question).get_json()
    assert answer["code"] == "above_yield_strength"
    assert "130000 psi" in answer["detail"]
    lines = {"lines": [question] * 5}
    answered = SHOPS["comma_thousands"].post(f"{TORQUE}/batch", json=lines).get_json()["lines"]
    assert [line["problem"]["detail"] for line in answered] == [answer["detail"]] * 5


@pytest.mark.parametrize("rule", SHOPS)
def test_files_are_read_strictly_in_every_shop(rule: str) -> None:
    """What a check of a file says holds at start, where there is no request."""
    given = profile(torque_rating="60,000 ft-lb")
    checked = post(SHOPS[rule], "/v1/profile-check", given)
    assert [(each["pointer"], each["code"]) for each in checked["faults"]] == [
        ("/torque_rating", "decimal_comma")
    ]


# the check of a policy


def test_a_good_policy_is_checked(client: FlaskClient) -> None:
    checked = post(client, "/v1/policy-check", EXAMPLE_POLICY)
    assert (checked["valid"], checked["faults"], checked["findings"]) == (True, [], [])
    served = shop(**EXAMPLE_POLICY)
    assert post(served, TORQUE, TOOL_JOINT)["version"]["policy_hash"] == checked["hash"]
    assert {*checked["rules"]} == {*EXAMPLE_POLICY} & {*checked["rules"], *checked["silent"]}
    assert "decision_rule" in checked["silent"]


def test_a_draft_is_valid_and_told(client: FlaskClient) -> None:
    checked = post(client, "/v1/policy-check", policy(status="draft"))
    assert checked["valid"]
    assert [(each["level"], each["code"]) for each in checked["findings"]] == [("stop", "policy_is_draft")]


def test_every_fault_of_a_policy_is_told_by_pointer(client: FlaskClient) -> None:
    broken = policy(numbers="comma", torque_tolerance={"tool_joint": 2, "kelly_bushing": 0.1}, status=None)
    checked = post(client, "/v1/policy-check", broken)
    assert not checked["valid"]
    assert {each["pointer"]: each["code"] for each in checked["faults"]} == {
        "/status": "missing_field",
        "/torque_tolerance/tool_joint": "out_of_range",
        "/torque_tolerance/kelly_bushing": "unknown_field",
        "/numbers": "not_a_choice",
    }
    assert (checked["hash"], checked["rules"], checked["findings"]) == (None, [], [])
