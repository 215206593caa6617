"""Servers that are measured: started here, asked over kept connections, watched through /proc (Linux)."""

import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlencode

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "deploy" / "demo"
SHOP = {
    "DIALSET_MACHINES": os.fspath(DEMO / "machines"),
    "DIALSET_TABLES": os.fspath(DEMO / "tables"),
    "DIALSET_POLICY": os.fspath(DEMO / "policy.json"),
}
"""The invented shop, whole."""
SETTINGS = [
    "-c",
    "python:api.serving",
    "--pythonpath",
    os.fspath(Path(__file__).parent),
    "--log-level",
    "error",
]
"""Gunicorn as Dialset runs it, for the bare Flask too."""


class Request(NamedTuple):
    """What is sent: a query with GET, a JSON body with POST."""

    method: str
    path: str
    query: str = ""
    body: bytes = b""

    @classmethod
    def get(cls, path: str, fields: Mapping[str, str]) -> "Request":
        """The fields as a query."""
        return cls("GET", path, urlencode(fields))

    @classmethod
    def post(cls, path: str, fields: object) -> "Request":
        """The fields as a body."""
        return cls("POST", path, "", json.dumps(fields).encode())

    def raw(self) -> bytes:
        """Its bytes: a client that costs next to nothing leaves the machine to the server."""
        path = f"{self.path}?{self.query}" if self.query else self.path
        kind = f"Content-Type: application/json\r\nContent-Length: {len(self.body)}\r\n" if self.body else ""
        return f"{self.method} {path} HTTP/1.1\r\nHost: bench\r\n{kind}\r\n".encode() + self.body


@dataclass(frozen=True)
class Server:
    """A server that answers; ``started`` is what its start took, CPU seconds."""

    port: int
    workers: tuple[int, ...]
    started: float

    def connect(self) -> socket.socket:
        """A connection that is kept."""
        connection = socket.create_connection(("127.0.0.1", self.port), timeout=300)
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return connection

    def cpu(self) -> float:
        """CPU seconds of its workers until now: in nanoseconds where the kernel counts so."""
        return sum(map(_cpu, self.workers))

    def memory(self, which: str = "VmRSS") -> float:
        """Resident memory of its workers, MiB; with ``VmHWM`` the most since `forget_peak`."""
        return sum(memory(pid, which) for pid in self.workers)

    def forget_peak(self) -> None:
        """Begin anew with the most memory."""
        for pid in self.workers:
            Path(f"/proc/{pid}/clear_refs").write_text("5", "ascii")


def memory(pid: int | str, which: str = "VmRSS") -> float:
    """Resident memory of a process, MiB."""
    status = Path(f"/proc/{pid}/status").read_text("utf-8")
    return int(status.partition(f"{which}:")[2].split()[0]) / 1024


def _cpu(pid: int) -> float:
    ticks = Path(f"/proc/{pid}/stat").read_text("utf-8").rpartition(") ")[2].split()[11:13]
    seconds = sum(map(int, ticks)) / os.sysconf("SC_CLK_TCK")
    threads = Path(f"/proc/{pid}/task").glob("*/schedstat")
    # A thread that has ended is missing in the fine count: the coarse one is then ahead.
    return max(sum(int(each.read_text("ascii").split()[0]) for each in threads) / 1e9, seconds - 0.02)


@contextmanager
def gunicorn(
    app: str = "api.app:create_app()", workers: int = 1, environment: Mapping[str, str] = SHOP
) -> Iterator[Server]:
    """Gunicorn with its shipped settings."""
    port = free_port()
    command = ["gunicorn", *SETTINGS, "--workers", str(workers), "--bind", f"127.0.0.1:{port}", app]
    with running(command, port, environment) as pid:
        children = Path(f"/proc/{pid}/task/{pid}/children")
        while len(found := children.read_text("ascii").split()) < workers:
            time.sleep(0.01)
        yield Server(port, tuple(map(int, found)), _cpu(pid))


YARDSTICK = ROOT / ".venv" / "yardstick"
"""Where the packages of the yardstick are, apart from those of the project."""


def yardstick_missing() -> str:
    """What to do where the packages of the yardstick are missing; nothing where they are there."""
    if YARDSTICK.is_dir():
        return ""
    where = YARDSTICK.relative_to(ROOT)
    packages = "fastapi uvicorn httptools uvloop"
    return f"FastAPI is left out. To have it: .venv/bin/pip install --target {where} {packages}"


@contextmanager
def uvicorn(app: str) -> Iterator[Server]:
    """Uvicorn, one process, without a log."""
    port = free_port()
    folder = os.fspath(Path(__file__).parent)
    options = ["--port", str(port), "--app-dir", folder, "--no-access-log", "--log-level", "error"]
    with running(["uvicorn", *options, app], port, {**SHOP, "PYTHONPATH": f"{YARDSTICK}:{ROOT}"}) as pid:
        yield Server(port, (pid,), _cpu(pid))


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def running(module: list[str], port: int, environment: Mapping[str, str]) -> Iterator[int]:
    """A module of Python as a process that answers on a port; its id."""
    process = subprocess.Popen(
        [sys.executable, "-m", *module], cwd=ROOT, env={**os.environ, **environment}, start_new_session=True
    )
    try:
        while not _answers(port):
            if process.poll() is not None:
                raise SystemExit(f"{module[0]} did not start; it says why above")
            time.sleep(0.02)
        yield process.pid
    finally:
        process.terminate()
        process.wait()


def _answers(port: int) -> bool:
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=300) as connection:
            ask(connection, Request("GET", "/healthz").raw())
    except OSError:
        return False
    return True


def ask(connection: socket.socket, request: bytes) -> bytes:
    """The body of an answer, which must be a success with its length."""
    connection.sendall(request)
    data = b""
    while b"\r\n\r\n" not in data:
        data += _received(connection)
    head, _, body = data.partition(b"\r\n\r\n")
    while len(body) < length_of(head):
        body += _received(connection)
    if not head.startswith(b"HTTP/1.1 200"):
        raise SystemExit(f"{request.decode()}\n{body.decode()}")
    return body


def length_of(head: bytes) -> int:
    """The length of the body that follows the head of an answer."""
    return int(head.lower().partition(b"content-length: ")[2].partition(b"\r\n")[0])


def _received(connection: socket.socket) -> bytes:
    data = connection.recv(65536)
    if not data:
        raise ConnectionError("the server closed the connection")
    return data


def ask_all(server: Server, requests: Iterable[bytes]) -> tuple[float, float]:
    """Seconds that its workers and the clock took for these requests, one after the other."""
    with server.connect() as connection:
        cpu, wall = server.cpu(), time.perf_counter()
        for each in requests:
            ask(connection, each)
        return server.cpu() - cpu, time.perf_counter() - wall
