"""Speed of one calculation as GET and POST, as a share of a bare Flask JSON echo of the same answer.

Run: ``python tests/bench/single.py``. Both services run in one gunicorn worker each on this machine and are
asked in turn over one kept connection; the medians of five rounds are printed. Nothing is asserted.
"""

import json
import os
import socket
import statistics
import subprocess
import sys
import time
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlencode

from environment import environment
from flask import Flask, jsonify, request
from flask.typing import ResponseReturnValue

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
ROUNDS, REQUESTS = 5, 1500
AIM = 0.85


def echo_app() -> Flask:
    """A bare Flask: GET answers with the JSON it was given at start, POST with the JSON it is sent."""
    app = Flask("echo")
    answer = json.loads(os.environ["ECHO_ANSWER"])

    @app.get("/")
    def get() -> ResponseReturnValue:
        return jsonify(answer)

    @app.post("/")
    def post() -> ResponseReturnValue:
        return jsonify(request.get_json())

    return app


def free_port() -> int:
    """A loopback port nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def serving(target: str, folder: Path, **environment: str):  # type: ignore[no-untyped-def]
    """A gunicorn with one worker; yields a kept connection, the start-up time and the worker's pid."""
    port = free_port()
    command = [sys.executable, "-m", "gunicorn", "-k", "gthread", "--threads", "1", "-b", f"127.0.0.1:{port}"]
    started = time.perf_counter()
    process = subprocess.Popen(
        [*command, "--no-control-socket", "--keep-alive", "60", target],
        cwd=folder,
        env={**os.environ, **environment},
        stderr=subprocess.DEVNULL,
    )
    try:
        while True:
            try:
                connection = socket.create_connection(("127.0.0.1", port), timeout=10)
                break
            except OSError:
                time.sleep(0.005)
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        yield connection, started, process.pid
    finally:
        process.terminate()
        process.wait()


def raw(method: str, path: str, body: bytes = b"") -> bytes:
    """A request as bytes; a client that costs next to nothing leaves the time to the server."""
    kind = f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n" if body else ""
    return f"{method} {path} HTTP/1.1\r\nHost: bench\r\n{kind}\r\n".encode() + body


def ask(connection: socket.socket, question: bytes) -> bytes:
    """One request; its body, which must be a success."""
    connection.sendall(question)
    data = connection.recv(65536)
    while b"\r\n\r\n" not in data:
        data += connection.recv(65536)
    head, _, body = data.partition(b"\r\n\r\n")
    length = int(head.lower().partition(b"content-length: ")[2].partition(b"\r\n")[0])
    while len(body) < length:
        body += connection.recv(65536)
    if not head.startswith(b"HTTP/1.1 200"):
        raise RuntimeError(body.decode())
    return body


def rate(connection: socket.socket, question: bytes) -> float:
    """Requests a second."""
    started = time.perf_counter()
    for _ in range(REQUESTS):
        ask(connection, question)
    return REQUESTS / (time.perf_counter() - started)


def memory(pid: int) -> float:
    """Resident memory of the youngest child of a gunicorn, MB."""
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    status = Path(f"/proc/{children[-1]}/status").read_text()
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith("VmRSS"))) / 1024


MEASURED = ("torque/rotary-shouldered", "pressure")


def main() -> None:
    """Print the ratios."""
    from api.registry.calculations import CALCULATIONS  # noqa: PLC0415  # only the parent needs it, and only for examples

    print(environment())
    machines = {"DIALSET_MACHINES": str(ROOT / "deploy" / "demo" / "machines")}
    with serving("api.app:create_app()", ROOT, **machines) as (ours, started, pid):
        ask(ours, raw("GET", "/healthz"))
        print(f"start-up to first answer {time.perf_counter() - started:.2f} s")
        for calculation in (each for each in CALCULATIONS if each.name in MEASURED):
            example = {**calculation.example, **(calculation.query_example or {})}
            path, body = f"/v1/{calculation.name}", json.dumps(example).encode()
            answer = ask(ours, raw("POST", path, body))
            get, post = raw("GET", f"{path}?{urlencode(example)}"), raw("POST", path, body)
            echo = serving("single:echo_app()", Path(__file__).parent, ECHO_ANSWER=answer.decode())
            with echo as (bare, _, _):
                questions = {"GET": (get, raw("GET", "/")), "POST": (post, raw("POST", "/", answer))}
                for method, (mine, theirs) in questions.items():
                    rounds = [(rate(ours, mine), rate(bare, theirs)) for _ in range(ROUNDS + 1)][1:]
                    our, their = (statistics.median(each) for each in zip(*rounds, strict=True))
                    ratio = statistics.median(mine / theirs for mine, theirs in rounds)
                    print(
                        f"{method:4} {calculation.name:25} {our:6.0f}/s, echo of {len(answer)} bytes "
                        f"{their:6.0f}/s: ratio {ratio:.2f} (aim {AIM})"
                    )
        print(f"memory of a worker {memory(pid):.0f} MB")


if __name__ == "__main__":
    main()
