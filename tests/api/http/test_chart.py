"""The chart of a machine: what ``/v1/pressure`` answers, mark by mark, in every form of it."""

import csv
import io
import json
import re
from base64 import b64encode
from collections.abc import Iterator, Mapping
from hashlib import sha256
from html.parser import HTMLParser
from math import pi
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from flask.testing import FlaskClient
from machines import profile
from policies import REFUSING

from api.app import create_app
from api.batch.cells import flat
from api.http.charting.page import page
from api.http.charting.table import COLUMNS, table
from api.settings import Settings

DEMO = Path(__file__).parents[3] / "deploy" / "demo" / "machines"
TENSIONER = "bench-2"
MACHINES = sorted(path.stem for path in DEMO.glob("*.json") if path.stem != TENSIONER)
STANDS = {"thread_hand": "right", "arm_position": "square", "gripped_outside_diameter": "5 in"}
LEFT = {**STANDS, "thread_hand": "left"}
UNKNOWN = {**STANDS, "arm_position": "unknown"}
FOOT_POUND = 0.3048 * 4.4482216152605 / 1000
"""kN.m; the pound-force is exact."""
HAIRS = (1 - 1e-9, 1 + 1e-9)
"""A torque of ten digits may lie a hair outside a calibration that ends at its mark."""

every_machine = pytest.mark.parametrize("machine", MACHINES)
computed_and_calibrated = "north-bay-2", "south-bay-9"
every_machine_at_length = pytest.mark.parametrize(
    "machine",
    [
        pytest.param(name, marks=[] if name in computed_and_calibrated else pytest.mark.evidence)
        for name in MACHINES
    ],
)
every_picture = pytest.mark.parametrize("form", ["html", "svg"])


def asked(client: FlaskClient, machine: str, query: Mapping[str, str], form: str = "json") -> Any:
    answer = client.get(f"/v1/machines/{machine}/chart", query_string={**query, "format": form})
    assert answer.status_code == 200, answer.text
    return answer.get_json() if form == "json" else answer.text


def service(folder: Path, *profiles: Mapping[str, Any]) -> FlaskClient:
    """A service with these machines only."""
    for each in profiles:
        (folder / f"{each['id']}.json").write_text(json.dumps(each), "utf-8")
    return create_app(Settings(machines=folder)).test_client()


def pressure(
    client: FlaskClient, machine: str, operation: str, query: Mapping[str, str], torque: str, **more: str
) -> Any:
    """What ``/v1/pressure`` answers to a joint that wants a torque."""
    stated = {"family": "stated", "torque_target": torque, "torque_source": "the chart"}
    task = {**query, "machine": machine, "operation": operation, "break_out_ratio": "1", **more}
    return client.get("/v1/pressure", query_string={**stated, **task})


# the figures

DRIVEN = ("cylinder_side", "second_cylinder_side", "motor_port", "gauge")
"""What is under pressure, each where a machine has it; the gauge always."""


@every_machine
@pytest.mark.parametrize("query", [STANDS, LEFT], ids=["right", "left"])
def test_values_are_those_of_pressure(client: FlaskClient, machine: str, query: Mapping[str, str]) -> None:
    whole = asked(client, machine, query)
    assert [chart["operation"] for chart in whole["charts"]] == ["make_up", "break_out"]
    for chart in whole["charts"]:
        assert len(chart["marks"]) >= 2
        for mark in chart["marks"]:
            for system in ("us", "metric"):
                _assert_same(client, machine, query, chart, mark, system)


def _assert_same(
    client: FlaskClient,
    machine: str,
    query: Mapping[str, str],
    chart: Mapping[str, Any],
    mark: Mapping[str, Any],
    system: str,
) -> None:
    torque = mark["torque_at_gauge_setting"][system]
    if chart["operation"] == "break_out":
        _assert_delivered(client, machine, {**query, "units": system}, mark, torque)
        return
    hair = HAIRS[mark == chart["marks"][0]]
    target = f"{torque['value'] * hair!r} {torque['unit']}"
    answer = pressure(client, machine, chart["operation"], {**query, "units": system}, target).get_json()
    for name in ("gauge_setting", "gauge_error_share"):
        assert answer[name] == mark[name]
    for name in ("torque_at_gauge_setting", "torque_lower_bound", "torque_upper_bound"):
        assert answer[name] == mark[name][system]
    for name in ("best_estimate", "expanded"):
        assert answer["uncertainty"][name] == mark["uncertainty"][name][system]
    assert answer["uncertainty"]["expanded_share"] == mark["uncertainty"]["expanded_share"]
    assert {name: answer[name] for name in DRIVEN if name in answer} == {
        name: chart[name] for name in DRIVEN if name in chart
    }
    verdicts = {check["name"]: check["verdict"] for check in answer["checks"]}
    assert (verdicts["gauge_working_range"] == "pass") == mark["in_working_range"]
    assert (verdicts["torque_rating_worst_case"] == "pass") == mark["worst_case_within_rating"]


def _assert_delivered(
    client: FlaskClient,
    machine: str,
    query: Mapping[str, str],
    mark: Mapping[str, Any],
    torque: Mapping[str, Any],
) -> None:
    """At a break-out nothing is set: the torque is that of the reading."""
    reading = f"{mark['gauge_setting']['value']!r} {mark['gauge_setting']['unit']}"
    task = {**query, "machine": machine, "operation": "break_out", "gauge_reading": reading}
    assert client.get("/v1/delivered-torque", query_string=task).get_json()["delivered_torque"] == torque


@every_machine
def test_the_last_mark_of_a_break_out_is_that_not_to_be_exceeded(client: FlaskClient, machine: str) -> None:
    """Relief is then set as high as the machine bears: for a joint that needs the torque of that mark."""
    _, chart = asked(client, machine, STANDS)["charts"]
    torque = chart["marks"][-1]["torque_at_gauge_setting"]["metric"]["value"] * HAIRS[0]
    wanted = f"{torque!r} kN.m"
    answer = pressure(client, machine, "break_out", STANDS, wanted, made_up_torque=wanted).get_json()
    assert answer["do_not_exceed"] == chart["marks"][-1]["gauge_setting"]


@pytest.mark.parametrize("machine", ["north-bay-2", "north-bay-7", "yard-1"])
def test_an_unknown_position_is_charted_as_pressure_answers_it(client: FlaskClient, machine: str) -> None:
    for chart in asked(client, machine, UNKNOWN)["charts"]:
        for mark in chart["marks"]:
            _assert_same(client, machine, UNKNOWN, chart, mark, "us")


@every_machine_at_length
def test_every_mark_that_pressure_sets_is_charted_and_no_other(client: FlaskClient, machine: str) -> None:
    """Mark by mark over the whole dial, each asked for the torque that it delivers."""
    for chart in asked(client, machine, {**STANDS, "every": "true"})["charts"][:1]:
        charted = [mark["gauge_setting"]["value"] for mark in chart["marks"]]
        division, span = chart["gauge_division"]["value"], chart["gauge_span"]
        limits = {limit["name"]: limit["reading"] for limit in chart["limits"]}
        marks = [
            float(f"{number * division:.12g}") for number in range(1, round(span["value"] / division) + 1)
        ]
        above = [mark for mark in marks if mark >= limits["lowest_setting"]["value"] * (1 - 1e-9)]
        found = [mark for mark in above if _is_set(client, machine, chart["operation"], mark, span["unit"])]
        assert charted == found


def _is_set(client: FlaskClient, machine: str, operation: str, mark: float, unit: str) -> bool:
    """Whether ``/v1/pressure`` sets a mark for a joint that wants the torque there."""
    task = {**STANDS, "machine": machine, "operation": operation, "gauge_reading": f"{mark!r} {unit}"}
    delivered = client.get("/v1/delivered-torque", query_string={**task, "units": "si"}).get_json()
    if "delivered_torque" not in delivered:
        return False
    torque = delivered["delivered_torque"]["value"]
    answers = [
        pressure(client, machine, operation, STANDS, f"{torque * hair!r} N.m").get_json() for hair in HAIRS
    ]
    return any(answer.get("gauge_setting", {}).get("value") == mark for answer in answers)


PISTON, ROD_SIDE = pi / 4 * 5**2, pi / 4 * (5**2 - 2.5**2)  # north-bay-2: 5 in bore, 2.5 in rod, 3 ft arm
BY_HAND = [
    # machine, operation, mark, torque and worst case in ft-lb; the gauges are good for 30 and 80 psi, 200 lbf
    # and 100 psi
    ("north-bay-2", "make_up", 1000,
        3 * 0.95 * ROD_SIDE * (1000 - 30), 3 * 0.92 * ROD_SIDE * (970 - 30),
        3 * 0.98 * ROD_SIDE * (1030 - 30)),
    ("north-bay-2", "break_out", 800,
        3 * 0.95 * PISTON * (800 - 30), 3 * 0.92 * PISTON * (720 - 30), 3 * 0.98 * PISTON * (880 - 30)),
    ("yard-1", "make_up", 10000, 4 * 10000, 4 * 0.97 * 9800, 4 * 10200),
    ("bench-1", "break_out", 5000, 2500, 0.5 * 0.97 * 4900, 0.5 * 1.03 * 5100),
    # straight between 39950 at 1000 psi and 60700 at 1500; 1.4 % of the calibration, 7.5 psi of drift
    ("south-bay-9", "make_up", 1200, 39950 + 200 * 41.5,
        0.986 * (39950 + 192.5 * 41.5), 1.014 * (39950 + 207.5 * 41.5)),
]  # fmt: skip


@pytest.mark.parametrize(("machine", "operation", "at", "torque", "low", "high"), BY_HAND)
def test_figures_worked_by_hand(
    client: FlaskClient, machine: str, operation: str, at: float, torque: float, low: float, high: float
) -> None:
    charts = {chart["operation"]: chart for chart in asked(client, machine, STANDS)["charts"]}
    (mark,) = [each for each in charts[operation]["marks"] if each["gauge_setting"]["value"] == at]
    for name, worked in (("at_gauge_setting", torque), ("lower_bound", low), ("upper_bound", high)):
        shown = mark[f"torque_{name}"]
        assert shown["us"] == {"value": pytest.approx(worked, rel=1e-9), "unit": "lbf.ft"}
        assert shown["metric"] == {"value": pytest.approx(worked * FOOT_POUND, rel=1e-9), "unit": "kN.m"}


@every_machine
def test_a_readable_choice_of_all_marks(client: FlaskClient, machine: str) -> None:
    some, every = asked(client, machine, STANDS), asked(client, machine, {**STANDS, "every": "true"})
    for few, all_of_them in zip(some["charts"], every["charts"], strict=True):
        marks, of = few["marks"], all_of_them["marks"]
        assert 2 <= len(marks) <= 21
        assert [mark for mark in of if mark in marks] == marks
        assert (marks[0], marks[-1]) == (of[0], of[-1])


@pytest.mark.parametrize(
    ("machine", "operation", "marks"),
    [
        # 80,000 / 43.29507 + 30 - 40 of override = 1,837.8, so 1,800 is its last mark: 1.1 x 1,600 = 1,760
        ("north-bay-2", "make_up", [150, *range(200, 1700, 100)]),
        # 137.0 - 4 of override = 133 bar: 1.1 x 120 = 132 bar is a mark
        ("south-bay-1", "make_up", [*range(10, 130, 10)]),
        ("north-bay-5", "make_up", [500, 1000]),
    ],
)
def test_marks_that_are_chosen(client: FlaskClient, machine: str, operation: str, marks: list[int]) -> None:
    charts = {chart["operation"]: chart for chart in asked(client, machine, STANDS)["charts"]}
    assert [mark["gauge_setting"]["value"] for mark in charts[operation]["marks"]] == marks


def test_limits_are_those_of_the_profile(client: FlaskClient) -> None:
    """Relief protects the machine up to 60,000 / 43.29507 + 30 = 1,415.839 psi, less the override of 40."""
    chart = asked(client, "north-bay-2", STANDS)["charts"][0]
    shown = {limit["name"]: limit["reading"] and limit["reading"]["value"] for limit in chart["limits"]}
    assert shown == {
        "lowest_setting": 150, "working_range_from": 750, "working_range_to": 2250,
        "relief_setting_from": 300, "relief_setting_to": 2500, "relief_full_flow": 2540,
        "relief_protects": pytest.approx(1837.78528, rel=1e-8), "rated_cylinder": 3000, "rated_hoses": 3000,
        "gauge_end": 3000, "torque_rating": None, "torque_at_relief": None,
    }  # fmt: skip
    torques = {limit["name"]: limit["amount"]["us"]["value"] for limit in chart["limits"]}
    assert torques["torque_rating"] == 80000
    assert torques["torque_at_relief"] == pytest.approx(3 * 0.98 * ROD_SIDE * (2540 - 30), rel=1e-9)
    (found,) = chart["findings"]
    assert (found["level"], found["code"]) == ("look", "relief_too_high")
    assert found["remedy"] == "For make-up, set relief to at most 1837 psi."


def test_the_limits_of_a_fixed_relief_valve(client: FlaskClient) -> None:
    """It cracks at 1,050 psi, so the last mark of 20 psi is 940: 1.1 x 940 = 1,034; 1.1 x 960 = 1,056."""
    chart = asked(client, "north-bay-7", STANDS)["charts"][0]
    shown = {limit["name"]: limit["reading"] and limit["reading"]["value"] for limit in chart["limits"]}
    assert (shown["relief_cracking"], shown["relief_full_flow"]) == (1050, 1150)
    assert not {"relief_protects", "relief_setting_from", "relief_setting_to"} & set(shown)
    assert chart["marks"][-1]["gauge_setting"]["value"] == 940


def test_the_record(client: FlaskClient) -> None:
    query = {**STANDS, "as_of": "2026-11-24"}
    whole = asked(client, "north-bay-2", query)
    entry = client.get("/v1/machines/north-bay-2").get_json()
    version = {**whole["version"]}
    assert version.pop("profile_hash") == entry["hash"]
    assert (version["profile_id"], version["profile_revision"]) == ("north-bay-2", "3")
    assert whole["inputs"] == {"machine": "north-bay-2", **query}
    assert whole["governance"] == {
        "status": "approved", "approved_by": "workshop manager", "approved_on": "2026-01-15",
        "effective_from": "2026-01-15", "effective_to": None, "certificate": "C-0417",
        "calibration_due": "2027-01-15",
    }  # fmt: skip
    assert {check["verdict"] for check in whole["checks"]} == {"pass"}
    assert len(whole["sources"]) == 3  # the statics, and the accuracy of two gauges


# refusals


REFUSED = [
    ("north-bay-2", {}, 422, {"missing_field"}),
    ("north-bay-2", {**STANDS, "operation": "make_up"}, 422, {"unknown_field"}),
    ("north-bay-2", {**STANDS, "units": "us"}, 422, {"unknown_field"}),
    ("north-bay-2", {**STANDS, "gripped_outside_diameter": "11 in"}, 422, {"diameter_not_gripped"}),
    ("north-bay-2", {**STANDS, "arm_position": "70 in"}, 422, {"outside_stroke"}),
    ("north-bay-7", {**STANDS, "arm_position": "50 in"}, 422, {"no_cylinder_length"}),
    ("north-bay-2", {"thread_hand": "right"}, 422, {"arm_position_required"}),
    ("yard-2", UNKNOWN, 422, {"angle_off_square_unknown"}),
    ("south-bay-9", UNKNOWN, 422, {"position_not_calibrated"}),
    ("south-bay-4", {"thread_hand": "right", "arm_position": "square"}, 422, {"gripped_diameter_required"}),
    (TENSIONER, STANDS, 422, {"gives_no_torque"}),
    ("north-bay-2", {**STANDS, "format": "pdf"}, 422, {"not_a_choice"}),
    ("north-bay-2", {**STANDS, "every": "perhaps"}, 422, {"not_a_flag"}),
]


@pytest.mark.parametrize(("machine", "query", "status", "codes"), REFUSED)
def test_a_refusal(
    client: FlaskClient, machine: str, query: Mapping[str, str], status: int, codes: set[str]
) -> None:
    answer = client.get(f"/v1/machines/{machine}/chart", query_string=query)
    assert (answer.status_code, answer.mimetype) == (status, "application/problem+json")
    errors = answer.get_json()["errors"]
    assert {error["code"] for error in errors} == codes
    assert all("parameter" in error and "pointer" not in error for error in errors)
    assert len(errors) == len({(error["parameter"], error["code"]) for error in errors})


def test_an_unknown_machine(client: FlaskClient) -> None:
    answer = client.get("/v1/machines/north-bay-22/chart", query_string=STANDS)
    problem = answer.get_json()
    assert (answer.status_code, problem["code"]) == (404, "unknown_machine")
    assert "north-bay-2" in problem["detail"]


@pytest.mark.parametrize(
    ("machine", "query", "codes"),
    [
        ("south-bay-6", {**STANDS, "as_of": "2026-11-24"}, {"profile_is_draft"}),
        ("south-bay-3", {**STANDS, "as_of": "2026-11-24"}, {"calibration_overdue"}),
        ("north-bay-2", STANDS, {"as_of_required"}),
        ("north-bay-2", {**STANDS, "as_of": "2026-01-01"}, {"profile_not_in_force"}),
        ("north-bay-2", {**STANDS, "as_of": "2026-11-24"}, set()),
    ],
)
def test_a_shop_that_refuses_what_is_unfit(machine: str, query: Mapping[str, str], codes: set[str]) -> None:
    shop = create_app(Settings(machines=DEMO, policy=REFUSING)).test_client()
    answer = shop.get(f"/v1/machines/{machine}/chart", query_string=query)
    assert {error["code"] for error in answer.get_json().get("errors", ())} == codes


def test_no_mark_within_the_limits(tmp_path: Path) -> None:
    """The lowest setting lies above relief cracking."""
    shop = service(tmp_path, profile(lowest_setting="2600 psi"))
    problem = shop.get("/v1/machines/example-bay-1/chart", query_string=STANDS).get_json()
    assert problem["code"] == "nothing_to_chart"
    assert [error["detail"].partition(" from ")[0] for error in problem["errors"]] == [
        "no mark of gauge EX-1",
        "no mark of gauge EX-2",
    ]


def test_one_operation_without_a_chart_is_told_beside_the_other(tmp_path: Path) -> None:
    """Calibrated on the cap side only."""
    given = json.loads((DEMO / "south-bay-9.json").read_text("utf-8"))
    del given["calibrated"]["sides"]["rod"]
    shop = service(tmp_path, given)
    whole = asked(shop, "south-bay-9", STANDS)
    assert [chart["operation"] for chart in whole["charts"]] == ["make_up"]
    (missing,) = whole["not_charted"]
    assert (missing["operation"], missing["reasons"][0]["code"]) == ("break_out", "side_not_calibrated")
    for form in ("html", "svg"):
        assert "BREAK-OUT is not charted: this machine is calibrated on cap only" in asked(
            shop, "south-bay-9", STANDS, form
        )


# forms


NEGOTIATED = [
    ({}, None, "application/json"),
    ({"format": "json"}, "text/html", "application/json"),
    ({"format": "csv"}, None, "text/csv"),
    ({"format": "svg"}, "application/json", "image/svg+xml"),
    ({"format": "html"}, None, "text/html"),
    ({}, "text/csv", "text/csv"),
    ({}, "image/svg+xml, text/html;q=0.5", "image/svg+xml"),
    ({}, "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "text/html"),
    ({}, "*/*", "application/json"),
    ({}, "image/png", "application/problem+json"),
]


@pytest.mark.parametrize(("form", "accept", "media_type"), NEGOTIATED)
def test_negotiation(
    client: FlaskClient, form: Mapping[str, str], accept: str | None, media_type: str
) -> None:
    headers = {"Accept": accept} if accept else {}
    answer = client.get("/v1/machines/north-bay-2/chart", query_string={**STANDS, **form}, headers=headers)
    assert answer.mimetype == media_type
    assert answer.status_code == (406 if media_type.endswith("problem+json") else 200)
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize("form", ["json", "csv", "svg", "html"])
def test_the_same_question_gives_the_same_bytes(client: FlaskClient, form: str) -> None:
    first, second = (asked(client, "south-bay-8", STANDS, form) for _ in range(2))
    assert first == second


@every_machine
def test_the_table_holds_what_json_holds(client: FlaskClient, machine: str) -> None:
    whole = asked(client, machine, STANDS)
    text = asked(client, machine, STANDS, "csv")
    assert text.endswith("\r\n")
    header, *rows = csv.reader(io.StringIO(text, newline=""))
    assert header == list(COLUMNS)
    expected = [(chart, mark) for chart in whole["charts"] for mark in chart["marks"]]
    for cells, (chart, mark) in zip(rows, expected, strict=True):
        row = dict(zip(header, cells, strict=True))
        told = {
            **flat(mark, {}),
            **flat({"version": whole["version"], "governance": whole["governance"]}, {}),
        }
        told |= {name: chart.get(name) for name in ("operation", *DRIVEN)}
        told |= {name: whole[name] for name in ("machine", "site", "kind", "thread_hand", "status", "as_of")}
        assert {name: row[name] for name in told} == {name: as_cell(value) for name, value in told.items()}
        for each in (*chart["findings"], *whole["findings"]):
            assert f"{each['level']}: {each['text']}" in row["findings"]
        assert row["standing_notices"].split("; ") == [each["id"] for each in whole["standing_notices"]]


def as_cell(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    text = "" if value is None else str(value)
    return f"{text}0" if re.fullmatch(r"-?[0-9]+\.[0-9]{3}", text) else text  # see the test of decimals below


class Page(HTMLParser):
    """The tags of a page, its attributes, the text of its cells, and all its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.names: set[str] = set()
        self.rows: list[list[str]] = []
        self.text = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.names |= {name for name, _ in attrs}
        if tag == "tr":
            self.rows.append([])
        if tag == "td":
            self.rows[-1].append("")

    def handle_data(self, data: str) -> None:
        self.text += data
        if self.tags and self.tags[-1] in ("td", "i") and data.strip():
            self.rows[-1][-1] += data


def printed(words: str) -> float:
    return float(words.replace("\u202f", "").rstrip("*"))


@every_machine
def test_printed_figures_are_those_of_json_and_no_bound_is_rounded_inwards(
    client: FlaskClient, machine: str
) -> None:
    whole = asked(client, machine, STANDS)
    rows = [row for row in Page(asked(client, machine, STANDS, "html")).rows if row]
    marks = [mark for chart in whole["charts"] for mark in chart["marks"]]
    for row, mark in zip(rows, marks, strict=True):
        own, other = ("metric", "us") if mark["gauge_setting"]["unit"] == "bar" else ("us", "metric")
        setting, reading, torque, other_torque, low, high, percent = map(printed, row)
        assert setting == mark["gauge_setting"]["value"]
        for shown, words, value in (
            (reading, row[1], mark["reading"][other]["value"]),
            (torque, row[2], mark["torque_at_gauge_setting"][own]["value"]),
            (other_torque, row[3], mark["torque_at_gauge_setting"][other]["value"]),
        ):
            assert abs(shown - value) <= 0.5000001 * unit_of_last_digit(words)
        for shown, words, value, sign in (
            (low, row[4], mark["torque_lower_bound"][own]["value"], -1),
            (high, row[5], mark["torque_upper_bound"][own]["value"], 1),
            (percent, row[6], 100 * mark["uncertainty"]["expanded_share"], 1),
        ):
            assert 0 <= sign * (shown - value) < unit_of_last_digit(words)
        assert ("*" in row[5]) != mark["worst_case_within_rating"]


def unit_of_last_digit(words: str) -> float:
    return 10.0 ** -len(words.rstrip("*").partition(".")[2])


# safety of what a browser shows


HOSTILE = {
    "approved_by": '"><script>alert(1)</script>',
    "site": "</title></style><img src=//example.org onerror=alert(1)>",
    "revision": "'&amp;<svg onload=a",
    "calibration": {"certificate": "]]><a href='javascript:alert(1)'>&#x3c;b>", "due": "2027-01-15"},
    "gauges__make_up__serial": "=cmd|'/C calc'!A0",
    "gauges__break_out__serial": "</svg><script>{{ 7 * 7 }}",
}


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    """A machine whose every free text tries to be something else."""
    return service(tmp_path_factory.mktemp("machines"), profile(**HOSTILE))


def free_texts() -> Iterator[str]:
    for value in HOSTILE.values():
        yield value if isinstance(value, str) else value["certificate"]


def test_text_of_a_profile_is_text_on_the_page(hostile: FlaskClient) -> None:
    page = Page(asked(hostile, "example-bay-1", STANDS, "html"))
    assert {"script", "img", "a", "iframe", "link", "form"}.isdisjoint(page.tags)
    assert page.names <= {
        "lang", "charset", "name", "content", "class", "colspan", "viewbox", "preserveaspectratio",
        "aria-hidden", "d", "role",
        *DRAWN_NAMES,
    }  # fmt: skip
    assert page.tags.count("style") == 1
    for text in free_texts():
        assert text in page.text


DRAWN_NAMES = {
    *("x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "width", "height", "points", "fill", "stroke"),
    *("stroke-width", "stroke-dasharray", "font-size", "font-weight", "text-anchor", "transform", "id"),
    *("patternunits", "patterntransform"),
}


def test_text_of_a_profile_is_text_in_the_drawing(hostile: FlaskClient) -> None:
    drawing = ElementTree.fromstring(asked(hostile, "example-bay-1", STANDS, "svg"))
    elements = list(drawing.iter())
    space = "{http://www.w3.org/2000/svg}"
    tags = {element.tag.removeprefix(space) for element in elements}
    assert tags <= {
        *("svg", "title", "rect", "g", "text", "line", "polyline", "polygon", "circle", "pattern"),
    }  # fmt: skip
    names = {name.lower() for element in elements for name in element.attrib}
    assert names <= DRAWN_NAMES | {"viewbox", "font-family"}
    said = " ".join(element.text or "" for element in elements)
    for text in free_texts():
        assert text in said


def test_text_of_a_profile_is_no_formula_in_the_table(hostile: FlaskClient) -> None:
    rows = list(csv.DictReader(io.StringIO(asked(hostile, "example-bay-1", STANDS, "csv"), newline="")))
    assert {row["gauge"] for row in rows} == {"'=cmd|'/C calc'!A0", HOSTILE["gauges__break_out__serial"]}


@every_picture
def test_a_picture_is_black_and_white_and_asks_for_nothing(client: FlaskClient, form: str) -> None:
    for machine in MACHINES:
        text = asked(client, machine, STANDS, form)
        assert set(re.findall(r"(?<!&)#[0-9a-fA-F]{3,8}\b", text)) == {"#000", "#fff"}
        assert not re.search(r"\b(rgb|hsl|gray|grey)\b", text)
        assert set(re.findall(r"url\(([^)]*)\)", text)) <= {"#hatch-make_up", "#hatch-break_out"}
        assert text.count("//") == text.count("http://www.w3.org/2000/svg")


def test_a_browser_may_only_draw(client: FlaskClient) -> None:
    address = "/v1/machines/north-bay-2/chart"
    page = client.get(address, query_string={**STANDS, "format": "html"})
    (style,) = re.findall(r"<style>(.*?)</style>", page.text, re.DOTALL)
    digest = b64encode(sha256(style.encode()).digest()).decode()
    nothing = "default-src 'none'; base-uri 'none'; form-action 'none'"
    assert page.headers["Content-Security-Policy"] == f"{nothing}; style-src 'sha256-{digest}'"
    assert "style=" not in page.text
    drawing = client.get(address, query_string={**STANDS, "format": "svg"})
    assert drawing.headers["Content-Security-Policy"] == nothing
    assert "style" not in drawing.text


# what a sheet says


SAID = [
    ("north-bay-2", {}, ["ROD SIDE under pressure", "right-hand thread", "arm square"]),
    ("north-bay-2", {}, ["Gauge G-11: 0 to 3000 psi", "one division 50 psi", "at the work port"]),
    ("north-bay-2", {"thread_hand": "left"}, ["CAP SIDE under pressure", "LEFT-HAND THREAD"]),
    ("north-bay-2", {"arm_position": "48 in"}, ["cylinder 48 in (1219 mm) from pin to pin"]),
    ("north-bay-2", {"arm_position": "unknown"}, ["ARM POSITION UNKNOWN"]),
    ("south-bay-8", {}, ["cylinder 1 CAP, cylinder 2 ROD"]),
    ("north-bay-8", {}, ["PORT A under pressure", "PORT B under pressure"]),
    ("bench-1", {}, ["AT THE PUMP", "reaction member"]),
    ("south-bay-1", {}, ["outside diameter in the grip 127 mm (5 in)", "one division 2 bar"]),
    ("north-bay-2", {"as_of": "2026-11-24"}, [
        "Profile north-bay-2, revision 3 (", "calibration certificate C-0417, due 2027-01-15",
        "approved by workshop manager on 2026-01-15", "checked for 2026-11-24",
        "the machine maker's manual, the standard in force, local codes or licensed practice",
    ]),
]  # fmt: skip


@every_picture
@pytest.mark.parametrize(("machine", "query", "said"), SAID)
def test_what_a_sheet_says(
    client: FlaskClient, form: str, machine: str, query: Mapping[str, str], said: list[str]
) -> None:
    page = Page(asked(client, machine, {**STANDS, **query}, form))
    in_one_line = " ".join(page.text.replace("</text>", " ").split())
    for words in said:
        assert words in in_one_line if form == "html" else words.split(",")[0] in page.text


@every_picture
@pytest.mark.parametrize(
    ("machine", "as_of", "reason"),
    [
        ("south-bay-6", None, "the profile is a draft"),
        ("south-bay-3", "2026-11-24", "is overdue on 2026-11-24"),
        ("north-bay-2", "2026-01-01", "is not in force"),
        ("north-bay-2", "2026-11-24", None),
        ("north-bay-2", None, None),
    ],
)
def test_what_is_not_to_be_used_says_so_on_every_sheet(
    client: FlaskClient, form: str, machine: str, as_of: str | None, reason: str | None
) -> None:
    text = asked(client, machine, {**STANDS, **({"as_of": as_of} if as_of else {})}, form)
    sheets = {"html": 4, "svg": 2}[form]
    assert text.count("NOT FOR USE") == (sheets if reason else 0)
    assert reason is None or text.count(reason) >= sheets


def test_marks_without_a_budget_say_why_on_the_sheet_and_in_the_table(client: FlaskClient) -> None:
    whole = asked(client, "north-bay-2", STANDS)
    first, *others = whole["charts"][0]["marks"]
    first |= {"uncertainty": None, "reasons": {"uncertainty": "invented"}}
    assert page(whole).count("– No uncertainty: invented.") == 1
    rows = list(csv.DictReader(io.StringIO(table(whole), newline="")))
    assert [row["reasons"] for row in rows[: 1 + len(others)]] == [
        "uncertainty: invented",
        *[""] * len(others),
    ]
    assert rows[0]["uncertainty.expanded.us"] == "" != rows[1]["uncertainty.expanded.us"]


def test_no_number_of_the_table_has_exactly_three_decimals(client: FlaskClient) -> None:
    """As in a batch: a German sheet would read it a thousand times too large."""
    asked = {"thread_hand": "right", "arm_position": "square", "every": "true"}
    text = client.get("/v1/machines/south-bay-9/chart", query_string={**asked, "format": "csv"}).text
    cells = [cell for row in csv.reader(text.splitlines()) for cell in row]
    assert any(re.fullmatch(r"[0-9]+\.[0-9]{3}0", cell) for cell in cells)
    assert [cell for cell in cells if re.fullmatch(r"-?[0-9]+\.[0-9]{3}", cell)] == []
