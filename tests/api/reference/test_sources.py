"""Every source that a reference table names is told by the service."""

import csv
from pathlib import Path

from flask.testing import FlaskClient

ROOT = Path(__file__).parents[3]
TABLES = sorted([*(ROOT / "api").rglob("*.csv"), *(ROOT / "schemas").rglob("*.csv")])


def test_every_source_of_every_row_is_told(client: FlaskClient) -> None:
    told = {(each["source"], each["status"]) for each in client.get("/v1/sources").get_json()["items"]}
    named = set()
    for table in TABLES:
        with table.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                texts = [text for column, text in row.items() if column.split("_")[-1] == "source"]
                named |= {(text, row["status"]) for text in texts}
    assert len(TABLES) >= 21
    assert len(named) >= 68
    assert named - told == set()
    assert told - named == set()


def test_uses_count_the_rows(client: FlaskClient) -> None:
    listed = client.get("/v1/sources").get_json()["items"]
    rows = 0
    for table in (ROOT / "api" / "reference").glob("*.csv"):
        with table.open(encoding="utf-8", newline="") as file:
            rows += sum(1 for _ in csv.DictReader(file))
    assert sum(each["uses"] for each in listed) == rows
