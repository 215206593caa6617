"""One question in every way that it can be asked."""

import csv
import io
from collections.abc import Mapping
from typing import Any

from flask.testing import FlaskClient

MEDIA = {"text/csv": ",", "text/tab-separated-values": "\t"}


def in_every_form(client: FlaskClient, path: str, question: Mapping[str, str]) -> dict[str, Any]:
    """The answers to a question of text: as a body, a query, a line of JSON, and a row of a table."""
    lines = client.post(f"{path}/batch", json={"lines": [question]}).get_json()["lines"]
    return {
        "body": client.post(path, json=question).get_json(),
        "query": client.get(path, query_string=question).get_json(),
        "line": _outcome(lines),
        **{media: _outcome(_of_table(client, path, question, media)) for media in MEDIA},
    }


def _of_table(client: FlaskClient, path: str, question: Mapping[str, str], media: str) -> Any:
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=MEDIA[media]).writerows([list(question), list(question.values())])
    sent = {"data": text.getvalue().encode(), "content_type": media, "query_string": {"format": "json"}}
    return client.post(f"{path}/batch", **sent).get_json()["lines"]


def _outcome(lines: list[dict[str, Any]]) -> Any:
    (line,) = lines
    return line.get("result") or line["problem"]
