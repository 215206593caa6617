"""The Python client against the application itself."""

import csv
import importlib.util
import json
import re
import runpy
import socket
import sys
import tracemalloc
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType
from typing import Any

import dialset_client
import pytest
import requests
from dialset_client import Dialset, DialsetError, NotATable, NotReachable, Refused
from dialset_client._in_process import ApplicationAdapter
from flask import Flask
from flask.testing import FlaskClient

from api.http.openapi.document import build

ROOT = Path(__file__).parents[2]
CLIENT = ROOT / "clients" / "python"
JOINT = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
JOB = {"machine": "north-bay-2", "operation": "make_up", "thread_hand": "right", "arm_position": "square"}


@pytest.fixture
def shop(app: Flask) -> Dialset:
    return Dialset.in_process(app)


def test_methods_are_those_of_the_document() -> None:
    spec = importlib.util.spec_from_file_location("generate", CLIENT / "generate.py")
    assert spec is not None
    assert spec.loader is not None
    generate = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(generate)
    committed = (CLIENT / "src" / "dialset_client" / "_methods.py").read_text("utf-8")
    assert committed == generate.formatted(generate.written(build()))


def test_public_names_are_listed_and_sorted() -> None:
    assert dialset_client.__all__ == sorted(dialset_client.__all__)
    assert all(hasattr(dialset_client, name) for name in dialset_client.__all__)


def test_main_job(shop: Dialset) -> None:
    """750 psi on the rod side: worked by hand in the tests of the service."""
    answer = shop.pressure(**JOINT, **JOB)  # type: ignore[arg-type]
    assert answer["gauge_setting"] == {"value": 750.0, "unit": "psi"}
    assert answer["cylinder_side"] == "rod"


HOW_MUCH: list[dict[str, Any]] = [
    {},
    {"detail": "short"},
    {"detail": "full"},
    {"answers": "torque.target,gauge_setting"},
    {"detail": "full", "answers": "gauge"},
]
WAYS: dict[str, Any] = {
    "a question": lambda shop, asked, portion: shop.pressure(**asked, **portion),
    "in words": lambda shop, asked, portion: shop.in_words("pressure", {**asked, **portion}),
    "in JSON": lambda shop, asked, portion: shop.in_json("pressure", json.dumps(asked).encode(), **portion),
    "a line": lambda shop, asked, portion: next(shop.batch("pressure", [asked], **portion))["result"],
    "defaults": lambda shop, asked, more: next(shop.batch("pressure", [asked], defaults=more))["result"],
}


@pytest.mark.parametrize("portion", HOW_MUCH, ids=str)
@pytest.mark.parametrize("way", WAYS)
def test_how_much_is_handed_on(shop: Dialset, plain: FlaskClient, way: str, portion: dict[str, str]) -> None:
    asked = {**JOINT, **JOB}
    told = plain.post("/v1/pressure", json=asked, query_string=portion).get_json()
    assert WAYS[way](shop, asked, portion) == told


@pytest.mark.parametrize("portion", HOW_MUCH, ids=str)
def test_how_much_is_handed_on_with_a_file(
    shop: Dialset, plain: FlaskClient, tmp_path: Path, portion: dict[str, str]
) -> None:
    """In windows too, with the columns of one answer."""
    source, target = tmp_path / "in.csv", tmp_path / "out.csv"
    source.write_text("quantity,to\n" + "1 in,mm\n" * 3, "utf-8")
    portion = {**portion, **({"answers": "kind,result"} if "answers" in portion else {})}
    given = {"data": source.read_bytes(), "content_type": "text/csv", "query_string": portion}
    told = plain.post("/v1/conversion/batch", **given).data
    for window in (1, 3):
        assert shop.batch_file("conversion", source, target, window=window, **portion).answered == 3
        assert target.read_bytes() == told


@pytest.mark.parametrize(
    "ask",
    [
        lambda shop: shop.torque_rotary_shouldered(**{k: v for k, v in JOINT.items() if k != "family"}),
        lambda shop: shop.delivered_torque(gauge_reading="750 psi", **JOB),
        lambda shop: shop.machine_choice(**JOINT, **{k: v for k, v in JOB.items() if k != "machine"}),
        lambda shop: shop.conversion(quantity={"value": 1, "unit": "in"}, to="mm"),
        lambda shop: shop.connections(low_torque_face=True),
        lambda shop: shop.connection("4-1/2 IF"),
        lambda shop: shop.machines(site="north"),
        lambda shop: shop.machine("north-bay-2"),
        lambda shop: shop.units(kind="torque"),
        lambda shop: shop.sources(),
        lambda shop: shop.problems(),
        lambda shop: shop.problem("bare_number"),
        lambda shop: shop.profile_check({}),
        lambda shop: shop.chart("north-bay-2", thread_hand="right", arm_position="square"),
        lambda shop: shop.chart_page("north-bay-2", thread_hand="right", arm_position="square"),
        lambda shop: shop.ready(),
        lambda shop: shop.edition(),
        lambda shop: shop.receipt_check(shop.conversion(quantity="1 in", to="mm")),
    ],
)
def test_every_method_answers(shop: Dialset, ask: Any) -> None:
    assert ask(shop)


DECIMAL: dict[str, Any] = {"compound_friction_factor": Decimal("1.25"), "as_of": date(2026, 11, 24)}
WRITTEN = {"compound_friction_factor": "1.25", "as_of": "2026-11-24"}
DATED: dict[str, Callable[[Dialset, Path, dict[str, Any]], Any]] = {
    "a question": lambda shop, _, given: shop.pressure(**JOINT, **JOB, **given),  # type: ignore[arg-type]
    "in words": lambda shop, _, given: shop.in_words("pressure", {**JOINT, **JOB, **given}),
    "a value": lambda shop, _, given: shop.value(
        "pressure", "torque.target", "ft-lb", {**JOINT, **JOB, **given}
    ),
    "a line": lambda shop, _, given: list(shop.batch("pressure", [{**JOINT, **JOB, **given}])),
    "defaults": lambda shop, _, given: list(shop.batch("pressure", [JOINT], defaults={**JOB, **given})),
    "a file": lambda shop, source, given: (
        shop.batch_file("pressure", source, source.with_name("out.csv"), **JOB, **given),
        source.with_name("out.csv").read_bytes(),
    ),
}


@pytest.mark.parametrize("way", DATED)
def test_decimals_and_dates_are_taken_as_their_text(shop: Dialset, tmp_path: Path, way: str) -> None:
    source = tmp_path / "in.csv"
    source.write_text(f"{','.join(JOINT)}\n{','.join(JOINT.values())}\n", "utf-8")
    told = DATED[way](shop, source, DECIMAL)
    assert told == DATED[way](shop, source, WRITTEN)
    assert told != DATED[way](shop, source, {**WRITTEN, "compound_friction_factor": "1.5"})


def test_a_decimal_of_a_quantity_and_a_mapping_of_any_kind(shop: Dialset) -> None:
    size = MappingProxyType({"value": Decimal("6.5"), "unit": "in"})
    assert shop.conversion(quantity=size, to="mm")["result"] == {"value": 165.1, "unit": "mm"}


@pytest.mark.parametrize("value", [object, b"1 in", {1}, float("nan"), {(1, 2): 3}], ids=repr)
def test_what_json_has_no_kind_for_is_told(shop: Dialset, value: Any) -> None:
    with pytest.raises(ValueError, match="cannot be sent as JSON"):
        shop.conversion(quantity=value, to="mm")
    with pytest.raises(ValueError, match="cannot be sent as JSON"):
        list(shop.batch("conversion", [{"quantity": value, "to": "mm"}]))


def test_a_refusal_carries_the_problem(shop: Dialset) -> None:
    with pytest.raises(Refused) as refusal:
        shop.pressure(**{**JOINT, **JOB, "connection": "NC51", "machine": "nowhere"})  # type: ignore[arg-type]
    assert refusal.value.status == 422
    assert refusal.value.code == "several_faults"
    assert {error["code"] for error in refusal.value.errors} == {"unknown_connection", "unknown_machine"}
    assert "connection 'NC51': no connection of this name" in str(refusal.value)
    assert "(accepted: " in str(refusal.value)
    assert isinstance(refusal.value, DialsetError)


def test_an_unknown_entry_is_refused(shop: Dialset) -> None:
    with pytest.raises(Refused, match="not_found"):
        shop.connection("../machines")


def test_a_service_that_is_not_there() -> None:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        address = f"http://127.0.0.1:{probe.getsockname()[1]}"
    with pytest.raises(NotReachable, match="does not answer"):
        Dialset(address, session=requests.Session(), timeout=1).ready()


def test_there_is_a_time_limit_by_default() -> None:
    assert Dialset("http://shop")._transport.timeout == 10.0


def many(count: int) -> Iterator[dict[str, Any]]:
    for number in range(count):
        yield {**JOINT, **JOB, "order": number, "connection": "NC50" if number % 5 else "NC51"}


def test_a_batch_in_windows_keeps_order_and_loses_nothing(shop: Dialset) -> None:
    seen: list[int] = []
    answers = list(shop.batch("pressure", many(53), window=10, progress=seen.append))
    assert [answer["line_number"] for answer in answers] == list(range(1, 54))
    assert [answer["carried"]["order"] for answer in answers] == list(range(53))
    assert [answer["line_status"] for answer in answers[:6]] == ["refused", *["answered"] * 4, "refused"]
    assert seen == [10, 20, 30, 40, 50, 53]


def test_a_batch_reads_its_lines_as_it_goes(shop: Dialset) -> None:
    """Memory does not grow with the number of lines: the second half of a long batch needs no more."""
    tracemalloc.start()
    peaks = []
    lines = ({"quantity": "1 in", "to": "mm"} for _ in range(4000))
    for number, _ in enumerate(shop.batch("conversion", lines, window=200)):
        if number in (2000, 3999):
            peaks.append(tracemalloc.get_traced_memory()[1])
    tracemalloc.stop()
    assert peaks[1] < 1.2 * peaks[0]


@pytest.mark.parametrize("window", [1, 2, 3, 100])
@pytest.mark.parametrize("rows", [0, 1, 2, 5, 6])
def test_a_file_in_windows_is_the_file_at_once(shop: Dialset, tmp_path: Path, rows: int, window: int) -> None:
    source, target = tmp_path / "orders.csv", tmp_path / "answers.csv"
    lines = ["order,quantity,to", *(f"W-{n},{n + 1} in,{'mm' if n % 2 else 'psi'}" for n in range(rows))]
    if rows > 4:
        lines[3:3] = ["", ",,"]  # empty rows in the middle are lines too
    source.write_text("\n".join(lines) + "\n", "utf-8")
    summary = shop.batch_file("conversion", source, target, window=window)
    whole = requests_whole(shop, source)
    written = list(csv.reader(target.read_text("utf-8").splitlines()))
    assert written == whole
    status = [row[whole[0].index("line_status")] for row in whole[1:]]
    assert summary[:3] == (len(status), status.count("answered"), status.count("refused"))
    assert sum(summary.codes.values()) == summary.refused
    assert sorted(path.name for path in tmp_path.iterdir()) == ["answers.csv", "orders.csv"]


def test_tabs_by_the_end_of_the_name(shop: Dialset, tmp_path: Path) -> None:
    source, target = tmp_path / "orders.tsv", tmp_path / "answers.csv"
    source.write_text("remark\tquantity\tto\na, b\t1 in\tmm\n", "utf-8")
    assert shop.batch_file("conversion", source, target).answered == 1
    header, row = csv.reader(target.read_text("utf-8").splitlines())
    assert row[0] == "a, b"
    assert row[header.index("result.result")] == "25.4"


@pytest.mark.parametrize(
    ("text", "told", "kept"),
    [
        (b'quantity,to\n1 in,mm\n"1 in"x,mm\n', "after line 3", ["25.4"]),
        (b'quantity,to\n1 in,mm\n"1 in,mm\n', "unexpected end of data", ["25.4"]),
        (b"quantity,to\n\xbd in,mm\n", "is not UTF-8", None),
    ],
)
def test_a_file_that_is_no_table_leaves_the_old_answers(
    shop: Dialset, tmp_path: Path, text: bytes, told: str, kept: list[str] | None
) -> None:
    """What was answered before it is kept beside them."""
    source, target = tmp_path / "orders.csv", tmp_path / "answers.csv"
    source.write_bytes(text)
    target.write_text("older answers", "utf-8")
    with pytest.raises(NotATable, match=told):
        shop.batch_file("conversion", source, target, window=1)
    assert target.read_text("utf-8") == "older answers"
    part = tmp_path / "answers.csv.part"
    assert part.exists() == (kept is not None)
    if kept is not None:
        rows = csv.DictReader(part.read_text("utf-8").splitlines())
        assert [row["result.result"] for row in rows] == kept


def test_in_process_makes_the_application_of_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIALSET_MACHINES", str(ROOT / "deploy" / "demo" / "machines"))
    assert "north-bay-2" in {machine["id"] for machine in Dialset.in_process().machines()}


def test_in_process_without_the_service_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "api.app", None)
    with pytest.raises(NotReachable, match="not installed here"):
        Dialset.in_process()


def requests_whole(shop: Dialset, source: Path) -> list[list[str]]:
    text = source.read_bytes()
    answer = shop._transport.ask(
        "POST", "/v1/conversion/batch", data=text, headers={"Content-Type": "text/csv"}
    )
    return list(csv.reader(answer.text.splitlines()))


def test_the_question_of_the_main_readme_runs(
    app: Flask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (block,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    (tmp_path / "readme.py").write_text(block, "utf-8")
    monkeypatch.setattr("dialset_client._transport.HTTPAdapter", lambda **_: ApplicationAdapter(app))
    runpy.run_path(str(tmp_path / "readme.py"))
    assert capsys.readouterr().out == "{'value': 860.0, 'unit': 'psi'}\n"


def test_readme_of_the_client_runs(
    app: Flask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    readme = (CLIENT / "README.md").read_text("utf-8")
    blocks = re.findall(r"```python\n(.*?)```", readme, re.DOTALL)
    assert len(blocks) == 2
    monkeypatch.chdir(tmp_path)
    guide = (ROOT / "clients" / "README.md").read_text("utf-8")
    orders = guide.partition("```csv\n")[2].partition("```")[0]
    (tmp_path / "orders.csv").write_text(orders, "utf-8")
    (tmp_path / "readme.py").write_text("\n".join(blocks), "utf-8")
    monkeypatch.setattr("dialset_client._transport.HTTPAdapter", lambda **_: ApplicationAdapter(app))
    runpy.run_path("readme.py")
    printed = capsys.readouterr().out
    assert "{'value': 860.0, 'unit': 'psi'} cap" in printed
    assert "torque_rating_exceeded" in printed
    assert "target torque 90000 lbf.ft against" in printed
    assert "3 lines" in printed
    assert len((tmp_path / "answers.csv").read_text("utf-8").splitlines()) == 4
