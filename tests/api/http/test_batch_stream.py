"""A batch is sent as it is answered, and one that breaks off is never taken for a whole."""

import csv
import io
import json
import logging
import tracemalloc
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import replace
from http.client import HTTPConnection, HTTPResponse, IncompleteRead
from pathlib import Path
from typing import Any

import pytest
from breaking import BREAKING
from dialset_client import Dialset, NotUnderstood
from flask.testing import FlaskClient
from raw_http import HANGS, Server, breaking_service, everything_after

from api.answers.answer import Answer
from api.answers.conversion import conversion_answer
from api.answers.shop import Shop
from api.batch.columns import columns_of_answer
from api.batch.lines import Asking, Line, answer_lines
from api.batch.writing import table_rows
from api.http.batch import AT_ONCE
from api.registry.units import UNIT_CALCULATIONS

PATH = "/v1/conversion/batch"
(CONVERSION,) = UNIT_CALCULATIONS
FORMS = ["json", "jsonl", "csv", "tsv"]
FIRST = 2
"""Lines that are answered before anything is sent: at most these."""


def lines(*inches: int) -> list[dict[str, str]]:
    return [{"quantity": f"{each} in", "to": "mm"} for each in inches]


def read(form: str, text: str) -> tuple[list[int], dict[str, Any] | None]:
    """The numbers of the lines of a whole answer, and its summary, which a table does not have."""
    if form == "json":
        whole = json.loads(text)
        assert list(whole) == ["lines", "summary"]
        return [line["line_number"] for line in whole["lines"]], whole["summary"]
    if form == "jsonl":
        *told, last = map(json.loads, text.splitlines())
        return [line["line_number"] for line in told], last["summary"]
    rows = csv.DictReader(io.StringIO(text, newline=""), delimiter="\t" if form == "tsv" else ",")
    return [int(row["line_number"]) for row in rows], None


# sent as it is answered


@pytest.mark.parametrize("form", FORMS)
def test_the_first_line_is_sent_before_the_last_is_asked(
    plain: FlaskClient, monkeypatch: pytest.MonkeyPatch, form: str
) -> None:
    asked: list[float] = []

    def counting(values: Mapping[str, Any], shop: Shop) -> Answer:
        asked.append(values["quantity"].value)
        return conversion_answer(values, shop)

    monkeypatch.setattr("api.http.routes._calculation", lambda _: replace(CONVERSION, compute=counting))
    count = 3000
    answer = plain.post(f"{PATH}?format={form}", json={"lines": lines(*range(1, count + 1))})
    pieces = iter(answer.response)
    first = next(pieces)
    assert b'"line_number":1' in first or b"25.4" in first
    assert len(asked) <= FIRST
    rest = list(pieces)
    assert len(asked) == count
    assert len(rest) > 3
    assert all(AT_ONCE <= len(piece) < 2 * AT_ONCE for piece in rest[:-1])
    numbers, summary = read(form, (first + b"".join(rest)).decode())
    assert numbers == list(range(1, count + 1))
    assert summary is None or (summary["lines"], summary["answered"]) == (count, count)


def test_rows_are_made_one_by_one() -> None:
    """Four times the lines need no more room."""
    asking = Asking(Shop(), "us", "full")
    columns = columns_of_answer(CONVERSION, "full")
    peaks = []
    for count in (200, 200, 800):  # the first warms up
        given = ({"quantity": f"{each} in", "to": "mm"} for each in range(1, count + 1))
        answered = answer_lines((Line(each, each, {}) for each in given), {}, CONVERSION, asking)
        tracemalloc.start()
        rows = table_rows(["quantity", "to"], answered, columns, ",", sealed=False)
        size = sum(len(row) for row in rows)
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
        assert size > 100 * count
    assert peaks[2] < 1.2 * peaks[1]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("inches", [(1,), (1, 2), (1, 2, 3)])
def test_every_form_holds_every_line(plain: FlaskClient, form: str, inches: tuple[int, ...]) -> None:
    answer = plain.post(f"{PATH}?format={form}", json={"lines": lines(*inches)})
    assert (
        answer.mimetype
        == {
            "json": "application/json",
            "jsonl": "application/jsonl",
            "csv": "text/csv",
            "tsv": "text/tab-separated-values",
        }[form]
    )
    numbers, summary = read(form, answer.text)
    assert numbers == list(range(1, len(inches) + 1))
    assert summary is None or summary["lines"] == len(inches)


def test_json_lines_are_the_lines_of_json(plain: FlaskClient) -> None:
    """Line for line, refused ones too, and by Accept as by format; a group is in the summary."""
    body = {"lines": [*lines(1, 2), {"quantity": "1 psi", "to": "mm"}, {}], "group_by": "to"}
    whole = plain.post(PATH, json=body).get_json()
    for asked in ({"query_string": {"format": "jsonl"}}, {"headers": {"Accept": "application/jsonl"}}):
        answer = plain.post(PATH, json=body, **asked)
        assert answer.mimetype == "application/jsonl"
        assert answer.text.endswith("\n")
        *told, last = map(json.loads, answer.text.splitlines())
        assert (told, last) == (whole["lines"], {"summary": whole["summary"]})


@pytest.mark.parametrize("form", ["json", "jsonl"])
def test_a_table_without_lines_has_an_empty_answer(plain: FlaskClient, form: str) -> None:
    given = plain.post(f"{PATH}?format={form}", data="quantity,to\n", content_type="text/csv")
    numbers, summary = read(form, given.text)
    assert numbers == []
    assert summary is not None
    assert summary["lines"] == 0


# a bug of ours on the way


@pytest.mark.parametrize("form", FORMS)
def test_a_bug_in_a_later_line_is_logged_and_ends_the_answer(
    plain: FlaskClient, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture, form: str
) -> None:
    monkeypatch.setattr("api.http.routes._calculation", lambda _: BREAKING)
    body = {"lines": lines(*range(1, 15))}
    answer = plain.post(f"{PATH}?format={form}", json=body, headers={"X-Request-ID": "batch-17"})
    assert answer.status_code == 200
    with caplog.at_level(logging.ERROR), pytest.raises(ZeroDivisionError):
        list(answer.response)
    assert f"internal error in a batch {PATH}, request id batch-17" in caplog.text
    assert "the bug" in caplog.text


@pytest.mark.parametrize("form", FORMS)
def test_a_bug_in_the_first_line_is_a_problem(
    plain: FlaskClient, monkeypatch: pytest.MonkeyPatch, form: str
) -> None:
    monkeypatch.setattr("api.http.routes._calculation", lambda _: BREAKING)
    answer = plain.post(f"{PATH}?format={form}", json={"lines": lines(13, 1, 2)})
    assert (answer.status_code, answer.mimetype) == (500, "application/problem+json")
    assert answer.get_json()["code"] == "internal_error"


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A real server with the bug."""
    with breaking_service() as server:
        yield f"127.0.0.1:{server.port}"


@contextmanager
def sent(address: str, form: str, *inches: int) -> Iterator[HTTPResponse]:
    """What a real server answers, its body not read yet."""
    body = json.dumps({"lines": lines(*inches)})
    with closing(HTTPConnection(address, timeout=HANGS)) as connection:
        connection.request("POST", f"{PATH}?format={form}", body, {"Content-Type": "application/json"})
        with connection.getresponse() as answer:
            yield answer


@pytest.mark.parametrize("form", FORMS)
def test_a_server_sends_a_batch_in_chunks_to_its_end(address: str, form: str) -> None:
    with sent(address, form, *range(20, 520)) as answer:
        assert (answer.status, answer.headers["Transfer-Encoding"]) == (200, "chunked")
        assert answer.headers["Content-Length"] is None
        numbers, _ = read(form, answer.read().decode())
    assert numbers == list(range(1, 501))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("before", [3, 400])
def test_no_reader_of_http_takes_an_answer_that_broke_off_for_a_whole(
    address: str, form: str, before: int
) -> None:
    with sent(address, form, *range(20, 20 + before), 13, 14) as answer:
        assert answer.status == 200
        with pytest.raises(IncompleteRead):
            answer.read()


@pytest.mark.parametrize("form", FORMS)
def test_without_chunks_there_is_a_length_or_no_answer(address: str, form: str) -> None:
    """HTTP/1.0 marks the end of a body without a length by closing, which a failure does too."""
    for inches, status in (((1, 2, 3), b"200"), ((1, 2, 13, 4), b"500")):
        body = json.dumps({"lines": lines(*inches)}).encode()
        head = (
            f"POST {PATH}?format={form} HTTP/1.0\r\nContent-Type: application/json\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        server = Server(int(address.rpartition(":")[2]), pid=0)
        given, _, rest = everything_after(server, head.encode() + body).partition(b"\r\n\r\n")
        assert given.split()[1] == status
        assert f"Content-Length: {len(rest)}".encode() in given


@pytest.mark.parametrize("place", ["a server", "this process"])
def test_the_client_names_an_answer_that_broke_off(
    address: str, plain: FlaskClient, place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It yields none of its lines, and leaves an older file as it was."""
    if place == "a server":
        shop = Dialset(f"http://{address}")
    else:
        monkeypatch.setattr("api.http.routes._calculation", lambda _: BREAKING)
        shop = Dialset.in_process(plain.application)
    with pytest.raises(NotUnderstood, match="broke off"):
        next(shop.batch("conversion", lines(1, 2, 3, 13)))
    source, target = tmp_path / "in.csv", tmp_path / "out.csv"
    source.write_text("quantity,to\n1 in,mm\n2 in,mm\n3 in,mm\n13 in,mm\n", "utf-8")
    target.write_text("older answers", "utf-8")
    with pytest.raises(NotUnderstood, match="broke off"):
        shop.batch_file("conversion", source, target)
    assert target.read_text("utf-8") == "older answers"
    assert len(list(shop.batch("conversion", lines(1, 2, 3)))) == 3
