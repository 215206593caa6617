"""README, version and licence say what is so."""

import csv
import importlib
import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest
from flask.testing import FlaskClient

from api.answers.edition import PROGRAM
from api.shop_tables.reader import read_shop_table

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
GUIDE = (ROOT / "clients" / "README.md").read_text("utf-8")
DEMO = (ROOT / "deploy" / "demo" / "README.md").read_text("utf-8")
RUNNING = (ROOT / "deploy" / "README.md").read_text("utf-8")
BODIES = re.findall(r"curl -s http://127\.0\.0\.1:8000(/\S+) .*?-d '(\{.*?\})'", README + GUIDE, re.DOTALL)
QUERIES = re.findall(r"curl -s 'http://127\.0\.0\.1:8000(/\S+)'\n```\n\nprints `([0-9.]+)`", README)


def test_the_examples_are_there() -> None:
    assert len(BODIES) == 7
    assert len(QUERIES) == 1


def test_readme_is_short() -> None:
    assert len(README.split()) <= 900


@pytest.mark.parametrize(("path", "body"), BODIES)
def test_a_body_of_the_documents_is_answered(client: FlaskClient, path: str, body: str) -> None:
    answer = client.post(path, json=json.loads(body))
    assert answer.status_code == 200


def test_readme_names_what_is_answered(client: FlaskClient) -> None:
    path, body = BODIES[0]
    assert path == "/v1/pressure"
    told = README.partition("answers with what to do")[2].partition('`"answers": ')[0]
    in_short, in_full = (re.findall(r"`([a-z_]+)`", part) for part in told.split('`"detail": "full"`'))
    assert (len(in_short), len(in_full)) >= (9, 3)
    short, full = (
        client.post(path, json={**json.loads(body), "detail": detail}).get_json().keys()
        for detail in ("short", "full")
    )
    assert set(in_short) <= short
    assert set(in_full) <= full - short


@pytest.mark.parametrize(("url", "printed"), QUERIES)
def test_readme_get(client: FlaskClient, url: str, printed: str) -> None:
    parts = urlsplit(url)
    assert client.get(parts.path, query_string=dict(parse_qsl(parts.query))).text == printed


def test_the_batch_of_the_guide(client: FlaskClient) -> None:
    text = GUIDE.partition("```csv\n")[2].partition("```")[0]
    query = GUIDE.partition("/v1/pressure/batch?")[2].partition("'")[0]
    answer = client.post(f"/v1/pressure/batch?{query}", data=text, content_type="text/csv")
    rows = list(csv.DictReader(answer.text.splitlines()))
    assert [row["order"] for row in rows] == ["W-17", "W-18", "W-19"]
    assert [row["problem_code"] for row in rows] == ["", "unknown_connection", ""]
    assert rows[0]["result.gauge_setting"] == "860.0"


def test_the_table_of_the_guide_is_one() -> None:
    (text,) = re.findall(r"```csv\n(connection,.*?)```", DEMO, re.DOTALL)
    table = read_shop_table(text.encode())
    assert [column.linear for column in table.columns] == [False, True, False]
    assert len(table.rows) == 2


def test_the_dial_shows_what_is_answered(client: FlaskClient) -> None:
    """The picture of the README is that of the answer; ``python deploy/demo/dial.py`` draws it anew."""
    sys.path.insert(0, str(ROOT / "deploy" / "demo"))
    try:
        drawn = importlib.import_module("dial")
    finally:
        sys.path.pop(0)
    answer = client.post("/v1/pressure", json=drawn.QUESTION).get_json()
    profile = client.get(f"/v1/machines/{drawn.QUESTION['machine']}").get_json()["profile"]
    picture = drawn.dial(answer, profile["gauges"][drawn.QUESTION["operation"]])
    assert drawn.PICTURE.read_text("utf-8") == picture
    assert "SET 860 psi" in picture


@pytest.mark.evidence
def test_readme_shows_what_the_demonstration_prints() -> None:
    command = ["sh", "deploy/demo/main-job.sh"]
    printed = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    shown = README.partition("## Try it")[2].partition("## Ask it")[0]
    blocks = re.findall(r"```text\n(.*?)```", shown, re.DOTALL)
    assert blocks
    assert [line for block in blocks for line in block.splitlines() if line not in printed] == []
    steps = [
        line.split()[0] for line in printed if line.startswith(("environment:", "packages:", "starting"))
    ]
    assert steps == ["environment:", "packages:", "starting"]


def test_every_path_and_variable_is_named(client: FlaskClient) -> None:
    documented = client.get("/openapi.json").get_json()["paths"]
    assert len(documented) > 50
    for path in documented:
        for part in re.split(r"\{\w+\}", path.removesuffix("/batch")):
            assert part.rstrip("/") in GUIDE + RUNNING, path
    settings = (ROOT / "api" / "settings.py").read_text("utf-8")
    variables = set(re.findall(r"DIALSET_[A-Z_]+", settings))
    assert len(variables) > 5
    for variable in variables:
        assert f"`{variable}`" in RUNNING


def test_links_lead_somewhere() -> None:
    documents = [
        path for path in ROOT.rglob("*.md") if ".venv" not in path.parts and "build" not in path.parts
    ]
    links = [
        (document, link)
        for document in documents
        for link in re.findall(r"\]\(([^)#]+)\)", document.read_text("utf-8"))
        if "://" not in link
    ]
    assert len(links) > 8
    assert [f"{document}: {link}" for document, link in links if not (document.parent / link).exists()] == []


def test_versions_agree() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        assert tomllib.load(file)["project"]["version"] == PROGRAM
    assert f"## {PROGRAM}" in (ROOT / "CHANGELOG.md").read_text("utf-8")
