"""The service as it runs, a real gunicorn, and requests byte by byte as no test client sends them."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import BadStatusLine, HTTPConnection, HTTPResponse
from io import BytesIO
from pathlib import Path
from unittest.mock import Mock

ROOT = Path(__file__).parents[2]
CONVERSION = "/v1/conversion"
JSON = "Content-Type: application/json"
HANGS = 120.0
"""Seconds without a byte after which a server hangs; a slow machine is given all of them."""


@dataclass(frozen=True)
class Server:
    """A running service, or a proxy in front of one."""

    port: int
    pid: int


@dataclass(frozen=True)
class Answer:
    """What came back; status 0 where the connection was closed without a word."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def code(self) -> str | None:
        """The code of a problem document."""
        is_problem = self.headers.get("content-type") == "application/problem+json"
        return json.loads(self.body)["code"] if is_problem else None


# servers


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def answers(port: int) -> bool:
    connection = HTTPConnection("127.0.0.1", port, timeout=HANGS)
    try:
        connection.request("GET", "/healthz")
        connection.getresponse()
    except OSError:
        return False
    finally:
        connection.close()
    return True


def wait_until_up(process: subprocess.Popen[bytes], port: int) -> None:
    """Wait for a server as long as it lives, however slow the machine is."""
    while not answers(port):
        assert process.poll() is None, "the server ended"
        time.sleep(0.02)


def stop(process: subprocess.Popen[bytes]) -> None:
    process.terminate()
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait(10)


@contextmanager
def running(command: list[str], port: int, environment: Mapping[str, str]) -> Iterator[Server]:
    """A server of our own in a process group of its own, from its first answer on."""
    process = subprocess.Popen(command, cwd=ROOT, env={**os.environ, **environment}, start_new_session=True)
    try:
        wait_until_up(process, port)
        yield Server(port, process.pid)
    finally:
        stop(process)


@contextmanager
def serving(port: int | None = None, **settings: int) -> Iterator[Server]:
    """The service as ``api/serving.py`` runs it; ``largest_body`` sets ``DIALSET_LARGEST_BODY``."""
    port = port or free_port()
    own = ["--bind", f"127.0.0.1:{port}", "--graceful-timeout", "2", "--log-level", "error"]
    environment = {f"DIALSET_{name.upper()}": str(value) for name, value in settings.items()}
    environment["DIALSET_MACHINES"] = "deploy/demo/machines"
    environment["DIALSET_TABLES"] = "deploy/demo/tables"
    command = [sys.executable, "-m", "gunicorn", "--config", "python:api.serving", *own]
    with running(command, port, environment) as server:
        yield server


@contextmanager
def breaking_service() -> Iterator[Server]:
    """The service with the bug of `breaking`, in one worker; its log says nothing."""
    port = free_port()
    gunicorn = [sys.executable, "-m", "gunicorn", "--config", "python:api.serving", "--log-level", "critical"]
    command = [*gunicorn, "--bind", f"127.0.0.1:{port}", "--workers", "1", "breaking:create_app()"]
    with running(command, port, {"PYTHONPATH": f"{ROOT}:{ROOT / 'tests' / 'support'}"}) as server:
        yield server


# requests


def head(*lines: str, method: str = "POST", path: str = CONVERSION) -> bytes:
    return "\r\n".join([f"{method} {path} HTTP/1.1", "Host: localhost", *lines, "", ""]).encode()


def sized(body: bytes, *lines: str, path: str = CONVERSION) -> bytes:
    """A POST with its length."""
    return head(*lines, f"Content-Length: {len(body)}", path=path) + body


def in_chunks(*chunks: bytes) -> bytes:
    """A body in chunks, with its end."""
    return b"".join(b"%x\r\n%b\r\n" % (len(chunk), chunk) for chunk in (*chunks, b""))


def chunked(*chunks: bytes, line: str = JSON, path: str = CONVERSION) -> bytes:
    """A POST in chunks."""
    return head(line, "Transfer-Encoding: chunked", path=path) + in_chunks(*chunks)


# exchanges


def received(connection: socket.socket, method: str) -> Answer:
    response = HTTPResponse(connection, method=method)
    try:
        response.begin()
        headers = {name.lower(): value for name, value in response.getheaders()}
        return Answer(response.status, headers, response.read())
    except (BadStatusLine, ConnectionError):
        return Answer(0, {}, b"")
    finally:
        response.close()


def read(came: bytes) -> Answer:
    """The first answer of all that came back."""
    connection = Mock(makefile=lambda *_: BytesIO(came))
    return received(connection, "POST")


def exchange(server: Server, request: bytes, *, cut: bool = False, method: str = "POST") -> Answer:
    """Send bytes, say no more if ``cut``, and read one answer."""
    with socket.create_connection(("127.0.0.1", server.port), timeout=HANGS) as connection:
        connection.sendall(request)
        if cut:
            connection.shutdown(socket.SHUT_WR)
        return received(connection, method)


def everything_after(server: Server, sent: bytes) -> bytes:
    """All that comes back until the server closes the connection."""
    with socket.create_connection(("127.0.0.1", server.port), timeout=HANGS) as connection:
        connection.sendall(sent)
        with connection.makefile("rb") as stream:
            return stream.read()
