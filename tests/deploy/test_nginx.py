"""``deploy/nginx.conf`` in a real nginx before a real gunicorn; only addresses, paths and a limit differ."""

import json
import re
import socket
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import AbstractContextManager, contextmanager, suppress
from http.client import IncompleteRead

import pytest
from proxy import Proxy, proxying
from raw_http import (
    HANGS,
    JSON,
    Answer,
    Server,
    breaking_service,
    exchange,
    free_port,
    head,
    serving,
    sized,
)
from sent_tables import (
    BAD_CHUNKS,
    IN_CHUNKS,
    NO_LENGTH,
    PATH,
    TYPE,
    WHOLE,
    assert_excess_is_never_answered,
    is_refused,
    is_whole,
)

from api.refusals.codes import CODES
from api.settings import Settings

pytestmark = pytest.mark.evidence

QUESTION = b'{"quantity":"1 in","to":"mm"}'


@pytest.fixture(scope="module")
def service() -> Iterator[Server]:
    with serving() as running_service:
        yield running_service


@pytest.fixture(scope="module")
def nginx(service: Server) -> Iterator[Proxy]:
    with proxying(service.port) as proxy:
        yield proxy


def assert_problem(answer: Answer, status: int, code: str) -> None:
    """A problem document made by nginx as the service makes them."""
    assert (answer.status, answer.code) == (status, code), answer.body
    problem = json.loads(answer.body)
    assert (problem["type"], problem["title"]) == (f"/v1/problems/{code}", CODES[code])
    assert problem["status"] == status
    assert problem["detail"]
    assert answer.headers["server"] == "nginx"
    assert answer.headers["cache-control"] == "no-store"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert re.fullmatch("[0-9a-f]{32}", answer.headers["x-request-id"])


# a batch whose answer breaks off


@pytest.mark.parametrize("form", ["json", "jsonl", "csv", "tsv"])
def test_a_batch_that_breaks_off_does_so_behind_nginx_too(form: str) -> None:
    """nginx does not mark the end of what it was sent the beginning of."""
    body = json.dumps({"lines": [{"quantity": f"{each} in", "to": "mm"} for each in range(400, 0, -1)]})
    path = f"/v1/conversion/batch?format={form}"
    with breaking_service() as service, proxying(service.port) as proxy:
        with pytest.raises(IncompleteRead):
            exchange(proxy, sized(body.encode(), JSON, path=path))
        whole = body.replace('"13 in"', '"12 in"').encode()
        assert exchange(proxy, sized(whole, JSON, path=path)).status == 200


# a table of a batch, refused whole or answered whole


def test_a_whole_table_is_answered_whole(nginx: Server) -> None:
    assert is_whole(exchange(nginx, WHOLE))


def test_a_table_cut_off_at_any_byte_is_refused_whole(nginx: Server) -> None:
    answers = [exchange(nginx, WHOLE[:came], cut=True) for came in range(len(WHOLE))]
    assert [came for came, answer in enumerate(answers) if not is_refused(answer)] == []


@pytest.mark.parametrize("request_", IN_CHUNKS.values(), ids=IN_CHUNKS)
def test_a_table_in_chunks_is_refused_whole(nginx: Server, request_: bytes) -> None:
    assert_problem(exchange(nginx, request_), 411, "length_required")


@pytest.mark.parametrize("request_", NO_LENGTH.values(), ids=NO_LENGTH)
def test_a_table_without_one_plain_length_is_refused_whole(nginx: Server, request_: bytes) -> None:
    answer = exchange(nginx, request_, cut=True)
    assert is_refused(answer)
    assert answer.status == 0 or answer.code == "http_error"


@pytest.mark.parametrize("request_", BAD_CHUNKS.values(), ids=BAD_CHUNKS)
def test_a_table_in_bad_chunks_is_refused_whole(nginx: Server, request_: bytes) -> None:
    """Some with nginx's own page, since it cannot skip the body and then answer as it is told."""
    answer = exchange(nginx, request_, cut=True)
    assert is_refused(answer)
    assert (answer.status, answer.code) in [(411, "length_required"), (400, None)]


def test_a_length_too_small_is_the_length(nginx: Server) -> None:
    assert_excess_is_never_answered(nginx)


def test_an_empty_table_is_refused_by_the_service(nginx: Server) -> None:
    answer = exchange(nginx, sized(b"", TYPE, path=PATH))
    assert (answer.status, answer.code) == (422, "empty_table")


# limits


LARGEST_BATCH, LARGEST_BODY = Settings.largest_batch, Settings.largest_body
BATCH = b'{"lines":[' + QUESTION + b"]}"
LARGE = sized(BATCH.ljust(LARGEST_BATCH), JSON, path=PATH)
TOO_LARGE = {
    "batch": sized(b" " * (LARGEST_BATCH + 1), JSON, path=PATH),
    "batch, announced": head(JSON, "Content-Length: 99999999999", path=PATH),
    "question": sized(b" " * (LARGEST_BODY + 1), JSON),
}


@pytest.mark.parametrize("request_", TOO_LARGE.values(), ids=TOO_LARGE)
def test_a_body_too_large_is_refused_by_nginx(nginx: Server, request_: bytes) -> None:
    answer = exchange(nginx, request_)
    assert_problem(answer, 413, "body_too_large")
    assert b"in windows" in answer.body


@pytest.mark.parametrize(
    "request_",
    [
        LARGE,
        sized(QUESTION.ljust(LARGEST_BODY), JSON),
    ],
    ids=["batch", "question"],
)
def test_the_largest_body_passes(nginx: Server, request_: bytes) -> None:
    answer = exchange(nginx, request_)
    assert answer.status == 200
    assert b'"value":25.4,' in answer.body


def question(line_length: int, *lines: str) -> bytes:
    """A question whose request line has this length; the service refuses so long a number."""
    path = "/v1/conversion?quantity={}1%20in&to=mm"
    zeros = "0" * (line_length - len("GET  HTTP/1.1") - len(path.format("")))
    return head(*lines, method="GET", path=path.format(zeros))


def test_the_longest_request_line_is_answered_as_by_the_service(nginx: Server, service: Server) -> None:
    through, direct = (exchange(server, question(8190), method="GET") for server in (nginx, service))
    assert (through.status, through.code, through.body) == (direct.status, direct.code, direct.body)
    assert through.code == "not_a_quantity"
    assert_problem(exchange(nginx, question(8191), method="GET"), 414, "http_error")


# what nginx refuses itself


NO_REQUEST = {
    "nothing known": (b"EHLO localhost\r\n\r\n", 400),
    "no host": (b"GET /healthz HTTP/1.1\r\n\r\n", 400),
    "above the root": (head(method="GET", path="/../etc"), 400),
    "another version": (b"GET /healthz HTTP/3.0\r\nHost: localhost\r\n\r\n", 505),
    "a long header": (head("X-Long: " + "x" * 9000, method="GET", path="/healthz"), 400),
    "a method that shows the request": (head(method="TRACE", path="/healthz"), 501),
    "another coding": (head("Transfer-Encoding: gzip", path=PATH), 501),
}


@pytest.mark.parametrize("request_, status", NO_REQUEST.values(), ids=NO_REQUEST)
def test_what_is_no_request_is_a_problem(nginx: Server, request_: bytes, status: int) -> None:
    assert_problem(exchange(nginx, request_), status, "http_error")


def test_the_page_of_problems_is_not_a_path(nginx: Server) -> None:
    assert_problem(exchange(nginx, head(method="GET", path="/problem")), 404, "not_found")


def test_a_service_that_is_not_there_is_a_problem() -> None:
    with proxying(free_port()) as nginx:
        for request in (WHOLE, LARGE, head(method="GET", path="/v1/units")):
            assert_problem(exchange(nginx, request), 502, "http_error")


@pytest.fixture
def silent() -> Iterator[socket.socket]:
    """A service that takes connections and says nothing."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        yield listener


def test_a_service_that_does_not_answer_in_time_is_a_problem(silent: socket.socket) -> None:
    with proxying(silent.getsockname()[1], patience="100ms") as nginx:
        assert_problem(exchange(nginx, WHOLE), 504, "http_error")


def is_asked(listener: socket.socket, seconds: float) -> bool:
    """Whether a connection is there within this time, and is then closed."""
    listener.settimeout(seconds)
    try:
        listener.accept()[0].close()
    except TimeoutError:
        return False
    return True


def test_a_body_reaches_the_service_only_when_it_is_whole(silent: socket.socket) -> None:
    with proxying(silent.getsockname()[1], patience="100ms") as nginx:
        while is_asked(silent, 0.2):
            pass  # the wait for nginx asks too
        with socket.create_connection(("127.0.0.1", nginx.port)) as connection:
            connection.sendall(WHOLE[:-1])
            assert not is_asked(silent, 0.3)
            connection.sendall(WHOLE[-1:])
            assert is_asked(silent, HANGS)


@contextmanager
def nowhere() -> Iterator[int]:
    """A port at which nothing listens."""
    yield free_port()


@contextmanager
def ending() -> Iterator[int]:
    """The port of an instance that ends in the middle of every question."""

    def end(listener: socket.socket) -> None:
        with suppress(OSError):
            while True:
                with listener.accept()[0] as connection:
                    connection.recv(100_000)

    with socket.create_server(("127.0.0.1", 0)) as listener, ThreadPoolExecutor() as thread:
        thread.submit(end, listener)
        yield listener.getsockname()[1]
        listener.shutdown(socket.SHUT_RDWR)


@pytest.mark.parametrize("instance", [nowhere, ending])
def test_an_instance_that_ends_fails_no_question(
    service: Server, instance: Callable[[], AbstractContextManager[int]]
) -> None:
    with instance() as ended, proxying(ended, service.port) as nginx:
        answers = [exchange(nginx, WHOLE) for _ in range(20)]
    assert [at for at, answer in enumerate(answers) if not is_whole(answer)] == []


def test_an_instance_that_comes_back_is_asked_at_once() -> None:
    port = free_port()
    with proxying(port, free_port()) as nginx:
        assert exchange(nginx, WHOLE).status == 502
        with serving(port):
            assert is_whole(exchange(nginx, WHOLE))


# what passes


ID = "X-Request-ID: order-17.line_3"
SAME = {
    "answer": sized(QUESTION, JSON, ID),
    "refusal": sized(b"{}", JSON, ID),
    "not JSON": sized(b"{", JSON, ID),
    "another type": sized(QUESTION, "Content-Type: text/plain", ID),
    "batch": sized(BATCH, JSON, ID, path=PATH),
    "batch as table": sized(b"quantity,to\n1 in,mm\n", TYPE, ID, path=PATH),
    "batch by Accept": sized(BATCH, JSON, ID, "Accept: text/csv", path=PATH),
    "not acceptable": sized(BATCH, JSON, ID, "Accept: image/png", path=PATH),
    "cell": head(
        ID, method="GET", path="/v1/conversion?quantity=1%20in&to=mm&format=text&answer=result&unit=mm"
    ),
    "cell of 8,000 bytes": question(8000, ID),
    "slash in a name": head(ID, method="GET", path="/v1/connections/4-1%2F2%20IF"),
    "unknown entry": head(ID, method="GET", path="/v1/machines/a//b/../c"),
    "head": head(ID, method="HEAD", path="/v1/units"),
    "options": head(ID, method="OPTIONS", path="/v1/units"),
    "method not allowed": head(ID, "Content-Length: 0", method="DELETE", path="/v1/units"),
    "page": head(ID, method="GET", path="/docs/"),
    "page without its slash": head(ID, method="GET", path="/docs"),
    "start": head(ID, method="GET", path="/"),
    "document": head(ID, "Accept-Encoding: gzip", method="GET", path="/openapi.json"),
}
OWN = ("server", "date", "connection")


@pytest.mark.parametrize("request_", SAME.values(), ids=SAME)
def test_an_answer_passes_unchanged(nginx: Proxy, service: Server, request_: bytes) -> None:
    method = request_.split()[0].decode()
    through, direct = (exchange(server, request_, method=method) for server in (nginx, service))
    assert (through.status, through.body) == (direct.status, direct.body)
    passed, given = (
        {name: value for name, value in answer.headers.items() if name not in OWN}
        for answer in (through, direct)
    )
    assert passed == given
    assert through.headers["x-request-id"] == "order-17.line_3"
    nginx.assert_logged("order-17.line_3")


def test_the_scheme_is_that_of_nginx(nginx: Server) -> None:
    asked = head("X-Forwarded-Proto: https", method="GET", path="/docs")
    assert exchange(nginx, asked).headers["location"] == "http://localhost/docs/"


@pytest.mark.parametrize("given", ["", "a b", "x" * 65, 'a"b'])
def test_a_request_id_that_the_service_would_not_take_is_replaced(nginx: Proxy, given: str) -> None:
    for path in ("/healthz", "/../etc"):
        answer = exchange(nginx, head(f"X-Request-ID: {given}", method="GET", path=path))
        assert re.fullmatch("[0-9a-f]{32}", answer.headers["x-request-id"])
        nginx.assert_logged(answer.headers["x-request-id"])
