"""The same question has the same bytes from every worker and after every start."""

import json
import os
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from raw_http import JSON, Server, exchange, head, serving, sized

from api.serving import workers as WORKERS

pytestmark = pytest.mark.evidence

JOB = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6.5 in",
    "pin_bore": "2.8125 in",
    "machine": "north-bay-2",
    "operation": "make_up",
    "thread_hand": "right",
    "arm_position": "square",
    "as_of": "2026-11-24",
}
UNKNOWN = dict.fromkeys(("colour", "shape", "weight_of_it", "taste", "number", "sizes", "hue"), "red")
"""Members that no question has; a set of them has another order at every start."""


def posted(path: str, body: object) -> bytes:
    return sized(json.dumps(body).encode(), JSON, path=f"/v1/{path}")


QUESTIONS = (
    posted("pressure?detail=full", JOB),
    posted("pressure?detail=full", {**JOB, "operation": "break_out", "break_out_ratio": 1.2}),
    posted("pressure?detail=full&steps=true&units=metric", {**JOB, "machine": "yard-1"}),
    posted("pressure", {**JOB, **UNKNOWN, "machine": "north-bay-22"}),
    posted("machine-choice?detail=full", {name: each for name, each in JOB.items() if name != "machine"}),
    posted("pressure/batch?format=csv", {"lines": [{}, UNKNOWN, {"pin_bore": "3"}], "defaults": JOB}),
    posted("pressure/batch", {"lines": [{}, UNKNOWN, {"pin_bore": "3"}], "defaults": JOB}),
    head(method="GET", path="/v1/sources"),
    head(method="GET", path="/v1/machines"),
    head(method="GET", path="/openapi.json"),
)


@contextmanager
def alone(worker: int, workers: list[int]) -> Iterator[None]:
    """Only this worker runs inside."""
    others = [each for each in workers if each != worker]
    for each in others:
        os.kill(each, signal.SIGSTOP)
    try:
        yield
    finally:
        for each in others:
            os.kill(each, signal.SIGCONT)


def workers_of(server: Server) -> list[int]:
    """Both; the second one may start after the first answers."""
    children = Path(f"/proc/{server.pid}/task/{server.pid}/children")
    while len(found := children.read_text("ascii").split()) < WORKERS:
        time.sleep(0.02)
    return [int(each) for each in found]


def answers(server: Server) -> Iterator[list[bytes]]:
    """What each worker of a server answers."""
    workers = workers_of(server)
    for worker in workers:
        with alone(worker, workers):
            yield [exchange(server, each).body for each in QUESTIONS]


def test_every_worker_and_every_start_gives_the_same_bytes() -> None:
    given = []
    for _ in range(2):
        with serving() as server:
            given += answers(server)
    assert len(given) == 2 * WORKERS
    for question, *each in zip(QUESTIONS, *given, strict=True):
        assert len(set(each)) == 1, question
