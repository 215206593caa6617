"""The examples of the document: every answer has one, and so has every body that is a table."""

import csv
import io
import json
import subprocess
import sys
from collections.abc import Mapping
from typing import Any

import pytest
from contract import DOCUMENT, JSON, OPERATIONS, closed_faults, examples, resolved
from flask.testing import FlaskClient

from api.http.batch import SEPARATORS
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS

BATCHES = [calculation for calculation in CALCULATIONS if not calculation.body_only]
AS_TABLE = [(calculation, media) for calculation in BATCHES for media in SEPARATORS]
OF_THE_SERVICE = ("/v1/edition", "/healthz", "/readyz")


def answered(operation: Mapping[str, Any]) -> Mapping[str, Any]:
    content: Mapping[str, Any] = operation["responses"]["200"]["content"][JSON]
    return content


def test_every_answer_has_an_example_of_its_schema() -> None:
    without = [path for _, path, operation in OPERATIONS if not examples(answered(operation))]
    assert without == ["/openapi.json"]
    for _, path, operation in OPERATIONS:
        for example in examples(answered(operation)):
            plain = json.loads(json.dumps(example))
            assert closed_faults(answered(operation)["schema"], plain) == [], path


@pytest.mark.parametrize("path", OF_THE_SERVICE)
def test_what_a_service_tells_of_itself_has_the_members_of_the_example(
    client: FlaskClient, path: str
) -> None:
    (example,) = examples(answered(DOCUMENT["paths"][path]["get"]))
    assert client.get(path).get_json().keys() == example.keys()


def test_the_chart_shown_is_of_the_machine_and_the_query_shown() -> None:
    operation = DOCUMENT["paths"]["/v1/machines/{machine}/chart"]["get"]
    (example,) = examples(answered(operation))
    query = {each["name"]: each["example"] for each in operation["parameters"] if "example" in each}
    assert example["inputs"] == query
    assert example["charts"][0]["marks"]


@pytest.mark.parametrize("calculation, media", AS_TABLE, ids=lambda each: getattr(each, "name", each))
def test_the_table_shown_is_answered_as_the_same_line_in_json(
    client: FlaskClient, calculation: Calculation, media: str
) -> None:
    path = f"{calculation.path}/batch"
    (table,) = examples(DOCUMENT["paths"][path]["post"]["requestBody"]["content"][media])
    sent = client.post(path, data=table, content_type=media, query_string={"format": "json"})
    line = {"order": "W-17", **calculation.example, **(calculation.query_example or {})}
    expected = client.post(path, json={"lines": [line]}).get_json()
    assert expected["summary"]["answered"] == 1
    assert sent.get_json() == expected


def test_a_quantity_of_a_table_has_its_unit_in_the_header() -> None:
    content = resolved(DOCUMENT["paths"]["/v1/torque/rotary-shouldered/batch"])["post"]["requestBody"]
    (table,) = examples(content["content"]["text/csv"])
    header, line = csv.reader(io.StringIO(table))
    assert header[-2:] == ["box_outside_diameter [in]", "pin_bore [in]"]
    assert line[-2:] == ["6 3/4", "2-13/16"]


def test_two_builds_are_the_same_bytes() -> None:
    program = (
        "from api.http.exchange import encoded\n"
        "from api.http.openapi.document import build\n"
        "from hashlib import sha256\n"
        "print(sha256(encoded(build())).hexdigest())"
    )
    command = [sys.executable, "-c", program]
    built = {subprocess.run(command, capture_output=True, text=True, check=True).stdout for _ in range(2)}
    assert len(built) == 1
