"""The shop's own tables over HTTP: listed, checked before they are served, and told where they are not."""

import csv
import logging
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from api.app import create_app
from api.settings import Settings

TABLES = Path(__file__).parents[3] / "deploy" / "demo" / "tables"
FILES = sorted(TABLES.glob("*.csv"))
GOOD = "model,bore [mm],target [N.m],source,revision\nA,50,100,s,1\nB,60,200,s,2\n"
BAD = "model,bore,target,source,revision\nA,50,100,s,1\nB,,2OO,=s,2\n"


def check(client: FlaskClient, data: bytes | str, content_type: str = "text/csv") -> dict[str, Any]:
    response = client.post("/v1/table-check", data=data, content_type=content_type)
    assert response.status_code == 200, response.text
    answer: dict[str, Any] = response.get_json()
    return answer


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_table_is_listed_with_what_its_file_says(client: FlaskClient, path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    (listed,) = [each for each in client.get("/v1/tables").get_json()["items"] if each["id"] == path.stem]
    assert listed["hash"] == sha256(path.read_bytes()).hexdigest()[:12]
    assert listed["rows"] == len(rows)
    assert set(listed["sources"]) == {row["source"] for row in rows}
    assert set(listed["statuses"]) == {row.get("status") or "stated" for row in rows}
    assert set(listed["revisions"]) == {row["revision"] for row in rows}
    keys = [
        f"{each['name']} [{each['unit']}{' linear' if each['linear'] else ''}]" for each in listed["columns"]
    ]
    assert {key.replace(" [None]", "") for key in keys} == {
        name for name in rows[0] if "[ft-lb]" not in name and "[N.m]" not in name
    } - {"source", "revision", "status", "effective_from", "effective_to", "note"}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_row_is_listed_with_source_and_status_in_the_unit_asked(
    client: FlaskClient, path: Path
) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    unit = "ft-lb" if "target [ft-lb]" in rows[0] else "N.m"
    entry = client.get(f"/v1/tables/{path.stem}", query_string={"torque_unit": unit}).get_json()
    assert [each["row"] for each in entry["rows"]] == list(range(2, len(rows) + 2))
    for shown, row in zip(entry["rows"], rows, strict=True):
        for name in ("minimum", "target", "maximum", "torsional_yield"):
            value = shown[name] and shown[name]["value"]
            assert value == (float(row[f"{name} [{unit}]"]) if row.get(f"{name} [{unit}]") else None)
        for name in ("source", "revision"):
            assert shown[name] == row[name]
        for name in ("effective_from", "effective_to", "note"):
            assert shown[name] == (row.get(name) or None)
        assert shown["status"] == (row.get("status") or "stated")


def test_the_row_that_contradicts_is_marked_in_the_listing(client: FlaskClient) -> None:
    rows = client.get("/v1/tables/customer-collars").get_json()["rows"]
    assert [row["contradiction"] is not None for row in rows] == [False, True, False]
    items = {each["id"]: each["contradictions"] for each in client.get("/v1/tables").get_json()["items"]}
    assert items == {"customer-collars": 1, "double-shoulder": 0, "motor-joints": 0}


def test_a_table_that_is_not_there_names_the_near_ones(client: FlaskClient) -> None:
    response = client.get("/v1/tables/motor-joint")
    assert response.status_code == 404
    assert "near it: motor-joints" in response.get_json()["detail"]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_the_check_of_a_served_table_says_what_the_listing_says(client: FlaskClient, path: Path) -> None:
    checked = check(client, path.read_bytes())
    (listed,) = [each for each in client.get("/v1/tables").get_json()["items"] if each["id"] == path.stem]
    assert (checked["valid"], checked["faults"], checked["fault_count"]) == (True, [], 0)
    assert (checked["hash"], checked["rows"], checked["columns"], len(checked["findings"])) == (
        listed["hash"],
        listed["rows"],
        listed["columns"],
        listed["contradictions"],
    )


def test_the_check_tells_every_fault_with_row_and_column(client: FlaskClient) -> None:
    checked = check(client, BAD)
    assert not checked["valid"]
    assert (checked["hash"], checked["rows"], checked["fault_count"]) == (None, None, 3)
    assert [(each["row"], each["column"], each["code"], each["value"]) for each in checked["faults"]] == [
        (1, "target", "unit_required", "target"),
        (3, "bore", "missing_cell", None),
        (3, "source", "formula_text", "=s"),
    ]


@pytest.mark.parametrize("content_type", ["application/json", "text/plain"])
def test_what_is_no_table_at_all_is_a_refusal(client: FlaskClient, content_type: str) -> None:
    response = client.post("/v1/table-check", data=GOOD, content_type=content_type)
    assert (response.status_code, response.get_json()["code"]) == (415, "unsupported_media_type")


def test_a_table_too_large_is_a_refusal() -> None:
    client = create_app(Settings(largest_batch=1024)).test_client()
    assert check(client, b"x" * 1024)["valid"] is False
    response = client.post("/v1/table-check", data=b"x" * 1025, content_type="text/csv")
    assert (response.status_code, response.get_json()["code"]) == (413, "body_too_large")


def test_the_check_takes_no_query(client: FlaskClient) -> None:
    response = client.post("/v1/table-check?units=us", data=GOOD, content_type="text/csv")
    assert (response.status_code, response.get_json()["code"]) == (422, "unknown_field")


@pytest.mark.parametrize(
    "data",
    [
        b"\0",
        b"\xff\xfe\x00",
        "model".encode("utf-16"),
        b'"',
        b"\r" * 100,
        b"," * 5000,
        b"[" * 5000,
        b"a" * 3_000_000,
    ],
)
def test_bytes_of_any_kind_are_checked_and_never_a_failure(client: FlaskClient, data: bytes) -> None:
    checked = check(client, data)
    assert not checked["valid"]
    assert checked["faults"]


def test_a_faulty_table_stops_nothing_else(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    (tmp_path / "good.csv").write_text(GOOD, "utf-8")
    (tmp_path / "bad.csv").write_text(BAD, "utf-8")
    with caplog.at_level(logging.WARNING):
        client = create_app(Settings(tables=tmp_path)).test_client()
    (line,) = [record.getMessage() for record in caplog.records if "table file" in record.getMessage()]
    assert line.startswith("table file bad.csv is not served: line 1, target: unit_required")
    ready = client.get("/readyz")
    assert ready.status_code == 200
    body = ready.get_json()
    assert body["tables"] == 1
    (refused,) = body["refused_tables"]
    assert refused["file"] == "bad.csv"
    assert refused["fault_count"] == len(refused["faults"])
    assert (refused["faults"][0]["row"], refused["faults"][0]["column"]) == (1, "target")
    good = client.get("/v1/torque/tabulated?table=good&table_key.model=A&table_key.bore=50%20mm&units=si")
    assert good.get_json()["torque"]["target"] == {"value": 100, "unit": "N.m"}
    asked = client.get("/v1/torque/tabulated?table=bad&table_key.model=A")
    assert asked.get_json()["errors"][0]["code"] == "table_not_served"
    assert "bad.csv" in asked.get_json()["detail"]
    assert client.get("/v1/tables/bad").get_json()["code"] == "table_not_served"
    assert client.get("/v1/tables/no-such").get_json()["code"] == "not_found"


def test_a_service_without_tables_says_so() -> None:
    client = create_app(Settings()).test_client()
    assert client.get("/v1/tables").get_json() == {"items": []}
    refused = client.get("/v1/torque/tabulated?table=own&table_key.model=A").get_json()
    assert refused["errors"][0]["code"] == "unknown_table"
    assert "this service has no tables" in refused["errors"][0]["accepted"]
