"""What a service answers from: one hash, its parts, and that every answer and refusal names it."""

import csv
import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from policies import policy_file
from rows import every_row

from api.answers import edition
from api.app import create_app
from api.batch.column_names import STAMP, STATUS_COLUMNS
from api.settings import Settings

DEMO = Path(__file__).parents[3] / "deploy" / "demo"
EDITION = "/v1/edition"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A copy of the demo shop."""
    for folder in ("machines", "tables"):
        shutil.copytree(DEMO / folder, tmp_path / folder)
    return tmp_path


def told_by(shop: Path, **settings: Any) -> dict[str, Any]:
    """The edition of a fresh start."""
    app = create_app(Settings(machines=shop / "machines", tables=shop / "tables", **settings))
    told: dict[str, Any] = app.test_client().get(EDITION).get_json()
    return told


def changed_in(before: dict[str, Any], after: dict[str, Any]) -> set[str]:
    return {name for name in before if before[name] != after[name]}


def test_it_changes_with_its_parts_and_with_nothing_else(shop: Path) -> None:
    first = told_by(shop)
    assert told_by(shop, most_lines=7) == first
    assert changed_in(first, told_by(shop, units="metric")) == {"service_edition", "units"}
    machine = shop / "machines" / "north-bay-2.json"
    given = json.loads(machine.read_text("utf-8"))
    machine.write_text(json.dumps(dict(reversed(given.items())), indent=4), "utf-8")
    assert told_by(shop) == first  # the same said in another order
    machine.write_text(json.dumps({**given, "revision": "4"}), "utf-8")
    revised = told_by(shop)
    assert changed_in(first, revised) == {"service_edition", "machines"}
    (new,) = (each for each in revised["machines"] if each["id"] == "north-bay-2")
    assert new["revision"] == "4"
    table = shop / "tables" / "motor-joints.csv"
    table.write_text(table.read_text("utf-8").replace(",B,", ",C,"), "utf-8")
    assert changed_in(revised, told_by(shop)) <= {"service_edition", "tables"}
    ruled = told_by(shop, policy=policy_file(relief_margin=0.1))
    assert changed_in(told_by(shop), ruled) == {"service_edition", "policy"}
    assert ruled["policy"]["revision"] == "1"


def test_every_machine_and_table_is_named_in_order(client: FlaskClient) -> None:
    told = client.get(EDITION).get_json()
    for listing, kind in (("machines", "json"), ("tables", "csv")):
        assert [each["id"] for each in told[listing]] == sorted(
            p.stem for p in (DEMO / listing).glob(f"*.{kind}")
        )
    entry = client.get("/v1/machines/north-bay-2").get_json()
    named = {"id": "north-bay-2", "revision": entry["profile"]["revision"], "hash": entry["hash"]}
    assert named in told["machines"]


def test_the_program_counts_by_its_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(edition, "TOP", tmp_path)
    for name in ("api/a.py", "schemas/core/units.csv", "api/__pycache__/a.pyc"):
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("one", "utf-8")
    hashes = [edition.program_hash()]
    for name in ("api/__pycache__/a.pyc", "schemas/core/units.csv", "api/a.py"):
        (tmp_path / name).write_text("other", "utf-8")
        hashes.append(edition.program_hash())
    assert hashes[0] == hashes[1]
    assert len(set(hashes)) == 3


def test_who_has_it_already_is_told_so(client: FlaskClient) -> None:
    first = client.get(EDITION)
    tag = first.headers["ETag"]
    assert tag == f'"{first.get_json()["service_edition"]}"'
    assert first.headers["Cache-Control"] == "no-cache"
    for sent, status in ((tag, 304), (f'"other", {tag}', 304), ("*", 304), ('"other"', 200)):
        again = client.get(EDITION, headers={"If-None-Match": sent})
        assert (again.status_code, again.headers["ETag"]) == (status, tag)
        assert again.data == (b"" if status == 304 else first.data)
    assert client.get(EDITION, query_string={"x": "1"}).get_json()["code"] == "unknown_field"


QUESTION = {"quantity": "1 in", "to": "mm"}


@every_row(
    "path, options, wanted, understood",
    [
        ("/v1/conversion", {"query_string": QUESTION}, {"detail": "short"}, True),
        ("/v1/conversion", {"query_string": {**QUESTION, "detail": "full"}}, {"detail": "full"}, True),
        ("/v1/conversion", {"query_string": {**QUESTION, "answers": "kind"}}, {"answers": "kind"}, True),
        ("/v1/conversion", {"json": {**QUESTION, "to": "psi"}}, {"detail": "short"}, True),
        ("/v1/conversion", {"json": {**QUESTION, "to": "psi", "detail": "full"}}, {"detail": "full"}, True),
        ("/v1/conversion", {"json": {**QUESTION, "x": 1, "detail": "full"}}, {"detail": "full"}, False),
        ("/v1/conversion", {"json": {**QUESTION, "detail": "long"}}, {"detail": "short"}, False),
        ("/v1/conversion/batch?detail=full", {"json": {"lines": []}}, {"detail": "full"}, False),
        ("/v1/machines/nowhere/chart", {}, {"detail": "full"}, False),
        ("/v1/nowhere", {}, {"detail": "short"}, False),
    ],
)
def test_every_answer_and_refusal_names_it(
    plain: FlaskClient, path: str, options: dict[str, Any], wanted: dict[str, str], understood: bool
) -> None:
    answer = plain.open(path, method="POST" if "json" in options else "GET", **options).get_json()
    assert answer["service_edition"] == plain.get(EDITION).get_json()["service_edition"]
    units = {"units": "us"} if "code" not in answer else {}
    assert answer["asked"] == {"path": path.partition("?")[0], **wanted, **units}
    assert (answer["question"] is not None) == understood


def test_every_line_names_it(client: FlaskClient) -> None:
    lines = [QUESTION, {**QUESTION, "to": "psi"}, {**QUESTION, "to": "furlong"}]
    answers = client.post("/v1/conversion/batch", json={"lines": lines}).get_json()["lines"]
    told = [each.get("result") or each["problem"] for each in answers]
    assert {each["service_edition"] for each in told} == {client.get(EDITION).get_json()["service_edition"]}
    assert {each["asked"]["path"] for each in told} == {"/v1/conversion"}
    assert [each["line_status"] for each in answers] == ["answered", "refused", "refused"]
    assert [each["question"] is None for each in told] == [False, False, True]
    table = "quantity,to\r\n" + "".join(f"{each['quantity']},{each['to']}\r\n" for each in lines)
    text = client.post("/v1/conversion/batch", data=table.encode(), content_type="text/csv").text
    rows = list(csv.DictReader(text.splitlines()))
    assert STATUS_COLUMNS[-3:] == STAMP == ("service_edition", "question", "fingerprint")
    assert [tuple(row[name] for name in STAMP) for row in rows] == [
        tuple(each.get(name) or "" for name in STAMP) for each in told
    ]
