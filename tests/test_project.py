"""README, version and licence say what is so."""

import csv
import json
import re
import subprocess
import tomllib
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest
from flask.testing import FlaskClient

from api.version import PROGRAM
from schemas.shop_table import read_shop_table

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
BODIES = re.findall(r"curl -s http://127\.0\.0\.1:8000(/\S+) .*?-d '(\{.*?\})'", README, re.DOTALL)
QUERIES = re.findall(r"curl -s 'http://127\.0\.0\.1:8000(/\S+)'\n```\n\nprints `([0-9.]+)`", README)


def test_readme_has_its_examples() -> None:
    assert len(BODIES) == 5
    assert len(QUERIES) == 1


@pytest.mark.parametrize(("path", "body"), BODIES)
def test_readme_post(client: FlaskClient, path: str, body: str) -> None:
    answer = client.post(path, json=json.loads(body))
    assert answer.status_code == 200
    sentence = README.partition("answers with `")[2].partition("Store the whole")[0]
    if path == "/v1/pressure":
        assert [name for name in re.findall(r"`([a-z_]+)`", sentence) if name not in answer.get_json()] == []


@pytest.mark.parametrize(("url", "printed"), QUERIES)
def test_readme_get(client: FlaskClient, url: str, printed: str) -> None:
    parts = urlsplit(url)
    assert client.get(parts.path, query_string=dict(parse_qsl(parts.query))).text == printed


def test_readme_batch(client: FlaskClient) -> None:
    text = README.partition("```csv\n")[2].partition("```")[0]
    query = README.partition("/v1/pressure/batch?")[2].partition("'")[0]
    answer = client.post(f"/v1/pressure/batch?{query}", data=text, content_type="text/csv")
    rows = list(csv.DictReader(answer.text.splitlines()))
    assert [row["order"] for row in rows] == ["W-17", "W-18", "W-19"]
    assert [row["problem_code"] for row in rows] == ["", "unknown_connection", ""]
    assert rows[0]["result.gauge_setting"] == "750.0"


def test_readme_shows_a_table_that_is_one() -> None:
    (text,) = re.findall(r"```csv\n(connection,.*?)```", README, re.DOTALL)
    table = read_shop_table(text.encode())
    assert [column.linear for column in table.columns] == [False, True, False]
    assert len(table.rows) == 2


@pytest.mark.evidence
def test_readme_shows_what_the_demonstration_prints() -> None:
    command = ["sh", "deploy/demo/main-job.sh"]
    printed = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    shown = README.partition("## Try it")[2].partition("## Run it")[0]
    blocks = re.findall(r"```text\n(.*?)```", shown, re.DOTALL)
    assert blocks
    assert [line for block in blocks for line in block.splitlines() if line not in printed] == []


def test_readme_names_every_path_and_variable(client: FlaskClient) -> None:
    documented = client.get("/openapi.json").get_json()["paths"]
    for path in documented:
        for part in re.split(r"\{\w+\}", path.removesuffix("/batch")):
            assert part.rstrip("/") in README, path
    settings = (ROOT / "api" / "settings.py").read_text("utf-8")
    for variable in set(re.findall(r"DIALSET_[A-Z_]+", settings)):
        assert f"`{variable}`" in README


def test_versions_agree() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        assert tomllib.load(file)["project"]["version"] == PROGRAM
    assert f"## {PROGRAM}" in (ROOT / "CHANGELOG.md").read_text("utf-8")
