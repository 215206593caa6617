"""The service as it runs: a real gunicorn, asked over sockets what no test client can ask."""

import json
import socket
from collections.abc import Iterator

import pytest
from raw_http import (
    CONVERSION,
    HANGS,
    JSON,
    Answer,
    Server,
    chunked,
    exchange,
    head,
    received,
    serving,
    sized,
)
from rows import every_row
from sent_tables import (
    BAD_CHUNKS,
    IN_CHUNKS,
    NO_LENGTH,
    WHOLE,
    assert_excess_is_never_answered,
    is_refused,
    is_whole,
)

pytestmark = pytest.mark.evidence

LIMIT, LARGE = 4096, 1_000_000
ROTARY = "/v1/torque/rotary-shouldered"
QUESTION = {"quantity": "20000 ft-lb", "to": "kN.m"}
BODY = json.dumps(QUESTION).encode()


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with serving(largest_body=LIMIT) as running:
        yield running


@pytest.fixture(scope="module")
def large_server() -> Iterator[Server]:
    """A server that takes large bodies."""
    with serving(largest_body=LARGE) as running:
        yield running


def padded(size: int) -> bytes:
    return BODY.ljust(size)


# sizes and lengths


REFUSED = {
    "one byte too long": (sized(padded(LIMIT + 1), JSON), 413, "body_too_large"),
    "announced far too long": (head(JSON, "Content-Length: 99999999999999999999"), 413, "body_too_large"),
    "chunked": (chunked(BODY), 411, "length_required"),
    "chunked one byte too long": (chunked(padded(LIMIT), b" "), 411, "length_required"),
    "chunked and empty": (chunked(), 411, "length_required"),
    "no length": (head(JSON), 411, "length_required"),
    "length 0": (sized(b"", JSON), 400, "malformed_json"),
    "not JSON by its type": (sized(BODY, "Content-Type: text/plain"), 415, "unsupported_media_type"),
    "a form": (
        sized(b"a=1", "Content-Type: application/x-www-form-urlencoded"),
        415,
        "unsupported_media_type",
    ),
    "no type": (sized(BODY), 415, "unsupported_media_type"),
    "gzip": (sized(BODY, JSON, "Content-Encoding: gzip"), 415, "unsupported_media_type"),
}


@pytest.mark.parametrize("request_, status, code", REFUSED.values(), ids=REFUSED)
def test_what_is_wrong_with_a_body_as_such_is_a_problem(
    server: Server, request_: bytes, status: int, code: str
) -> None:
    answer = exchange(server, request_)
    assert (answer.status, answer.code) == (status, code)


@pytest.mark.parametrize("size", [len(BODY), LIMIT - 1, LIMIT])
def test_a_body_up_to_the_limit_is_taken(server: Server, size: int) -> None:
    assert exchange(server, sized(padded(size), JSON)).status == 200


@pytest.mark.parametrize("came", [0, 1, len(BODY) // 2, len(BODY) - 1, len(BODY), LIMIT - 1])
def test_a_body_cut_off_is_never_answered(server: Server, came: int) -> None:
    """Even where what came is whole JSON already."""
    request = sized(padded(LIMIT), JSON)
    answer = exchange(server, request[: len(request) - LIMIT + came], cut=True)
    assert (answer.status, answer.code) in [(400, "truncated_body"), (0, None)]


# a table of a batch, refused whole or answered whole


def test_a_whole_table_is_answered_whole(server: Server) -> None:
    assert is_whole(exchange(server, WHOLE))


def test_a_table_cut_off_at_any_byte_is_refused_whole(server: Server) -> None:
    """Also where it is cut between two lines, so that what came is a whole table."""
    answers = [exchange(server, WHOLE[:came], cut=True) for came in range(len(WHOLE))]
    assert {(answer.status, answer.code) for answer in answers} == {(0, None), (400, "truncated_body")}


@pytest.mark.parametrize("request_", IN_CHUNKS.values(), ids=IN_CHUNKS)
def test_a_table_in_chunks_is_refused_whole(server: Server, request_: bytes) -> None:
    answer = exchange(server, request_)
    assert (answer.status, answer.code) == (411, "length_required")


@every_row("request_", [*NO_LENGTH.values(), *BAD_CHUNKS.values()], ids=[*NO_LENGTH, *BAD_CHUNKS])
def test_a_table_without_one_plain_length_is_refused_whole(server: Server, request_: bytes) -> None:
    assert is_refused(exchange(server, request_, cut=True))


def test_a_length_too_small_is_the_length(server: Server) -> None:
    assert_excess_is_never_answered(server)


HARD = {
    "lists": (b"[" * 100_000, 400, "nested_too_deep"),
    "objects": (b'{"a":' * 100_000, 400, "nested_too_deep"),
    "closed lists in a field": (
        b'{"quantity":' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        400,
        "nested_too_deep",
    ),
    "a long number": (b"1" * 900_000, 400, "malformed_json"),
    "a long text": (b'"' + b"x" * 900_000 + b'"', 422, "not_an_object"),
    "one member twice among many": (
        b"{" + b",".join(b'"%d":0' % number for number in [*range(80_000), 79_999]) + b"}",
        400,
        "duplicate_member",
    ),
    "many unknown members": (
        b"{" + b",".join(b'"%d":0' % number for number in range(80_000)) + b"}",
        422,
        "several_faults",
    ),
}


@pytest.mark.parametrize("body, status, code", HARD.values(), ids=HARD)
def test_a_hard_body_is_refused(large_server: Server, body: bytes, status: int, code: str) -> None:
    """One that keeps the service busy for longer than ``HANGS`` fails."""
    answer = exchange(large_server, sized(body, JSON))
    assert (answer.status, answer.code) == (status, code)


# methods


def test_head_answers_as_get_without_the_body(server: Server) -> None:
    path = f"{ROTARY}?connection=NC50&component=drill_collar&box_outside_diameter=6.5in&pin_bore=2.8125in"
    request = {method: head("Connection: close", method=method, path=path) for method in ("GET", "HEAD")}
    got, headed = (exchange(server, request[method], method=method) for method in ("GET", "HEAD"))
    assert (got.status, headed.status) == (200, 200)
    assert headed.headers["content-length"] == got.headers["content-length"] == str(len(got.body))
    with socket.create_connection(("127.0.0.1", server.port), timeout=HANGS) as connection:
        connection.sendall(request["HEAD"])
        with connection.makefile("rb") as stream:
            assert stream.read().endswith(b"\r\n\r\n")


@pytest.mark.parametrize(
    "method, path, allowed",
    [
        ("PUT", CONVERSION, {"GET", "HEAD", "OPTIONS", "POST"}),
        ("DELETE", CONVERSION, {"GET", "HEAD", "OPTIONS", "POST"}),
        ("POST", "/v1/connections", {"GET", "HEAD", "OPTIONS"}),
        ("PATCH", "/healthz", {"GET", "HEAD", "OPTIONS"}),
    ],
)
def test_a_method_not_allowed_names_those_that_are(
    server: Server, method: str, path: str, allowed: set[str]
) -> None:
    answer = exchange(server, head("Content-Length: 0", method=method, path=path))
    assert (answer.status, answer.code) == (405, "method_not_allowed")
    assert set(answer.headers["allow"].split(", ")) == allowed


# one connection, several requests


HEALTH = head(method="GET", path="/healthz")
READ_WHOLE = {
    "answered": (sized(BODY, JSON), 200),
    "refused": (sized(b"{}", JSON), 422),
    "not JSON": (sized(b"{", JSON), 400),
    "not found": (head(method="GET", path="/nothing"), 404),
    "method not allowed": (head(method="DELETE"), 405),
}
NOT_READ = {
    "too long": (sized(b"GET /v1/units HTTP/1.1\r\n\r\n".ljust(LIMIT + 1), JSON), 413),
    "wrong type": (sized(b"GET /v1/units HTTP/1.1\r\n\r\n", "Content-Type: text/plain"), 415),
    "chunked": (chunked(b"GET /v1/units HTTP/1.1\r\n\r\n"), 411),
    "not found": (sized(b"GET /v1/units HTTP/1.1\r\n\r\n", path="/nothing"), 404),
}


def two_answers(server: Server, request: bytes) -> tuple[Answer, Answer]:
    """The answers to a request and, on the same connection, to one for the health of the service."""
    with socket.create_connection(("127.0.0.1", server.port), timeout=HANGS) as connection:
        connection.sendall(request)
        first = received(connection, "POST")
        try:
            connection.sendall(HEALTH)
        except ConnectionError:
            return first, Answer(0, {}, b"")
        return first, received(connection, "GET")


@pytest.mark.parametrize("request_, status", READ_WHOLE.values(), ids=READ_WHOLE)
def test_a_connection_stays_usable_after_an_error(server: Server, request_: bytes, status: int) -> None:
    first, second = two_answers(server, request_)
    assert first.status == status
    assert (second.status, json.loads(second.body)) == (200, {"status": "up"})


@pytest.mark.parametrize("request_, status", NOT_READ.values(), ids=NOT_READ)
def test_a_body_left_unread_is_never_taken_for_a_request(
    server: Server, request_: bytes, status: int
) -> None:
    first, second = two_answers(server, request_)
    assert first.status == status
    assert second.status == 0 or json.loads(second.body) == {"status": "up"}
